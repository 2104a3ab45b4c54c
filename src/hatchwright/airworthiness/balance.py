"""Weight and balance by moments: what a part that is put in or taken out makes of empty weight and center of gravity.

Method: [FAA-H-8083-1B], moments summed about the datum. Weights that are taken out are negative.
"""

from __future__ import annotations

import math
from collections.abc import Iterable

from msgspec import Struct

from hatchwright.errors import GeometryError
from hatchwright.workings import Grade, Quantity, Source, Working

_MOMENTS = Source("FAA-H-8083-1B", "moments about the datum")


class Weighed(Struct, frozen=True):
    """A weight and where it acts.

    Args:
        weight_lb: negative for what is taken out [lb].
        arm_in: aft of the datum, negative ahead of it [in].
        u_lb: by how much the weight may be out, 0 for a weighed one [lb].
        u_in: by how much the arm may be out [in].
    """

    weight_lb: float
    arm_in: float
    u_lb: float = 0.0
    u_in: float = 0.0

    @property
    def moment_lb_in(self) -> float:
        """About the datum [lb-in]."""
        return self.weight_lb * self.arm_in


class Balance(Struct, frozen=True):
    """What several weights make together.

    Args:
        working: of the arm of all together.
    """

    total: Weighed
    working: Working


def balance_of(weights: Iterable[Weighed]) -> Balance:
    """Add up weights and moments, with by how much both may be out, every part being out the worst way.

    Raises:
        GeometryError: nothing is left to weigh.

    >>> round(balance_of((Weighed(8000.0, 77.0), Weighed(-100.0, 30.0), Weighed(100.0, 150.0))).total.arm_in, 2)
    78.5
    """
    each = tuple(weights)
    weight_lb, moment_lb_in = sum(one.weight_lb for one in each), sum(one.moment_lb_in for one in each)
    if weight_lb <= 0.0:
        raise GeometryError.saying("balance.nothing_left")
    arm_in = moment_lb_in / weight_lb
    put_in = [
        quantity
        for number, one in enumerate(each, start=1)
        for quantity in (
            Quantity(f"W{number}", one.weight_lb, "lb"),
            Quantity(f"arm{number}", one.arm_in, "in"),
        )
    ]
    working = Working(
        "CG = sum of weight x arm / sum of weight",
        (*put_in, Quantity("moment", moment_lb_in, "lb-in"), Quantity("W", weight_lb, "lb")),
        Quantity("CG", arm_in, "in"),
        _MOMENTS,
        Grade.RESTATED,
    )
    return Balance(Weighed(weight_lb, arm_in, *_out(each, weight_lb, arm_in)), working)


def _out(each: tuple[Weighed, ...], weight_lb: float, arm_in: float) -> tuple[float, float]:
    """By how much weight and arm of all together may be out [lb], [in].

    Method: each weight off by d moves the moment about the arm found by d (arm - CG), over no less weight than is left
    when all are off downward: a bound, not a first-order figure.
    """
    u_lb = sum(one.u_lb for one in each)
    moment_lb_in = sum(
        one.u_lb * abs(one.arm_in - arm_in) + (abs(one.weight_lb) + one.u_lb) * one.u_in for one in each
    )
    return u_lb, moment_lb_in / (weight_lb - u_lb) if u_lb < weight_lb else math.inf
