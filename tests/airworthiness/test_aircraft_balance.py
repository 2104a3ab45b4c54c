"""An aircraft before and after: arms from the frame of the job, both sides, the scale, and a movable surface.

Figures of ALDER and ELDER are those of their scenario sheets (invented jobs, arithmetic made independently).
"""

from __future__ import annotations

import pytest

from hatchwright.airworthiness.aircraft_balance import aircraft_balance
from hatchwright.airworthiness.balance import Weighed
from hatchwright.airworthiness.balance_parts import Change, Origin, Part, aft_of_origin, change_of
from hatchwright.airworthiness.hinge import hinge_findings, hinge_of
from hatchwright.errors import EntryError, JobError
from hatchwright.job.entered_file import read_entries
from hatchwright.job.file import load_job, read_job
from hatchwright.job.fleet.weight import AircraftWeight, FleetBalance
from hatchwright.job.frame import FrameEntry, make_frame
from hatchwright.job.other_side import other_side
from hatchwright.job.text_file import load_text
from hatchwright.judged import Status
from hatchwright.layout.lay_out import lay_out
from tests.conftest import EXAMPLES

WEIGHT = {"empty_weight": "1438.0", "empty_arm": "85.6"}
GIVEN = {"datum": "firewall", "job_arm": "93.0", "mean_chord": "58.0"}
SURFACE = {"name": "elevator", "hinge": "0", "nose_least": "0.00", "nose_most": "2.50"}


def entered(model, data, **more):
    return read_entries(model, {**data, **more}, unit="in", manual="")


def worked(layouts, weight=None, **more):
    return aircraft_balance(
        entered(AircraftWeight, WEIGHT, **(weight or {})), entered(FleetBalance, GIVEN, **more), layouts
    )


def statuses(balance):
    return {one.subject.id: one.status for one in (*balance.negligible, *balance.findings)}


@pytest.fixture(scope="module")
def wings(alder):
    return lay_out(alder), lay_out(other_side(alder))


@pytest.fixture(scope="module")
def elder():
    return lay_out(load_job(EXAMPLES / "elder.toml"))


@pytest.fixture(scope="module")
def elevator():
    """ELDER with screws 1/2 long, whose length its job leaves open."""
    text = load_text(EXAMPLES / "elder.toml")
    return lay_out(
        read_job(text.replace("\ncount = 8\n", '\ncount = 8\nlength = "1/2"\n'), name="elder.toml")
    )


@pytest.mark.parametrize(
    ("x", "y", "surface", "side", "aft_in"),
    [
        ("OUTBD", "AFT", "lower", "left", 3.0),
        ("OUTBD", "AFT", "lower", "right", 3.0),
        ("FWD", "INBD", "upper", "right", -2.0),
        ("AFT", "UP", "side", "left", 2.0),
        ("DOWN", "FWD", "side", "right", -3.0),
    ],
)
def test_aft_is_aft_on_both_sides(x, y, surface, side, aft_in):
    """Of the point X 2, Y 3."""
    frame = make_frame(FrameEntry(origin="rib", x=x, y=y), side=side, surface=surface)
    assert aft_of_origin(frame, (2.0, 3.0)) == aft_in


def test_alder_weighs_what_its_sheet_says_where_it_says(wings):
    """Ring .127, skin .063, cover .0615 lb; centered 4.5 behind the origin, on both sides alike."""
    left, right = (change_of(one, Origin(93.0)) for one in wings)
    parts = {part.name: part.weighed for part in left.parts}
    assert parts["doubler"].weight_lb == pytest.approx(0.127, abs=0.0005)
    assert parts["skin taken away"].weight_lb == pytest.approx(-0.063, abs=0.0006)
    assert parts["cover"].weight_lb == pytest.approx(0.0615, abs=0.0001)
    assert all(one.arm_in == pytest.approx(97.5, abs=0.01) for one in parts.values())
    assert (left.side, right.side) == ("left", "right")
    assert right.weight_lb == pytest.approx(
        left.weight_lb, abs=0.001
    )  # the left was measured, the right is drawn
    balance = worked(wings)
    after = balance.after.total
    assert after.weight_lb == pytest.approx(1438.0 + left.weight_lb + right.weight_lb)
    assert after.moment_lb_in == pytest.approx(1438.0 * 85.6 + left.moment_lb_in + right.moment_lb_in)
    assert balance.change.weight_lb < 1.0  # both wings, by the sheet


