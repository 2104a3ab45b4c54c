"""The survey of a job as its page shows it: boxes in the order of walking round the bay, and the answer beside them."""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Mapping, Sequence
from typing import Any

import msgspec
from msgspec import Struct
from msgspec.structs import replace

from hatchwright.drawings.site_tables import hazards_table
from hatchwright.drawings.site_view import sides_sheet, site_sheet
from hatchwright.drawings.writers.svg import picture_svg_of
from hatchwright.errors import Fault, HatchwrightError
from hatchwright.finding import Finding
from hatchwright.job.as_typed import raw_data
from hatchwright.job.file import read_job
from hatchwright.job.job_text import added
from hatchwright.judged import Status
from hatchwright.layout.lay_out import lay_out
from hatchwright.layout.site.sketch import Sketch
from hatchwright.page.entry_sheet import EntrySheet
from hatchwright.page.fill_in import with_part
from hatchwright.page.lay_out_sheet import entry_sheet
from hatchwright.page.screen import Asked
from hatchwright.page.survey_legs import SITE, Leg, is_on_page, legs_of
from hatchwright.page.ways_out import Changes
from hatchwright.remedy import EntryChange
from hatchwright.said import said
from hatchwright.units import Unit
from hatchwright.words.tell import tell
from hatchwright.workflow import site_said
from hatchwright.workflow.site import (
    AS_SURVEYED,
    RIGHT_BAY,
    SiteAnswer,
    both_sides,
    entered_text,
    site_answer,
)
from hatchwright.workflow.survey_papers import gap_limit_in

STEP = "survey"
"""What the step of undo is called that enters a survey into the job."""


class Reading(Struct, frozen=True):
    """One way to read the sketch: what it takes it for, and what is sent to enter it."""

    told: str
    changes: str


class Shown(Struct, frozen=True):
    """A table of the answer, in words; what stands below it in further lines."""

    title: str
    heads: tuple[str, ...]
    rows: tuple[tuple[str, ...], ...]
    below: tuple[str, ...] = ()


class Beside(Struct, frozen=True):
    """The survey of the other side beside this one: both drawn, and what differs, None where nothing does."""

    svg: str
    table: Shown | None


class SurveyView(Struct, frozen=True):
    """All that the page shows.

    Args:
        legs: none where the survey is not begun.
        faults: what is wrong with the job's text; with a fault there is no answer.
        answer: None where the job is not sound, or the survey is not begun.
        svg: the drawing, "" when there is none.
        readings: two where it has to be asked how the sketch is meant, else none.
    """

    asked: Asked
    unit: Unit
    sheet: EntrySheet
    legs: tuple[Leg, ...]
    faults: tuple[Fault, ...]
    answer: SiteAnswer | None = None
    svg: str = ""
    readings: tuple[Reading, ...] = ()

    @property
    def own_faults(self) -> tuple[Fault, ...]:
        """Those of what is entered here."""
        return tuple(fault for fault in self.faults if is_on_page(fault.field))

    @property
    def open_checks(self) -> tuple[Finding, ...]:
        """The right bay, then what doesn't agree; what the job says otherwise has a table of its own."""
        return tuple(self._checks(is_open=True))

    @property
    def passed_checks(self) -> tuple[Finding, ...]:
        """The other checks."""
        return tuple(self._checks(is_open=False))

    def _checks(self, *, is_open: bool) -> Iterator[Finding]:
        for one in self.answer.checks if self.answer else ():
            if one.code != AS_SURVEYED and is_open == (
                one.code == RIGHT_BAY or one.status is not Status.PASS
            ):
                yield one

    @property
    def asks_bay(self) -> bool:
        """Whether the right bay is to be asked for."""
        return self.answer is not None and self.answer.asks_bay

    @property
    def has_changes(self) -> bool:
        """Whether there is anything that the survey would enter into the job."""
        return bool(self.answer and (self.answer.entries or self.answer.parts))

    @property
    def may_enter(self) -> bool:
        """Whether it may, contradicting itself nowhere."""
        return self.has_changes and not (self.answer and self.answer.contradictions)

    @property
    def center_tables(self) -> tuple[Shown, ...]:
        """The center by each route with the best estimate below it, what to tape to it, and what lies behind."""
        if self.answer is None:
            return ()
        below = tuple(tell(line, self.unit) for line in site_said.center_lines(self.answer))
        routes = shown(
            "survey.routes", site_said.ROUTE_HEADS, site_said.route_rows(self.answer), self.unit, below
        )
        tapes = shown("survey.tapes", site_said.TAPE_HEADS, site_said.tape_rows(self.answer), self.unit)
        behind = (Shown(one.title, one.headings, one.rows) for one in hazards_table(self.answer.job))
        return tuple(table for table in (routes, tapes, *behind) if table.rows)

    @property
    def differences(self) -> Shown | None:
        """What the job says otherwise, by name."""
        if self.answer is None or not self.answer.differences:
            return None
        rows = site_said.difference_rows(self.answer)
        return shown("survey.differences", site_said.DIFFERENCE_HEADS, rows, self.unit)


