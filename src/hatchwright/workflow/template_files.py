"""The files of a guide template, refused when it would spoil the skin."""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Sequence
from datetime import datetime
from typing import Any

from msgspec.structs import replace

from hatchwright.documents.sketches import sketches_pdf
from hatchwright.drawings.deviation_view import deviation_sheet
from hatchwright.drawings.made_file import MadeFile, MadeKind
from hatchwright.drawings.page_frame import side_word
from hatchwright.drawings.sheet import Sheet
from hatchwright.drawings.template_holes_view import template_holes_sheet
from hatchwright.drawings.template_view import template_sheet
from hatchwright.drawings.writers import AnyPaper, Format, Paper, write_solid
from hatchwright.drawings.writers.three_mf import CHORD_ERROR_IN
from hatchwright.errors import ExportError
from hatchwright.finding import Finding
from hatchwright.judged import Status
from hatchwright.layout.named import tool_named
from hatchwright.making.cutter.remnants import remnants
from hatchwright.making.making import Making
from hatchwright.making.template.flat_size import flat_size
from hatchwright.making.template.guide_template import GuideChain
from hatchwright.making.template.holes import through_which
from hatchwright.making.template.part import drilled_through, template_part
from hatchwright.progress import Progress, in_parts, stretches, unheard
from hatchwright.register import entries
from hatchwright.said import said
from hatchwright.shapes.solid import plate_solid
from hatchwright.units import Unit
from hatchwright.words.findings import advice_text
from hatchwright.words.tell import tell
from hatchwright.words.verdict import stop_text
from hatchwright.workflow.examine import Examination
from hatchwright.workflow.paper_set import Drawing, PaperSet, sets_of
from hatchwright.workflow.report import picked, plain, verdicts_values

SCHEMA = 1
"""Number of the template report's own schema."""


def template_files(
    examination: Examination,
    *,
    stamp: datetime,
    paper: AnyPaper = Paper.LETTER,
    stem: str = "",
    printable: bool = False,
    progress: Progress = unheard,
) -> tuple[MadeFile, ...]:
    """Make the guide template of a job as SVG, DXF and true-size PDF, and the sheet that goes with it; the
    other side's set too when both get the opening.

    Args:
        paper: what the printer takes; the sheet is not to scale and needs no correction.
        printable: whether a 3MF file for a machine that builds the template up is made too.
        progress: told how far they are.
    Raises:
        ExportError: there is no template, it does not fit, it would cut metal beyond the line, or a file did not
            read back as it was drawn; nothing is returned then. A hand tool takes none: that is no refusal.
    """
    sets = sets_of(examination, stamp=stamp, paper=paper, stem=stem)
    if not examination.job.hand_tool:
        for one in sets:
            sound_making(one.examination)  # nothing is made of one side where the other is refused
    made = (template_of(one, mine, printable=printable) for one, mine in in_parts(sets, progress))
    return tuple(file for files in made for file in files)


def template_of(one: PaperSet, progress: Progress, *, printable: bool = False) -> Iterator[MadeFile]:
    """The template of one side and the sheet that goes with it; see `template_files`."""
    if one.examination.job.hand_tool:
        return
    making = sound_making(one.examination)
    drawing, sketching = stretches(progress, 2.0, 1.0)
    sheet = template_sheet(making, one.examination.findings, date=one.date)
    printed = one.carried(replace(sheet, notes=(tell(said("print.notes_on_template_sheet")),), tables=()))
    yield from one.drawn(Drawing(MadeKind.TEMPLATE, one.carried(sheet), printed), drawing)
    sketching(0.0, said("progress.setting", paper=one.called(MadeKind.TEMPLATE_SHEET)))
    yield from _sketches(one, making, sheet)
    if printable:
        yield _printable(one, making)


def _sketches(one: PaperSet, making: Making, template: Sheet) -> tuple[MadeFile, ...]:
    """The notes and tables of the template; what the cut will be, and which holes go through which part, not to scale,
    the cut as a picture too."""
    cut, holes = deviation_sheet(making, date=one.date), template_holes_sheet(making, date=one.date)
    sketch = Drawing(MadeKind.PREDICTED_CUT, one.carried(cut), formats=(Format.SVG,), true_size=False)
    picture = one.drawn(sketch)
    sheets = tuple(one.carried(sheet) for sheet in (cut, holes) if sheet)
    title = tell(said("print.template_sheet"))
    set_out = sketches_pdf(title, sheets, paper=one.paper.plain, stamp=one.stamp, told=(template,))
    return (*picture, one.set_in_words(MadeKind.TEMPLATE_SHEET, set_out))


