"""The offset of a trial cut by a flat scan, alone or together with widths by caliper, and where it lies by one.

Method: docs/theory/scan.md, eq. 12 and 15.
"""

from __future__ import annotations

import math
from statistics import fmean

from hatchwright.errors import JobError
from hatchwright.job.trial_readings import ScannedCut, TrialReadings
from hatchwright.making.trial.piece import TrialPiece
from hatchwright.metrology.edge_fit import EdgeFit
from hatchwright.metrology.real_offset import Effect, RealOffset, coverage_factor
from hatchwright.metrology.scanned_edges import ScannedPose, scanned_edges
from hatchwright.metrology.scanned_offset import differ_by, scanned_offset, together
from hatchwright.said import inch
from hatchwright.units import Unit


def by_scan(readings: TrialReadings, sign: float) -> RealOffset | None:
    """The offset by the scans that the readings hold, None where they hold none; of two cuts the mean.

    That is known no better than one of them: scale and print are common to both.

    Args:
        sign: 1 for a template with a window, -1 for a plug.
    """
    scans = list(readings.scans.values())
    if not scans:
        return None
    made = readings.template_x.inch, readings.template_y.inch
    width_in, height_in = _size_in(scans)
    return scanned_offset(
        (sign * (made[0] - width_in), sign * (made[1] - height_in)),
        own_in=_own_in(scans),
        edge_in=max(scan.edge_uncertainty.inch for scan in scans),
        template_standard_in=readings.template_uncertainty.inch,
        scatter_in=max(scan.scatter.inch for scan in scans),
        places=sum(scan.places for scan in scans),
    )


def edges_by_scan(readings: TrialReadings, piece: TrialPiece) -> EdgeFit | None:
    """Growth, shift, turn and eccentricity by the scans that tell where their cut lies; None where none does."""
    scans = list(readings.scans.values())
    poses = [
        ScannedPose(
            shift_in=(pose.shift_x.inch, pose.shift_y.inch),
            shift_standard_in=pose.shift_uncertainty.inch,
            turn_rad=math.radians(pose.turn),
            turn_standard_rad=math.radians(pose.turn_uncertainty),
            turned=name == "scan_turned",
        )
        for name, scan in readings.scans.items()
        if (pose := scan.pose)
    ]
    if not poses:
        return None
    grown_in = 0.25 * sum(_size_in(scans)) - 0.5 * piece.width_in
    u_in = math.hypot(0.25 * math.hypot(*_own_in(scans)), max(scan.edge_uncertainty.inch for scan in scans))
    growth = Effect(grown_in, coverage_factor(math.inf) * u_in)
    return scanned_edges(poses, growth=growth, scatter_in=max(scan.scatter.inch for scan in scans))


def _size_in(scans: list[ScannedCut]) -> tuple[float, float]:
    return fmean(scan.width.inch for scan in scans), fmean(scan.height.inch for scan in scans)


def _own_in(scans: list[ScannedCut]) -> tuple[float, float]:
    """Standard uncertainty of either width by itself [in]."""
    width_in, height_in = (max(one) for one in zip(*map(_us_in, scans), strict=True))
    return width_in, height_in


def _us_in(scan: ScannedCut) -> tuple[float, float]:
    return scan.width_uncertainty.inch, scan.height_uncertainty.inch


def put_together(
    caliper: RealOffset | None, scan: RealOffset | None, *, template_in: float, unit: Unit
) -> RealOffset:
    """The offset by whatever it was measured by, of the two at least by one.

    Args:
        template_in: standard uncertainty of the template's size [in].
    Raises:
        JobError: caliper and scan contradict each other.
    """
    if caliper is None or scan is None:
        found = caliper or scan
        assert found is not None
        return found
    apart_in, within_in = differ_by(caliper, scan, template_standard_in=template_in)
    if apart_in > within_in:
        apart, within = inch(apart_in, fine=True), inch(within_in, fine=True)
        raise JobError.about("scan", "trial.scan_differs", unit=unit, apart=apart, within=within)
    return together(caliper, scan, template_standard_in=template_in)
