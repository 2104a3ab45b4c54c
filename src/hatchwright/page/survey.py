"""The survey of a job as its page shows it: boxes in the order of walking round the bay, and the answer beside them."""

from __future__ import annotations

from collections.abc import Iterator, Mapping, Sequence
from typing import Any

import msgspec
from msgspec import Struct
from msgspec.structs import replace

from hatchwright.drawings.site_view import place_said, site_sheet, tape_from
from hatchwright.drawings.writers.svg import picture_svg_of
from hatchwright.errors import Fault, HatchwrightError
from hatchwright.finding import Finding
from hatchwright.job.as_typed import raw_data
from hatchwright.job.job import Job
from hatchwright.job.job_text import added
from hatchwright.judged import Status
from hatchwright.layout.lay_out import lay_out
from hatchwright.layout.site.center import Center
from hatchwright.layout.site.differences import Difference
from hatchwright.layout.site.sketch import Sketch
from hatchwright.page.entry_sheet import Box, EntrySheet, Section
from hatchwright.page.fill_in import with_part
from hatchwright.page.lay_out_sheet import entry_sheet
from hatchwright.page.screen import Asked
from hatchwright.page.ways_out import Changes
from hatchwright.remedy import EntryChange
from hatchwright.said import Value, inch, missing, said
from hatchwright.units import Unit
from hatchwright.words.tell import tell
from hatchwright.workflow.site import SiteAnswer, site_answer
from hatchwright.workflow.survey_papers import gap_limit_in

SITE = "site"
_DIFFERS = "R945"
STEP = "survey"
"""What the step of undo is called that enters a survey into the job."""

_LEGS: tuple[tuple[str, tuple[str, ...], tuple[str, ...]], ...] = (
    ("sketch", ("u", "seen_from", "up", "right"), ()),
    ("corners", (), ("corners",)),
    ("rows", (), ("rows", "flanges")),
    ("behind", (), ("hazards", "existing")),
    ("skin", ("thickness_u",), ("thickness", "curvature")),
    ("center", ("gap",), ("routes",)),
    ("borescope", (), ("borescope",)),
    ("tapes", (), ("tapes",)),
)
"""Legs of the walk: each by its name, its boxes, and its sections and lists."""


class Leg(Struct, frozen=True):
    """One leg of the walk round the bay, with what is filled in there."""

    name: str
    title: str
    boxes: tuple[Box, ...]
    parts: tuple[Section, ...]


class Reading(Struct, frozen=True):
    """One way to read the sketch: what it takes it for, and what is sent to enter it."""

    told: str
    changes: str


class Row(Struct, frozen=True):
    """One difference of the job from its survey, as a line of a table."""

    name: str
    what: str
    in_job: str
    in_survey: str
    off: str
    is_beyond: bool


class SurveyView(Struct, frozen=True):
    """All that the page shows.

    Args:
        legs: none where the survey is not begun.
        faults: what is wrong with the job's text; with a fault there is no answer.
        answer: None where the job is not sound, or the survey is not begun.
        svg: the drawing, "" when there is none.
        readings: two where it has to be asked how the sketch is meant, else none.
        changes: what is sent to enter the survey into the job, "" where it says the same.
    """

    asked: Asked
    unit: Unit
    sheet: EntrySheet
    legs: tuple[Leg, ...]
    faults: tuple[Fault, ...]
    answer: SiteAnswer | None = None
    svg: str = ""
    readings: tuple[Reading, ...] = ()
    changes: str = ""

    @property
    def is_begun(self) -> bool:
        """Whether the job has a survey."""
        return bool(self.legs)

    @property
    def routes(self) -> tuple[tuple[str, str, str], ...]:
        """Name, X and Y of the center by each route; why in the place of X where it gives none."""
        return tuple(self._routes()) if self.answer else ()

    def _routes(self) -> Iterator[tuple[str, str, str]]:
        assert self.answer is not None  # asked before
        for route in self.answer.routes:
            if route.place is None:
                yield route.name, self._told(route.why or ""), ""
            else:
                x, y = place_said(route.place)
                yield route.name, self._told(x), self._told(y)

    @property
    def best(self) -> tuple[str, str] | None:
        """X and Y of the best estimate."""
        if self.answer is None or self.answer.best is None:
            return None
        x, y = place_said(self.answer.best.place)
        return self._told(x), self._told(y)

    @property
    def gap(self) -> str:
        """How far the routes lie apart, "" with fewer than two."""
        gap = self.answer.center.gap if self.answer else None
        if gap is None:
            return ""
        apart = gap.apart
        return self._told(
            said(
                "page_site.gap",
                one=gap.one,
                other=gap.other,
                gap=missing(apart.distance_in),
                u=missing(apart.u_in),
            )
        )

    @property
    def tapes(self) -> tuple[tuple[str, str, str, str], ...]:
        """From where each distance is taped, what it must read, what was read and by how much that is off."""
        return tuple(self._tapes()) if self.answer else ()

    def _tapes(self) -> Iterator[tuple[str, str, str, str]]:
        assert self.answer is not None  # asked before
        for tape in self.answer.tapes:
            must = said("site_view.with_u", value=inch(tape.expected.value), u=missing(tape.expected.u))
            off, taped = tape.off, tape.taped
            cells: Sequence[Value] = (
                tape_from(tape),
                must,
                inch(taped.value) if taped else "",
                inch(off.value) if off else "",
            )
            where, must_read, was, by = map(self._told, cells)
            yield where, must_read, was, by

    @property
    def open_checks(self) -> tuple[Finding, ...]:
        """The right bay, then what of the survey doesn't agree with itself; what the job says otherwise has its own table."""
        return tuple(self._checks(is_open=True))

    @property
    def passed_checks(self) -> tuple[Finding, ...]:
        """The other checks."""
        return tuple(self._checks(is_open=False))

    def _checks(self, *, is_open: bool) -> Iterator[Finding]:
        for number, one in enumerate(self.answer.checks if self.answer else ()):
            if one.code != _DIFFERS and is_open == (number == 0 or one.status is not Status.PASS):
                yield one

    @property
    def difference_cells(self) -> tuple[tuple[str, ...], ...]:
        """The differences as cells of a table."""
        return tuple(
            (one.name, one.what, one.in_job, one.in_survey, one.off, self._beyond(one))
            for one in self.differences
        )

    def _beyond(self, one: Row) -> str:
        return self._told(said("page_site.beyond" if one.is_beyond else "page_site.within")) if one.off else ""

    @property
    def differences(self) -> tuple[Row, ...]:
        """What the job says otherwise, by name."""
        return tuple(map(self._difference, self.answer.differences)) if self.answer else ()

    def _difference(self, one: Difference) -> Row:
        with_u: Value = "" if one.site_in is None else inch(one.site_in)
        if one.site_in is not None and one.u_in:
            with_u = said("site_view.with_u", value=inch(one.site_in), u=missing(one.u_in))
        in_job: Value = one.old if one.job_in is None else inch(one.job_in)
        new = one.new if isinstance(one.new, str) else ""
        off: Value = "" if one.off_in is None else missing(one.off_in)
        return Row(
            self._told(one.name),
            self._told(one.what),
            self._told(in_job or said("page_site.nothing")),
            self._told(with_u or new or said("page_site.as_surveyed")),
            self._told(off),
            one.is_beyond,
        )

    def _told(self, what: Value) -> str:
        return tell(what, self.unit)