def _printable(one: PaperSet, making: Making) -> MadeFile:
    """The template as a body, face up; shrinkage and wear of the print are not in it."""
    job, verdict = one.examination.job, one.examination.verdict
    drilled, thickness_in = template_part(making).drilled, making.template.thickness.inch
    body = plate_solid(drilled, thickness_in=thickness_in, chord_error_in=CHORD_ERROR_IN)
    stop = stop_text(verdict)
    titled = "print.body_stopped" if stop else "print.body"
    title = tell(said(titled, title=job.title, side=side_word(job), revision=job.revision))
    mark = tell(said("verdict.mark", mark=verdict.mark))
    content = write_solid(body, title=title, description=f"{stop} {mark}".strip(), unit=job.unit)
    return one.file(MadeKind.TEMPLATE, f"_{job.unit.upper()}.3mf", content, true_size=True)


def sound_making(examination: Examination) -> Making:
    """The template of a job; ExportError where there is none, it does not fit, or it would cut metal beyond
    the line."""
    refuse_forbidden(examination.findings, side=examination.job.aircraft.side, unit=examination.job.unit)
    if tool := examination.job.hand_tool:
        raise ExportError.saying("template.takes_none", where="hand_tool", tool=tool_named(tool))
    if examination.making is None:
        missing = "cutter" if examination.job.cutter is None else "template"
        raise ExportError(said("template.none"), where=missing, remedy=said(f"making.add.{missing}"))
    return examination.making


def refuse_forbidden(findings: Iterable[Finding], *, side: str, unit: Unit) -> None:
    """Refuse to go on when a finding of the job forbids the template; ExportError where it does not fit, or
    would cut metal beyond the line."""
    for finding in findings:
        if finding.status is Status.STOP and entries()[finding.code].forbids_template:
            told = {"subject": finding.subject, "why": advice_text(finding, unit).rstrip(".")}
            what, do = said("template.refused", code=finding.code, **told), said(f"instead.{finding.code}")
            where = f"{finding.cause or 'template'}, {side} side"
            raise ExportError(what, where=where, remedy=do, unit=unit)


def template_stops(examination: Examination) -> tuple[Finding, ...]:
    """What must be settled before the templates of a job are used, what their stop boxes count: the worst
    first, of the other side what is not said of the first."""
    judged = [finding for one in examination.sides for finding in one.worst_first()]
    told = {(finding.code, finding.subject, finding.advice): finding for finding in reversed(judged)}
    stops = [finding for finding in reversed(told.values()) if finding.status.holds_back]
    return tuple(sorted(stops, key=lambda finding: finding.status.severity))


def template_values(examination: Examination, files: Sequence[str]) -> dict[str, Any]:
    """Turn what was made, with the names of the files that were written, into plain values for programs."""
    by_hand = examination.job.hand_tool is not None
    return {
        "schema": SCHEMA,
        "verdicts": verdicts_values(*examination.sides),
        "stops": plain(template_stops(examination), examination.job.unit),
        "templates": [_side_values(one, sound_making(one)) for one in examination.sides if not by_hand],
        "files": list(files),
    }


def _side_values(examination: Examination, making: Making) -> dict[str, Any]:
    chain, unit = making.chain, examination.job.unit
    made = tuple(finding for finding in examination.findings if finding.code.startswith("T"))
    drilled = through_which(drilled_through(making))
    return {
        "side": side_word(examination.job),
        **sizes_values(chain),
        "offset_in": chain.guide.offset_in,
        "flat_in": list(flat_size(making)),
        "deviations": [
            picked(one, unit, "name", "depth_in", place_in="place", is_over_cut="is_over")
            for one in remnants(chain)
        ],
        "holes": [
            {"diameter_in": size_in, "parts": list(parts), "numbers": numbers}
            for (size_in, parts), numbers in drilled.items()
        ],
        "findings": plain(made, unit),
    }


def sizes_values(chain: GuideChain) -> dict[str, Any]:
    """What a template is as it lies on the skin, as plain values: its kind, its size and its sharpest corner."""
    x_min, y_min, x_max, y_max = chain.machinable.bounds
    corner = chain.machinable_corner
    return {
        "kind": chain.guide.kind,
        "width_in": x_max - x_min,
        "height_in": y_max - y_min,
        "least_corner_in": corner.radius_in if corner else None,
    }
