"""Holes in the skin that belong to no row: where they are, how large, and whether a rivet fills them."""

from __future__ import annotations

from collections.abc import Iterator

from msgspec import Struct

from hatchwright.errors import UnlistedError
from hatchwright.job.job import Job
from hatchwright.layout.listed import listed
from hatchwright.said import said
from hatchwright.tables.rivet_part import parse_rivet


class Stray(Struct, frozen=True):
    """One hole of the skin that belongs to no row.

    Args:
        number: in the order of the job, from 1; no number of a hole.
        x_in: center [in].
        y_in: center [in].
        hole_in: its diameter [in].
        uncertainty_in: of place and diameter [in].
        filled_with: part number of the rivet that fills it, "" while it is open.
        nominal_in: of that rivet, None where no table lists it or the hole is open [in].
    """

    number: int
    x_in: float
    y_in: float
    hole_in: float
    uncertainty_in: float
    filled_with: str = ""
    nominal_in: float | None = None

    @property
    def is_open(self) -> bool:
        """Whether nothing fills it: the skin is weaker for it, and it carries nothing."""
        return not self.filled_with

    @property
    def place(self) -> tuple[float, float]:
        """Its center [in]."""
        return self.x_in, self.y_in

    @property
    def diameter_in(self) -> float:
        """What edge distance and spacing are asked by: the rivet that fills it, or the hole itself [in].

        Raises:
            UnlistedError: no table lists the rivet.
        """
        if self.is_open:
            return self.hole_in
        if self.nominal_in is None:
            raise UnlistedError(said("unlisted.rivet", name=self.filled_with))
        return self.nominal_in


def strays_of(job: Job) -> Iterator[Stray]:
    """Every stray hole that was found."""
    made = job.as_made
    for number, hole in enumerate(made.strays if made else (), start=1):
        assert made is not None
        part = listed(parse_rivet, hole.filled) if hole.filled else None
        yield Stray(
            number,
            hole.x.inch,
            hole.y.inch,
            hole.diameter.inch,
            made.u_in(hole),
            hole.filled or "",
            part.diameter_in if part else None,
        )
