"""The files of a guide template, refused when it would spoil the skin."""

from __future__ import annotations

from collections.abc import Iterable, Sequence
from datetime import datetime
from typing import Any

from hatchwright.documents.sketches import sketches_pdf
from hatchwright.drawings.deviation_view import deviation_sheet
from hatchwright.drawings.made_file import MadeFile, MadeKind, Written
from hatchwright.drawings.page_frame import side_word
from hatchwright.drawings.template_holes_view import drilled_through, template_holes_sheet
from hatchwright.drawings.template_view import template_sheet
from hatchwright.drawings.writers import AnyPaper, Format, Paper, write_solid
from hatchwright.drawings.writers.three_mf import CHORD_ERROR_IN
from hatchwright.errors import ExportError
from hatchwright.finding import Finding
from hatchwright.judged import Status
from hatchwright.making.cutter.remnants import remnants
from hatchwright.making.making import Making
from hatchwright.making.template.flat_size import flat_size
from hatchwright.making.template.holes import through_which
from hatchwright.making.template.part import template_part
from hatchwright.register import entries
from hatchwright.said import said
from hatchwright.shapes.solid import plate_solid
from hatchwright.units import Unit
from hatchwright.words.findings import advice_text
from hatchwright.words.tell import tell
from hatchwright.words.verdict import stop_text
from hatchwright.workflow.examine import Examination
from hatchwright.workflow.finding_values import plain
from hatchwright.workflow.paper_set import carried, files_of, issue_words, paper_of_side, stem_of
from hatchwright.workflow.report import verdicts_values

SCHEMA = 1
"""Number of the template report's own schema."""


def template_files(
    examination: Examination,
    *,
    stamp: datetime,
    paper: AnyPaper = Paper.LETTER,
    stem: str = "",
    printable: bool = False,
) -> tuple[MadeFile, ...]:
    """Make the guide template of a job as SVG, DXF and true-size PDF, and the sheet that goes with it.

    Args:
        paper: what the printer takes; the sheet is not to scale and needs no correction.
        printable: whether a 3MF file for a machine that builds the template up is made too.
    Returns:
        tuple[MadeFile, ...]: the other side's set too when both get the opening.
    Raises:
        ExportError: there is no template, it does not fit, it would cut metal beyond the line, or a file did not
            read back as it was drawn; nothing is returned then.
    """
    start = stem_of(examination, stem)
    sides = [(one, sound_making(one)) for one in examination.sides]
    made: list[MadeFile] = []
    for one, making in sides:
        sheet = carried(template_sheet(making, one.findings, date=issue_words(one, stamp)), one)
        made += files_of(sheet, MadeKind.TEMPLATE, one, stem=start, stamp=stamp, paper=paper)
        made += _sketches(one, making, stem=start, stamp=stamp, paper=paper.plain)
        if printable:
            made.append(_printable(one, making, stem=start))
    return tuple(made)


def _sketches(
    examination: Examination, making: Making, *, stem: str, stamp: datetime, paper: Paper
) -> tuple[MadeFile, ...]:
    """What the cut will be, and which holes go through which part, not to scale; the first as a picture too."""
    date = issue_words(examination, stamp)
    drawn = (deviation_sheet(making, date=date), template_holes_sheet(making, date=date))
    sheets = tuple(carried(sheet, examination) for sheet in drawn if sheet)
    picture = files_of(
        sheets[0],
        MadeKind.PREDICTED_CUT,
        examination,
        stem=stem,
        stamp=stamp,
        paper=paper,
        formats=(Format.SVG,),
        true_size=False,
    )
    set_out = sketches_pdf(tell(said("print.template_sheet")), sheets, paper=paper, stamp=stamp)
    return (*picture, paper_of_side(MadeKind.TEMPLATE_SHEET, examination, set_out, stem=stem, paper=paper))


