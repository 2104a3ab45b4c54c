"""One line of the trial sheet: what is looked at, what it must be, and a blank for what it was."""

from __future__ import annotations

from msgspec import Struct

from hatchwright.said import Said, Value


class TrialRow(Struct, frozen=True):
    """One thing that is proved on scrap.

    Args:
        must: from where to where it passes; all else fails; "" where that is written in.
        is_measured: whether a figure is written down, not only whether it passed.
    """

    what: Value
    must: Value
    is_measured: bool = True


class TrialSection(Struct, frozen=True):
    """What is proved together.

    Args:
        how: what is done, and what to do when it fails.
    """

    title: Said
    how: tuple[Said, ...]
    rows: tuple[TrialRow, ...]
