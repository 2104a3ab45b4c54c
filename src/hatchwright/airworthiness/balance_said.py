"""What a weight and balance says: rows of weight, arm and moment, the same on the paper and in the command."""

from __future__ import annotations

from collections.abc import Iterable, Iterator

from hatchwright.airworthiness.aircraft_balance import AircraftBalance
from hatchwright.airworthiness.balance import Weighed
from hatchwright.airworthiness.balance_parts import Change, Part, side_named
from hatchwright.airworthiness.hinge import Hinge
from hatchwright.airworthiness.loading import Case
from hatchwright.job.fleet.weight import Equipment
from hatchwright.said import Amount, Said, Value, inch, said
from hatchwright.units import Unit
from hatchwright.words.amounts import hundredth_lb

Cells = tuple[Value, ...]

_EVEN_LB_IN = 0.05
"""A lateral moment that is told as none: it would be rounded to nothing. Own choice, no source [lb-in]."""

HEADS = tuple(said(f"balance.head.{name}") for name in ("item", "weight", "out", "arm", "moment"))
"""Over rows of weight, by how much it may be out, arm and moment."""


def part_cells(part: Part) -> Cells:
    """One part that is put in or taken away."""
    weighed = part.weighed
    return _cells(part.name, Amount(weighed.weight_lb, "lb"), weighed, inch(weighed.arm_in))


def parts_heading(change: Change) -> Said:
    """Over the parts of one side, or of the equipment that changes."""
    return said("balance.heading.parts_of", side=side_named(change.side))


def sum_cells(change: Change, *, name: Said | None = None) -> Cells:
    """All of one side, or of the equipment; it has no arm where it may weigh nothing.

    Args:
        name: what the row is called; the skin work or the equipment where that is left out.
    """
    named = said("balance.opening", side=said(f"side.{change.side}")) if change.side else side_named(None)
    weight_lb = change.weight_lb
    arm: Value = inch(change.moment_lb_in / weight_lb) if abs(weight_lb) > change.u_lb else ""
    return name or named, Amount(weight_lb, "lb"), _out(change.u_lb), arm, _moment(change.moment_lb_in)


def empty_rows(balance: AircraftBalance, unit: Unit) -> Iterator[Cells]:
    """The empty aircraft before, each change, and after."""
    before, after = balance.before.total, balance.after.total
    on = balance.recorded
    yield _empty(
        said("balance.before_of", date=on.isoformat()) if on else said("balance.before"), before, unit
    )
    for change in balance.changes:
        yield sum_cells(change)
    yield _empty(said("balance.after"), after, unit, beside_in=before.arm_in)


def _empty(name: Said, weighed: Weighed, unit: Unit, *, beside_in: float | None = None) -> Cells:
    weight = Amount(hundredth_lb(weighed.weight_lb, unit), "lb")
    return _cells(name, weight, weighed, inch(weighed.arm_in, beside_in=beside_in))


def _cells(name: Value, weight: Amount, weighed: Weighed, arm: Amount) -> Cells:
    return name, weight, _out(weighed.u_lb), arm, _moment(weighed.moment_lb_in)


def _moment(moment_lb_in: float) -> Amount:
    return Amount(round(moment_lb_in, 2), "lb-in")


def _out(u_lb: float) -> Value:
    return said("balance.out", by=Amount(u_lb, "lb", toward="up")) if u_lb else ""


def equipment_rows(equipment: Iterable[Equipment], changes: Iterable[Change]) -> Iterator[Cells]:
    """The equipment list after the work: what was entered, then the opening of each side as one item."""
    for one in equipment:
        weighed = Weighed(float(one.weight), one.arm.inch, float(one.weight_u or 0.0))
        yield _cells(one.name, Amount(weighed.weight_lb, "lb"), weighed, inch(weighed.arm_in))
    for change in changes:
        if change.side:
            yield sum_cells(change)


def case_heads(cases: Iterable[Case]) -> tuple[Value, ...]:
    """Over the columns of `case_rows`."""
    return said("balance.head.aboard"), *(said(f"balance.case.{case.name}") for case in cases)


def case_rows(cases: tuple[Case, ...], unit: Unit) -> Iterator[Cells]:
    """A row for each thing aboard and a column for each loading; then weight, CG and both limits."""
    for at, one in enumerate(cases[0].aboard if cases else ()):
        amounts = (Amount(hundredth_lb(case.aboard[at].weight_lb, unit), "lb") for case in cases)
        yield said("balance.at_arm", name=one.load.name, arm=inch(one.load.arm_in)), *amounts
    if cases:
        weights = (Amount(hundredth_lb(case.total.weight_lb, unit), "lb") for case in cases)
        yield said("balance.head.total"), *weights
        yield (
            said("balance.head.cg"),
            *(inch(case.total.arm_in, beside_in=_nearer(case)) for case in cases),
        )
        yield said("balance.head.forward"), *(inch(case.forward_in) for case in cases)
        yield said("balance.head.aft"), *(inch(case.aft_in) for case in cases)


def _nearer(case: Case) -> float:
    """The limit that it lies nearer to [in]."""
    return min((case.forward_in, case.aft_in), key=lambda limit_in: abs(limit_in - case.total.arm_in))


def shift_said(balance: AircraftBalance) -> Said:
    """Which way the center of gravity moves, and how far."""
    shift_in = balance.after.total.arm_in - balance.before.total.arm_in
    id = "balance.shift_aft" if shift_in >= 0.0 else "balance.shift_forward"
    return said(id, by=inch(abs(shift_in), fine=True), u=Amount(balance.after.total.u_in, toward="up"))


def lateral_said(change: Change) -> tuple[Said, ...]:
    """What it does to lateral balance; nothing where the butt line of the job is not entered."""
    moment_lb_in = change.lateral_lb_in
    if moment_lb_in is None or not change.parts:
        return ()
    if abs(moment_lb_in) < _EVEN_LB_IN:
        return (said("balance.lateral_even"),)
    id = "balance.lateral_right" if moment_lb_in > 0.0 else "balance.lateral_left"
    return (said(id, moment=_moment(abs(moment_lb_in))),)


def negligible_said(balance: AircraftBalance) -> Said:
    """Whether the change may be neglected, where there is one."""
    if not balance.changes:
        return said("balance.nothing_changes")
    return said("balance.negligible" if balance.is_negligible else "balance.not_negligible")


def hinge_rows(hinge: Hinge) -> Iterator[tuple[Value, Value]]:
    """The balance of a surface before and after, its change and its limits."""
    before = said("balance.not_entered") if hinge.before_in_lb is None else _nose(hinge.before_in_lb)
    yield said("balance.hinge.before"), before
    out = Amount(hinge.u_in_lb, "in-lb", toward="up")
    yield said("balance.hinge.change"), said("balance.with_out", value=_nose(hinge.change_in_lb), u=out)
    if hinge.after_in_lb is not None:
        yield said("balance.hinge.after"), _nose(hinge.after_in_lb)
    limits = said("balance.between", least=_nose(hinge.least_in_lb), most=_nose(hinge.most_in_lb))
    yield said("balance.hinge.limits"), limits


def _nose(moment_in_lb: float) -> Said:
    """A moment about the hinge line as nose or tail heavy."""
    id = "balance.nose_heavy" if moment_in_lb >= 0.0 else "balance.tail_heavy"
    return said(id, moment=Amount(abs(moment_in_lb), "in-lb"))
