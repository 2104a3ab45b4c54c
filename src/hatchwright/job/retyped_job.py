"""A job with entries typed anew: the same job that its file gives once it says so."""

from __future__ import annotations

from collections.abc import Iterable, Mapping
from functools import cache
from typing import Any

from pydantic import TypeAdapter, ValidationError

from hatchwright.errors import JobError
from hatchwright.job.entry import Entered
from hatchwright.job.file import annotated
from hatchwright.job.job import Job
from hatchwright.job.samples import name_without
from hatchwright.job.sound import impossible
from hatchwright.remedy import PartChange


def retyped_job(job: Job, entries: Mapping[str, str], parts: Iterable[PartChange] = ()) -> Job:
    """A copy of a job with new texts in some entries, each read as it is from a file.

    Args:
        job: a sound job.
        entries: dotted field such as ``rows.0.pitch`` or ``rows.1.start.0``, to its new text; those of a section that
            is not there make it together.
        parts: what is put in or taken away whole after that, one after the other; see `changed_text`.
    Returns:
        Job: of the same kind, sound.
    Raises:
        JobError: an entry does not exist, its text will not do, or the job that it makes cannot be.
    """
    changed = job
    for field, text in _by_place(job, entries).items():
        try:
            changed = _with(changed, field.split("."), text, job.unit)
        except (ValidationError, AttributeError, IndexError, KeyError, ValueError, TypeError):
            raise JobError.about(field, "job.no_field", str(text)) from None
    for part in parts:
        if part.new is None and changed.samples:
            left = (name_without(name, part.field) for name in changed.samples)
            changed = changed.model_copy(update={"samples": tuple(name for name in left if name)})
        try:
            changed = _placed(changed, part.field.split("."), part.new, job.unit)
        except (ValidationError, AttributeError, IndexError, KeyError, ValueError, TypeError):
            raise JobError.about(part.field, "job.no_place") from None
    names = {info.alias or name: getattr(changed, name) for name, info in Job.model_fields.items()}
    if faults := tuple(impossible(names)):
        raise JobError(faults)
    return changed


_Typed = str | dict[str, str | bool]
"""The text of one entry, or a whole section that was not there."""


def _by_place(job: Job, entries: Mapping[str, str]) -> dict[str, _Typed]:
    """Each entry by its field, but those of a section that is not there by that of the section."""
    found: dict[str, _Typed] = {}
    for field, text in entries.items():
        parent, _, name = field.rpartition(".")
        if not _lacks(job, parent):
            found[field] = text
        elif isinstance(section := found.setdefault(parent, {}), dict):
            section[name] = {"true": True, "false": False}.get(text, text)
    return found


def _lacks(job: Job, place: str) -> bool:
    """Whether a job knows a section of that name and does without."""
    node: Any = job
    for name in filter(None, place.split(".")):
        if not isinstance(node, Entered) or name not in type(node).model_fields:
            return False
        node = getattr(node, name)
    return node is None


def _with(node: Any, way: list[str], text: _Typed, unit: str) -> Any:
    """The same node with the entry at the end of the way typed anew; its section is checked as at the door."""
    name, *rest = way
    if isinstance(node, tuple):
        at = int(name)
        return (*node[:at], _with(node[at], rest, text, unit), *node[at + 1 :])
    inner = getattr(node, name)
    if rest and _has_section(inner):
        return node.model_copy(update={name: _with(inner, rest, text, unit)})
    typed = node.model_dump(exclude_none=True)
    typed[name] = _typed(typed.get(name), rest, text)
    return type(node).model_validate(typed, context={"unit": unit})


def _has_section(node: Any) -> bool:
    return isinstance(node, Entered) or (
        isinstance(node, tuple) and bool(node) and isinstance(node[0], Entered)
    )


def _typed(old: Any, rest: list[str], text: _Typed) -> Any:
    """What stands in the section's data: whole numbers, yes and no as such, a place within a list beside the others."""
    if rest:
        return [text if at == int(rest[0]) else each for at, each in enumerate(old)]
    if isinstance(old, bool):
        return text == "true"
    return int(text) if isinstance(old, int) and isinstance(text, str) else text


def _placed(node: Any, way: list[str], new: Any, unit: str) -> Any:
    """The section with what is put in at the end of the way, or taken away; its field is checked as at the door."""
    name, *rest = way
    inner = getattr(node, name)
    if rest and isinstance(inner, Entered):
        return node.model_copy(update={name: _placed(inner, rest, new, unit)})
    raw = new
    if rest:
        at, *within = int(rest[0]), *rest[1:]
        there = list(inner)
        if at > len(there):
            raise IndexError(at)
        one = _placed(there[at], within, new, unit) if within else new
        raw = [*there[:at], *([] if one is None else [one]), *there[at + 1 :]]
    elif new is None:
        field = type(node).model_fields[name]
        return node.model_copy(update={name: field.get_default(call_default_factory=True)})
    section: type[Entered] = type(node)
    return node.model_copy(update={name: _door(section, name).validate_python(raw, context={"unit": unit})})


@cache
def _door(section: type[Entered], name: str) -> TypeAdapter[Any]:
    """What checks one field of a section."""
    return TypeAdapter(annotated(section.model_fields[name]))
