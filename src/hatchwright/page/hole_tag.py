"""What the tag of one hole says: what goes in, where it lies, what is done to it, and its room to the next size."""

from __future__ import annotations

from collections.abc import Iterator

from msgspec import Struct

from hatchwright.drawings.hole_table import work_lines
from hatchwright.layout.lay_out import lay_out
from hatchwright.layout.layout import Hole, Layout
from hatchwright.layout.survey import survey
from hatchwright.page.screen import Asked
from hatchwright.page.spoken_of import owners
from hatchwright.rules.next_size import next_size_room, next_sizes
from hatchwright.said import Said, Value, inch, said
from hatchwright.units import Unit
from hatchwright.workflow.risk import risk_of_hole
from hatchwright.workflow.risk_said import between_said, chance_said

Line = tuple[Said, Value]
"""What a line of the tag is about, and what it says."""


class HoleTag(Struct, frozen=True):
    """The tag of one hole.

    Args:
        part: the part of the job that it is entered in, "" for none.
    """

    title: Said
    lines: tuple[Line, ...]
    part: str
    unit: Unit


def hole_tag(asked: Asked, number: int) -> HoleTag | None:
    """The tag of a hole, None where the job has no such hole.

    Raises:
        HatchwrightError: the job is not sound.
    """
    layout = lay_out(asked.shown(), asked.shop)
    hole = next((one for one in layout.holes if one.number == number), None)
    if hole is None:
        return None
    title = said(f"hole_tag.{hole.kind}", number=number)
    lines = tuple((said(f"hole_tag.{name}"), told) for name, told in _lines(hole, layout))
    return HoleTag(title, lines, owners(layout).get(number, ""), layout.job.unit)


def _lines(hole: Hole, layout: Layout) -> Iterator[tuple[str, Value]]:
    yield "fastener", hole.fastener
    if hole.row:
        yield "row", hole.row
    place = said("hole_tag.at", x=inch(hole.x_in), y=inch(hole.y_in))
    if hole.is_made:
        yield "drilled", said("hole_tag.within", at=place, u=inch(hole.uncertainty_in))
        if hole.drawn_in:
            yield "drawn", said("hole_tag.at", x=inch(hole.drawn_in[0]), y=inch(hole.drawn_in[1]))
    else:
        yield "drawn", place
    if hole.hole_in is not None:
        yield "size", inch(hole.hole_in, fine=True)
    for line in work_lines(hole, layout):
        yield "work", line
    if hole.kind == "rivet" and hole.nominal_in is not None:
        yield "next_size", next_size_room(next_sizes(survey(layout)), hole)
    if layout.job.scatter is not None and not hole.is_made:
        yield "risk", _risk(hole, layout)


def _risk(hole: Hole, layout: Layout) -> Said:
    """The chance that it ends short by the shop's own scatter, and against what."""
    one, is_lacking = risk_of_hole(layout, hole.number)
    if one is None:
        return said("hole_tag.no_risk")
    id = "hole_tag.risk_at_least" if is_lacking else "hole_tag.risk_of"
    if one.is_held:
        id = "hole_tag.risk_held"
    against = between_said(one.likeliest, one.hole)
    return said(id, chance=chance_said(one.chance.short), against=against)
