"""Worked examples of [AC43.13-1B] chapter 10, [FAA-H-8083-1B] and the handbook's weight-shift text, as printed.

Each is worked out by what works out an aircraft: its loading, its scales, its change. The tolerance is half of the last
printed place, a little more where the document rounds on the way. MEMORY marks what was recomputed from memory,
unverified; WB-03 is misprinted, its own sums say another figure.
"""

from __future__ import annotations

import pytest

from hatchwright.airworthiness.aircraft_balance import weighings
from hatchwright.airworthiness.balance import Weighed, balance_of
from hatchwright.airworthiness.ballast import ballast_lb
from hatchwright.airworthiness.envelope import envelope_of
from hatchwright.airworthiness.loading import adverse_case, full_cases, loads_of
from hatchwright.airworthiness.negligible import negligible_findings
from hatchwright.job.entered_file import read_entries
from hatchwright.job.fleet.weight import AircraftWeight, FleetBalance
from hatchwright.judged import Status
from hatchwright.tables.limits import limit

EMPTY = Weighed(1169.0, 10.6)

LOADING = {
    "datum": "as the circular has it",
    "job_arm": "0",
    "power": "165",
    "limits": [{"weight": "2100", "forward": "8.5", "aft": "21.9"}],
    "loading": [
        {"name": "oil", "kind": "oil", "arm": "-49", "most": "17"},
        {"name": "pilot", "kind": "crew", "arm": "16", "most": "170", "least": "170"},
        {"name": "front passenger", "kind": "passengers", "arm": "16", "most": "170", "each": "170"},
        {"name": "rear passengers", "kind": "passengers", "arm": "48", "most": "340", "each": "170"},
        {"name": "fuel", "kind": "fuel", "arm": "22", "volume": "40 gal"},
        {"name": "baggage", "kind": "baggage", "arm": "75.5", "most": "100"},
    ],
}
"""The aircraft of figures 10-10 to 10-14. Its limits and 40 gallons are from memory, and decide no printed figure but
through the maximum weight, which is the printed total of figure 10-13."""


@pytest.fixture(scope="module")
def aircraft() -> FleetBalance:
    return read_entries(FleetBalance, LOADING, unit="in", manual="")


def cases_of(given):
    limits = envelope_of(given.limits)
    return {case.name: case for case in full_cases(EMPTY, loads_of(given), limits)}


def test_wb_03_maximum_passengers_where_the_figure_is_misprinted(aircraft):
    """Figure 10-13, page 10-17: 38,466 / 2,100; it prints 18.6, which its own sums don't give."""
    case = cases_of(aircraft)["passengers"]
    assert case.total.weight_lb == pytest.approx(2100.0)
    assert {one.load.name: one.weight_lb for one in case.aboard}["fuel"] == pytest.approx(234.0)
    assert case.total.moment_lb_in == pytest.approx(38_466.0, abs=1.0)
    assert case.total.arm_in == pytest.approx(38_466 / 2_100, abs=0.001)
    assert abs(case.total.arm_in - 18.6) > 0.2


def test_wb_04_maximum_baggage(aircraft):
    """Figure 10-14, page 10-18: totals 2,036 and 37,988, CG 18.7."""
    case = cases_of(aircraft)["baggage"]
    assert case.total.weight_lb == pytest.approx(2036.0)
    assert case.total.moment_lb_in == pytest.approx(37_988.0, abs=1.0)
    assert case.total.arm_in == pytest.approx(18.7, abs=0.06)


def test_wb_05_and_06_minimum_fuel_and_oil(aircraft):
    """Par. 10-2p and 10-15, figure 10-10: 165 METO horsepower are 83 lb of fuel, 9 qt of oil 17 lb, both rounded."""
    oil = {"name": "oil", "kind": "oil", "arm": "-49", "volume": "9 qt"}
    data = {**LOADING, "loading": [oil, LOADING["loading"][4]]}
    oil_, fuel = loads_of(read_entries(FleetBalance, data, unit="in", manual=""))
    assert (fuel.least_lb, fuel.most_lb) == pytest.approx((83.0, 240.0), abs=0.6)
    assert (oil_.least_lb, oil_.most_lb) == pytest.approx((17.0, 17.0), abs=0.6)


def test_the_adverse_loadings_are_those_of_the_circular(aircraft):
    """Par. 10-16 and 10-17 by hand: forward of 8.5 lies the oil alone; behind 21.9 lie rear seats, fuel and baggage.

    Fuel at 22 is behind the rearward limit, so that it is full there and at its 82.5 lb forward.
    """
    limits = envelope_of(aircraft.limits)
    loads = loads_of(aircraft)
    forward = adverse_case(EMPTY, loads, limits, "forward")
    aft = adverse_case(EMPTY, loads, limits, "aft")
    by_hand = (1169 * 10.6 + 17 * -49 + 170 * 16 + 82.5 * 22) / (1169 + 17 + 170 + 82.5)
    assert forward.total.arm_in == pytest.approx(by_hand)
    by_hand = (1169 * 10.6 + 17 * -49 + 170 * 16 + 340 * 48 + 240 * 22 + 100 * 75.5) / 2036
    assert aft.total.arm_in == pytest.approx(by_hand)


