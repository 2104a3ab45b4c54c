"""Two texts that grew from one: what the one changed, what the other wants otherwise, and where both did.

Everything is compared as typed. A list of sections, such as rows, is compared line by line as long as it has the same
number of lines everywhere, else as a whole: nothing is ever laid onto another line than it was meant for.
"""

from __future__ import annotations

from collections.abc import Callable, Iterator, Mapping
from typing import Any

from msgspec import Struct

from hatchwright.errors import JobError
from hatchwright.job.as_typed import raw_data, standing_at
from hatchwright.job.job_text import added, taken, with_values_at

Typed = Any
"""What stands at a place, as typed; None for nothing."""


class Differing(Struct, frozen=True):
    """One place where the three are not alike.

    Args:
        field: dotted place, such as ``rows.0.pitch``.
        base: what stood there when both were alike.
        theirs: what stands in the newer original.
        ours: what stands in the text that grew from it.
    """

    field: str
    base: Typed
    theirs: Typed
    ours: Typed


class ThreeWays(Struct, frozen=True):
    """What three texts say of each other.

    Args:
        changed: what the original changed and ours left as it was.
        own: what ours says otherwise and the original left as it was.
        conflicts: what both changed, each in another way.
    """

    changed: tuple[Differing, ...]
    own: tuple[Differing, ...]
    conflicts: tuple[Differing, ...]


def three_ways(
    base: str, theirs: str, ours: str, *, left_out: Callable[[str], bool] = lambda field: False
) -> ThreeWays:
    """Compare three texts.

    Args:
        left_out: whether a place is nobody's business.
    Raises:
        JobError: one is no TOML.
    """
    differing = [
        one
        for one in _differing("", raw_data(base), raw_data(theirs), raw_data(ours))
        if not left_out(one.field)
    ]
    both = [one for one in differing if one.theirs != one.ours]
    return ThreeWays(
        changed=tuple(one for one in both if one.ours == one.base),
        own=tuple(one for one in both if one.theirs == one.base),
        conflicts=tuple(one for one in both if one.base not in (one.ours, one.theirs)),
    )


def with_theirs(text: str, changes: tuple[Differing, ...]) -> str:
    """A text with what the original says in each place; comments and all other text stay.

    Raises:
        JobError: a place can't take it.
    """
    gone = [one.field for one in changes if one.theirs is None]
    there = {one.field: one.theirs for one in changes if _is_plain(one.theirs) and _is_plain(one.ours)}
    whole = {one.field: one.theirs for one in changes if one.theirs is not None and one.field not in there}
    text = with_values_at(text, there)
    text = added(taken(text, [*gone, *whole]), whole)
    data = raw_data(text)
    for one in changes:
        if standing_at(data, one.field) != one.theirs:
            raise JobError.about(one.field, "job.no_place")
    return text


def _is_plain(value: Typed) -> bool:
    """Whether a value stands on a line of its own."""
    if isinstance(value, list):
        return bool(value) and all(isinstance(one, str | int) for one in value)
    return value is not None and not isinstance(value, Mapping)


def _differing(at: str, base: Typed, theirs: Typed, ours: Typed) -> Iterator[Differing]:
    three = (base, theirs, ours)
    if base == theirs == ours:
        return
    if all(isinstance(one, Mapping) for one in three):
        for name in dict.fromkeys(name for one in three for name in one):
            yield from _differing(f"{at}.{name}".removeprefix("."), *(one.get(name) for one in three))
    elif all(_has_sections(one) for one in three) and len({len(one) for one in three}) == 1:
        for number, inner in enumerate(zip(*three, strict=True)):
            yield from _differing(f"{at}.{number}", *inner)
    else:
        yield Differing(at, *three)


def _has_sections(value: Typed) -> bool:
    return isinstance(value, list) and bool(value) and all(isinstance(one, Mapping) for one in value)
