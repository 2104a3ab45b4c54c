"""How findings name holes and speak of shortfalls."""

from __future__ import annotations

import math

from hatchwright.finding import Status
from hatchwright.layout.layout import Hole


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


def thousandths(value_in: float) -> str:
    """Write a shortfall in thousandths, never rounded in the passing direction.

    Args:
        value_in: how much is missing, not negative [in].
    Returns:
        str: such as ``.002``; rounded up.
    """
    up = math.ceil(value_in * 1000.0 - 1e-6) / 1000.0
    text = f"{up:.3f}"
    return text[1:] if text.startswith("0") else text


def shortfall_text(missing_in: float) -> str:
    """Say by how much a value misses its limit.

    Args:
        missing_in: limit less value; not positive when the limit is met [in].
    Returns:
        str: ``short .007`` or ``over by .003``.
    """
    if missing_in > 1e-9:
        return f"short {thousandths(missing_in)}"
    down = math.floor(-missing_in * 1000.0 + 1e-6) / 1000.0
    return f"over by {f'{down:.3f}'.removeprefix('0')}"


def verdict_text(status: Status, uncertainty_in: float) -> str:
    """End the sentence on a measured value with what its uncertainty means.

    Args:
        status: of the finding.
        uncertainty_in: of the value, 0 for a drawn one [in].
    Returns:
        str: with the full stop.
    """
    if status is Status.UNKNOWN:
        return f", your u is {thousandths(uncertainty_in)}: cannot be shown to pass."
    return "."
