"""Measure a part from a flat scan, as a person asks for it."""

from __future__ import annotations

from pathlib import Path
from typing import Literal

from msgspec import Struct

from hatchwright.errors import EntryError, ScanError
from hatchwright.inspection.scan.budget import Scanner
from hatchwright.inspection.scan.cut_pose import CutPose, cut_pose
from hatchwright.inspection.scan.picture import LARGEST_BYTES
from hatchwright.inspection.scan.scan import Asked, cut_offset, measure_scan
from hatchwright.inspection.scan.traced import AskedShape
from hatchwright.inspection.scan.values import Scan, Traced, Value
from hatchwright.job.file import load_job_text, read_job
from hatchwright.layout.lay_out import lay_out
from hatchwright.units import Unit, parse_length, signed_figure

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


class KnownOfJob(Struct, frozen=True):
    """What a job says of a part cut out of its skin.

    Args:
        thickness: of its skin, as typed.
        center_in: the middle of its opening (x, y) [in].
    """

    unit: Unit
    thickness: str
    center_in: tuple[float, float]

    @property
    def zero(self) -> tuple[str, str]:
        """The same middle as it is typed (x, y)."""
        x, y = (signed_figure(one, self.unit) for one in self.center_in)
        return x, y


def known_of(path: Path) -> KnownOfJob:
    """What a job file says of a part to be scanned; JobError where the job is refused."""
    return known_of_text(load_job_text(path), path.parent, path.name)


def known_of_text(text: str, folder: Path, name: str) -> KnownOfJob:
    """The same of a job's text."""
    job = read_job(text, folder=folder, name=name)
    return KnownOfJob(job.unit, job.skin.thickness.text, lay_out(job).center_in)


class ScanReport(Struct, frozen=True):
    """A scan that was measured, in the unit asked for.

    Args:
        offset: of the cutter by the template named, None without one.
        pose: where the cut lies among the holes of that template's pins, None where it has none.
    """

    scan: Scan
    unit: Unit
    stem: str
    offset: Value | None
    pose: CutPose | None = None

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
    typed.asked()
    try:
        if path.stat().st_size > LARGEST_BYTES:
            raise ScanError.saying("scan.large_file", where=path.name, most=LARGEST_BYTES // 1_000_000)
        content = path.read_bytes()
    except OSError:
        raise ScanError.saying("scan.no_file", where=str(path)) from None
    return scanned_content(content, path.name, typed)


def scanned_content(content: bytes, name: str, typed: Typed) -> ScanReport:
    """The same for a picture that has come as bytes; its name is told where it is refused."""
    asked, template_in, stem = typed.asked(), typed.template_in(), Path(name).stem
    try:
        scan = measure_scan(content, asked)
    except ScanError as error:
        raise ScanError(error.what, where=error.where or name, remedy=error.remedy, unit=typed.unit) from None
    report = ScanReport(scan, typed.unit, stem, None)
    if template_in is None:
        return report
    shape = report.cut.shape
    if shape is None:
        raise ScanError.saying("scan.no_offset", where="--template")
    offset = cut_offset(shape, template_in=template_in, guide=typed.guide)
    return ScanReport(scan, typed.unit, stem, offset, cut_pose(scan))


def edges_of(scan: Scan) -> tuple[tuple[Literal["outline", "opening"], Traced], ...]:
    """Each closed edge of the part by its name."""
    outline = ("outline", scan.outline)
    return (outline,) if scan.opening is None else (outline, ("opening", scan.opening))  # type: ignore[return-value]
