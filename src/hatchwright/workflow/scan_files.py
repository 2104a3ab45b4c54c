"""What a scan is printed in and hands on: its frame, tables, outlines, entries of a job, readings of a trial."""

from __future__ import annotations

import csv
import io
from typing import Literal, get_args

import msgspec

from hatchwright.drawings.ink import Layer
from hatchwright.drawings.made_file import MadeFile, MadeKind, Written
from hatchwright.drawings.scan_frame_view import scan_frame_sheet
from hatchwright.drawings.traced_view import traced_part_sheet, traced_sheet
from hatchwright.drawings.writers import AnyPaper, Format, Paper, write
from hatchwright.errors import EntryError
from hatchwright.inspection.scan.frame import CARDS, FRAMES
from hatchwright.inspection.scan.scan import own_u_in
from hatchwright.inspection.scan.values import Value
from hatchwright.job.entry import Entered
from hatchwright.job.outline import Circle, DxfLoop, Obround, RoundedRectangle
from hatchwright.said import inch, said
from hatchwright.units import figure, signed_figure
from hatchwright.words.tell import tell
from hatchwright.workflow.scan import ScanReport, edges_of

SCHEMA = 1
"""Number of the scan's own schema."""

PLACES_OF_SMOOTH = 12
"""Places that a smooth edge counts for in a trial: its points share grain, jitter and burr with their neighbors [-]."""


def frame_files(window: str, *, card: int, paper: AnyPaper) -> tuple[MadeFile, ...]:
    """The printed frame as a true-size PDF.

    Args:
        window: name of one of `FRAMES`.
        card: number that the card bears, below `CARDS`.
    Raises:
        EntryError: there is no such card.
        ExportError: the paper is none that the frame is drawn for, or the file did not read back.
    """
    if not 0 <= card < CARDS:
        raise EntryError.saying("scan.no_card_number", where="--card", most=CARDS - 1)
    plain = paper.plain
    sheet = scan_frame_sheet(FRAMES[window], card=card, paper_in=plain.size_in)
    content = write(sheet, Format.PDF, paper=plain)
    name = f"{MadeKind.SCAN_FRAME}_{window}_CARD_{card}_{plain.words}.pdf"
    return (MadeFile(name, MadeKind.SCAN_FRAME, "", True, Written.PDF, content),)


def scan_files(report: ScanReport) -> tuple[MadeFile, ...]:
    """What other commands take from a scan: its holes as a table of readings, each edge as a DXF outline,
    and all of it as the DXF drawing that `hatchwright trace` takes, which comes last."""
    files = []
    if report.scan.holes:
        name = f"{report.stem}_HOLES.csv"
        files.append(MadeFile(name, MadeKind.TRACED, "", False, Written.CSV, _holes_table(report)))
    for part, traced in edges_of(report.scan):
        sheet = traced_sheet(traced, title=f"{report.stem} {part}", unit=report.unit)
        content = write(sheet, Format.DXF, paper=Paper.LETTER)
        name = f"{report.stem}_{part.upper()}_{report.unit.upper()}.dxf"
        files.append(MadeFile(name, MadeKind.TRACED, "", True, Written.DXF, content))
    name, unit = f"{report.stem}_PART_{report.unit.upper()}.dxf", report.unit
    sheet = traced_part_sheet(report.scan, title=f"{report.stem} part", unit=unit)
    content = write(sheet, Format.DXF, paper=Paper.LETTER)
    return (*files, MadeFile(name, MadeKind.TRACED, "", True, Written.DXF, content))


def _holes_table(report: ScanReport) -> bytes:
    """X, Y, diameter and expanded uncertainty of each hole, as `hatchwright measure` takes them."""
    text = io.StringIO()
    table = csv.writer(text, lineterminator="\n")
    table.writerow(["x", "y", "diameter", "u"])
    unit = report.unit
    for hole in report.scan.holes:
        sizes = (*(one.value_in for one in hole.from_edge), hole.diameter.value_in, hole.place_u_in)
        table.writerow([signed_figure(size, unit) for size in sizes])
    return text.getvalue().encode("utf-8")


