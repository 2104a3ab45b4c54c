"""The readings of a trial cut on scrap, from the file that the trial sheet asks to be filled in."""

from __future__ import annotations

from collections.abc import Iterator
from typing import Annotated, Any, Literal

from pydantic import BeforeValidator, Field

from hatchwright.errors import Fault
from hatchwright.job.entered_file import read_entered
from hatchwright.job.entry import Count, Entered, NotNegative, Positive, refusal
from hatchwright.job.yes_no import YesNo
from hatchwright.said import said

SCHEMA = 1
"""Number of the readings file's own schema."""

PLACES = 12
"""Numbered places of a trial piece at which the edge is measured from the datum cross."""


def _filled_in(value: Any) -> Any:
    if isinstance(value, str) and not value.strip():
        raise refusal(said("job.empty"), said("job.empty.measured"))
    return value


def _known(value: Any) -> Any:
    if isinstance(value, str) and not value.strip():
        raise refusal(said("job.empty"), said("job.empty.gauge"))
    return value


Measured = Annotated[Positive, BeforeValidator(_filled_in)]
Error = Annotated[Positive, BeforeValidator(_known)]
ErrorOrNone = Annotated[NotNegative, BeforeValidator(_known)]


class TrialCut(Entered):
    """One trial cut as measured."""

    turned: YesNo = Field(
        default=False, description="Whether the template was turned half round from the first cut"
    )
    x: tuple[Measured, ...] = Field(
        default=(), max_length=50, description="Widths along X, in the order of the cut"
    )
    y: tuple[Measured, ...] = Field(
        default=(), max_length=50, description="Widths along Y, in the order of the cut"
    )
    edges: tuple[Measured, ...] = Field(
        default=(),
        max_length=PLACES,
        description="Distances from the datum cross to the edge, at the numbered places",
    )
    diagonals: tuple[Measured, ...] = Field(
        default=(), max_length=10, description="Widths from corner to corner, as far apart as they go"
    )


class TrialReadings(Entered):
    """All trial cuts with one template, and what they were measured with."""

    schema_number: Count = Field(alias="schema", description="Number of the readings file's schema")
    units: Literal["in", "mm"] = Field(description="Unit of bare numbers, in or mm")
    piece: Literal["square", "disc", "corner"] = Field(description="Shape of the trial piece")
    size: Measured = Field(description="Finished size that the trial template was made for")
    template_x: Measured = Field(description="Size of the trial template along X, measured")
    template_y: Measured = Field(description="Size of the trial template along Y, measured")
    template_uncertainty: ErrorOrNone = Field(description="Standard uncertainty of the two sizes")
    gauge_limit: Error = Field(description="Largest error of the caliper by its maker, either way")
    cuts: tuple[TrialCut, ...] = Field(min_length=1, max_length=10, description="The trial cuts")


def read_trial(text: str, *, name: str = "readings") -> TrialReadings:
    """Read the text of a readings file.

    Args:
        text: a TOML document.
        name: what to call the file in messages.
    Returns:
        TrialReadings: as typed, with every length read.
    Raises:
        JobError: every fault, gathered.
    """
    return read_entered(
        TrialReadings, text, schema=SCHEMA, impossible=_incomplete, name=name, manual="the trial sheet"
    )


def _incomplete(readings: TrialReadings) -> Iterator[Fault]:
    """Places that were not measured, corners that are none, and cuts that are all turned."""
    for number, cut in enumerate(readings.cuts):
        if cut.edges and len(cut.edges) != PLACES:
            yield Fault(
                f"cuts.{number}.edges",
                said("job.edge_places", given=len(cut.edges), places=PLACES),
                remedy=said("job.edge_places.do", places=PLACES),
            )
        if cut.diagonals and readings.piece == "disc":
            yield Fault(f"cuts.{number}.diagonals", said("job.disc"), remedy=said("job.disc.do"))
    if all(cut.turned for cut in readings.cuts):
        yield Fault(
            "cuts.0.turned",
            said("job.all_turned"),
            given="true",
            remedy=said("job.all_turned.do"),
        )
    if not any(cut.x or cut.y for cut in readings.cuts):
        yield Fault("cuts", said("job.no_widths"), remedy=said("job.no_widths.do"))