@pytest.mark.parametrize(
    ("weights", "printed", "within"),
    [
        (((8000, 77), (-100, 30), (100, 150)), 78.5, 0.01),  # WB-07: moment 616,000, 100 lb from 30 to 150
        (((6860, 80.0), (140, 150)), 81.4, 0.06),  # WB-09, MEMORY
        (((6100, 79.9), (-100, 150)), 78.7, 0.06),  # WB-10, MEMORY
        (((100, 50), (100, 90), (200, 150)), 110.0, 1e-9),  # WB-19, MEMORY
        # WB-21 and WB-22: our own, no published example
        (((1438.0, 85.6), (-0.19, 93.0), (0.42, 93.0), (0.31, 93.0), (0.09, 93.0)), 85.603241, 5e-7),
        (((1438.0, 85.6), (1.94, 93.0), (1.94, 93.0)), 85.619913, 5e-7),
    ],
)
def test_moments(weights, printed, within):
    assert balance_of(Weighed(*map(float, one)) for one in weights).total.arm_in == pytest.approx(
        printed, abs=within
    )


@pytest.mark.parametrize(
    ("points", "printed"),
    [
        # WB-12: nose wheel 340 lb net, 78 ahead of the mains, 2,006 lb; relative to the main wheels
        ((("mains", "1666", "0"), ("nose", "340", "-78")), -13.2),
        # WB-14: the same from a datum 75 behind the main wheels; D and the answer MEMORY
        ((("mains", "1666", "-75"), ("nose", "340", "-153")), -88.2),
        # WB-16: tail wheel 67 lb, 222 behind the mains, datum 80 behind them, 1,218 lb; MEMORY
        ((("mains", "1151", "-80"), ("tail", "67", "142")), -67.8),
        # WB-17: three wheels, tares of 16, 16 and 8 lb still on the scales; 340 and 2,006 lb seen, the rest MEMORY
        ((("left", "846", "46"), ("right", "852", "46"), ("nose", "348", "-32")), 32.8),
    ],
)
def test_weighing(points, printed):
    tares = {"left": "16", "right": "16", "nose": "8"} if points[0][0] == "left" else {}
    scales = [
        {"point": point, "reading": reading, "arm": arm, "tare": tares.get(point, "0")}
        for point, reading, arm in points
    ]
    weight = read_entries(AircraftWeight, {"scales": scales}, unit="in", manual="")
    assert balance_of(weighings(weight)).total.arm_in == pytest.approx(printed, abs=0.06)


def test_wb_20_permanent_ballast():
    """1,876 lb at 32.2, limit 33.0, ballast at 228: 7.7 lb; station and answer MEMORY. With it aboard it is there."""
    before = Weighed(1876.0, 32.2)
    needed_lb = ballast_lb(before, limit_in=33.0, ballast_arm_in=228.0)
    assert needed_lb == pytest.approx(7.7, abs=0.06)
    assert balance_of((before, Weighed(needed_lb, 228.0))).total.arm_in == pytest.approx(33.0)
    assert ballast_lb(before, limit_in=33.0, ballast_arm_in=10.0) is None  # the wrong way
    unsure_lb = ballast_lb(Weighed(1876.0, 32.2, 2.0, 0.05), limit_in=33.0, ballast_arm_in=228.0)
    assert unsure_lb == pytest.approx(1878.0 * 0.85 / 195.0)  # by hand, both as far out as they may be


@pytest.mark.parametrize(("added_lb", "is_negligible"), [(0.63, True), (3.88, False)])
def test_wb_21_and_22_against_one_pound(added_lb, is_negligible):
    before, after = Weighed(1438.0, 85.6), balance_of((Weighed(1438.0, 85.6), Weighed(added_lb, 93.0))).total
    found = tuple(negligible_findings(before, after, limit, change_lb=added_lb, chord_in=58.0))
    assert all(one.status is Status.PASS for one in found) is is_negligible


@pytest.mark.parametrize(
    ("empty_lb", "allowed_lb"), [(4999.9, 1.0), (5000.0, 2.0), (50_000.0, 2.0), (50_000.1, 5.0)]
)
def test_what_is_negligible_by_empty_weight(empty_lb, allowed_lb):
    """Par. 10-2c: 1 lb under 5,000 lb, 2 lb from there to 50,000, 5 lb above."""
    empty = Weighed(empty_lb, 100.0)
    (weight,) = negligible_findings(empty, empty, limit, change_lb=allowed_lb)
    assert (weight.limit, weight.status) == (allowed_lb, Status.PASS)
    (weight,) = negligible_findings(empty, empty, limit, change_lb=-1.001 * allowed_lb)
    assert weight.status is Status.CAUTION


@pytest.mark.parametrize(
    ("per", "share"), [({"chord_in": 60.0}, 0.0005), ({"range_in": 12.0}, 0.002)], ids=["wing", "rotor"]
)
def test_a_shift_is_less_than_its_share(per, share):
    """Par. 10-2c: less than .05 percent of the MAC; .2 percent of the CG range of a rotorcraft."""
    (limit_in,) = (one * share for one in per.values())
    for shift_in, status in ((0.999 * limit_in, Status.PASS), (limit_in, Status.CAUTION)):
        before, after = Weighed(1438.0, 85.0), Weighed(1438.0, 85.0 + shift_in)
        _, shift = negligible_findings(before, after, limit, change_lb=0.0, **per)
        assert shift.status is status
