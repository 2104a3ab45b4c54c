"""Weight and balance of one aircraft before and after an opening at each side, and what is judged of it."""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Sequence
from datetime import date

from msgspec import Struct

from hatchwright.airworthiness.balance import Balance, Weighed, balance_of
from hatchwright.airworthiness.balance_findings import change_findings, loading_findings
from hatchwright.airworthiness.balance_parts import Change, Origin, Part, all_parts, change_of
from hatchwright.airworthiness.envelope import Envelope, envelope_of
from hatchwright.airworthiness.hinge import Hinge, hinge_findings, hinge_of
from hatchwright.airworthiness.loading import TOWARDS, Case, adverse_case, full_cases, loads_of
from hatchwright.airworthiness.negligible import negligible_findings
from hatchwright.finding import Finding
from hatchwright.job.fleet.weight import AircraftWeight, Equipment, FleetBalance
from hatchwright.judged import Status, worst_of
from hatchwright.layout.layout import Layout
from hatchwright.tables.cited import Cited
from hatchwright.tables.limits import limit
from hatchwright.tables.table import ShopTables


class AircraftBalance(Struct, frozen=True):
    """One aircraft before and after.

    Args:
        changes: of each side that gets an opening, then of the equipment where some is put in or taken out.
        equipment: in place after the work, the openings left out.
        cases: the loadings that were looked at, worst forward and rearward first.
        negligible: the findings on whether the change may be neglected.
        findings: all other ones.
        recorded: date of the record that the empty aircraft before is from, None where it was not entered.
    """

    before: Balance
    after: Balance
    changes: tuple[Change, ...]
    equipment: tuple[Equipment, ...]
    cases: tuple[Case, ...]
    hinges: tuple[Hinge, ...]
    negligible: tuple[Finding, ...]
    findings: tuple[Finding, ...]
    recorded: date | None = None

    @property
    def change(self) -> Change:
        """All that changes, together."""
        left_out = (what for change in self.changes for what in change.not_weighed)
        return Change(None, all_parts(self.changes), tuple(left_out))

    @property
    def is_negligible(self) -> bool:
        """Whether weight and center of gravity both change by no more than may be neglected, nothing left out."""
        return not self.change.not_weighed and is_neglected(self.negligible)

    @property
    def worst(self) -> Status:
        """The worst answer of all."""
        return worst_of(one.status for one in (*self.negligible, *self.findings))


def is_neglected(negligible: Sequence[Finding]) -> bool:
    """Whether both conditions were looked at and hold."""
    return len(negligible) > 1 and all(one.status is Status.PASS for one in negligible)


def aircraft_balance(
    weight: AircraftWeight,
    given: FleetBalance,
    layouts: Sequence[Layout],
    shop: ShopTables | None = None,
) -> AircraftBalance:
    """Work out one aircraft.

    Args:
        layouts: of each side that gets an opening, as made where that was measured.
    Raises:
        GeometryError: nothing is left to weigh.
        EntryError: the least of a loading item is more than its most, or a weight from the scale belongs to nothing.
    """
    before = balance_of(weighings(weight))
    origin = Origin(
        given.job_arm.inch,
        given.job_arm_u.inch if given.job_arm_u else 0.0,
        given.job_butt_line.inch if given.job_butt_line else None,
    )
    sides = [change_of(layout, origin, weight.weighed_side(layout.job.aircraft.side)) for layout in layouts]
    changed = tuple(_equipment_parts(weight.equipment))
    changes = (*sides, *((Change(None, changed),) if changed else ()))
    parts = all_parts(changes)
    after = balance_of((before.total, *(part.weighed for part in parts)))
    envelope = envelope_of(given.limits) if given.limits else None
    negligible = tuple(_negligible(before.total, after.total, parts, given, envelope, shop)) if parts else ()
    cases = tuple(_cases(after.total, given, envelope, shop))
    hinges = tuple(_hinges(weight, given, sides))
    has_surface = any(layout.job.gate.movable_surface for layout in layouts)
    return AircraftBalance(
        before,
        after,
        changes,
        tuple(one for one in weight.equipment if one.change != "taken out"),
        cases,
        hinges,
        negligible,
        (
            *change_findings(changes, given, envelope, has_surface=has_surface),
            *loading_findings(after.total, given, cases, envelope, is_neglected=is_neglected(negligible)),
            *(finding for hinge in hinges for finding in hinge_findings(hinge)),
        ),
        weight.recorded,
    )


def weighings(weight: AircraftWeight) -> tuple[Weighed, ...]:
    """The empty aircraft as recorded, or its scale readings less their tare."""
    if weight.empty_weight is not None and weight.empty_arm is not None:
        return (Weighed(float(weight.empty_weight), weight.empty_arm.inch),)
    return tuple(Weighed(float(one.reading) - float(one.tare or 0.0), one.arm.inch) for one in weight.scales)


def _equipment_parts(equipment: Iterable[Equipment]) -> Iterator[Part]:
    for one in equipment:
        if one.change != "in place":
            sign = 1.0 if one.change == "put in" else -1.0
            yield Part(one.name, Weighed(sign * float(one.weight), one.arm.inch, float(one.weight_u or 0.0)))


def _negligible(
    before: Weighed,
    after: Weighed,
    parts: Sequence[Part],
    given: FleetBalance,
    envelope: Envelope | None,
    shop: ShopTables | None,
) -> Iterator[Finding]:
    def looked_up(key: str) -> Cited:
        return limit(key, shop)

    chord_in = given.mean_chord.inch if given.mean_chord and not given.rotorcraft else None
    yield from negligible_findings(
        before,
        after,
        looked_up,
        change_lb=sum(part.weighed.weight_lb for part in parts),
        u_lb=sum(part.weighed.u_lb for part in parts),
        chord_in=chord_in,
        range_in=envelope.widest_in if envelope and given.rotorcraft else None,
        may_count=all(part.may_count for part in parts),
    )


def _cases(
    empty: Weighed, given: FleetBalance, envelope: Envelope | None, shop: ShopTables | None
) -> Iterator[Case]:
    loads = loads_of(given, shop)
    if envelope is None or not loads:
        return
    for toward in TOWARDS:
        if case := adverse_case(empty, loads, envelope, toward):
            yield case
    yield from full_cases(empty, loads, envelope)


def _hinges(weight: AircraftWeight, given: FleetBalance, sides: Iterable[Change]) -> Iterator[Hinge]:
    if given.surface is None:
        return
    for change in sides:
        assert change.side  # it is a job's
        measured = {"left": weight.hinge_left, "right": weight.hinge_right}.get(change.side)
        before_in_lb = None if measured is None else float(measured)
        yield hinge_of(change, given.surface, before_in_lb=before_in_lb, side=change.side)
