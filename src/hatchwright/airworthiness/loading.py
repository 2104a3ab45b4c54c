"""How an aircraft is loaded: the loading that is worst forward, the worst rearward, and those with one thing full.

Method: [AC43.13-1B], par. 10-16 to 10-18. What lies ahead of the forward limit is aboard at its most, what lies behind
it at its least, and the other way round for the rearward one. Taking things aboard in the order of their arms passes
through the worst loading of each weight, so that a limit that changes with weight, and the most that the aircraft may
weigh, are held to as well: docs/theory/balance.md.
"""

from __future__ import annotations

from collections.abc import Callable, Iterator, Sequence
from itertools import pairwise
from typing import Literal

from msgspec import Struct

from hatchwright.airworthiness.balance import Balance, Weighed, balance_of
from hatchwright.airworthiness.envelope import Envelope
from hatchwright.errors import EntryError
from hatchwright.job.fleet.weight import FleetBalance, LoadItem, LoadKind
from hatchwright.tables.limits import limit
from hatchwright.tables.table import ShopTables

Toward = Literal["forward", "aft"]
TOWARDS: tuple[Toward, ...] = ("forward", "aft")

_FILLED_AFTER: dict[LoadKind, tuple[LoadKind, ...]] = {
    "fuel": ("passengers", "baggage"),
    "passengers": ("fuel", "baggage"),
    "baggage": ("fuel", "passengers"),
}
"""What is full, and what fills the rest of the weight, in this order. Source: [AC43.13-1B], par. 10-18."""


_OF_A_GALLON: dict[LoadKind, str] = {"fuel": "fuel_weight_of_gallon", "oil": "oil_weight_of_gallon"}
"""What is entered by volume, and the limit that says what a gallon of it weighs."""


class Load(Struct, frozen=True):
    """One thing that goes aboard.

    Args:
        arm_in: aft of the datum [in].
        least_lb: that is aboard in any case [lb].
        most_lb: that may be aboard [lb].
        each_lb: weight of one, where it comes in whole ones, such as persons; 0 where it does not [lb].
    """

    name: str
    kind: LoadKind
    arm_in: float
    least_lb: float
    most_lb: float
    each_lb: float = 0.0


class Aboard(Struct, frozen=True):
    """How much of one thing is aboard."""

    load: Load
    weight_lb: float


class Case(Struct, frozen=True):
    """One loading.

    Args:
        name: "forward", "aft", or what is full.
        forward_in: forward limit at its weight [in].
        aft_in: rearward limit at its weight [in].
    """

    name: Toward | LoadKind
    aboard: tuple[Aboard, ...]
    balance: Balance
    forward_in: float
    aft_in: float

    @property
    def total(self) -> Weighed:
        """Aircraft and all that is aboard."""
        return self.balance.total


def minimum_fuel_lb(power_hp: float, shop: ShopTables | None = None) -> float:
    """The least fuel that balance is worked out with, by maximum power except for takeoff [lb].

    >>> minimum_fuel_lb(165.0)
    82.5
    """
    return power_hp * limit("minimum_fuel", shop).value


def loads_of(given: FleetBalance, shop: ShopTables | None = None) -> tuple[Load, ...]:
    """What goes aboard, volumes weighed and the least fuel worked out where only the power was entered.

    Raises:
        EntryError: the least of an item is more than its most.
    """
    return tuple(_load(one, given, shop) for one in given.loading)


def _load(one: LoadItem, given: FleetBalance, shop: ShopTables | None) -> Load:
    if one.volume is None:
        assert one.most is not None  # an item gives one of the two
        most_lb = float(one.most)
    else:
        most_lb = float(one.volume) * limit(_OF_A_GALLON[one.kind], shop).value
    least_lb = float(one.least or 0.0)
    if one.least is None and one.kind == "fuel" and given.power is not None:
        least_lb = minimum_fuel_lb(float(given.power), shop)
    if one.least is None and one.kind == "oil":
        least_lb = most_lb
    if least_lb > most_lb:
        raise EntryError.saying("balance.least_over_most", where=one.name)
    return Load(one.name, one.kind, one.arm.inch, least_lb, most_lb, float(one.each or 0.0))


