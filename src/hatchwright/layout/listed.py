"""A fastener of the tables by its name, where one lists it."""

from __future__ import annotations

from collections.abc import Callable
from typing import TypeVar

from hatchwright.errors import EntryError, TableError

_Found = TypeVar("_Found")


def listed(look_up: Callable[..., _Found], *of: object) -> _Found | None:
    """A fastener of the tables, None where none lists it: the hole keeps its place all the same."""
    try:
        return look_up(*of)
    except (EntryError, TableError):
        return None
