"""What an entry is called, found by its path in the job file."""

from __future__ import annotations

import types
from collections.abc import Iterator
from functools import cache
from typing import Annotated, Any, Union, get_args, get_origin

from hatchwright.job.entry import Entered
from hatchwright.job.entry_words import label_of
from hatchwright.job.job import Job
from hatchwright.said import Said


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
        found = next(((one, field) for one in models if (field := _field(one, name)) is not None), None)
        if found is None:
            return None
        label, models = label_of(found[0], name), tuple(_models(found[1]))
    return label


def _field(model: type[Entered], name: str) -> Any:
    """The annotation of a field by the name that the job file has for it."""
    return next(
        (info.annotation for own, info in model.model_fields.items() if (info.alias or own) == name), None
    )


def _models(annotation: Any) -> Iterator[type[Entered]]:
    """Every section that an annotation may hold, in a list or by itself."""
    if isinstance(annotation, type) and issubclass(annotation, Entered):
        yield annotation
    elif get_origin(annotation) in (Annotated, Union, types.UnionType, tuple):
        for one in get_args(annotation):
            yield from _models(one)
