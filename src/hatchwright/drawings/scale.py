"""Scales of drawings that are not true size: which there are, how they are written, and the largest that fits."""

from __future__ import annotations

from collections.abc import Iterable

from msgspec import Struct

from hatchwright.job.drawing import Standard


class Scale(Struct, frozen=True):
    """One scale of a drawing.

    Args:
        ratio: length on paper over length of the part [-].
        words: how a drawing states it, such as ``1/2`` or ``1:2``.
    """

    ratio: float
    words: str

    @property
    def is_full(self) -> bool:
        """Whether lengths on paper are those of the part."""
        return self.ratio == 1.0


FULL = Scale(1.0, "FULL")

_REDUCED = {
    "asme": (FULL, *(Scale(1.0 / part, f"1/{part}") for part in (2, 4, 8, 16, 32))),
    "iso": (Scale(1.0, "1:1"), *(Scale(1.0 / part, f"1:{part}") for part in (2, 5, 10, 20, 50))),
}
"""Source of 1:n: ISO 5455, clause 5; of 1/n: US shop practice, no source."""

_ENLARGED = {
    "asme": (*(Scale(float(times), f"{times}/1") for times in (10, 4, 2)), FULL),
    "iso": (*(Scale(float(times), f"{times}:1") for times in (10, 5, 2)), Scale(1.0, "1:1")),
}
"""Of details, the largest first; sources as of the reduced ones."""


def scales(standard: Standard) -> tuple[Scale, ...]:
    """The scales of a whole part, full size first, each next one smaller."""
    return _REDUCED[standard]


def detail_scales(standard: Standard) -> tuple[Scale, ...]:
    """The scales of a detail, the largest first, full size last."""
    return _ENLARGED[standard]


def largest_fitting(
    choice: Iterable[Scale], size_in: tuple[float, float], room_in: tuple[float, float]
) -> Scale | None:
    """The first scale, of some from large to small, at which a size of the part [in] fits a room on paper [in]; None
    where none does."""
    (width, height), (room_width, room_height) = size_in, room_in
    fitting = (one for one in choice if width * one.ratio <= room_width and height * one.ratio <= room_height)
    return next(fitting, None)
