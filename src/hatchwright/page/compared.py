"""Two states of a job side by side: what differs, entry by entry, under the names that the page has for them."""

from __future__ import annotations

from collections.abc import Iterator
from typing import Any

from msgspec import Struct

from hatchwright.job.as_typed import raw_data
from hatchwright.page.lay_out_sheet import sheet_of


class Difference(Struct, frozen=True):
    """One entry that differs.

    Args:
        field: dotted, such as ``rows.0.pitch``.
        before, now: as typed in each state, "" where it is not entered.
    """

    field: str
    name: str
    before: str
    now: str


def differences(before: str, now: str) -> tuple[Difference, ...]:
    """What differs between an earlier text of a job and the present one, in the order of their entries.

    Raises:
        JobError: one of them is not TOML.
    """
    old, new = dict(_leaves(raw_data(before))), dict(_leaves(raw_data(now)))
    sheets = sheet_of(now), sheet_of(before)
    found = []
    for field in dict.fromkeys([*new, *old]):
        if old.get(field) != new.get(field):
            named = sheets[field not in new].name_of(field)
            found.append(Difference(field, named, old.get(field, ""), new.get(field, "")))
    return tuple(found)


def _leaves(node: Any, path: str = "") -> Iterator[tuple[str, str]]:
    """Every value with its dotted place; the list of samples by its names, which have no order."""
    if path == "samples":
        yield from ((f"samples.{name}", str(name)) for name in node)
    elif isinstance(node, dict):
        for name, inner in node.items():
            yield from _leaves(inner, f"{path}.{name}".lstrip("."))
    elif isinstance(node, list):
        for number, inner in enumerate(node):
            yield from _leaves(inner, f"{path}.{number}")
    else:
        yield path, {True: "yes", False: "no"}[node] if isinstance(node, bool) else str(node)
