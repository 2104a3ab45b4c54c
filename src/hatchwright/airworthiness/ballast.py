"""How much ballast brings a center of gravity back to a limit.

Method: [FAA-H-8083-1B], ballast; [AC43.13-1B], figure 10-19: weight x distance out / (ballast arm - limit).
"""

from __future__ import annotations

from hatchwright.airworthiness.balance import Weighed


def ballast_lb(total: Weighed, *, limit_in: float, ballast_arm_in: float) -> float | None:
    """The least ballast that brings it to the limit, however far it may be out [lb].

    Args:
        limit_in: the limit that it is beyond [in].
        ballast_arm_in: where the ballast goes, aft of the datum [in].
    Returns:
        float | None: None where ballast at that arm moves it the wrong way, or no ballast is needed.

    >>> round(ballast_lb(Weighed(1876.0, 32.2), limit_in=33.0, ballast_arm_in=228.0), 1)
    7.7
    """
    out_in, reach_in = limit_in - total.arm_in, ballast_arm_in - limit_in
    if out_in * reach_in <= 0.0:
        return None
    return (total.weight_lb + total.u_lb) * (abs(out_in) + total.u_in) / abs(reach_in)
