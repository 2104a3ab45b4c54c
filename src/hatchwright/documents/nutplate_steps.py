"""Steps of the work card for the nutplates: drilling for their rivets, and riveting them on."""

from __future__ import annotations

from collections.abc import Iterator

from hatchwright.documents.hole_steps import TRIAL, layer_words, rivet_range
from hatchwright.documents.step import Step, quoted
from hatchwright.drawings.figures import figure, unit_of
from hatchwright.layout.layout import Layout
from hatchwright.making.cover_hardware import cover_hardware
from hatchwright.words.tell import tell


def nutplate_ears(layout: Layout) -> Iterator[Step]:
    """How the rivet holes of the nutplates are drilled, through their own ears; nothing without them.

    Yields:
        Step: one, with the drills in their order.
    """
    cover, unit = cover_hardware(layout), unit_of(layout.job)
    if cover is None or cover.rivets is None:
        return
    rivets, choice = cover.rivets, cover.rivets.choice
    lines = [
        f"{cover.nuts.count} x {tell(cover.nuts.name, unit)} on the {rivets.sheet.name}, {rivets.count} rivet holes: "
        "screw each one up against the sheet, its ears along the screw line, and drill through the ears; pin the first "
        f"before the second. [common practice, no source] {quoted('nutplate_pilot_first')}"
    ]
    if choice is None:
        lines.append(
            f"NOT SHOWN which rivets hold them: enter cover.screws.nut_rivet. {quoted('nutplate_rivets')}"
        )
    else:
        (layer,) = choice.layers
        chain = ", then ".join(f"{step.operation} {step.drill or ''}".strip() for step in layer.steps)
        hole = rivet_range(choice.part.diameter_in, layout.shop, unit)
        lines.append(f"{choice.part}: {chain}; {hole}.")
        if choice.part.is_flush:
            lines.append(f"{layer_words(layer, None, layout.shop, unit)}. {TRIAL.format('rivet')}")
        else:
            lines.append(
                "Protruding heads lie under the cover and hold it off: take flush rivets, or clear them."
            )
        lines += [f"NOT SHOWN {tell(said, unit)}" for said in choice.lacks]
    yield Step(f"Drill the {rivets.sheet.name} for the nutplates", tuple(lines))


def nutplate_rivets(layout: Layout) -> Iterator[Step]:
    """How the nutplates are riveted on; nothing without them.

    Yields:
        Step: one, with their number and the lengths that their grip asks for.
    """
    cover, unit = cover_hardware(layout), unit_of(layout.job)
    if cover is None or cover.rivets is None:
        return
    rivets, choice = cover.rivets, cover.rivets.choice
    lines = [f"{cover.nuts.count} x {tell(cover.nuts.name, unit)}, two rivets each: {rivets.count}."]
    if choice is None:
        lines.append("NOT SHOWN which rivets, nor how long: enter cover.screws.nut_rivet.")
    else:
        lengths = ", ".join(choice.numbered(head) for head in choice.lengths)
        lines.append(
            f"{lengths}: for a grip of {figure(choice.grip_in, unit)} {unit}, the {rivets.sheet.name} and an ear of "
            f"{figure(rivets.ear_in, unit)} {unit}, common practice, no source. Measure the ear, and set two on scrap "
            "first."
        )
    lines.append(
        "Heads on the cover's side; the screw runs through each nut before and after. [common practice, no source]"
    )
    yield Step("Fit the nutplates", tuple(lines), ("length chosen", "screw runs in each"))
