"""How far work is that takes long: told to whoever waits for it, as a share of the whole and what is being done."""

from __future__ import annotations

from collections.abc import Callable, Iterable, Iterator
from typing import TypeAlias, TypeVar

from hatchwright.said import Said

Progress: TypeAlias = Callable[[float, Said], object]
"""Told the share that is done [0 to 1], which never falls, and what is being done now."""

Part = TypeVar("Part")


def unheard(share: float, doing: Said) -> None:
    """Nobody waits."""


def stretches(progress: Progress, *weights: float) -> tuple[Progress, ...]:
    """Divide the whole into parts that follow each other: each tells its own share from nought to one.

    Args:
        weights: how much of the work each part is, beside the others [-].
    """
    if progress is unheard:
        return (unheard,) * len(weights)
    whole, before, made = sum(weights), 0.0, []
    for weight in weights:
        made.append(_stretch(progress, before / whole, weight / whole))
        before += weight
    return tuple(made)


def in_parts(parts: Iterable[Part], progress: Progress) -> Iterator[tuple[Part, Progress]]:
    """Each of several parts that are alike, with the stretch of the whole that it is."""
    listed = tuple(parts)
    return zip(listed, stretches(progress, *(1.0 for _ in listed)), strict=True)


def _stretch(progress: Progress, begins: float, length: float) -> Progress:
    return lambda share, doing: progress(begins + share * length, doing)
