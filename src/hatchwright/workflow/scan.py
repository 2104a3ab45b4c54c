"""Measure a part from a flat scan, print the frame for it, and hand on what was measured."""

from __future__ import annotations

import cmath
import csv
import io
import math
from pathlib import Path
from typing import Literal, get_args

import msgspec
from msgspec import Struct

from hatchwright.drawings.ink import Layer
from hatchwright.drawings.made_file import MadeFile, MadeKind, Written
from hatchwright.drawings.scan_frame_view import scan_frame_sheet
from hatchwright.drawings.traced_view import traced_sheet
from hatchwright.drawings.writers import AnyPaper, Format, Paper, write
from hatchwright.errors import EntryError, ScanError
from hatchwright.inspection.scan.budget import Scanner
from hatchwright.inspection.scan.frame import CARDS, FRAMES
from hatchwright.inspection.scan.picture import LARGEST_BYTES
from hatchwright.inspection.scan.scan import Asked, cut_offset, measure_scan, own_u_in
from hatchwright.inspection.scan.traced import AskedShape
from hatchwright.inspection.scan.values import Scan, Traced, Value
from hatchwright.job.entry import Entered
from hatchwright.job.outline import Circle, DxfLoop, Obround, RoundedRectangle
from hatchwright.said import inch, said
from hatchwright.units import Unit, figure, parse_length
from hatchwright.words.tell import tell

SCHEMA = 1
"""Number of the scan's own schema."""

WINDOWS = tuple(FRAMES)
"""Windows of the printed frame, by name."""

PLACES_OF_SMOOTH = 12
"""Places that a smooth edge counts for in a trial: its points share grain, jitter and burr with their neighbors [-]."""

Guide = Literal["window", "plug"]


class Typed(Struct, frozen=True):
    """What a person says of a scan, as typed; lengths without a unit are in `unit`, "" where nothing was said.

    Args:
        bars: of the frame by caliper, along x and along y.
        outside: the part's own width and height by caliper.
        template: of a guide template with a window or a plug, along x and along y, for the offset of its cut.
    """

    bars: tuple[str, str]
    scanner: Scanner
    bar_u: str = ".002 in"
    thickness: str = ""
    advance: str = ""
    shape: AskedShape = "auto"
    tolerance: str = ".003 in"
    outside: tuple[str, str] = ("", "")
    outside_u: str = ".0007 in"
    dpi: float | None = None
    unit: Unit = "in"
    template: tuple[str, str] = ("", "")
    guide: Guide = "window"

    def asked(self) -> Asked:
        """The same as lengths; EntryError names the one that is none."""
        outside = self._pair(self.outside, "--outside")
        return Asked(
            bars_in=(self._length(self.bars[0], "--bar-x"), self._length(self.bars[1], "--bar-y")),
            bar_u_in=self._length(self.bar_u, "--bar-u"),
            scanner=self.scanner,
            thickness_in=self._length(self.thickness, "--thickness") if self.thickness else 0.0,
            advance_in=self._length(self.advance, "--advance") if self.advance else None,
            shape=self.shape,
            tolerance_in=self._length(self.tolerance, "--tolerance"),
            outside_in=outside,
            outside_u_in=self._length(self.outside_u, "--outside-u"),
            dpi=self.dpi,
        )

    def template_in(self) -> tuple[float, float] | None:
        """Of the guide template, None where none was named."""
        return self._pair(self.template, "--template")

    def _pair(self, typed: tuple[str, str], where: str) -> tuple[float, float] | None:
        if not any(typed):
            return None
        return self._length(typed[0], where), self._length(typed[1], where)

    def _length(self, typed: str, where: str) -> float:
        try:
            length_in = parse_length(typed, unit=self.unit).inch
        except EntryError as error:
            raise EntryError(error.what, where=where, remedy=error.remedy) from None
        if length_in <= 0.0:
            raise EntryError.saying("scan.no_size", where=where)
        return length_in


class ScanReport(Struct, frozen=True):
    """A scan that was measured, in the unit asked for.

    Args:
        offset: of the cutter by the template named, None without one.
    """

    scan: Scan
    unit: Unit
    stem: str
    offset: Value | None

    @property
    def cut(self) -> Traced:
        """The edge that was asked for: the opening, or the outline of a part without one."""
        return self.scan.opening or self.scan.outline


