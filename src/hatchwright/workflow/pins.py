"""Plan the pins of a job's template, and put the plan on paper."""

from __future__ import annotations

from collections.abc import Iterator
from datetime import datetime
from pathlib import Path
from typing import Any

from msgspec import Struct

from hatchwright.documents.sketches import sketches_pdf
from hatchwright.drawings.made_file import MadeFile, MadeKind
from hatchwright.drawings.pin_view import pin_sheets
from hatchwright.drawings.writers import Format, Paper
from hatchwright.errors import Fault, JobError
from hatchwright.finding import Finding
from hatchwright.making.making import making_of
from hatchwright.making.pins.findings import pin_findings
from hatchwright.making.pins.notes import stage_lines
from hatchwright.making.pins.pin_layout import PinLayout, pin_layout
from hatchwright.making.pins.runs import Run, runs_of
from hatchwright.progress import Progress, in_parts, unheard
from hatchwright.said import said
from hatchwright.words.tell import tell, tell_all
from hatchwright.workflow.examine import Examination, examine_file
from hatchwright.workflow.paper_set import Drawing, PaperSet, sets_of
from hatchwright.workflow.report import picked
from hatchwright.workflow.template_files import refuse_forbidden, sound_making

SCHEMA = 1
"""Number of the pin report's own schema."""


class PinReport(Struct, frozen=True):
    """Pins, judged (T5xx): the notes on what to do in each stage, and how the cutter gets to its stretches."""

    examination: Examination
    pins: PinLayout
    findings: tuple[Finding, ...]
    notes: tuple[str, ...]
    runs: tuple[tuple[Run, ...], ...]

    @property
    def must_stop(self) -> bool:
        """Whether there is no plan."""
        return any(finding.status.holds_back for finding in self.findings)


def plan_pins(path: Path, *, other_side: bool = False, shop: Path | None = None) -> PinReport:
    """Plan the pins of a job file.

    Raises:
        JobError: the file is refused, or a size that the plan needs is missing.
        TableError: a table of the shop is refused.
        GeometryError: the template cannot be made.
        ExportError: the template is refused.
    """
    examination = examine_file(path, shop=shop, other_side=other_side)
    layout = examination.layout
    making = examination.making or making_of(layout)
    if making is None:
        fault = Fault("cutter", said("pins.no_template"), remedy=said("making.add.cutter_and_template"))
        raise JobError((fault,), where=path.name)
    refuse_forbidden(examination.findings, side=layout.job.aircraft.side, unit=layout.job.unit)
    pins = pin_layout(making)
    notes = tuple(tell_all(lines, making.unit) for lines in stage_lines(making, pins))
    return PinReport(examination, pins, pin_findings(making, pins), notes, runs_of(making, pins))


def pin_files(
    examination: Examination,
    *,
    stamp: datetime,
    paper: Paper = Paper.LETTER,
    stem: str = "",
    progress: Progress = unheard,
) -> tuple[MadeFile, ...]:
    """Make the pin sheet of a job (PDF) and a sketch of each stage (SVG), the other side's too when both get
    the opening.

    Raises:
        JobError: a size that the plan needs is missing.
        ExportError: there is no template, or a file did not read back as it was drawn. A hand tool takes none: that is
            no refusal.
        GeometryError: the cut falls into several runs.
    """
    sets = sets_of(examination, stamp=stamp, paper=paper, stem=stem)
    return tuple(file for one, mine in in_parts(sets, progress) for file in pins_of(one, mine))


def pins_of(one: PaperSet, progress: Progress) -> Iterator[MadeFile]:
    """The pin sheet of one side and its sketches; see `pin_files`."""
    if one.examination.job.hand_tool:
        return
    progress(0.0, said("progress.setting", paper=one.called(MadeKind.PIN_SHEET)))
    making = sound_making(one.examination)
    drawn = pin_sheets(making, pin_layout(making), date=one.date)
    sheets = tuple(map(one.carried, drawn))
    set_out = sketches_pdf(tell(said("print.pin_sheet")), sheets, paper=one.paper.plain, stamp=one.stamp)
    yield one.set_in_words(MadeKind.PIN_SHEET, set_out)
    for number, sheet in enumerate(sheets, start=1):
        sketch = Drawing(MadeKind.PINS, sheet, formats=(Format.SVG,), part=str(number), true_size=False)
        yield from one.drawn(sketch)


def pin_values(report: PinReport) -> dict[str, Any]:
    """Turn a pin report into plain values for programs, documented in docs/making-json.md."""
    pins, unit = report.pins, report.examination.job.unit
    stages = pins.plan.stages if pins.plan else ()
    return {
        "schema": SCHEMA,
        **picked(pins, unit, "reach_in", clear_of_rough_line_in="clear_in"),
        "pins": [picked(pin, unit, "hole", "is_clamp", place_in="place") for pin in pins.pins],
        "blocked_share": pins.plan.blocked_share if pins.plan else None,
        "stages": [
            {
                **picked(stage, unit, "pins", "hold_ratio", worst_place_in="worst"),
                "cut": [picked(one, unit, from_in="start", to_in="end") for one in stage.stretches],
                "runs": [
                    picked(run, unit, "name", "begin", "after", start_in="start", end_in="end", tab_in="tab")
                    for run in runs
                ],
                "note": note,
            }
            for stage, runs, note in zip(stages, report.runs, report.notes, strict=True)
        ],
        "clamps_in": [list(pin.place) for pin in pins.clamps],
        **picked(report, unit, "findings", "must_stop"),
    }