def scan_values(report: ScanReport, files: tuple[str, ...]) -> dict[str, object]:
    """A scan as plain values for programs, documented in docs/scan-json.md."""
    values: dict[str, object] = msgspec.to_builtins(report.scan, enc_hook=lambda points: points.tolist())
    return {
        "schema": SCHEMA,
        **values,
        "offset": msgspec.to_builtins(report.offset),
        "pose": msgspec.to_builtins(report.pose),
        "entries": {part: list(entries_of(report, part)) for part, _ in edges_of(report.scan)},
        "files": list(files),
    }


def entries_of(report: ScanReport, part: Literal["outline", "opening"]) -> tuple[str, ...]:
    """One edge as lines of a job file, to be pasted under `[opening]` or where else the job has an outline, its own
    middle at zero; a comment says how well it is known. None where the part has no such edge."""
    cut, unit = dict(edges_of(report.scan)).get(part), report.unit
    if cut is None:
        return ()
    shape = cut.shape

    def size(value: Value) -> str:
        return f'"{figure(value.value_in, unit, fine=True)} {unit}"'

    if shape is None:
        comment = said("scan.entry_lines", off=inch(cut.deviation_in, fine=True))
        lines: tuple[str, ...] = (
            _shape_line(DxfLoop),
            f'file = "{report.stem}_{part.upper()}_{unit.upper()}.dxf"',
            f'layer = "{Layer.OPENING.value}"',
        )
        return (*lines, f"# {tell(comment, unit)}")
    if shape.kind == "circle":
        lines = _shape_line(Circle), f"diameter = {size(shape.width)}"
    elif shape.kind == "obround":
        long, short = sorted((shape.width, shape.height), key=lambda one: -one.value_in)
        lines = _shape_line(Obround), f"length = {size(long)}", f"width = {size(short)}"
        lines += () if shape.width is long else ("angle = 90",)
    else:
        sizes = {"width": shape.width, "height": shape.height, "radius": shape.radius}
        lines = (_shape_line(RoundedRectangle), *(f"{name} = {size(one)}" for name, one in sizes.items()))
    u = inch(max(shape.width.expanded_in, shape.height.expanded_in), fine=True)
    return (*lines, f"# {tell(said('scan.entry_sizes', u=u), unit)}")


def _shape_line(outline: type[Entered]) -> str:
    """The line that says which shape of a job file follows."""
    (name,) = get_args(outline.model_fields["shape"].annotation)
    return f'shape = "{name}"'


def trial_lines(report: ScanReport) -> tuple[str, ...]:
    """The cut as lines of a trial's readings file; none where a shape has no width and height of its own, or no offset
    was asked for."""
    shape, bites = report.cut.shape, report.cut.scallops
    if shape is None or report.offset is None:
        return ()

    def size(name: str, size_in: float) -> str:
        return f'{name} = "{figure(size_in, report.unit, fine=True)}"'

    width_u, height_u = (own_u_in(one) for one in (shape.width, shape.height))
    places = bites.bites if bites else PLACES_OF_SMOOTH
    scatter_in = bites.scatter_in if bites else report.cut.spread_in
    return (
        "[scan]",
        size("width", shape.width.value_in),
        size("height", shape.height.value_in),
        size("width_uncertainty", width_u),
        size("height_uncertainty", height_u),
        size("edge_uncertainty", shape.edge_u_in),
        size("scatter", scatter_in),
        f"places = {places}",
        *_pose_lines(report),
    )


def _pose_lines(report: ScanReport) -> tuple[str, ...]:
    pose = report.pose
    if pose is None:
        return ()
    x, y = (signed_figure(one.value_in, report.unit) for one in pose.shift)
    u = figure(max(one.u_in for one in pose.shift), report.unit, fine=True)
    turn, turn_u = pose.turn_deg.value_in, pose.turn_deg.u_in
    return (
        "",
        "[scan.pose]",
        f'shift_x = "{x}"',
        f'shift_y = "{y}"',
        f'shift_uncertainty = "{u}"',
        f'turn = "{turn:.4f}"',
        f'turn_uncertainty = "{turn_u:.4f}"',
    )
