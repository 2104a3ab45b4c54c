"""Start a job file: the form of every job, with the sections of one kind of job in it."""

from __future__ import annotations

import os
import re
import tomllib
from collections.abc import Iterator, Mapping
from importlib.resources import files
from pathlib import Path
from typing import Any

from hatchwright.errors import JobError
from hatchwright.job.file import edited
from hatchwright.job.text_file import save_text
from hatchwright.said import Listed, said
from hatchwright.words.tell import tell

NEW_JOBS = (
    "flush-cover",
    "lapped-cover",
    "clip-nuts",
    "plain-hole",
    "antenna",
    "camera",
    "flush-patch",
)
"""The kinds of jobs that can be started, each a file of `new_jobs`; the first is the usual one."""

_FILES = files("hatchwright.workflow")
_HEADING = re.compile(r"(?:# )?\[+([\w.]+)\]+")
_HINT = re.compile(r"#   (?:\[+([\w.]+)\]+|(\w+)):")

_LIST_HERE = "# samples = []\n"

_NO_SAMPLE = frozenset({"name", "shape", "lay", "edge", "stagger", "both_sides"})
"""Entries that tell what a thing is, not how it is on the aircraft."""

_OWN = frozenset({"schema", "title", "units", "revision", "mandate", "loads"})
"""Entries and sections that hold no value of the aircraft."""


def new_job(path: Path, kind: str = NEW_JOBS[0]) -> None:
    """Write a job file to begin with.

    Raises:
        JobError: it exists, its folder cannot be written, or there is no such kind.
    """
    text = starting_text(kind)
    if os.path.lexists(path):  # also where a link leads nowhere
        raise JobError.about("file", "error.file_there", str(path))
    save_text(path, text)


def starting_text(kind: str = NEW_JOBS[0]) -> str:
    """The text of a new job: a sound one of round numbers with each field explained, its numbers listed as samples.

    Raises:
        JobError: there is no such kind.
    """
    if kind not in NEW_JOBS:
        kinds = Listed(NEW_JOBS, ",")
        raise JobError.about("kind", "error.no_new_job", kind[:80], kinds=kinds)
    text = _with_sections(form(), _FILES.joinpath("new_jobs", f"{kind}.toml").read_text(encoding="utf-8"))
    text = edited(text, {"title": tell(said(f"new_job.{kind}"))})
    samples = "".join(f'    "{name}",\n' for name in _samples(tomllib.loads(text)))
    return text.replace(_LIST_HERE, f"samples = [\n{samples}]\n", 1)


def form() -> str:
    """Every section of a job with each entry explained; those that differ by the kind of job are commented out."""
    return _FILES.joinpath("new_job.toml").read_text(encoding="utf-8")


def _with_sections(form: str, own: str) -> str:
    """The form with the sections of a kind in the place of its own; what else each may hold stays explained."""
    given: dict[str, list[str]] = {}
    for part in own.strip().split("\n\n"):
        given.setdefault(_heading(part), []).append(part)
    parts = form.rstrip("\n").split("\n\n")
    written: set[str] = set()
    made = []
    for part in parts:
        heading = _heading(part)
        if heading not in given:
            made.append(part)
        elif given[heading] == [f"# [{heading}]"]:
            made.append(_commented_out(part))
        elif heading not in written:
            written.add(heading)
            same = "\n".join(other for other in parts if _heading(other) == heading)
            made += _section(part, same, given, heading)
    return "\n\n".join(made) + "\n"


def _commented_out(part: str) -> str:
    """A section of the form that a kind of job leaves out, still explained."""
    return "\n".join(line if line.startswith("#") else f"# {line}" for line in part.splitlines())


def _heading(part: str) -> str:
    """The section that a paragraph holds, "" for none."""
    return next((found[1] for line in part.splitlines() if (found := _HEADING.fullmatch(line))), "")


def _section(first: str, same: str, given: Mapping[str, list[str]], heading: str) -> Iterator[str]:
    """A section as given, with the comment before it and the entries that it may hold besides."""
    lines = first.splitlines()
    before = lines[: next(at for at, line in enumerate(lines) if _HEADING.fullmatch(line))]
    *others, last = given[heading]
    entered = set(re.findall(r"^(\w+) = ", "\n".join(given[heading]), re.MULTILINE)) | given.keys()
    texts = [*others, "\n".join((last, *_hints(same, entered)))]
    texts[0] = "\n".join((*before, texts[0]))
    yield from texts


def _hints(text: str, entered: set[str]) -> list[str]:
    """The explained entries of a section that are not entered, with what each of them holds, below their heading."""
    lines, kept, is_out = text.splitlines(), list[str](), False
    at = [number for number, line in enumerate(lines) if line.startswith("#   ")]
    for line in (lines[number] for number in at):
        if found := _HINT.match(line):
            is_out = (found[1] or found[2]) in entered
        kept += [] if is_out else [line]
    return [lines[at[0] - 1], *kept] if kept else []


def _samples(data: Mapping[str, Any]) -> Iterator[str]:
    """Dotted names of the entries that hold a sample value."""
    for name, value in data.items():
        if name not in _OWN:
            yield from _leaves(name, value)


def _leaves(path: str, value: Any) -> Iterator[str]:
    if isinstance(value, dict):
        for name, inner in value.items():
            yield from _leaves(f"{path}.{name}", inner)
    elif isinstance(value, list) and value and isinstance(value[0], dict):
        for index, inner in enumerate(value):
            yield from _leaves(f"{path}.{index}", inner)
    elif value != "" and path.rpartition(".")[2] not in _NO_SAMPLE:
        yield path