def survey_view(asked: Asked) -> SurveyView:
    """Read a job's text and answer on its survey.

    Raises:
        JobError: the text is not TOML, so that it has no boxes.
    """
    data = raw_data(asked.text)
    unit: Unit = "mm" if data.get("units") == "mm" else "in"
    try:
        layout = lay_out(asked.entered(), asked.shop)
        answer = site_answer(layout) if layout.job.site else None
        faults: tuple[Fault, ...] = ()
    except HatchwrightError as error:
        answer, faults = None, error.as_faults("job")
    sheet = entry_sheet(data, faults)
    legs = tuple(_legs(sheet)) if SITE in data else ()
    if answer is None:
        return SurveyView(asked, unit, sheet, legs, faults)
    is_asked = answer.sketches.is_asked
    readings = tuple(_reading(answer.job, way) for way in answer.sketches.ways) if is_asked else ()
    has_changes = answer.entries or answer.parts
    changes = msgspec.json.encode(Changes(answer.entries, answer.parts)).decode() if has_changes else ""
    return SurveyView(asked, unit, sheet, legs, faults, answer, _svg(answer), readings, changes)


def _legs(sheet: EntrySheet) -> Iterator[Leg]:
    top = sheet.sections[SITE]
    boxes = {box.path.removeprefix(f"{SITE}."): box for box in top.boxes}
    parts = {part.path.removeprefix(f"{SITE}."): part for part in top.parts}
    named = [line for list_ in ("rows", "flanges") for line in parts[list_].parts]
    names = tuple(line.boxes[0].value for line in named if line.boxes and line.boxes[0].value)
    for name, of_boxes, of_parts in _LEGS:
        yield Leg(
            name,
            tell(said(f"page_site.leg.{name}")),
            tuple(boxes[box] for box in of_boxes),
            tuple(_suggesting(parts[part], names) for part in of_parts),
        )


def _suggesting(part: Section, names: tuple[str, ...]) -> Section:
    """The same with the landmarks offered where the name of one is asked for."""
    if part.path not in (f"{SITE}.routes", f"{SITE}.tapes"):
        return part
    lines = tuple(
        replace(
            line,
            boxes=tuple(
                replace(box, choices=names) if _names_landmark(box) else box for box in line.boxes
            ),
        )
        for line in part.parts
    )
    return replace(part, parts=lines)


def _names_landmark(box: Box) -> bool:
    return box.kind == "words" and box.path.rpartition(".")[2] in ("x_from", "y_from", "0")


def _svg(answer: SiteAnswer) -> str:
    center: Center = answer.center
    if not center.lines and center.corners is None:
        return ""
    sheet = site_sheet(answer.job, center, answer.sketches.ways, gap_in=gap_limit_in(answer.site), date="")
    return picture_svg_of(sheet, margin_in=0.05).decode("utf-8")


def _reading(job: Job, way: Sketch) -> Reading:
    told = said(f"page_site.reading.{way.seen_from}", up=way.up, right=way.right, x=way.x, y=way.y)
    wanted: Mapping[str, str] = {
        f"{SITE}.seen_from": way.seen_from,
        f"{SITE}.up": way.up,
        f"{SITE}.right": way.right,
        "frame.x": way.x,
        "frame.y": way.y,
    }
    entries = tuple(EntryChange(field, "", new) for field, new in wanted.items())
    return Reading(tell(told, job.unit), msgspec.json.encode(Changes(entries, ())).decode())


def begun(text: str, u: str) -> str:
    """A job's text with a survey begun: the tape's u, and the four corners to fill in.

    Raises:
        JobError: it has one already.
    """
    with_part(text, SITE)  # refuses where one is there
    new: dict[str, Any] = {"u": u.strip(), "corners": {}}
    return added(text, {SITE: new})


def told_faults(view: SurveyView) -> tuple[tuple[Fault, ...], int]:
    """Faults of the survey itself, and how many others the job has."""
    own = tuple(fault for fault in view.faults if fault.field.partition(".")[0] == SITE)
    return own, len(view.faults) - len(own)