def scanned(path: Path, typed: Typed) -> ScanReport:
    """Measure the part in a picture.

    Raises:
        EntryError: a length is none.
        ScanError: the file can't be read, or the picture can't be measured from.
    """
    asked = typed.asked()
    template_in = typed.template_in()
    try:
        if path.stat().st_size > LARGEST_BYTES:
            raise ScanError.saying("scan.large_file", where=path.name, most=LARGEST_BYTES // 1_000_000)
        content = path.read_bytes()
    except OSError:
        raise ScanError.saying("scan.no_file", where=str(path)) from None
    try:
        scan = measure_scan(content, asked)
    except ScanError as error:
        raise ScanError(
            error.what, where=error.where or path.name, remedy=error.remedy, unit=typed.unit
        ) from None
    report = ScanReport(scan, typed.unit, path.stem, None)
    if template_in is None:
        return report
    shape = report.cut.shape
    if shape is None:
        raise ScanError.saying("scan.no_offset", where="--template")
    offset = cut_offset(shape, template_in=template_in, guide=typed.guide)
    return ScanReport(scan, typed.unit, path.stem, offset)


def frame_files(window: str, *, card: int, paper: AnyPaper) -> tuple[MadeFile, ...]:
    """The printed frame as a true-size PDF.

    Args:
        window: one of `WINDOWS`.
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
    """What other commands take from a scan: its holes as a table of readings, and each edge as a DXF outline."""
    files = []
    if report.scan.holes:
        name = f"{report.stem}_HOLES.csv"
        files.append(MadeFile(name, MadeKind.TRACED, "", False, Written.CSV, _holes_table(report)))
    for part, traced in edges_of(report.scan):
        sheet = traced_sheet(traced, title=f"{report.stem} {part}", unit=report.unit)
        content = write(sheet, Format.DXF, paper=Paper.LETTER)
        name = f"{report.stem}_{part.upper()}_{report.unit.upper()}.dxf"
        files.append(MadeFile(name, MadeKind.TRACED, "", True, Written.DXF, content))
    return tuple(files)


def edges_of(scan: Scan) -> tuple[tuple[Literal["outline", "opening"], Traced], ...]:
    """Each closed edge of the part by its name."""
    outline = ("outline", scan.outline)
    return (outline,) if scan.opening is None else (outline, ("opening", scan.opening))  # type: ignore[return-value]


def _holes_table(report: ScanReport) -> bytes:
    """X, Y, diameter and expanded uncertainty of each hole, as `hatchwright measure` takes them."""
    text = io.StringIO()
    table = csv.writer(text, lineterminator="\n")
    table.writerow(["x", "y", "diameter", "u"])
    unit = report.unit
    for hole, (x_in, y_in) in zip(report.scan.holes, places_of(report), strict=True):
        u_in = max(hole.x.expanded_in, hole.y.expanded_in)
        sizes = (x_in, y_in, hole.diameter.value_in, u_in)
        table.writerow([signed_figure(size, unit) for size in sizes])
    return text.getvalue().encode("utf-8")


def places_of(report: ScanReport) -> tuple[tuple[float, float], ...]:
    """Where each hole lies from the middle of the edge that was asked for, X along its width; in the frame's own
    coordinates where that edge is of lines and arcs [in]."""
    places = [complex(hole.x.value_in, hole.y.value_in) for hole in report.scan.holes]
    shape = report.cut.shape
    if shape is not None:
        middle = complex(shape.center[0].value_in, shape.center[1].value_in)
        turn = cmath.rect(1.0, -math.radians(shape.turn_deg.value_in))
        places = [(place - middle) * turn for place in places]
    return tuple((place.real, place.imag) for place in places)


def signed_figure(value_in: float, unit: Unit) -> str:
    """A length with its sign and without its unit."""
    told = figure(abs(value_in), unit, fine=True)
    return f"-{told}" if value_in < 0.0 else told


def scan_values(report: ScanReport, files: tuple[str, ...]) -> dict[str, object]:
    """A scan as plain values for programs, documented in docs/scan-json.md."""
    values: dict[str, object] = msgspec.to_builtins(report.scan, enc_hook=lambda points: points.tolist())
    return {
        "schema": SCHEMA,
        **values,
        "offset": msgspec.to_builtins(report.offset),
        "entries": list(entries_of(report)),
        "files": list(files),
    }


def entries_of(report: ScanReport) -> tuple[str, ...]:
    """The edge that was asked for as lines of a job file, to be pasted under `[opening]`, its own middle at zero; a
    comment says how well it is known."""
    cut, unit = report.cut, report.unit
    shape = cut.shape

    def size(value: Value) -> str:
        return f'"{figure(value.value_in, unit, fine=True)} {unit}"'

    if shape is None:
        part = "opening" if report.scan.opening else "outline"
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
    )
