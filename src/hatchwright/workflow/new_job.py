"""Start a job file: the sections of one kind of job, in the unit and shape asked for, with every entry explained."""

from __future__ import annotations

import os
import tomllib
from collections.abc import Iterator, Mapping
from functools import cache
from importlib.resources import files
from pathlib import Path
from typing import Any

from msgspec import Struct
from msgspec.structs import force_setattr

from hatchwright.errors import Fault, JobError
from hatchwright.job.job import Job
from hatchwright.job.job_fields import fields_of
from hatchwright.job.job_form import job_form
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

UNITS = ("in", "mm")
SIDES = ("left", "right", "center")
WINDOW = "window"
"""What a shop calls the usual one."""

SHAPES = ("rectangle", "round", "obround")
"""Shapes of openings; see `shapes_of` for those of a kind."""

_FILES = files("hatchwright.workflow").joinpath("new_jobs")

_NO_SAMPLE = frozenset({"name", "shape", "lay", "edge", "stagger", "both_sides"})
"""Entries that tell what a thing is, not how it is on the aircraft."""

_OWN = frozenset({"schema", "title", "units", "revision", "mandate", "loads"})
"""Entries and sections that hold no value of the aircraft."""


class Start(Struct, frozen=True):
    """What a job is started as.

    Args:
        kind: one of `NEW_JOBS`, or `WINDOW` for the usual one; its shape may lead it, as in ``round-window``.
        shape: of the opening, one of `shapes_of(kind)`; "" for the first of them.
        units: unit of its bare lengths, one of `UNITS`.
        side: of the aircraft, one of `SIDES`; "" for the first of them, as a sample.
    Raises:
        JobError: there is no such kind, unit or side, or the kind has no such shape.
    """

    kind: str = NEW_JOBS[0]
    shape: str = ""
    units: str = UNITS[0]
    side: str = ""

    def __post_init__(self) -> None:
        """Take only what there is."""
        leading, _, rest = self.kind.partition("-")
        if leading in SHAPES and self.shape in ("", leading):
            force_setattr(self, "kind", rest)
            force_setattr(self, "shape", leading)
        if self.kind == WINDOW:
            force_setattr(self, "kind", NEW_JOBS[0])
        _one_of("kind", self.kind, NEW_JOBS)
        shapes = shapes_of(self.kind)
        force_setattr(self, "shape", self.shape or shapes[0])
        _one_of("shape", self.shape, shapes)
        _one_of("units", self.units, UNITS)
        _one_of("side", self.side or SIDES[0], SIDES)


@cache
def shapes_of(kind: str) -> tuple[str, ...]:
    """The shapes that the opening of a kind of job may have, the usual one first."""
    own = _file(kind)[UNITS[0]]
    return tuple(name for name in own if name in SHAPES)


def new_job(path: Path, start: Start) -> None:
    """Write a job file to begin with.

    Raises:
        JobError: it exists, or its folder cannot be written.
    """
    if os.path.lexists(path):  # also where a link leads nowhere
        raise JobError.about("file", "error.file_there", str(path))
    save_text(path, starting_text(start))


@cache
def starting_text(start: Start) -> str:
    """The text of a new job: a sound one of round numbers with each entry explained, its numbers listed as samples."""
    return form_of(starting_data(start))


def form_of(data: Mapping[str, Any]) -> str:
    """The text of a job with each entry explained."""
    return job_form(data, tomllib.loads(_text("examples")))


def starting_data(start: Start) -> dict[str, Any]:
    """What a new job holds, its sample values listed."""
    held: dict[str, Any] = {}
    gone: list[str] = []
    for file in (_file("every-job"), _file(start.kind)):
        every = {name: value for name, value in file.items() if name not in (*UNITS, "without")}
        of_unit = {name: value for name, value in file[start.units].items() if name not in SHAPES}
        for layer in (every, of_unit, file[start.units].get(start.shape, {})):
            held = _laid_over(held, layer)
        gone += file.get("without", ())
    held = {field.name: held[field.name] for field in fields_of(Job) if held.keys() - gone >= {field.name}}
    held["title"] = tell(said(f"new_job.{start.kind}"))
    held["samples"] = list(sample_names(held))
    if start.side:
        held["aircraft"] = {**held["aircraft"], "side": start.side}
        held["samples"].remove("aircraft.side")
    if start.side == "center":
        held["frame"] = {**held["frame"], "x": "LEFT"}  # no way is outboard there
    return held


def _file(name: str) -> dict[str, Any]:
    return tomllib.loads(_text(name))


@cache
def _text(name: str) -> str:
    return _FILES.joinpath(f"{name}.toml").read_text(encoding="utf-8")


def _laid_over(below: Any, above: Any) -> Any:
    """What both hold, and of the same entry what is above; lines of a list by their place."""
    if isinstance(below, dict) and isinstance(above, dict):
        return {**below, **{name: _laid_over(below.get(name), value) for name, value in above.items()}}
    if isinstance(below, list) and isinstance(above, list) and len(below) == len(above):
        return [_laid_over(one, other) for one, other in zip(below, above, strict=True)]
    return above


def _one_of(what: str, given: str, there: tuple[str, ...]) -> None:
    if given not in there:
        remedy = said("error.pick_one", there=Listed(there, ","))
        raise JobError((Fault(what, said(f"error.no_such.{what}"), given[:80], remedy),))


def sample_names(data: Mapping[str, Any]) -> Iterator[str]:
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
    elif value not in ("", []) and path.rpartition(".")[2] not in _NO_SAMPLE:
        yield path
