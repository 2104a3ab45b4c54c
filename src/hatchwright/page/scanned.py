"""What a page shows of a part that was measured from a flat scan, and what of it can be entered in the job."""

from __future__ import annotations

from collections.abc import Iterator, Mapping
from typing import Any

from msgspec import Struct

from hatchwright.inspection.scan.budget import Scanner
from hatchwright.progress import Progress, unheard
from hatchwright.said import said
from hatchwright.units import Unit, figure, signed_figure
from hatchwright.words.tell import tell
from hatchwright.workflow.scan import (
    KnownOfJob,
    ScanReport,
    Typed,
    edges_of,
    scanned_content,
)
from hatchwright.workflow.scan_files import entries_of, trial_lines
from hatchwright.workflow.scan_said import HEADS, hole_rows, holes_said, scan_lines

BOXES = ("bar_x", "bar_y", "thickness", "advance", "template_x", "template_y")
"""What is typed of a scan, by the names of its boxes."""

_LONGEST = 40


class AskedScan(Struct, frozen=True):
    """A picture that came with what was typed of it.

    Args:
        content: of the picture's file.
        name: of that file, as the browser told it.
        flipped: whether the face that lay on the glass is the inner one.
        known: what the job says of the part.
    """

    content: bytes
    name: str
    typed: Typed
    flipped: bool
    known: KnownOfJob


class ScannedView(Struct, frozen=True):
    """What was found.

    Args:
        name: of the picture's file.
        lines: each sentence, each value with its uncertainty.
        title: of the table of holes, "" without holes.
        rows: of that table under its heads.
        entries: for each edge, its name and its lines for a job.
        trial: lines for the readings file of a trial.
        holes: the table of holes as rows that a list of measured holes takes, in the job's frame; "" without holes.
        u: the greatest expanded uncertainty of them.
    """

    name: str
    lines: tuple[str, ...]
    title: str
    heads: tuple[str, ...]
    rows: tuple[tuple[str, ...], ...]
    entries: tuple[tuple[str, tuple[str, ...]], ...]
    trial: tuple[str, ...]
    holes: str
    u: str


def asked_scan(content: bytes, name: str, typed: Mapping[str, Any], known: KnownOfJob) -> AskedScan:
    """Take in what came with a picture.

    Args:
        typed: names of boxes to what stands in them; those that are missing are empty.
        known: what the job says; its thickness stands for one that was not typed.
    """
    boxes = {box: str(typed.get(box, ""))[:_LONGEST].strip() for box in BOXES}
    scanner: Scanner = "contact" if typed.get("scanner") == "contact" else "lens"  # which states more
    told = Typed(
        bars=(boxes["bar_x"], boxes["bar_y"]),
        scanner=scanner,
        thickness=boxes["thickness"] or known.thickness,
        advance=boxes["advance"],
        unit=known.unit,
        template=(boxes["template_x"], boxes["template_y"]),
    )
    return AskedScan(content, name[-_LONGEST:], told, bool(typed.get("flipped")), known)


def scanned_view(asked: AskedScan, progress: Progress = unheard) -> ScannedView:
    """Measure the part.

    Raises:
        EntryError: a length that was typed is none.
        ScanError: the picture can't be measured from.
    """
    progress(0.1, said("page.scan.measuring"))
    report = scanned_content(asked.content, asked.name, asked.typed)
    unit = report.unit
    rows = tuple(hole_rows(report))
    return ScannedView(
        name=asked.name,
        lines=tuple(tell(told, unit) for told in scan_lines(report)),
        title=tell(holes_said(report), unit) if rows else "",
        heads=tuple(tell(said(head)) for head in HEADS),
        rows=rows,
        entries=tuple(
            (tell(said(f"scan.part.{part}")), entries_of(report, part)) for part, _ in edges_of(report.scan)
        ),
        trial=trial_lines(report),
        holes="\n".join(_holes(report, asked)),
        u=f"{figure(max((hole.place_u_in for hole in report.scan.holes), default=0.0), unit, fine=True)} {unit}",
    )


def _holes(report: ScanReport, asked: AskedScan) -> Iterator[str]:
    """Rows of X, Y, diameter and uncertainty, from the middle of the job's opening."""
    if not report.scan.holes:
        return
    unit: Unit = asked.known.unit
    x, y = asked.known.center_in
    yield f"x ({unit})\ty ({unit})\tdiameter ({unit})\tu ({unit})"
    for hole in report.scan.holes:
        x_in, y_in = (one.value_in for one in hole.from_edge)
        placed = (x + x_in, y + (-y_in if asked.flipped else y_in), hole.diameter.value_in, hole.place_u_in)
        yield "\t".join(signed_figure(one, unit) for one in placed)
