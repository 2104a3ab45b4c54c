"""What is judged of a loading: its center of gravity against both limits, and its weight."""

from __future__ import annotations

from collections.abc import Iterator

from hatchwright.airworthiness.balance import Weighed
from hatchwright.airworthiness.ballast import ballast_lb
from hatchwright.airworthiness.loading import Case
from hatchwright.finding import Finding, held
from hatchwright.ground import Ground
from hatchwright.judged import Judgement, Measure, Status
from hatchwright.said import Amount, Said, Value, said
from hatchwright.workings import Grade, Source

_ENTERED = Ground(Source("PRACTICE", "limits of the aircraft, as entered"), Grade.SHOP)


def case_findings(case: Case, *, ballast_arm_in: float | None, heaviest_lb: float) -> Iterator[Finding]:
    """The answers on one loading; the worst forward one is asked for the forward limit alone, and so on.

    Args:
        ballast_arm_in: where ballast could go, None where that was not entered [in].
        heaviest_lb: the most that the aircraft may weigh [lb].
    """
    measure = Measure("CG", case.total.arm_in, case.total.u_in)
    named = said(f"balance.case.{case.name}")
    more = (case.balance.working,)
    if case.name != "aft":
        judged = _ENTERED.at_least(measure, case.forward_in, *more)
        yield _of(judged, "forward", named, case.total, ballast_arm_in)
    if case.name != "forward":
        judged = _ENTERED.at_most(measure, case.aft_in, *more)
        yield _of(judged, "aft", named, case.total, ballast_arm_in)
    if case.name not in ("forward", "aft"):
        weight = Measure("W", case.total.weight_lb, case.total.u_lb, unit="lb")
        judged = _ENTERED.at_most(weight, heaviest_lb, fails_as=Status.CAUTION)
        yield held("", judged, said("balance.case_weight", case=named), said("balance.placard"))


def empty_range_findings(
    empty: Weighed, *, forward_in: float, aft_in: float, ballast_arm_in: float | None
) -> Iterator[Finding]:
    """Whether the empty aircraft is inside its approved empty CG range; outside it, loading decides [in]."""
    measure, named = Measure("CG", empty.arm_in, empty.u_in), said("balance.case.empty")
    for toward, limit_in in (("forward", forward_in), ("aft", aft_in)):
        hold = _ENTERED.at_least if toward == "forward" else _ENTERED.at_most
        judged = hold(measure, limit_in, fails_as=Status.CAUTION)
        yield _of(judged, toward, named, empty, ballast_arm_in)


def _of(judged: Judgement, toward: str, named: Said, total: Weighed, ballast_arm_in: float | None) -> Finding:
    told: list[Said | str] = [said(f"balance.outside_{toward}")]
    if ballast_arm_in is not None and judged.limit is not None:
        needed_lb = ballast_lb(total, limit_in=judged.limit, ballast_arm_in=ballast_arm_in)
        if needed_lb is not None:
            amount: Value = Amount(needed_lb, "lb", toward="up")
            told.append(said("balance.ballast", weight=amount, arm=Amount(ballast_arm_in)))
    return held("", judged, said(f"balance.{toward}_limit", case=named), *told)
