"""The survey sheet: one page to carry to the aircraft before a job exists, empty or with what is known printed in."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from typing import Any

from msgspec import Struct

from hatchwright.documents.paper_head import head_without_job, paper_head
from hatchwright.documents.typst_pdf import Part
from hatchwright.drawings.site_sketch import SiteSketch
from hatchwright.drawings.writers.svg import picture_svg_of
from hatchwright.job.job import Job
from hatchwright.said import Said, Value, inch, said
from hatchwright.units import Unit
from hatchwright.words.tell import tell

_HAZARDS = 6
_ROUTES = 3

_WORDS = (
    *("aircraft", "serial", "data", "side", "surface", "tape_u", "seen", "right_bay", "bay_called"),
    *(
        "data_pitch",
        "measured_pitch",
        "second_person",
        "safe",
        "walk",
        "rows",
        "row",
        "name",
        "first",
        "second",
        "station",
    ),
    *(
        "hazards",
        "what",
        "from_out",
        "from_in",
        "x_from",
        "x_to",
        "y_from",
        "y_to",
        "depth",
        "moves",
        "photo",
        "skin",
        "thickness",
    ),
    *(
        "with_what",
        "existing",
        "chord",
        "rise",
        "bend",
        "center",
        "route",
        "x_measured",
        "y_measured",
        "distance",
        "u",
    ),
    *("borescope", "diameter", "in_waste", "origin", "depth_from"),
)
_TICKS = {
    "sides": ("left", "right", "center"),
    "surfaces": ("upper", "lower", "side_skin"),
    "units": ("in", "mm"),
    "views": ("outside", "inside"),
    "cautions": ("fuel", "power", "unload", "pencil"),
}
_BLANKS = (
    *(
        "aircraft",
        "serial",
        "data",
        "tape_u",
        "bay_called",
        "data_pitch",
        "measured_pitch",
        "with_what",
        "existing",
    ),
    *("chord", "rise", "bend", "origin", "thickness", "borescope_x", "borescope_y", "diameter"),
)
_ROWS = ("bc", "da_flange", "bc_flange", "cd", "ab_flange", "cd_flange")


class KnownSite(Struct, frozen=True):
    """What of a survey is known before it is walked, each as it is written; what isn't is left to be read.

    Args:
        ticked: names of the boxes that are ticked, such as ``left``.
        filled: words by the name of the blank, such as ``tape_u``.
        rows: lines of the table of rows and flange edges, six cells each, in place of those that an empty sheet has.
        hazards: lines of the table of hazards, ten cells each.
        routes: lines of the table of routes, five cells each.
    """

    ticked: frozenset[str] = frozenset()
    filled: Mapping[str, str] = {}
    sketch: SiteSketch = SiteSketch()
    rows: Sequence[Sequence[str]] = ()
    hazards: Sequence[Sequence[str]] = ()
    routes: Sequence[Sequence[str]] = ()


def survey_sheet(
    *, limit_in: float, date: str, job: Job | None = None, known: KnownSite | None = None, unit: Unit = "in"
) -> Part:
    """The sheet, one page.

    Args:
        limit_in: how far routes to the center may lie apart [in].
        date: when it was made.
        job: that it is for, None before there is one.
        known: what is printed in; None for an empty sheet.
        unit: that the limit is told in where there is no job.
    """
    known = known or KnownSite()
    unit = job.unit if job else unit

    def told(what: Value) -> str:
        return tell(what, unit)

    words = {name: told(said(f"site_paper.{name}")) for name in _WORDS}
    ticks = {
        group: [[told(said(f"site_paper.tick.{name}")), name in known.ticked] for name in names]
        for group, names in _TICKS.items()
    }
    asked = [[told(said(f"site_paper.row.{name}")), *[""] * 5] for name in _ROWS]
    data = {
        "head": _head(job, date),
        "words": words,
        "ticks": ticks,
        "filled": {name: known.filled.get(name, "") for name in _BLANKS},
        "has_code": job is not None,
        "ask": told(said("site_paper.ask")),
        "limit": told(_limit(limit_in)),
        "rows": _lines(known.rows, len(_ROWS), cells=6) if known.rows else asked,
        "hazards": _lines(known.hazards, _HAZARDS - (job is not None), cells=10),
        "routes": _lines(known.routes, _ROUTES, cells=5),
    }
    return Part("survey_sheet", data, {"sketch": picture_svg_of(known.sketch.sheet(), margin_in=0.02)})


def _head(job: Job | None, date: str) -> dict[str, Any]:
    title = said("site_paper.title")
    if job:
        return paper_head(job, title, date=date)
    return head_without_job(
        side=said("site_paper.mark"),
        title=title,
        what=said("site_paper.before"),
        more=said("site_paper.write"),
        date=date,
    )


def _limit(limit_in: float) -> Said:
    return said("site_paper.limit", limit=inch(limit_in))


def _lines(known: Sequence[Sequence[str]], least: int, *, cells: int) -> list[list[str]]:
    """What is known, then empty lines up to as many as a sheet has."""
    return [*map(list, known), *([""] * cells for _ in range(least - len(known)))]
