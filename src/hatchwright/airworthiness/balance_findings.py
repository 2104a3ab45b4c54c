"""What is judged of an aircraft's balance after a change, and what is not known of it."""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Sequence

from hatchwright.airworthiness.balance import Weighed
from hatchwright.airworthiness.balance_parts import Change, side_named
from hatchwright.airworthiness.case_findings import case_findings, empty_range_findings
from hatchwright.airworthiness.envelope import Envelope
from hatchwright.airworthiness.loading import Case
from hatchwright.finding import Finding, stated
from hatchwright.ground import Ground, practice
from hatchwright.job.fleet.weight import FleetBalance
from hatchwright.judged import Status
from hatchwright.said import said
from hatchwright.workings import Grade, Source

_NOT_KNOWN = practice("weight and balance")
_NEGLIGIBLE = Ground(Source("AC43.13-1B", "par. 10-2c"), Grade.PUBLISHED)
_ADVERSE = Ground(Source("AC43.13-1B", "par. 10-16 and 10-17"), Grade.PUBLISHED)


def change_findings(
    changes: Iterable[Change], given: FleetBalance, envelope: Envelope | None, *, has_surface: bool
) -> Iterator[Finding]:
    """What keeps the change from being told: a part without weight, a chord or a surface that is not entered.

    Args:
        has_surface: whether a job says that the skin belongs to a movable surface.
    """
    for change in changes:
        for what in change.not_weighed:
            subject = said("balance.left_out", side=side_named(change.side), what=what)
            yield stated("", Status.UNKNOWN, subject, _NOT_KNOWN, said("balance.weigh_it"))
    if given.rotorcraft and envelope is None:
        yield stated(
            "", Status.UNKNOWN, said("quick.cg.cg_change"), _NEGLIGIBLE, said("balance.enter_limits")
        )
    if given.mean_chord is None and not given.rotorcraft:
        yield stated("", Status.UNKNOWN, said("quick.cg.cg_change"), _NEGLIGIBLE, said("quick.cg.open.chord"))
    if has_surface and given.surface is None:
        yield stated("", Status.UNKNOWN, said("balance.surface"), _NOT_KNOWN, said("balance.enter_surface"))


def loading_findings(
    empty: Weighed,
    given: FleetBalance,
    cases: Sequence[Case],
    envelope: Envelope | None,
    *,
    is_neglected: bool,
) -> Iterator[Finding]:
    """The empty aircraft in its range, and every loading; where neither can be looked at, that is said.

    Args:
        empty: the aircraft after the change.
        is_neglected: whether the change may be neglected by weight and center of gravity.
    """
    arm_in = given.ballast_arm.inch if given.ballast_arm else None
    in_range: tuple[Finding, ...] = ()
    if given.empty_forward and given.empty_aft:
        forward_in, aft_in = given.empty_forward.inch, given.empty_aft.inch
        in_range = tuple(
            empty_range_findings(empty, forward_in=forward_in, aft_in=aft_in, ballast_arm_in=arm_in)
        )
    yield from in_range
    is_inside = bool(in_range) and all(one.status is Status.PASS for one in in_range)
    if envelope is None or not given.loading:
        if not is_inside and not is_neglected:
            subject, advice = said("balance.adverse"), said("balance.enter_loading")
            yield stated("", Status.UNKNOWN, subject, _ADVERSE, advice)
        return
    if not any(case.name == "forward" for case in cases):
        subject, advice = said("balance.too_heavy"), said("balance.too_heavy.do")
        yield stated("", Status.STOP, subject, _ADVERSE, advice)
    for case in cases:
        yield from case_findings(case, ballast_arm_in=arm_in, heaviest_lb=envelope.heaviest_lb)
