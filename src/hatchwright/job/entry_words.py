"""Where the words of an entry stand in the catalogue: its label, what belongs in it, and what its section holds.

An entry that several sections share is told once, under the model that declares it.
"""

from __future__ import annotations

from functools import cache
from inspect import get_annotations

from pydantic import BaseModel

from hatchwright.said import Said, said


@cache
def _id(model: type[BaseModel], name: str) -> str:
    attribute = next((own for own, info in model.model_fields.items() if info.alias == name), name)
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
