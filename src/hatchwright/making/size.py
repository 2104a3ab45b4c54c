"""A width and a height as one value of a sentence."""

from __future__ import annotations

from hatchwright.said import Said, inch, said


def size(size_in: tuple[float, float]) -> Said:
    """A width and a height [in]."""
    return said("making.size", width=inch(size_in[0]), height=inch(size_in[1]))
