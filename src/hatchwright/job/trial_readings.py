"""The readings of a trial cut on scrap, from the file that the trial sheet asks to be filled in."""

from collections.abc import Iterator
from typing import Annotated, Any, Literal

from pydantic import BeforeValidator, Field

from hatchwright.errors import Fault
from hatchwright.job.entered_file import EnteredFile
from hatchwright.job.entry import (
    AngleDeg,
    Coordinate,
    Count,
    Entered,
    GaugeError,
    GaugeErrorOrNone,
    Positive,
    YesNo,
    refusal,
)
from hatchwright.said import Said, said

PLACES = 12
"""Numbered places of a trial piece at which the edge is measured from the datum cross."""


def _filled_in(remedy: Said) -> BeforeValidator:
    """Refuse a place that was left blank."""

    def checked(value: Any) -> Any:
        if isinstance(value, str) and not value.strip():
            raise refusal(said("job.empty"), remedy)
        return value

    return BeforeValidator(checked)


_KNOWN = _filled_in(said("job.empty.gauge"))
Measured = Annotated[Positive, _filled_in(said("job.empty.measured"))]
Error = Annotated[GaugeError, _KNOWN]
ErrorOrNone = Annotated[GaugeErrorOrNone, _KNOWN]


class TrialCut(Entered):
    """One trial cut as measured."""

    turned: YesNo = False
    x: tuple[Measured, ...] = Field(default=(), max_length=50)
    y: tuple[Measured, ...] = Field(default=(), max_length=50)
    edges: tuple[Measured, ...] = Field(default=(), max_length=PLACES)
    diagonals: tuple[Measured, ...] = Field(default=(), max_length=10)


class ScannedPose(Entered):
    """Where a scanned cut lies from the middle of the four holes of its template's pins.

    The uncertainties are standard ones.
    """

    shift_x: Coordinate
    shift_y: Coordinate
    shift_uncertainty: Error
    turn: AngleDeg
    turn_uncertainty: AngleDeg


class ScannedCut(Entered):
    """The cut as measured from a flat scan, by the line through the roots of its bites or by its filed edge.

    The uncertainties are standard ones; that of the edge is in both widths alike.
    """

    width: Measured
    height: Measured
    width_uncertainty: Error
    height_uncertainty: Error
    edge_uncertainty: Error
    scatter: ErrorOrNone
    places: Count
    pose: ScannedPose | None = None


class TrialReadings(EnteredFile):
    """All trial cuts with one template, and what they were measured with."""

    MANUAL = said("fault.trial_sheet")

    units: Literal["in", "mm"]
    piece: Literal["square", "disc", "corner"]
    size: Measured
    template_x: Measured
    template_y: Measured
    template_uncertainty: ErrorOrNone
    gauge_limit: Error
    cuts: tuple[TrialCut, ...] = Field(min_length=1, max_length=10)
    scan: ScannedCut | None = None
    scan_turned: ScannedCut | None = None

    @property
    def scans(self) -> dict[str, ScannedCut]:
        """Cuts that were scanned by their names: as first laid, and with the template turned half round."""
        named = {"scan": self.scan, "scan_turned": self.scan_turned}
        return {name: scan for name, scan in named.items() if scan is not None}

    def impossible(self) -> Iterator[Fault]:
        """Places that were not measured, corners that are none, and cuts that are all turned."""
        for number, cut in enumerate(self.cuts):
            if cut.edges and len(cut.edges) != PLACES:
                what = said("job.edge_places", given=len(cut.edges), places=PLACES)
                remedy = said("job.edge_places.do", places=PLACES)
                yield Fault(f"cuts.{number}.edges", what, remedy=remedy)
            if cut.diagonals and self.piece == "disc":
                yield Fault.saying(f"cuts.{number}.diagonals", "job.disc")
        if all(cut.turned for cut in self.cuts):
            yield Fault.saying("cuts.0.turned", "job.all_turned", "true")
        if self.scan_turned is not None and self.scan is None:
            yield Fault.saying("scan_turned", "job.scan_turned_alone")
        for name, scan in self.scans.items():
            if scan.pose and not scan.pose.turn_uncertainty > 0.0:
                yield Fault.saying(f"{name}.pose.turn_uncertainty", "job.turn_uncertainty")
        if self.scan is None and not any(cut.x or cut.y for cut in self.cuts):
            yield Fault.saying("cuts", "job.no_widths")
