"""One limit of a proposal that may be moved: whose it is, how it is told, and what is typed to move it."""

from __future__ import annotations

from collections.abc import Callable

from msgspec import Struct

from hatchwright.layout.layout import Layout
from hatchwright.remedy import EntryChange, PartChange
from hatchwright.said import Amount, Said
from hatchwright.search.proposal.conflict_asked import Asked
from hatchwright.search.proposal.conflict_sets import Movable
from hatchwright.search.proposal.values import Whose
from hatchwright.units import MM_PER_IN


class Limit(Struct, frozen=True):
    """One limit that may be moved.

    Args:
        name: a noun phrase of it.
        from_: where it stands.
        to: where it stands so many stops on.
        entered: what is typed to move it there, None where nothing that can be typed does.
        gives: id of the sentence on what that gives, after ``conflict.gives.``; "" for that of whose it is.
    """

    whose: Whose
    name: Said
    movable: Movable[Asked]
    from_: Amount
    to: Callable[[int], Amount]
    entered: Callable[[int], EntryChange | PartChange | None]
    gives: str = ""

    @property
    def key(self) -> str:
        """For programs."""
        return self.movable.key


def is_mandated(layout: Layout) -> bool:
    """Whether somebody else gave size and place of the opening."""
    mandate = layout.job.mandate
    return mandate.kind != "owner" or bool(mandate.opening_x or mandate.opening_y)


def typed(layout: Layout, length_in: float) -> str:
    """A length as it is typed into the job."""
    of_unit = MM_PER_IN if layout.job.unit == "mm" else 1.0
    return f"{length_in * of_unit:.4f}".rstrip("0").rstrip(".")
