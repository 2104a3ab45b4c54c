"""Steps at length for the nutplates: drilling for their rivets, and riveting them on."""

from __future__ import annotations

from hatchwright.documents.hole_lines import layer_line
from hatchwright.documents.made_lines import drilled_lines, held_lines, limits_line
from hatchwright.documents.rivet_lengths import first_ear_length
from hatchwright.documents.rivet_steps import shop_head_lines, started_with
from hatchwright.documents.step import PRACTICE, Step, Tellers, Work, asked, line
from hatchwright.recipe.cover_hardware import cover_hardware
from hatchwright.recipe.hole_drills import drill_said, step_said
from hatchwright.recipe.sheet_work import LayerWork
from hatchwright.recipe.task import Task
from hatchwright.said import Listed, Said, inch, said
from hatchwright.tables.instructions import instruction


def _strap(task: Task, work: Work) -> Step:
    """The strap gets its screw holes through those of the sheet, while that is flat."""
    screws = work.layout.holes_of("screw")
    lines = (
        line(said("card.strap.lay"), rests_on=(PRACTICE,)),
        *drilled_lines(task, work.layout),
        line(said("card.strap.alone"), rests_on=(PRACTICE,)),
    )
    return Step(said("card.strap.title", part=said(f"part.{screws[0].stack[-1]}")), lines)


def _ears(task: Task, work: Work) -> Step:
    """How the rivet holes of the nutplates are drilled, through their own ears."""
    layout = work.layout
    cover = cover_hardware(layout)
    assert cover is not None  # the task is of the recipe only with nutplates
    assert cover.rivets is not None
    rivets, choice, nuts, seat = cover.rivets, cover.rivets.choice, cover.nuts, cover.rivets.seat
    part, held = said(f"part.{seat.sheet.name}"), tuple(held_lines(task))
    lines = [
        line(said("card.ears.count", count=nuts.count, nut=nuts.name, part=part, rivets=rivets.count)),
        line(*(said("card.ears.seat", words=one) for one in (seat.told, seat.lugs_told))),
        line(
            said("card.ears.seat", words=seat.drilled_told),
            said("card.ears.pin_first" if held else "card.ears.hold_first"),
            rests_on=(PRACTICE,),
        ),
        *held,
        *(
            [line(said("card.ears.strap_between"))]
            if seat.under.preparation == "countersink" and seat.strap_in
            else []
        ),
        asked("nutplate_pilot_first"),
        *([asked("float_for_alignment")] if seat.kind.is_floating else []),
    ]
    if seat.unlisted:
        lines.append(line(said("card.ears.not_shown", lack=seat.unlisted)))
    elif choice is None:
        lines += [line(said("card.ears.no_rivet")), asked("nutplate_rivets")]
    else:
        lines += [line(_chain(str(choice.part), layer)) for layer in seat.ear_layers if layer.steps]
        limits = limits_line(choice.part.diameter_in, layout.shop)
        lines.append(limits)
        if choice.part.is_flush:
            lines.append(layer_line(None, choice.layers[:-1], None, layout))
        else:
            lines.append(line(said("card.ears.protruding")))
        lines += [line(said("card.ears.not_shown", lack=lack)) for lack in choice.lacks]
    return Step(said("card.ears.title", part=part), tuple(lines))


def _chain(rivet: str, layer: LayerWork) -> Said:
    """What is done to one sheet for an ear rivet, in order."""
    steps = (step_said(step, drill_said(step.drill) if step.drill else "") for step in layer.steps)
    part = said(f"part.{layer.part}")
    return said("card.ears.chain", rivet=rivet, part=part, chain=Listed(tuple(steps), ","))


def _nutplates(task: Task, work: Work) -> Step:
    """How the nutplates are riveted on."""
    cover = cover_hardware(work.layout)
    assert cover is not None  # the task is of the recipe only with nutplates
    assert cover.rivets is not None
    rivets, choice, nuts = cover.rivets, cover.rivets.choice, cover.nuts
    lines = [line(said("card.nutplate.count", count=nuts.count, nut=nuts.name, rivets=rivets.count))]
    if rivets.seat.unlisted:
        lines.append(line(said("card.ears.not_shown", lack=rivets.seat.unlisted)))
    elif choice is None:
        lines.append(line(said("card.nutplate.no_rivet")))
    else:
        part = said(f"part.{rivets.seat.sheet.name}")
        grip, ear = inch(choice.grip_in), inch(rivets.seat.ear_in)
        told = said(
            "card.nutplate.grip_strap" if rivets.seat.strap_in else "card.nutplate.grip",
            grip=grip,
            part=part,
            ear=ear,
        )
        lines.append(line(told, said("card.nutplate.measure_ear"), rests_on=(PRACTICE,)))
        head = first_ear_length(choice)
        if head is not None:
            first = started_with(str(head.rivet), choice.part.diameter_in, head)
            lines.append(
                line(first, said("card.rivet.comes_short"), rests_on=(instruction("rivet_length_rounding"),))
            )
        lines += shop_head_lines(str(choice.part), choice.heads) if choice.heads else []
    lines.append(line(said("card.nutplate.heads"), rests_on=(PRACTICE,)))
    blanks = said("card.rivet.length_chosen"), said("card.nutplate.screw_runs")
    return Step(said("card.nutplate.title"), tuple(lines), blanks)


NUTPLATES_ON: Tellers = {"strap": _strap, "ears": _ears, "nutplates": _nutplates}
