"""A traced drawing of a ring, an opening or a template as entries of a job; what the job answers with them; and written
into its file."""

from __future__ import annotations

import re
import shutil
import tempfile
from collections.abc import Iterator
from contextlib import contextmanager
from dataclasses import dataclass
from functools import cached_property
from pathlib import Path
from typing import Literal

from msgspec import Struct
from msgspec.structs import replace

from hatchwright.drawings.made_file import MadeFile
from hatchwright.errors import EntryError, JobError
from hatchwright.inspection.outline.clockwise import clockwise
from hatchwright.inspection.trace.laid import Laid, laid_at, laid_level
from hatchwright.inspection.trace.trace_file import read_trace
from hatchwright.inspection.trace.traced_part import TracedHole, TracedPart, part_of
from hatchwright.job.as_typed import paths_of, raw_data, standing_at
from hatchwright.job.file import load_job_text, read_job
from hatchwright.job.job import Job
from hatchwright.job.job_text import Typed
from hatchwright.job.list_lines import with_lines
from hatchwright.job.samples import confirmed
from hatchwright.job.section_text import with_section
from hatchwright.job.text_file import ended_alike, save_text
from hatchwright.layout.lay_out import lay_out
from hatchwright.layout.layout import Layout
from hatchwright.progress import Progress, unheard
from hatchwright.shapes.pieces import Floats
from hatchwright.tables.table import ShopTables
from hatchwright.units import Unit, parse_length, signed_figure
from hatchwright.workflow.compared import Compared, compared
from hatchwright.workflow.job_folder import jobs_alone, version_of
from hatchwright.workflow.open_job import own_tables
from hatchwright.workflow.traced_entry import TracedEntry, traced_entry
from hatchwright.workflow.write_files import write_files

Wanted = Literal["opening", "ring", "holes"]

_KEPT_OF_ROW = ("name", "rivet", "first_number", "preparation", "pilot", "final")
"""What a row keeps when its holes get other places."""


class HowTraced(Struct, frozen=True):
    """What a person says of a traced drawing; lengths without a unit are in that of the job.

    Args:
        wanted: what of it goes into the job.
        within: how far outline and trace may lie apart, as typed.
        unit: of a drawing that names none.
        layer: of the drawing, "" for all.
        zero: where its zero lies in the job's frame (x, y), as typed; None to lay its opening, or the outline of a part
            without one, level on the middle of the job's opening.
        turn_deg: from the job's X toward its Y to the X of the drawing, or beyond level [deg].
        flipped: whether it was traced from the other face.
        row: name of the row that its holes are of; a row that the job has keeps its rivet.
        rivet: of a row that it does not have.
    """

    wanted: tuple[Wanted, ...]
    within: str = ".005 in"
    unit: Unit | None = None
    layer: str = ""
    zero: tuple[str, str] | None = None
    turn_deg: float = 0.0
    flipped: bool = False
    row: str = ""
    rivet: str = ""


@dataclass(frozen=True)
class TracedJob:
    """A traced drawing on its job.

    Args:
        text: the job's, as it was read.
        within_in: tolerance of outlines and holes [in].
        turned_deg: by how much the drawing was turned to lie level [deg].
        part: what the drawing shows, in its own coordinates.
        entries: outlines that go into the job.
        row: dotted place and entries of the row that the holes go into, None where they don't.
        holes: in the job's frame; those of the row where there is one.
    """

    job: Job
    layout: Layout
    text: str
    within_in: float
    turned_deg: float
    part: TracedPart
    entries: tuple[TracedEntry, ...]
    row: tuple[str, dict[str, Typed]] | None
    holes: tuple[TracedHole, ...]
    shop: ShopTables | None = None

    @property
    def files(self) -> tuple[MadeFile, ...]:
        """That the entries name, to lie beside the job."""
        return tuple(one.file for one in self.entries if one.file)

    @property
    def points(self) -> list[list[str]]:
        """Where the holes lie, as they are typed."""
        return [[signed_figure(one, self.job.unit) for one in hole.at] for hole in self.holes]

    @cached_property
    def changed_text(self) -> str:
        """The job's text with what was traced; JobError where it can't take it."""
        text = self.text
        typed = {f"{one.field}.{name}" for one in self.entries for name in one.values}
        for one in self.entries:
            text = with_section(text, one.field, one.values)
        if self.row:
            field, values = self.row
            text = with_lines(with_section(text, field, values), f"{field}.points", self.points)
            typed |= {f"{field}.{name}" for name in ("lay", "points")}
        return ended_alike(confirmed(text, typed), like=self.text)


def traced_job(path: Path, drawing: Path, how: HowTraced, *, shop: Path | None = None) -> TracedJob:
    """Make entries of a job out of a traced drawing.

    Raises:
        JobError: the job is refused.
        EntryError: the drawing can't be read, shows nothing of what is wanted, or does not come within the tolerance.
    """
    own = own_tables(shop)
    text = load_job_text(path)
    job = read_job(text, folder=path.parent, name=path.name)
    layout = lay_out(job, own)
    within_in = _within_in(how, job)
    loops = read_trace(drawing, within_in=within_in, layer=how.layer, unit=how.unit)
    try:
        part = part_of(loops, within_in=within_in, name=drawing.name)
        laid = _laid(part, how, layout, within_in, drawing.name)
        entries = _entries(part, how, laid, re.sub(r"[^\w.-]+", "_", drawing.stem), within_in, job.unit)
    except EntryError as error:
        raise EntryError(
            error.what, where=error.where or drawing.name, remedy=error.remedy, unit=job.unit
        ) from None
    wants_holes = "holes" in how.wanted
    if wants_holes and not part.holes:
        raise EntryError.saying("trace.no_holes", where=drawing.name)
    placed = [replace(one, at=laid.place(one.at)) for one in part.holes]
    holes = tuple(placed[number] for number in clockwise([one.at for one in placed]))
    row = _row(text, how, job) if wants_holes else None
    return TracedJob(job, layout, text, within_in, laid.turned_deg, part, entries, row, holes, own)


