"""Steps of the work card for the nutplates: drilling for their rivets, and riveting them on."""

from __future__ import annotations

from collections.abc import Iterator

from hatchwright.documents.hole_lines import layer_line, limits_line, trial_line
from hatchwright.documents.step import PRACTICE, Line, Step, asked, line
from hatchwright.layout.layout import Layout
from hatchwright.recipe.cover_hardware import cover_hardware
from hatchwright.said import Listed, inch, said


def nutplate_ears(layout: Layout) -> Iterator[Step]:
    """How the rivet holes of the nutplates are drilled, through their own ears; nothing without them."""
    cover = cover_hardware(layout)
    if cover is None or cover.rivets is None:
        return
    rivets, choice, nuts = cover.rivets, cover.rivets.choice, cover.nuts
    part = said(f"part.{rivets.seat.sheet.name}")
    count = said("card.ears.count", count=nuts.count, nut=nuts.name, part=part, rivets=rivets.count)
    drill = line(count, said("card.ears.drill"), rests_on=(PRACTICE,))
    lines = [drill, asked("nutplate_pilot_first")]
    if rivets.seat.unlisted:
        lines.append(line(said("card.ears.not_shown", lack=rivets.seat.unlisted)))
    elif choice is None:
        lines += [line(said("card.ears.no_rivet")), asked("nutplate_rivets")]
    else:
        layer = choice.layers[0]
        steps = (
            said(f"card.chain.{step.operation}_drill", drill=str(step.drill))
            if step.drill
            else said(f"card.chain.{step.operation}")
            for step in layer.steps
        )
        chain = Listed(tuple(steps), ",")
        limits = limits_line(choice.part.diameter_in, layout.shop)
        drilled = said("card.ears.chain", rivet=str(choice.part), chain=chain)
        lines.append(Line((drilled, *limits.words), limits.rests_on))
        if choice.part.is_flush:
            lines += [layer_line(None, choice.layers[:-1], None, layout), trial_line(("rivet",))]
        else:
            lines.append(line(said("card.ears.protruding")))
        lines += [line(said("card.ears.not_shown", lack=lack)) for lack in choice.lacks]
    yield Step(said("card.ears.title", part=part), tuple(lines))


def nutplate_rivets(layout: Layout) -> Iterator[Step]:
    """How the nutplates are riveted on; nothing without them."""
    cover = cover_hardware(layout)
    if cover is None or cover.rivets is None:
        return
    rivets, choice, nuts = cover.rivets, cover.rivets.choice, cover.nuts
    lines = [line(said("card.nutplate.count", count=nuts.count, nut=nuts.name, rivets=rivets.count))]
    if rivets.seat.unlisted:
        lines.append(line(said("card.ears.not_shown", lack=rivets.seat.unlisted)))
    elif choice is None:
        lines.append(line(said("card.nutplate.no_rivet")))
    else:
        lengths = Listed(tuple(choice.numbered(head) for head in choice.lengths), ",")
        part = said(f"part.{rivets.seat.sheet.name}")
        grip, ear = inch(choice.grip_in), inch(rivets.seat.ear_in)
        told = said("card.nutplate.lengths", lengths=lengths, grip=grip, part=part, ear=ear)
        lines.append(line(told, said("card.nutplate.measure_ear"), rests_on=(PRACTICE,)))
    lines.append(line(said("card.nutplate.heads"), rests_on=(PRACTICE,)))
    blanks = said("card.rivet.length_chosen"), said("card.nutplate.screw_runs")
    yield Step(said("card.nutplate.title"), tuple(lines), blanks)
