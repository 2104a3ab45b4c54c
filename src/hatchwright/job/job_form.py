"""The text of a job as a form: what it holds, each entry explained, and all that it may hold besides as comments."""

from __future__ import annotations

import json
import textwrap
from collections.abc import Iterator, Mapping, Sequence
from typing import Any

from hatchwright.job.entry import Entered
from hatchwright.job.entry_words import about, label_of
from hatchwright.job.job import Job
from hatchwright.job.job_fields import JobField, fields_of
from hatchwright.said import Listed, said
from hatchwright.words.tell import tell

_HELP_AT = 34
"""Where the help of an entry begins on its line [characters]."""

_WIDEST = 116
"""Longer lines are broken [characters]."""

Examples = Mapping[str, Any]
"""An example by the kind of value, such as ``length``, or by its entry, such as ``Row.rivet``; where it depends on the
unit, as a table of both."""


def job_form(held: Mapping[str, Any], examples: Examples) -> str:
    """Write a job as a form.

    Args:
        held: the job's data as typed, sound or not.
        examples: what stands in the comment of an entry that is not held.
    Returns:
        str: a TOML text with that data and no other.
    """
    return "\n".join(_Form("mm" if held.get("units") == "mm" else "in", examples).job(held)) + "\n"


class _Form:
    def __init__(self, unit: str, examples: Examples) -> None:
        self._unit = unit
        self._examples = examples
        self._told: set[type[Entered]] = set()

    def job(self, held: Mapping[str, Any]) -> Iterator[str]:
        """The lines of the whole text."""
        yield from _comment(tell(said("form.head")))
        yield from self._inside(Job, "", held, is_out=False, is_told=True)

    def _part(self, path: str, model: type[Entered], field: JobField, held: Any) -> Iterator[str]:
        """A section, or every line of a list of them; all that it may be besides as comments."""
        yield ""
        if field.discriminator:
            yield from _comment(field.help)
        if field.holds == "list":
            is_first = True
            for one in held or ():
                if not is_first:
                    yield ""
                is_first = False
                yield from self._section(path, field, one)
            if not held:
                yield from self._section(path, field, None)
        else:
            yield from self._section(path, field, held)
        for form in field.models if field.discriminator else ():
            if form not in self._told:
                yield ""
                yield from self._section(path, field, {field.discriminator: field.word_of(form)}, is_out=True)

    def _section(
        self, path: str, field: JobField, held: Mapping[str, Any] | None, *, is_out: bool = False
    ) -> Iterator[str]:
        """One section in the form that it takes; in its first form where it is not held."""
        is_out = is_out or held is None
        held = held or {}
        word = field.discriminator
        (model, *_) = field.form(held.get(word)) or field.models
        is_told = model not in self._told
        self._told.add(model)
        if is_told:
            yield from _comment(tell(about(model)))
        yield f"{'# ' if is_out else ''}{'[[%s]]' if field.holds == 'list' else '[%s]'}" % path
        if word:
            help_ = tell(said("form.one_of_these", these=Listed(field.words(), ",")))
            yield from _entry(word, field.word_of(model), help_ if is_told else "", is_out=is_out)
        yield from self._inside(model, path, held, is_out=is_out, is_told=is_told)

    def _inside(
        self, model: type[Entered], path: str, held: Mapping[str, Any], *, is_out: bool, is_told: bool
    ) -> Iterator[str]:
        """The entries of a section, and then the sections in it; only those that are held where it was told before."""
        later: list[JobField] = []
        for field in fields_of(model):
            is_held = field.name in held
            if not is_told and not is_held and not (is_out and field.required):
                continue
            if field.models and self._example(model, field) is None:
                later.append(field)
                continue
            value = held[field.name] if is_held else self._example(model, field)
            help_ = _help(field) if is_told else ""
            yield from _entry(field.name, value, help_, is_out=is_out or not is_held)
            for inner in fields_of(field.models[0]) if field.models and is_told else ():
                yield from _comment(tell(said("form.within", name=inner.name, help=inner.help)))
        for field in later:
            yield from self._part(f"{path}.{field.name}".lstrip("."), model, field, held.get(field.name))

    def _example(self, model: type[Entered], field: JobField) -> Any:
        """An example of what an entry holds; None of one that holds sections."""
        _, owner, *_ = label_of(model, field.name).id.split(".")
        found = self._examples.get(f"{owner}.{field.name}")
        if found is None and not field.models:
            one = field.choices[0] if field.kind in ("one of", "words") and field.choices else None
            one = self._of_unit(self._examples[field.kind]) if one is None else one
            pair = [one, one] if field.holds == "pair" or field.is_point else one
            found = [pair] if field.holds == "list" else pair
        return self._of_unit(found)

    def _of_unit(self, value: Any) -> Any:
        return value[self._unit] if isinstance(value, Mapping) else value


def _help(field: JobField) -> str:
    """The help of an entry, with what there is to choose from where it does not say so itself."""
    told = field.help.lower()
    if field.kind != "one of" or all(word.lower() in told for word in field.choices):
        return field.help
    return tell(said("form.choose", help=field.help, choices=Listed(field.choices, "or")))


def _entry(name: str, value: Any, help_: str, *, is_out: bool) -> Iterator[str]:
    """An entry with its help behind it, or above it where the line would be too long."""
    mark = "# " if is_out else ""
    if isinstance(value, list) and len(line := _toml(value)) > _WIDEST - _HELP_AT:
        yield from _comment(help_)
        yield f"{mark}{name} = ["
        yield from (f"{mark}    {_toml(one)}," for one in value)
        yield f"{mark}]"
        return
    line = f"{mark}{name} = {_toml(value)}"
    whole = f"{line:<{_HELP_AT}} # {help_}" if help_ else line
    if len(whole) > _WIDEST:
        yield from _comment(help_)
        whole = line
    yield whole


def _comment(text: str) -> Iterator[str]:
    for line in text.splitlines():
        yield from (f"# {part}" for part in textwrap.wrap(line, _WIDEST - 2))


def _toml(value: str | int | bool | Sequence[Any]) -> str:
    """A value as TOML writes it, which writes texts, whole numbers, yes, no and lists as JSON does."""
    return json.dumps(value, ensure_ascii=False)