def _within_in(how: HowTraced, job: Job) -> float:
    try:
        within_in = parse_length(how.within, unit=job.unit).inch
    except EntryError as error:
        raise EntryError(error.what, where="--within", remedy=error.remedy) from None
    if not _FINEST_IN <= within_in <= _COARSEST_IN:
        raise EntryError.saying("trace.within", where="--within", unit=job.unit)
    return within_in


_FINEST_IN, _COARSEST_IN = 0.0002, 0.1
"""Tolerances that are asked for: no trace is better, and none worse shows where a hole may go [in]. Own choice."""


def _laid(part: TracedPart, how: HowTraced, layout: Layout, within_in: float, name: str) -> Laid:
    if how.zero:
        x, y = (_size_in(one, layout.job) for one in how.zero)
        return laid_at((x, y), turn_deg=how.turn_deg, flipped=how.flipped)
    edges = [edge for edge in (part.opening, part.outline) if edge is not None]
    if not edges:
        raise EntryError.saying("trace.no_zero", where=name)
    return laid_level(
        edges, layout.center_in, turn_deg=how.turn_deg, flipped=how.flipped, within_in=within_in
    )


def _size_in(typed: str, job: Job) -> float:
    try:
        return parse_length(typed, unit=job.unit, signed=True).inch
    except EntryError as error:
        raise EntryError(error.what, where="--zero", remedy=error.remedy) from None


def _entries(
    part: TracedPart, how: HowTraced, laid: Laid, stem: str, within_in: float, unit: Unit
) -> tuple[TracedEntry, ...]:
    edges: list[tuple[str, Floats | None]] = []
    if "opening" in how.wanted:
        edges.append(("opening", part.edge))
    if "ring" in how.wanted:
        edges.append(("doubler.outer", part.outline))
        edges += [("doubler.inner", part.opening)] if part.opening is not None else []
    if any(edge is None for _, edge in edges):
        raise EntryError.saying("trace.no_edge")
    return tuple(
        traced_entry(laid.polygon(edge), field=field, stem=stem, within_in=within_in, unit=unit)
        for field, edge in edges
        if edge is not None
    )


def _row(text: str, how: HowTraced, job: Job) -> tuple[str, dict[str, Typed]]:
    """Where the holes go, and what stands there besides their places."""
    if not how.row:
        raise EntryError.saying("trace.no_row", where="--row")
    found = [number for number, row in enumerate(job.rows) if row.name == how.row]
    if len(found) > 1:
        raise EntryError.saying("trace.row_twice", where="--row", row=how.row)
    if not found:
        if not how.rivet:
            raise EntryError.saying("trace.no_rivet", where="--rivet", row=how.row)
        return f"rows.{len(job.rows)}", {"name": how.row, "lay": "points", "rivet": how.rivet}
    held = standing_at(raw_data(text), f"rows.{found[0]}")
    kept = {name: held[name] for name in _KEPT_OF_ROW if name in held}
    return f"rows.{found[0]}", {**kept, "lay": "points", **({"rivet": how.rivet} if how.rivet else {})}


def compared_trace(found: TracedJob, *, folder: Path, progress: Progress = unheard) -> Compared:
    """Judge the job as it is and with what was traced, in one pass; nothing is written.

    Args:
        folder: of the job file.
    """
    with _folder_with_files(found, folder) as judged:
        return compared(found, folder=judged, progress=progress)


@contextmanager
def _folder_with_files(found: TracedJob, folder: Path) -> Iterator[Path]:
    """A folder that holds the DXF files of the job, and those of what was traced."""
    data = raw_data(found.text)
    named = {str(standing_at(data, at)) for at in paths_of(data) if at.endswith(".file")}
    with tempfile.TemporaryDirectory() as made:
        for name in named:
            if (folder / Path(name).name).is_file():
                shutil.copyfile(folder / Path(name).name, Path(made) / Path(name).name)
        for file in found.files:
            (Path(made) / file.name).write_bytes(file.content)
        yield Path(made)


def enter_trace(path: Path, found: TracedJob, *, overwrite: bool = False) -> tuple[Path, ...]:
    """Write what was traced into the job file, and beside it the outlines that it names.

    Returns:
        tuple: the files written beside it.
    Raises:
        JobError: the file is not the one that was read any more, it can't be written, or the changed job would be
            refused. Nothing was written then.
        ExportError: another file of an outline's name lies there.
    """
    with jobs_alone(path.resolve().parent):
        if version_of(load_job_text(path)) != version_of(found.text):
            raise JobError.about("file", "error.not_as_judged", str(path))
        with _folder_with_files(found, path.parent) as judged:
            lay_out(read_job(found.changed_text, folder=judged, name=path.name), found.shop)
        written = write_files(found.files, path.parent, overwrite=overwrite) if found.files else ()
        save_text(path, found.changed_text)
    return written
