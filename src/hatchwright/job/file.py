"""Job files: read one with all its faults at once, and change one field without losing the comments."""

from __future__ import annotations

from collections.abc import Iterable, Mapping
from functools import cache
from pathlib import Path
from typing import Annotated, Any

from msgspec.structs import replace
from pydantic import Field, TypeAdapter, ValidationError
from pydantic.fields import FieldInfo
from pydantic_core import ErrorDetails

from hatchwright.errors import Fault, JobError
from hatchwright.job.as_typed import raw_data, unseen
from hatchwright.job.bounds import first_of
from hatchwright.job.fault_in_words import fault_in_words
from hatchwright.job.job import Job
from hatchwright.job.job_text import NO_PLACE, holder_of
from hatchwright.job.lines import LONGEST_KEY, line_of_each_key
from hatchwright.job.schema import refusal, up_to_date
from hatchwright.job.sound import impossible
from hatchwright.job.text_file import load_text
from hatchwright.said import Listed, Said, said
from hatchwright.units import Unit

_MANUAL = "docs/job-file.md"

_LONGEST_FIELD = 120
"""A longer name of a field is told by its beginning [characters]."""


def load_job(path: Path) -> Job:
    """Read a job file.

    Raises:
        JobError: every fault of the file, each with line, field, what was given and what would do.
    """
    return read_job(load_job_text(path), folder=path.parent, name=path.name)


def load_job_text(path: Path) -> str:
    """Read the text of a job file in the present schema, line by line as in the file, whatever its schema was.

    Raises:
        JobError: it is missing, too large, or not text.
    """
    return up_to_date(load_text(path))


def read_job(text: str, *, folder: Path | None = None, name: str = "job") -> Job:
    """Read the text of a job.

    Args:
        folder: folder of the file, where a DXF outline is looked for; None when there is none.
    Raises:
        JobError: every fault, gathered.
    """
    text = up_to_date(text)
    try:
        data = raw_data(text)
    except JobError as error:
        raise JobError(error.faults, where=name) from None
    if fault := refusal(data):
        raise JobError(on_their_lines((fault,), text), where=name)
    unit: Unit = "mm" if data.get("units") == "mm" else "in"
    context = {"unit": unit, "folder": folder}
    sections, faults = _read_sections(data, context)
    faults += [*unseen(data), *impossible(sections, data)]
    if faults:
        in_its_unit = (replace(fault, unit=unit) for fault in faults)
        raise JobError(on_their_lines(in_its_unit, text), where=name)
    return Job.model_construct(**{_fields()[name][0]: value for name, value in sections.items()})


def _read_sections(data: Mapping[str, Any], context: Mapping[str, Any]) -> tuple[dict[str, Any], list[Fault]]:
    """Read each section by itself, so that a fault in one does not hide those in another."""
    fields = _fields()
    sections: dict[str, Any] = {}
    faults: list[Fault] = []
    for name, (_, field) in fields.items():
        if name not in data:
            if field.is_required():
                faults.append(Fault.saying(name, "job.missing", manual=_MANUAL))
            else:
                sections[name] = field.default
            continue
        try:
            sections[name] = _adapter(name).validate_python(data[name], context=dict(context))
        except ValidationError as error:
            faults += [_fault(name, details) for details in error.errors(include_url=False)]
    unknown = (name for name in data if name not in fields)
    faults += [Fault(name, said("job.unknown_key"), remedy=_nearest(name, list(fields))) for name in unknown]
    return sections, faults


@cache
def _fields() -> dict[str, tuple[str, FieldInfo]]:
    """Each section by its name in the file: its name in the model, and its field."""
    return {field.alias or name: (name, field) for name, field in Job.model_fields.items()}


@cache
def _adapter(section: str) -> TypeAdapter[Any]:
    """What validates a section by itself, made when one is first read: a job has few of them."""
    return TypeAdapter(annotated(_fields()[section][1]))


def annotated(field: FieldInfo) -> Any:
    """The whole type of a field, with its discriminator and bounds."""
    whole: Any = field.annotation
    for mark in field.metadata:
        whole = Annotated[whole, mark]
    return Annotated[whole, Field(discriminator=field.discriminator)] if field.discriminator else whole


_TAGS = {
    "rounded rectangle",
    "edges",
    "circle",
    "obround",
    "D",
    "polygon",
    "dxf",
    "offset",
    "line",
    "points",
    "polar",
}


def _fault(section: str, details: ErrorDetails) -> Fault:
    return fault_in_words(details, ".".join([section, *_without_tags(details["loc"])]), manual=_MANUAL)


def _without_tags(place: tuple[int | str, ...]) -> list[str]:
    """The place of a fault without the words that only tell one kind from another; a field may bear the same word."""
    kept: list[str] = []
    was_tag = False
    for part in place:
        was_tag = part in _TAGS and not was_tag
        if not was_tag:
            kept.append(str(part))
    return kept


def _nearest(name: str, known: list[str]) -> Said:
    from difflib import get_close_matches  # for who mistyped a name

    close = get_close_matches(name, known, n=1)
    return said("job.nearest", name=close[0]) if close else said("job.known", names=Listed(tuple(known), ","))


def on_their_lines(faults: Iterable[Fault], text: str) -> tuple[Fault, ...]:
    """The faults with the nearest line of their fields in the text, from the first line to the last."""
    lines = line_of_each_key(text)
    found = sorted((_with_line(fault, lines) for fault in faults), key=lambda f: (f.line or 0, f.field))
    return first_of(found)


def _with_line(fault: Fault, lines: Mapping[str, int]) -> Fault:
    """Find the nearest line that stands in the text for the field, which is told by its beginning when it is long."""
    told = (
        fault
        if len(fault.field) <= _LONGEST_FIELD
        else replace(fault, field=f"{fault.field[:_LONGEST_FIELD]}...")
    )
    parts = fault.field[:LONGEST_KEY].split(".")
    while parts:
        if (line := lines.get(".".join(parts))) is not None:
            return replace(told, line=line)
        parts.pop()
    return told


def edited(text: str, changes: Mapping[str, str]) -> str:
    """Change fields of a job's text; comments, order and all other text stay.

    Args:
        changes: dotted field such as ``rows.0.pitch`` or ``opening.center.0`` to its new text.
    Returns:
        str: the changed document, in the present schema.
    Raises:
        JobError: a field does not exist in the text and cannot be added there.
    """
    import tomlkit

    document = tomlkit.parse(up_to_date(text))
    faults: list[Fault] = []
    for field, value in changes.items():
        try:
            node, at = holder_of(document, field)
            node[at] = _typed_like(node[at] if isinstance(node, list) else node.get(at), value)
        except NO_PLACE:
            faults.append(Fault.saying(field, "job.no_field", value))
    if faults:
        raise JobError(tuple(faults))
    return tomlkit.dumps(document)


def _typed_like(old: Any, value: str) -> Any:
    """Yes, no and whole numbers stay what they were; everything else is kept as the text that was typed."""
    if (old is None or isinstance(old, bool)) and value in ("true", "false"):
        return value == "true"
    if isinstance(old, int) and not isinstance(old, bool) and value.isascii() and value.isdigit():
        return int(value)
    return value
