"""Whether a change of weight and center of gravity is one that may be neglected: both conditions, or it is not.

Method: [AC43.13-1B], par. 10-2c.
"""

from __future__ import annotations

from collections.abc import Callable, Iterator

from hatchwright.airworthiness.balance import Weighed
from hatchwright.finding import Finding, held, held_as
from hatchwright.judged import Judgement, Measure, Status, bound
from hatchwright.said import said
from hatchwright.tables.cited import Cited

_MIDDLE_LB, _HEAVY_LB = 5000.0, 50_000.0
"""Empty weights from and above which more may be neglected [lb]. Source: [AC43.13-1B], par. 10-2c."""

Limit = Callable[[str], Cited]
"""What looks a limit up by its name, the shop's own where it has one."""


def negligible_weight(empty_lb: float, limit: Limit) -> Cited:
    """By how much the empty weight may change and be neglected all the same [lb].

    Args:
        empty_lb: empty weight of the aircraft [lb].
    """
    if empty_lb < _MIDDLE_LB:
        return limit("mass_negligible_light")
    return limit("mass_negligible_middle" if empty_lb <= _HEAVY_LB else "mass_negligible_heavy")


def negligible_findings(
    before: Weighed,
    after: Weighed,
    limit: Limit,
    *,
    change_lb: float,
    u_lb: float = 0.0,
    chord_in: float | None = None,
    range_in: float | None = None,
    may_count: bool = True,
) -> Iterator[Finding]:
    """Both conditions as far as they can be told; what is not negligible cautions, for a new record mends it.

    Args:
        change_lb: of the empty weight [lb].
        u_lb: by how much that may be out [lb].
        chord_in: mean aerodynamic chord of a fixed wing, None where it is not known [in].
        range_in: largest allowable CG range of a rotorcraft, None for a fixed wing [in].
        may_count: whether no weight of it rests on memory alone.
    """
    advice = said("quick.cg.new_record")
    few = bound(negligible_weight(before.weight_lb, limit))
    change = Measure("change", abs(change_lb), u_lb, unit="lb")
    judged = Judgement(change, (few,), at_least=False, fails_as=Status.CAUTION)
    subject = said("quick.cg.weight_change")
    if not may_count and judged.status is Status.PASS:
        yield held_as("", judged, Status.CAUTION, subject, said("quick.cg.weigh"))
    else:
        yield held("", judged, subject, advice)
    if range_in is not None:
        per, key, symbol = range_in, "cg_negligible_share_rotorcraft", "range"
    elif chord_in is not None:
        per, key, symbol = chord_in, "cg_negligible_share", "MAC"
    else:
        return
    shift = Measure("shift", abs(after.arm_in - before.arm_in), after.u_in, per=(symbol, per, "in"))
    share = bound(limit(key), per, symbol)
    judged = Judgement(shift, (share,), at_least=False, strict=True, fails_as=Status.CAUTION)
    yield held("", judged, said("quick.cg.cg_change"), advice)
