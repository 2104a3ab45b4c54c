"""The offset of a trial cut by a flat scan, alone or together with widths by caliper.

Method: docs/theory/scan.md, eq. 12 and 15.
"""

from __future__ import annotations

from hatchwright.errors import JobError
from hatchwright.job.trial_readings import TrialReadings
from hatchwright.metrology.real_offset import RealOffset
from hatchwright.metrology.scanned_offset import differ_by, scanned_offset, together
from hatchwright.said import inch
from hatchwright.units import Unit


def by_scan(readings: TrialReadings, sign: float) -> RealOffset | None:
    """The offset by the scan that the readings hold, None where they hold none.

    Args:
        sign: 1 for a template with a window, -1 for a plug.
    """
    scan = readings.scan
    if scan is None:
        return None
    made = readings.template_x.inch, readings.template_y.inch
    return scanned_offset(
        (sign * (made[0] - scan.width.inch), sign * (made[1] - scan.height.inch)),
        own_in=(scan.width_uncertainty.inch, scan.height_uncertainty.inch),
        edge_in=scan.edge_uncertainty.inch,
        template_standard_in=readings.template_uncertainty.inch,
        scatter_in=scan.scatter.inch,
        places=scan.places,
    )


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