def test_an_estimate_by_a_density_from_memory_is_weighed_before_it_is_negligible(wings):
    assert not worked(wings).is_negligible
    weighed = [
        {"side": side, "put_in": "0.345", "taken_out": "0.0635", "u": "0.001"} for side in ("left", "right")
    ]
    balance = worked(wings, {"weighed": weighed})
    assert balance.is_negligible
    assert balance.after.total.weight_lb == pytest.approx(1438.0 + 2 * (0.345 - 0.0635))
    assert balance.after.total.u_lb == pytest.approx(0.004)
    heavy = worked(wings, {"weighed": [{**weighed[0], "put_in": "1.2"}]})
    assert heavy.negligible[0].status is Status.CAUTION


def test_without_a_chord_or_a_loading_nothing_is_passed_in_silence(wings):
    answers = statuses(worked(wings, mean_chord=None))
    assert answers["quick.cg.cg_change"] is Status.UNKNOWN
    assert answers["balance.adverse"] is Status.UNKNOWN
    answers = statuses(worked(wings, empty_forward="80", empty_aft="88"))
    assert "balance.adverse" not in answers  # inside an approved empty CG range
    answers = statuses(worked(wings, empty_forward="80", empty_aft="85.601"))
    assert (answers["balance.aft_limit"], answers["balance.adverse"]) == (Status.CAUTION, Status.UNKNOWN)


def test_elder_s5_8_the_elevator_ends_outside_its_limit(elevator):
    """Parts net .078 lb, moment .483 in-lb aft: .35 nose heavy becomes -.133, limit 0.00 to 2.50."""
    surface = entered(FleetBalance, GIVEN, surface=SURFACE).surface
    net = Change("left", (Part("net", Weighed(0.078, 0.0), 6.2),))
    hinge = hinge_of(net, surface, before_in_lb=0.35, side="left")
    assert hinge.after_in_lb == pytest.approx(-0.133, abs=0.001)
    assert [one.status for one in hinge_findings(hinge)] == [Status.STOP, Status.PASS]
    balance = worked((elevator,), {"hinge_left": "0.35"}, surface=SURFACE)
    (drawn,) = balance.hinges  # the same by the geometry of the job, screws included
    assert drawn.change_in_lb == pytest.approx(-0.483, abs=0.02)
    assert drawn.after_in_lb == pytest.approx(-0.133, abs=0.02)
    assert balance.worst is Status.STOP


def test_what_is_not_known_of_a_surface_never_passes(elder, elevator):
    answers = statuses(worked((elevator,)))
    assert answers["balance.surface"] is Status.UNKNOWN  # no hinge line entered
    answers = statuses(worked((elevator,), surface=SURFACE))
    assert answers["balance.hinge_subject"] is Status.UNKNOWN  # nobody balanced it before
    short = worked((elder,), {"hinge_left": "2.0"}, surface=SURFACE)
    assert (
        statuses(short)["balance.hinge_subject"] is Status.UNKNOWN
    )  # its screws have no length, thus no weight
    scale = {"side": "left", "put_in": "0.086", "taken_out": "0.008", "u": "0.0005"}
    whole = worked((elder,), {"hinge_left": "2.0", "weighed": [scale]}, surface=SURFACE)
    assert {statuses(whole)[f"balance.hinge_{end}"] for end in ("tail", "nose")} == {Status.PASS}
    assert whole.hinges[0].after_in_lb == pytest.approx(2.0 - 0.078 * 6.2, abs=0.002)


def test_a_limit_that_is_passed_tells_the_ballast(wings):
    """Behind the limit by hand: 1438.56 lb and a pilot of 200 lb at 120; ballast at 20 brings it back."""
    loading = [{"name": "pilot", "kind": "crew", "arm": "120", "most": "200", "least": "200"}]
    limits = [{"weight": "2000", "forward": "80", "aft": "89"}]
    balance = worked(wings, loading=loading, limits=limits, ballast_arm="20")
    outside = next(one for one in balance.findings if one.status is Status.STOP)
    cg_in = (balance.after.total.moment_lb_in + 200 * 120) / (balance.after.total.weight_lb + 200)
    assert outside.value == pytest.approx(cg_in)
    (told,) = (one for one in outside.advice if one.id == "balance.ballast")
    needed_lb = dict(told.values)["weight"].value
    exact_lb = (balance.after.total.weight_lb + 200) * (cg_in - 89) / (89 - 20)
    assert exact_lb <= needed_lb <= exact_lb * 1.01


SEAT = {"name": "seat", "kind": "passengers", "arm": "85"}
TANKS = [{"name": name, "kind": "fuel", "arm": "95", "volume": "20 gal"} for name in ("left", "right")]
AT_2000 = {"weight": "2000", "forward": "80", "aft": "90"}
SCALE = {"side": "left", "put_in": "1", "taken_out": "0"}


