"""The readings of a trial cut on scrap, from the file that the trial sheet asks to be filled in."""

from __future__ import annotations

import tomllib
from typing import Any, Literal

from pydantic import Field, ValidationError

from hatchwright.errors import Fault, JobError
from hatchwright.job.entry import Count, Entered, NotNegative, Positive
from hatchwright.job.lines import line_of_each_key

SCHEMA = 1
"""Number of the readings file's own schema."""

PLACES = 12
"""Numbered places of a trial piece at which the edge is measured from the datum cross."""


class TrialCut(Entered):
    """One trial cut as measured."""

    turned: bool = Field(
        default=False, description="Whether the template was turned half round from the first cut"
    )
    x: tuple[Positive, ...] = Field(
        default=(), max_length=50, description="Widths along X, in the order of the cut"
    )
    y: tuple[Positive, ...] = Field(
        default=(), max_length=50, description="Widths along Y, in the order of the cut"
    )
    edges: tuple[Positive, ...] = Field(
        default=(),
        max_length=PLACES,
        description="Distances from the datum cross to the edge, at the numbered places",
    )


class TrialReadings(Entered):
    """All trial cuts with one template, and what they were measured with."""

    schema_number: Count = Field(alias="schema", description="Number of the readings file's schema")
    units: Literal["in", "mm"] = Field(description="Unit of bare numbers, in or mm")
    piece: Literal["square", "disc", "corner"] = Field(description="Shape of the trial piece")
    size: Positive = Field(description="Finished size that the trial template was made for")
    template_x: Positive = Field(description="Size of the trial template along X, measured")
    template_y: Positive = Field(description="Size of the trial template along Y, measured")
    template_uncertainty: NotNegative = Field(description="Standard uncertainty of the two sizes")
    gauge_limit: Positive = Field(description="Largest error of the caliper by its maker, either way")
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
    try:
        data: dict[str, Any] = tomllib.loads(text, parse_float=str)
    except (tomllib.TOMLDecodeError, RecursionError, ValueError) as error:
        raise JobError(
            (Fault("file", f"the text cannot be read: {error}", remedy="Mend that line."),), where=name
        ) from None
    if data.get("schema") != SCHEMA:
        raise JobError(
            (
                Fault(
                    "schema",
                    "this schema of readings is not known",
                    given=str(data.get("schema", "")),
                    remedy=f"Write schema = {SCHEMA}, as on the trial sheet.",
                ),
            ),
            where=name,
        )
    try:
        readings = TrialReadings.model_validate(data, context={"unit": data.get("units", "in")})
    except ValidationError as error:
        lines = line_of_each_key(text)
        faults = tuple(_fault(details, lines) for details in error.errors(include_url=False))
        raise JobError(faults, where=name) from None
    return _complete(readings, name)


def _fault(details: Any, lines: dict[str, int]) -> Fault:
    place = [str(part) for part in details["loc"]]
    given = "" if isinstance(details["input"], dict | list) else str(details["input"])[:60]
    line = next((lines[key] for n in range(len(place), 0, -1) if (key := ".".join(place[:n])) in lines), None)
    match details["type"]:
        case "entry":
            what, remedy = details["ctx"]["what"], details["ctx"]["remedy"]
        case "missing":
            what, given, remedy = "this is missing", "", "Add it, as on the trial sheet."
        case "extra_forbidden":
            what, remedy = "unknown key", "Check its spelling against the trial sheet."
        case "literal_error":
            what, remedy = "this is not one of the words known here", f"Use {details['ctx']['expected']}."
        case _:
            what, remedy = details["msg"][:1].lower() + details["msg"][1:], "See the trial sheet."
    return Fault(".".join(place), what, given=given, remedy=remedy, line=line)


def _complete(readings: TrialReadings, name: str) -> TrialReadings:
    faults = [
        Fault(
            f"cuts.{number}.edges",
            f"{len(cut.edges)} distances for {PLACES} places",
            remedy=f"Measure all {PLACES} numbered places of the sheet, or leave edges away.",
        )
        for number, cut in enumerate(readings.cuts)
        if cut.edges and len(cut.edges) != PLACES
    ]
    if not any(cut.x or cut.y for cut in readings.cuts):
        faults.append(Fault("cuts", "no widths were read", remedy="Measure the cut along X and along Y."))
    if faults:
        raise JobError(tuple(faults), where=name)
    return readings
