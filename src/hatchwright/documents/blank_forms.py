"""Every sheet that is filled in by hand, empty, for the day when no screen works: holds, readings, count ...."""

from __future__ import annotations

from collections.abc import Iterator
from typing import Any

from msgspec.structs import replace

from hatchwright.airworthiness.holds import HOLDS
from hatchwright.documents.as_built import empty_as_built
from hatchwright.documents.lists import count_sheet_words
from hatchwright.documents.log_draft import empty_log
from hatchwright.documents.looks import looks_part
from hatchwright.documents.paper_head import paper_head
from hatchwright.documents.trial_row import TrialRow, TrialSection
from hatchwright.documents.trial_sheet import trial_on_paper
from hatchwright.documents.typst_pdf import Part
from hatchwright.job.frame import OPPOSITE
from hatchwright.layout.layout import Layout
from hatchwright.said import said
from hatchwright.words.tell import tell

_READINGS = ("hole", "x", "y", "size", "measured_with", "u", "edge", "first", "second", "corner")
_HOLES_A_SIDE = 44
_COUNTED_A_SIDE = 60
_ROWS = {"cutter": 4, "dimples": 4, "countersinks": 3, "rivets": 5}
"""Empty lines of the trial sheet, by its section."""


def blank_forms(layout: Layout, *, date: str, stop: str) -> tuple[Part, ...]:
    """The empty sheets of a job, one part each.

    Args:
        stop: what holds work back; "" where nothing does.
    """

    def part(template: str, title: str, data: dict[str, Any]) -> Part:
        head = paper_head(layout.job, said(title), date=date)
        return Part(template, {**data, "head": head, "stop": stop})

    unlooked = replace(layout, job=layout.job.model_copy(update={"looks": ()}))
    return (
        part("hold_points", "forms.holds", _holds()),
        part("readings_form", "forms.readings", _readings(layout)),
        part("trial_sheet", "trial_sheet.title", trial_on_paper(_empty_sections(), layout.job.unit)),
        empty_as_built(layout, date=date, stop=stop),
        looks_part(unlooked, date=date, stop=stop),
        part("count_form", "forms.count", _count()),
        part("log", "log.title", empty_log(layout)),
    )


def _holds() -> dict[str, Any]:
    return {
        "how": tell(said("forms.holds.how")),
        "words": {name: tell(said(f"forms.heading.{name}")) for name in ("hold", "by", "date")},
        "holds": [[tell(said(f"forms.hold.{name}")), tell(said(f"forms.hold.{name}.do"))] for name in HOLDS],
    }


def _readings(layout: Layout) -> dict[str, Any]:
    """Holes, then the four edges by the way they lie, then the four corners between them."""
    frame = layout.frame
    ways = (OPPOSITE[frame.x], frame.x), (OPPOSITE[frame.y], frame.y)
    axes = zip("XY", ways, strict=True)
    edges = [tell(said("forms.edge", way=way, axis=axis)) for axis, pair in axes for way in pair]
    corners = [tell(said("forms.corner", one=x, other=y)) for x in ways[0] for y in ways[1]]
    return {
        "words": {name: tell(said(f"forms.heading.{name}")) for name in _READINGS},
        "how": tell(said(f"forms.readings.how.{layout.job.unit}")),
        "holes": _HOLES_A_SIDE,
        "edges": edges,
        "corners": corners,
    }


def _empty_sections() -> Iterator[TrialSection]:
    for name, count in _ROWS.items():
        yield TrialSection(said(f"trial_sheet.{name}"), (), (TrialRow("", ""),) * count)


def _count() -> dict[str, Any]:
    headings = ("counted", "tool", "count", "in", "out")
    return {
        "words": {name: tell(said(f"lists.heading.{name}")) for name in headings},
        "counted": [["", ""]] * _COUNTED_A_SIDE,
        **count_sheet_words(),
    }