@pytest.mark.parametrize(
    ("model", "data", "why"),
    [
        (AircraftWeight, {"empty_weight": "1438.0"}, "weighed_once"),
        (
            AircraftWeight,
            {**WEIGHT, "scales": [{"point": "nose", "reading": "340", "arm": "0"}]},
            "weighed_once",
        ),
        (AircraftWeight, {}, "weighed_once"),
        (
            AircraftWeight,
            {"scales": [{"point": "nose", "reading": "10", "tare": "300", "arm": "20"}]},
            "tare_over",
        ),
        (AircraftWeight, {**WEIGHT, "weighed": [SCALE, SCALE]}, "side_twice"),
        (FleetBalance, {**GIVEN, "mean_chord": "0"}, "no_chord"),
        (FleetBalance, {**GIVEN, "limits": [{**AT_2000, "aft": "80"}]}, "limits_crossed"),
        (FleetBalance, {**GIVEN, "limits": [AT_2000, AT_2000]}, "limits_order"),
        (FleetBalance, {**GIVEN, "empty_aft": "90"}, "half_range"),
        (FleetBalance, {**GIVEN, "empty_forward": "91", "empty_aft": "90"}, "limits_crossed"),
        (FleetBalance, {**GIVEN, "surface": {**SURFACE, "nose_most": "-1"}}, "hinge_crossed"),
        (FleetBalance, {**GIVEN, "loading": [SEAT]}, "one_most"),
        (FleetBalance, {**GIVEN, "loading": [{**SEAT, "volume": "9 gal"}]}, "volume_of"),
        (FleetBalance, {**GIVEN, "loading": [{**SEAT, "most": "1", "least": "2"}]}, "least_over_most"),
        (FleetBalance, {**GIVEN, "loading": [{**SEAT, "most": "170", "each": "0"}]}, "each_zero"),
        (FleetBalance, {**GIVEN, "power": "165", "loading": TANKS}, "which_tank"),
    ],
)
def test_what_cannot_be_is_refused(model, data, why):
    with pytest.raises(JobError) as refused:
        entered(model, data)
    (fault,) = refused.value.faults
    assert fault.what.id == f"balance.{why}"


def test_parts_that_weigh_nothing_on_the_scale_are_refused(wings):
    """A doubler and a cover of 0 lb would pass as a negligible change."""
    with pytest.raises(EntryError) as refused:
        worked(wings, {"weighed": [{"side": "left", "put_in": "0", "taken_out": ".0631"}]})
    assert "balance.weighs_nothing" in str(refused.value.what)


def test_less_fuel_in_the_tank_than_the_least_is_refused(wings):
    with pytest.raises(EntryError):
        worked(wings, limits=[AT_2000], power="400", loading=[{**TANKS[0], "volume": "20 gal"}])


def test_both_wings_balance_each_other_sideways(wings):
    """ALDER lies 5.5 outboard of an origin at butt line 60: the right wing's parts at 65.5, the left's at -65.5."""
    left, right = (change_of(one, Origin(93.0, butt_line_in=60.0)) for one in wings)
    assert [part.lateral_in for part in right.parts] == pytest.approx([65.5] * len(right.parts), abs=0.01)
    assert [part.lateral_in for part in left.parts] == pytest.approx([-65.5] * len(left.parts), abs=0.01)
    assert right.lateral_lb_in == pytest.approx(65.5 * right.weight_lb, abs=0.01)
    assert worked(wings, job_butt_line="60").change.lateral_lb_in == pytest.approx(0.0, abs=0.1)
    assert worked(wings).change.lateral_lb_in is None


def test_a_part_without_weight_on_the_scale_may_lie_anywhere_in_the_parts(elder):
    """ELDER's screws are on the scale: what they may weigh lies somewhere along the 3.5 in of its doubler."""
    estimated = change_of(elder, Origin(0.0))
    put_in_lb = sum(part.weighed.weight_lb for part in estimated.parts if part.weighed.weight_lb > 0.0)
    scale = {"side": "left", "put_in": f"{put_in_lb + 0.02:.4f}", "taken_out": "0.008"}
    weight = entered(AircraftWeight, WEIGHT, weighed=[scale])
    put_in, cutout = change_of(elder, Origin(0.0), weight.weighed_side("left")).parts
    u_lb = sum(part.weighed.u_lb for part in estimated.parts if part.weighed.weight_lb > 0.0)
    assert put_in.aft_u_in >= 3.5 * (0.02 + u_lb) / (put_in_lb + 0.02) * 0.999
    hinge = hinge_of(
        Change("left", (put_in, cutout)),
        entered(FleetBalance, GIVEN, surface=SURFACE).surface,
        before_in_lb=0.6,
        side="left",
    )
    assert hinge.u_in_lb >= (put_in_lb + 0.02) * put_in.aft_u_in