def adverse_case(empty: Weighed, loads: Sequence[Load], limits: Envelope, toward: Toward) -> Case | None:
    """The loading whose moment about a limit is the worst.

    Returns:
        Case | None: None where even the least of everything is more than the aircraft may weigh.
    """
    is_forward = toward == "forward"
    order = sorted(range(len(loads)), key=lambda at: loads[at].arm_in if is_forward else -loads[at].arm_in)
    least_lb = empty.weight_lb + sum(one.least_lb for one in loads)
    room_lb = limits.heaviest_lb - empty.u_lb - least_lb
    if room_lb < 0.0:
        return None

    def amounts_lb(more_lb: float) -> list[float]:
        found = [one.least_lb for one in loads]
        for at in order:
            taken_lb = min(more_lb, loads[at].most_lb - loads[at].least_lb)
            found[at] += taken_lb
            more_lb -= taken_lb
        return found

    def inside_lb_in(more_lb: float) -> float:
        """How far inside its limit the aircraft is with so much more than the least aboard, as a moment."""
        aboard = zip(loads, amounts_lb(more_lb), strict=True)
        moment_lb_in = empty.moment_lb_in + sum(one.arm_in * amount_lb for one, amount_lb in aboard)
        weight_lb = least_lb + more_lb
        limit_in = limits.forward_at(weight_lb) if is_forward else limits.aft_at(weight_lb)
        return (moment_lb_in - weight_lb * limit_in) * (1.0 if is_forward else -1.0)

    stops_lb = [0.0]
    for at in order:
        stops_lb.append(min(room_lb, stops_lb[-1] + loads[at].most_lb - loads[at].least_lb))
    bends_lb = (one - least_lb for one in limits.weights_lb)
    stops_lb = sorted({*stops_lb, *(one for one in bends_lb if 0.0 < one < stops_lb[-1])})
    turns_lb = (_lowest_between(*ends, inside_lb_in) for ends in pairwise(stops_lb))
    tried_lb = (*stops_lb, *(one for one in turns_lb if one is not None))
    worst_lb = min(tried_lb, key=lambda more_lb: (round(inside_lb_in(more_lb), 6), more_lb))
    return _case(toward, empty, loads, amounts_lb(worst_lb), limits)


def _lowest_between(first: float, last: float, of: Callable[[float], float]) -> float | None:
    """Where a parabola is lowest between two ends, None where it is not lower there."""
    low, middle, high = of(first), of((first + last) / 2.0), of(last)
    bend = low - 2.0 * middle + high
    share = (3.0 * low - 4.0 * middle + high) / (4.0 * bend) if bend > 0.0 else 0.0
    return first + share * (last - first) if 0.0 < share < 1.0 else None


def full_cases(empty: Weighed, loads: Sequence[Load], limits: Envelope) -> Iterator[Case]:
    """The loadings with full fuel, all passengers and full baggage, as far as there are such things.

    Whatever else there is stands at its most; what fills the rest of the weight goes in as it stands in the list,
    persons whole. One that is too heavy with the least of all else is a case all the same.
    """
    for full, others in _FILLED_AFTER.items():
        if not any(one.kind == full for one in loads):
            continue
        amounts_lb = [one.least_lb if one.kind in others else one.most_lb for one in loads]
        room_lb = limits.heaviest_lb - empty.u_lb - empty.weight_lb - sum(amounts_lb)
        for at, one in sorted(enumerate(loads), key=lambda pair: _turn(pair[1].kind, others)):
            if one.kind in others:
                more_lb = max(0.0, min(one.most_lb - one.least_lb, room_lb))
                if one.each_lb:
                    more_lb = one.each_lb * int(more_lb / one.each_lb + 1e-9)
                amounts_lb[at] += more_lb
                room_lb -= more_lb
        yield _case(full, empty, loads, amounts_lb, limits)


def _turn(kind: LoadKind, others: tuple[LoadKind, ...]) -> int:
    return others.index(kind) if kind in others else len(others)


def _case(
    name: Toward | LoadKind,
    empty: Weighed,
    loads: Sequence[Load],
    amounts_lb: Sequence[float],
    limits: Envelope,
) -> Case:
    aboard = tuple(Aboard(one, amount_lb) for one, amount_lb in zip(loads, amounts_lb, strict=True))
    each = (Weighed(one.weight_lb, one.load.arm_in) for one in aboard if one.weight_lb)
    balance = balance_of((empty, *each))
    forward_in, aft_in = limits.narrowest(balance.total.weight_lb, balance.total.u_lb)
    return Case(name, aboard, balance, forward_in, aft_in)