def _printable(examination: Examination, making: Making, *, stem: str) -> MadeFile:
    """The template as a body, face up; shrinkage and wear of the print are not in it."""
    job = examination.job
    body = plate_solid(
        template_part(making).drilled,
        thickness_in=making.template.thickness.inch,
        chord_error_in=CHORD_ERROR_IN,
    )
    stop = stop_text(examination.verdict)
    titled = "print.body_stopped" if stop else "print.body"
    title = tell(said(titled, title=job.title, side=side_word(job), revision=job.revision))
    name = f"{stem}_{MadeKind.TEMPLATE}_{side_word(job)}_{job.unit.upper()}.3mf"
    mark = tell(said("verdict.mark", mark=examination.verdict.mark))
    content = write_solid(body, title=title, description=f"{stop} {mark}".strip(), unit=job.unit)
    return MadeFile(name, MadeKind.TEMPLATE, job.aircraft.side, True, Written.THREE_MF, content)


def sound_making(examination: Examination) -> Making:
    """The template of a job, unless a finding forbids it.

    Raises:
        ExportError: there is none, it does not fit, or it would cut metal beyond the line.
    """
    refuse_forbidden(examination.findings, side=examination.job.aircraft.side, unit=examination.job.unit)
    if examination.making is None:
        missing = "cutter" if examination.job.cutter is None else "template"
        raise ExportError(said("template.none"), where=missing, remedy=said(f"making.add.{missing}"))
    return examination.making


def refuse_forbidden(findings: Iterable[Finding], *, side: str, unit: Unit) -> None:
    """Refuse to go on when a finding forbids the template.

    Args:
        findings: of the job, those of the template and of a curved skin among them.
    Raises:
        ExportError: the template does not fit, or it would cut metal beyond the line.
    """
    for finding in findings:
        if finding.status is Status.STOP and entries()[finding.code].forbids_template:
            raise ExportError(
                said(
                    "template.refused",
                    code=finding.code,
                    subject=finding.subject,
                    why=advice_text(finding, unit).rstrip("."),
                ),
                where=f"{finding.cause or 'template'}, {side} side",
                remedy=said(f"instead.{finding.code}"),
                unit=unit,
            )


def template_stops(examination: Examination) -> tuple[Finding, ...]:
    """What must be settled before the templates of a job are used: what their stop boxes count.

    Returns:
        tuple: the worst first, of the other side what is not said of the first.
    """
    judged = [finding for one in examination.sides for finding in one.worst_first()]
    told = {(finding.code, finding.subject, finding.advice): finding for finding in reversed(judged)}
    stops = [finding for finding in reversed(told.values()) if finding.status.holds_back]
    return tuple(sorted(stops, key=lambda finding: finding.status.severity))


def template_values(examination: Examination, files: Sequence[str]) -> dict[str, Any]:
    """Turn what was made into plain values for programs.

    Args:
        files: names of the files that were written.
    Returns:
        dict: `schema`, `verdicts` of the sides, `stops`, `templates` of the sides, `files`.
    """
    return {
        "schema": SCHEMA,
        "verdicts": verdicts_values(*examination.sides),
        "stops": plain(template_stops(examination), examination.job.unit),
        "templates": [_side_values(one, sound_making(one)) for one in examination.sides],
        "files": list(files),
    }


def _side_values(examination: Examination, making: Making) -> dict[str, Any]:
    chain = making.chain
    x_min, y_min, x_max, y_max = chain.machinable.bounds
    corner = chain.machinable_corner
    made = tuple(finding for finding in examination.findings if finding.code.startswith("T"))
    return {
        "side": side_word(examination.job),
        "kind": chain.guide.kind,
        "offset_in": chain.guide.offset_in,
        "width_in": x_max - x_min,
        "height_in": y_max - y_min,
        "flat_in": list(flat_size(making)),
        "least_corner_in": corner.radius_in if corner else None,
        "deviations": [
            {
                "place_in": list(one.place),
                "name": one.name,
                "depth_in": one.depth_in,
                "is_over_cut": one.is_over,
            }
            for one in remnants(chain)
        ],
        "holes": [
            {"diameter_in": size_in, "parts": list(parts), "numbers": list(numbers)}
            for (size_in, parts), numbers in through_which(
                drilled_through(making, template_part(making))
            ).items()
        ],
        "findings": plain(made, examination.job.unit),
    }
