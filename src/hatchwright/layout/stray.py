"""Holes that belong to no row: where they are, how large, in which sheets, and whether a rivet fills them."""

from __future__ import annotations

from collections.abc import Iterator, Mapping
from typing import Literal, TypeAlias

from msgspec import Struct

from hatchwright.errors import JobError, UnlistedError
from hatchwright.job.hole_readings import StrayPart
from hatchwright.job.job import Job
from hatchwright.layout.listed import listed
from hatchwright.said import said
from hatchwright.tables.rivet_part import parse_rivet

StrayIn: TypeAlias = Literal["skin", "doubler", "cover"]

_PARTS: Mapping[StrayPart, tuple[StrayIn, ...]] = {
    "skin": ("skin",),
    "doubler": ("doubler",),
    "both": ("skin", "doubler"),
    "cover": ("cover",),
}


class Stray(Struct, frozen=True):
    """One hole that belongs to no row.

    Args:
        number: in the order of the job, from 1; no number of a hole.
        x_in: center [in].
        y_in: center [in].
        hole_in: its diameter [in].
        uncertainty_in: of place and diameter [in].
        filled_with: part number of the rivet that fills it, "" while it is open.
        nominal_in: of that rivet, None where no table lists it or the hole is open [in].
        parts: the sheets that it goes through.
    """

    number: int
    x_in: float
    y_in: float
    hole_in: float
    uncertainty_in: float
    filled_with: str = ""
    nominal_in: float | None = None
    parts: tuple[StrayIn, ...] = ("skin",)

    @property
    def is_open(self) -> bool:
        """Whether nothing fills it: its sheets are weaker for it, and it carries nothing."""
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
    """Every stray hole that was found.

    Raises:
        JobError: one goes through a sheet that the job has not got.
    """
    made = job.as_made
    for number, hole in enumerate(made.strays if made else (), start=1):
        assert made is not None
        through = _PARTS[hole.part or "skin"]
        if missing := [name for name in through if name != "skin" and getattr(job, name) is None]:
            where, given = f"as_made.strays.{number - 1}.part", hole.part or ""
            raise JobError.about(where, "error.stray_no_part", given, part=said(f"part.{missing[0]}"))
        part = listed(parse_rivet, hole.filled) if hole.filled else None
        yield Stray(
            number,
            hole.x.inch,
            hole.y.inch,
            hole.diameter.inch,
            made.u_in(hole),
            hole.filled or "",
            part.diameter_in if part else None,
            through,
        )