def shown(
    title: str, heads: Sequence[str], rows: Iterable[site_said.Row], unit: Unit, below: tuple[str, ...] = ()
) -> Shown:
    """A table in words, a column that is empty in every row left out."""
    told = [tuple(tell(cell, unit) for cell in row) for row in rows]
    kept = [k for k, _ in enumerate(heads) if any(row[k] for row in told)]
    return Shown(
        tell(said(title)),
        tuple(tell(said(f"survey.head.{heads[k]}")) for k in kept),
        tuple(tuple(row[k] for k in kept) for row in told),
        below,
    )


def survey_view(asked: Asked) -> SurveyView:
    """Read a job's text and answer on its survey.

    Raises:
        JobError: the text is not TOML, so that it has no boxes.
    """
    data = raw_data(asked.text)
    unit: Unit = "mm" if data.get("units") == "mm" else "in"
    answer, faults = _answer(asked)
    sheet = entry_sheet(data, faults)
    legs = tuple(legs_of(sheet)) if SITE in data else ()
    if answer is None:
        return SurveyView(asked, unit, sheet, legs, faults)
    is_asked = answer.sketches.is_asked
    readings = tuple(_reading(way) for way in answer.sketches.ways) if is_asked else ()
    return SurveyView(asked, unit, sheet, legs, (), answer, _svg(answer), readings)


def _answer(asked: Asked) -> tuple[SiteAnswer | None, tuple[Fault, ...]]:
    try:
        layout = lay_out(asked.entered(), asked.shop)
        return (site_answer(layout) if layout.job.site else None), ()
    except HatchwrightError as error:
        return None, error.as_faults("job")


def _svg(answer: SiteAnswer) -> str:
    if not answer.center.lines and answer.center.corners is None:
        return ""
    limit_in = gap_limit_in(answer.site)
    sheet = site_sheet(answer.job, answer.center, answer.sketches.ways, gap_in=limit_in, date="")
    return picture_svg_of(sheet, margin_in=0.05).decode("utf-8")


def _reading(way: Sketch) -> Reading:
    told = said(f"page_site.reading.{way.seen_from}", up=way.up, right=way.right, x=way.x, y=way.y)
    wanted: Mapping[str, str] = {
        f"{SITE}.seen_from": way.seen_from,
        f"{SITE}.up": way.up,
        f"{SITE}.right": way.right,
        "frame.x": way.x,
        "frame.y": way.y,
    }
    entries = tuple(EntryChange(field, "", new) for field, new in wanted.items())
    return Reading(tell(told), msgspec.json.encode(Changes(entries, ())).decode())


def begun(text: str, u: str) -> str:
    """A job's text with a survey begun: the tape's u, and the four corners to fill in.

    Raises:
        JobError: it has one already.
    """
    with_part(text, SITE)  # refuses where one is there
    new: dict[str, Any] = {"u": u.strip(), "corners": {}}
    return added(text, {SITE: new})


def with_survey(text: str, asked: Asked) -> str:
    """Enter what a survey says into its job's text.

    Raises:
        JobError: the survey contradicts itself, or the job with it would not be sound; nothing is entered then.
    """
    layout = lay_out(read_job(text, folder=asked.folder, name=asked.name), asked.shop)
    new = entered_text(site_answer(layout), text)
    lay_out(read_job(new, folder=asked.folder, name=asked.name), asked.shop)
    return new


def beside(one: SiteAnswer, other: Asked) -> Beside:
    """The survey of another job beside this one.

    Raises:
        JobError: the other has no survey, or one of another skin, or it can't be read.
    """
    there = site_answer(lay_out(other.entered(), other.shop))
    rows = site_said.side_rows(both_sides(one, there))
    sheet = sides_sheet((one.job, one.center), (there.job, there.center), date="")
    sides = _side(one), _side(there)
    table = shown("survey.sides_alike", site_said.SIDE_HEADS, rows, one.job.unit)
    named = dict(zip(site_said.SIDE_HEADS, table.heads, strict=False))
    heads = tuple(
        sides[0] if head == named["one"] else sides[1] if head == named["other"] else head
        for head in table.heads
    )
    title = tell(said("survey.sides", one=sides[0], other=sides[1]))
    drawn = picture_svg_of(sheet, margin_in=0.05).decode("utf-8")
    return Beside(drawn, replace(table, title=title, heads=heads) if rows else None)


def _side(answer: SiteAnswer) -> str:
    return answer.job.aircraft.side.upper()
