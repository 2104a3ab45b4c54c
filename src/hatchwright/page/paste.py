"""Readings and points pasted from a spreadsheet into a list of a job; nothing is written unless all can be read."""

from __future__ import annotations

from collections import Counter
from collections.abc import Callable, Iterator, Mapping, Sequence
from typing import Any

from msgspec import Struct
from msgspec.structs import replace

from hatchwright.errors import Fault, HatchwrightError, JobError
from hatchwright.job.as_typed import number_in_list, raw_data, standing_at
from hatchwright.job.bounds import first_of
from hatchwright.job.entry import Entered
from hatchwright.job.file import read_job
from hatchwright.job.job import Job
from hatchwright.job.job_fields import JobField, fields_of
from hatchwright.job.list_lines import with_lines
from hatchwright.job.pasted_rows import Column, Row, columns_of
from hatchwright.job.pasted_table import read_table
from hatchwright.job.samples import confirmed
from hatchwright.job.trial_readings import TrialReadings
from hatchwright.layout.lay_out import lay_out
from hatchwright.number import MOST_HOLES
from hatchwright.page.fill_in import with_part
from hatchwright.page.lay_out_sheet import sheet_of
from hatchwright.said import Said
from hatchwright.units import Unit


class PasteList(Struct, frozen=True):
    """A list that takes what was pasted.

    Args:
        path: dotted, such as ``as_made.holes`` or ``rows.2.points``.
        label: what a person calls it.
        columns: in the order in which they are pasted.
        held: lines that it has.
        unit: of a bare length.
    """

    path: str
    label: str
    columns: tuple[Column, ...]
    held: int
    unit: Unit


class Pasted(Struct, frozen=True):
    """A text with what was pasted in it, how many rows that were, and what is to be told of how they were read."""

    text: str
    rows: int
    notes: tuple[Said, ...]


def paste_list(text: str, path: str) -> PasteList:
    """The list of a job, or of the readings of a trial, that stands at a place.

    Raises:
        JobError: the text is not TOML, or it has no list of that name that takes plain numbers.
    """
    data = raw_data(text)
    field = _field_at(data, path)
    columns = tuple(columns_of(field)) if field else ()
    if field is None or not columns:
        raise JobError.about(path[:80] or "part", "paste.no_list")
    held = standing_at(data, path)
    unit: Unit = "mm" if data.get("units") == "mm" else "in"
    section = sheet_of(text).sections.get(path)
    label = section.title if section and section.title else field.label
    return PasteList(path, label, columns, len(held) if isinstance(held, list) else 0, unit)


def with_pasted(
    text: str, path: str, pasted: str, *, replacing: bool = False, commas_are_decimal: bool = False
) -> Pasted:
    """Put what was pasted into a list.

    Args:
        path: of the list, see `paste_list`.
        replacing: whether it takes the place of what is there; it is added otherwise.
        commas_are_decimal: see `pasted_table.read_table`.
    Raises:
        JobError: every row that will not do, its number as the fault's line; nothing is to be written then.
    """
    place = paste_list(text, path)
    room = MOST_HOLES - (0 if replacing else place.held)
    table = read_table(
        pasted, place.columns, unit=place.unit, most=room, commas_are_decimal=commas_are_decimal
    )
    held = [] if replacing else standing_at(raw_data(text), path) or []
    faults = [*_twice(place, held, table.rows), *_of_no_hole(text, place, table.rows)]
    changed = text
    if not faults:
        field = _field_at(raw_data(text), path)
        assert field is not None  # it is a list
        lines = [_line(field, place.columns, row.cells) for row in table.rows]
        changed = with_lines(_with_section(text, path), path, lines, replacing=replacing)
        faults = [*_of_values(changed, place, len(held), table.rows)]
    if faults:
        raise JobError(first_of(sorted(faults, key=lambda fault: fault.line or 0)))
    return Pasted(confirmed(changed, {path}), len(table.rows), table.notes)


def _with_section(text: str, path: str) -> str:
    """The text with the section that the list belongs to, its boxes empty where the job did without."""
    section = sheet_of(text).sections.get(path.partition(".")[0])
    return text if section is None or section.is_present else with_part(text, section.path)[0]


def _field_at(data: Mapping[str, Any], path: str) -> JobField | None:
    """The list at a place, by the models."""
    model: type[Entered] = TrialReadings if _is_of_trial(data, path) else Job
    field: JobField | None = None
    models: tuple[type[Entered], ...] = (model,)
    at: list[str] = []
    for name in path.split("."):
        at.append(name)
        if number_in_list(name) is not None:
            here = standing_at(data, ".".join(at))
            if field is None or not isinstance(here, Mapping):
                return None
            models = field.form(here.get(field.discriminator)) if field.discriminator else field.models
            field = None
            continue
        field = next((one for form in models for one in fields_of(form) if one.name == name), None)
        if field is None:
            return None
        models = field.models
    return field if field and field.holds == "list" else None


def _line(field: JobField, columns: Sequence[Column], cells: Sequence[str]) -> Any:
    """One line of the list as it stands in the file."""
    values = [
        int(cell) if column.kind == "count" else cell for cell, column in zip(cells, columns, strict=False)
    ]
    if field.is_bracketed or field.is_point:
        return values
    if not field.models:
        return values[0]
    left = iter(values)
    found = {
        one.name: [next(left), next(left)] if one.holds == "pair" else next(left, None)
        for one in fields_of(field.models[0])
    }
    return {name: value for name, value in found.items() if value is not None}


def _twice(place: PasteList, held: Sequence[Any], rows: Sequence[Row]) -> Iterator[Fault]:
    """Numbers that stand twice, or are in the list already."""
    first = place.columns[0]
    if first.kind != "count":
        return
    times = Counter(row.cells[0] for row in rows)
    there = {str(line[0]) for line in held if isinstance(line, list) and line}
    for row in rows:
        number = row.cells[0]
        if number in there:
            yield Fault.saying(first.label, "paste.there_already", number, line=row.number)
        elif times[number] > 1:
            yield Fault.saying(first.label, "paste.twice", number, line=row.number)


def _of_no_hole(text: str, place: PasteList, rows: Sequence[Row]) -> Iterator[Fault]:
    """Readings of holes that the job has not got, so far as it can be laid out."""
    first = place.columns[0]
    if first.name != "number" or not place.path.startswith("as_made."):
        return
    try:
        known = {str(hole.number) for hole in lay_out(read_job(text)).holes}
    except HatchwrightError:
        return
    for row in rows:
        if row.cells[0] not in known:
            yield Fault.saying(first.label, "paste.no_hole", row.cells[0], line=row.number)


def _of_values(changed: str, place: PasteList, held: int, rows: Sequence[Row]) -> Iterator[Fault]:
    """What the job itself finds wrong with the new lines, each by its row."""
    before, labels = f"{place.path}.", {column.name: column.label for column in place.columns}
    try:
        _reader(raw_data(changed), place.path)(changed)
    except JobError as error:
        for fault in error.faults:
            at, _, rest = fault.field.removeprefix(before).partition(".")
            index = number_in_list(at) if fault.field.startswith(before) else None
            if index is not None and held <= index < held + len(rows):
                label = labels.get(rest.partition(".")[0], "")
                yield replace(fault, field=label, line=rows[index - held].number)


def _is_of_trial(data: Mapping[str, Any], path: str) -> bool:
    return path.partition(".")[0] in TrialReadings.model_fields and "piece" in data


def _reader(data: Mapping[str, Any], path: str) -> Callable[[str], object]:
    return TrialReadings.read if _is_of_trial(data, path) else read_job
