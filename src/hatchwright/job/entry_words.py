"""Where the words of an entry stand in the catalogue: its label, what belongs in it, and what its section holds.

An entry is known by its model and name, or by its path in the job file.

An entry that several sections share is told once, under the model that declares it.
"""

from __future__ import annotations

import types
from collections.abc import Iterator
from functools import cache
from inspect import get_annotations
from typing import Annotated, Any, Union, get_args, get_origin

from pydantic import BaseModel

from hatchwright.job.entry import Entered, SameAs
from hatchwright.job.job import Job
from hatchwright.said import Said, said


@cache
def _id(model: type[BaseModel], name: str) -> str:
    attribute = next((own for own, info in model.model_fields.items() if info.alias == name), name)
    marks = (mark for mark in model.model_fields[attribute].metadata if isinstance(mark, SameAs))
    if (same := next(marks, None)) is not None:
        return _id(same.model, same.name)
    owners = (one for one in model.__mro__ if attribute in get_annotations(one))
    return f"{next(owners).__name__.strip('_')}.{name}"


def label_of(model: type[BaseModel], name: str) -> Said:
    """What an entry is called."""
    return said(f"entry.{_id(model, name)}.label")


def help_of(model: type[BaseModel], name: str) -> Said:
    """What belongs in an entry; see `label_of`."""
    return said(f"entry.{_id(model, name)}.help")


def about(model: type[BaseModel]) -> Said:
    """What a section holds."""
    return said(f"entry.{model.__name__.strip('_')}.about")


@cache
def entry_label(path: str) -> Said | None:
    """The label of an entry, or of its section where the path ends at one.

    Args:
        path: dotted, as a finding names it, such as ``rows.2.preparation``; numbers of lists may be left out.
    Returns:
        Said | None: None where the job file has no such entry.

    >>> entry_label("gate.tank_wall").id
    'entry.Gate.tank_wall.label'
    """
    models: tuple[type[Entered], ...] = (Job,)
    label = None
    for name in path.split("."):
        if name.isdigit():
            continue
        fields = ((one, own, info) for one in models for own, info in one.model_fields.items())
        found = next(((one, info) for one, own, info in fields if (info.alias or own) == name), None)
        if found is None:
            return None
        label, models = label_of(found[0], name), tuple(_models(found[1].annotation))
    return label


def _models(annotation: Any) -> Iterator[type[Entered]]:
    """Every section that an annotation may hold, in a list or by itself."""
    if isinstance(annotation, type) and issubclass(annotation, Entered):
        yield annotation
    elif get_origin(annotation) in (Annotated, Union, types.UnionType, tuple):
        for one in get_args(annotation):
            yield from _models(one)
