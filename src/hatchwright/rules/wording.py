"""How findings name holes and speak of what is missing."""

from __future__ import annotations

import math
from functools import lru_cache

from hatchwright.judged import FLOAT_NOISE
from hatchwright.layout.layout import Edge, Hole, Part, PartName
from hatchwright.said import Numbered, Said, said
from hatchwright.tables.rivets import parse_rivet
from hatchwright.units import decimal_inch, nearest_64th


def holes_named(*holes: Hole) -> str:
    """Name holes by number.

    Args:
        holes: one or more.
    Returns:
        str: such as ``rivet 4`` or ``rivets 4 and 5``.
    """
    kinds = {hole.kind for hole in holes}
    word = kinds.pop() if len(kinds) == 1 else "hole"
    numbers = [str(hole.number) for hole in holes]
    if len(numbers) == 1:
        return f"{word} {numbers[0]}"
    return f"{word}s {', '.join(numbers[:-1])} and {numbers[-1]}"


def numbered(*holes: Hole) -> Numbered:
    """Holes by number, such as rivets 4 and 5: holes of two kinds are called holes."""
    kinds = {hole.kind for hole in holes}
    return Numbered(kinds.pop() if len(kinds) == 1 else "hole", tuple(hole.number for hole in holes))


def edge_named(edge: Edge) -> Said:
    """An edge in the trade's words."""
    return said(f"edge.{edge.name.replace(' ', '_')}")


def part_named(part: Part) -> Said:
    """Skin, doubler or cover."""
    return part_called(part.name)


def part_called(name: PartName) -> Said:
    """The same by the name alone, as a hole's stack has it."""
    return said(f"part.{name}")


def thousandths(value_in: float) -> str:
    """Write a shortfall in thousandths, never rounded in the passing direction.

    Args:
        value_in: how much is missing, not negative [in].
    Returns:
        str: such as ``.002``; rounded up.
    """
    up = math.ceil(value_in * 1000.0 - 1e-6) / 1000.0
    return f"{up:.3f}".removeprefix("0")


def thousandths_at_most(value_in: float) -> str:
    """Write a room that nothing may be larger than, in thousandths and never rounded up.

    Args:
        value_in: the room, not negative [in].
    Returns:
        str: such as ``.396``; rounded down.
    """
    down = math.floor(value_in * 1000.0 + 1e-6) / 1000.0
    return f"{down:.3f}".removeprefix("0")


def short_text(missing_in: float, uncertainty_in: float = 0.0) -> str:
    """Say by how much a value misses its limit, and what its uncertainty makes of that.

    Args:
        missing_in: limit less value; not positive when the limit is met [in].
        uncertainty_in: of the value, 0 for a drawn one [in].
    Returns:
        str: ``short .007 in.``, or ``short .002 in, your u is .005 in: cannot be shown to pass.``

    >>> short_text(0.002, 0.005)
    'short .002 in, your u is .005 in: cannot be shown to pass.'
    """
    return _said("short", "over by", missing_in, uncertainty_in)


def over_text(excess_in: float, uncertainty_in: float = 0.0) -> str:
    """Say by how much a value is over its limit, and what its uncertainty makes of that; see `short_text`.

    Args:
        excess_in: value less limit; not positive when the limit is met [in].
        uncertainty_in: of the value, 0 for a drawn one [in].
    Returns:
        str: ``over by .007 in.``, or ``under by .002 in, your u is .005 in: cannot be shown to pass.``
    """
    return _said("over by", "under by", excess_in, uncertainty_in)


def _said(missed: str, met: str, miss_in: float, uncertainty_in: float) -> str:
    is_missed = miss_in > FLOAT_NOISE
    said = f"{missed} {thousandths(miss_in)} in" if is_missed else f"{met} {thousandths_at_most(-miss_in)} in"
    if uncertainty_in > 0.0 and abs(miss_in) <= uncertainty_in + FLOAT_NOISE:
        return f"{said}, your u is {thousandths(uncertainty_in)} in: cannot be shown to pass."
    return f"{said}."


def inch(value_in: float) -> str:
    """Write a length the drawing way: to the thousandth, as a fraction where it is one, or to one place further.

    Returns:
        str: such as ``.032``, ``5/32`` or ``.0315``.
    """
    short = decimal_inch(value_in)
    if abs(float(short) - value_in) < 5e-5:
        return short
    return nearest_64th(value_in) if value_in * 64.0 % 1.0 == 0.0 else decimal_inch(value_in, 4)


def sentence(text: str) -> str:
    """Begin with a capital.

    Args:
        text: any words.
    Returns:
        str: the same with its first letter raised.
    """
    return text[:1].upper() + text[1:]


def is_flush(hole: Hole) -> bool:
    """Whether a rivet's head is countersunk.

    Args:
        hole: of a rivet.
    Returns:
        bool: by its part number.
    """
    return _is_flush(hole.fastener)


@lru_cache(maxsize=256)
def _is_flush(part_number: str) -> bool:
    return parse_rivet(part_number).is_flush
