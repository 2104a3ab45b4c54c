"""What the live part of a job's page is filled with: drawing, findings, echoes, and where each fault belongs."""

from __future__ import annotations

from collections.abc import Iterable, Mapping
from itertools import islice
from typing import Any

from msgspec.structs import replace

from hatchwright.errors import JobError
from hatchwright.page.entry_sheet import EntrySheet, Section
from hatchwright.page.readings import reading_tables
from hatchwright.page.screen import ScreenView, screen
from hatchwright.page.shown_lines import Band, band_of, shown_shelves
from hatchwright.page.spoken_of import spoken_of
from hatchwright.page.ways_out import STEP
from hatchwright.said import Said
from hatchwright.search.rescue import deviations
from hatchwright.web.lettering import anchor, place_of
from hatchwright.web.site import SaidBeside, Site
from hatchwright.words.refusals import fault_sentences
from hatchwright.words.tell import tell
from hatchwright.words.verdict import acknowledged_said, other_side_said, unheard_said
from hatchwright.workflow.job_folder import version_of
from hatchwright.workflow.template_said import template_said

FORM = "form."
"""What the name of the hidden box begins with that says which form of a section a page shows."""

_EARLIER_TRIED = 20


def answer_values(site: Site, view: ScreenView, since: str = "") -> dict[str, Any]:
    """What follows each key: the drawing, the echoes, the faults, all `since` the version that the page shows."""
    drawn, version = _drawn(site, view), version_of(view.asked.text)
    sheet, before = view.sheet, site.said.get(since)
    beside = _said_beside(sheet)
    site.said.put(version, beside)
    if before is not None:  # only what is new
        beside = {
            kind: {name: said for name, said in those.items() if before[kind].get(name) != said}
            for kind, those in beside.items()
        }
    return {
        "job_name": view.asked.name,
        "view": view,
        "version": version,
        "drawn": drawn,
        "directions": _directions(drawn),
        "steps": site.jobs.steps(view.asked.name),
        "places": [(place_of(fault.field, sheet), sheet.name_of(fault.field)) for fault in view.faults],
        "said": beside,
    }


def _said_beside(sheet: EntrySheet) -> SaidBeside:
    """``boxes``: echo or faults and whether they are faults; ``gists``, ``parts``: sections in short, their faults."""
    parts = {anchor(path): part for path, part in sheet.sections.items()}
    return {
        "boxes": {
            anchor(path): (" ".join(map(fault_sentences, box.faults)) or box.echo, bool(box.faults))
            for path, box in sheet.boxes.items()
        },
        "gists": {name: part.gist for name, part in parts.items()},
        "parts": {name: [fault_sentences(fault) for fault in part.faults] for name, part in parts.items()},
    }


def verdict_values(site: Site, view: ScreenView) -> dict[str, Any]:
    """What the counts and the findings of the page show; keeps in mind what marks a hole."""
    if view.is_sound:
        site.marked.put(view.asked.name, view.marked)
    values = {
        "job_name": view.asked.name,
        "view": view,
        "version": version_of(view.asked.text),
        "units": str(view.data.get("units", "in")),
        "band": Band(),
        "window": None,
        "is_way_entered": site.jobs.last_step(view.asked.name) == STEP,
    }
    if not view.examination:
        return values
    verdict, spoken = view.examination.verdict, spoken_of(view.examination, view.tried or ())
    readings = reading_tables(view.findings, view.examination.job)
    made = deviations(view.examination.layout, verdict.open_lines)
    shelves = shown_shelves(verdict, spoken, view.sheet, readings, made)
    at_lines = [table for shelf in shelves for one in shelf.lines for table in one.readings]
    return {
        **values,
        "spoken": spoken,
        "shelves": shelves,
        "band": band_of(shelves),
        "window": template_said(view.examination),
        "acknowledged": _told(map(acknowledged_said, verdict.acknowledged_lines), view),
        "unheard": _told(unheard_said(verdict), view),
        "other_side": tell(other_side_said(view.other), view.unit) if view.other else "",
        "readings": [table for table in readings if table not in at_lines],
    }


def _told(said: Iterable[Said | None], view: ScreenView) -> list[str]:
    return [tell(one, view.unit) for one in said if one]


def sections_in_another_form(sheet: EntrySheet, posted: Mapping[str, Any]) -> list[Section]:
    """Sections whose form is no longer the one whose boxes a page shows."""
    return [
        part
        for path, part in sheet.sections.items()
        if part.variant and posted.get(FORM + path) not in (None, part.variant.value)
    ]


def _drawn(site: Site, view: ScreenView) -> ScreenView:
    """The view to draw: this one, or the last sound one of the job while this one has faults."""
    if view.is_sound:
        site.drawn.put(view.asked.name, view)
        return view
    last = site.drawn.get(view.asked.name)
    if last is not None and last.asked.look == view.asked.look:
        return last
    earlier_texts = site.jobs.earlier_texts(view.asked.name)
    texts = [last.asked.text] if last else islice(earlier_texts, _EARLIER_TRIED)
    for text in texts:
        try:
            earlier = screen(replace(view.asked, text=text))
        except JobError:
            continue
        if earlier.is_sound:
            site.drawn.put(view.asked.name, earlier)
            return earlier
    return view


def _directions(view: ScreenView) -> list[dict[str, Any]]:
    """The two direction arrows as they lie on the screen: word, and where it points (x right, y down)."""
    if view.examination is None:
        return []
    turn = -1.0 if view.asked.look.seen == "inside" else 1.0
    return [
        {"word": word, "x": turn * x, "y": -y} for word, (x, y) in view.examination.layout.frame.directions()
    ]
