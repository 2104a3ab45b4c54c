"""R933 to R945: a site survey against itself and its job, and R908 on it.

Closing, gaps and differences: closed forms of [JCGM 100:2008] 5.1.2 worked by hand beside each case. A thirty-second
between routes, an eighth before what lies behind and round a borescope hole: common practice, no source.
"""

from __future__ import annotations

import math
from typing import Any

import pytest

from hatchwright.judged import Status
from rules.cases import CAUTION, PASS, PLAIN, STOP, UNKNOWN, Case, cases, changed, judged
from told import advice_of, subject_of

ROWS = [
    {"name": "rib 3", "member": "rib", "x": "-5", "diameter": "1/8"},
    {"name": "rib 4", "member": "rib", "x": "6", "diameter": "1/8"},
    {"name": "spar", "member": "spar", "y": "-5"},
    {"name": "stringer", "member": "stringer", "y": "4"},
]


def route(name: str, rows: tuple[str, str], x: str, y: str) -> dict[str, Any]:
    return {"name": name, "x_from": rows[0], "x": x, "y_from": rows[1], "y": y}


ROUTES = [
    route("from rib 3", ("rib 3", "spar"), "5", "5"),
    route("from rib 4", ("rib 4", "stringer"), "6", "4"),
]
SURVEYED = {
    **PLAIN,
    "title": "with a survey",
    "site": {"u": ".01", "seen_from": "outside", "up": "FWD", "rows": ROWS, "routes": ROUTES},
}
"""The plain job about (0, 0), and a survey whose rows stand round it and whose routes both meet there."""

BAY = {"rows": [{**row, "member": row.get("member", "other")} for row in ROWS]}
ENTERED = {**SURVEYED, "bay": BAY}
"""The same with the bay as surveyed."""


def second_x(x: str, u: str = ".01") -> dict[str, Any]:
    """The second route taped otherwise from rib 4."""
    return {"site.u": u, "site.routes": [ROUTES[0], route("from rib 4", ("rib 4", "stringer"), x, "4")]}


def second_from(row: str, other: str) -> dict[str, Any]:
    """The second route from other rows, to the same center."""
    x, y = {"rib 3": "5", "rib 4": "6"}[row], {"spar": "5", "stringer": "4"}[other]
    return {"site.routes": [ROUTES[0], route("again", (row, other), x, y)]}


def corners(**taped: str) -> dict[str, Any]:
    return {"site.corners": {"ab": "4", "bc": "3", "cd": "4", "da": "3", "ac": "5", "bd": "5"} | taped}


def hazard(**more: object) -> dict[str, Any]:
    return {"site.hazards": [{"name": "wire bundle", "x_from": "-1", "x_to": "1", **more}]}


def hole(x: str, **more: object) -> dict[str, Any]:
    return {"site.borescope": {"center": [x, "0"], "diameter": "5/8", "u": ".0005"}, **more}


def twice_along(second: str) -> dict[str, Any]:
    """A row at 9, read again 8 farther on."""
    return {"site.rows": [*ROWS, {"name": "rib 5", "x": "9", "at": "0", "second": second, "second_at": "8"}]}


def with_route(row: str) -> dict[str, Any]:
    return {"site.routes": [*ROUTES, route("x", (row, "spar"), "1", "1")]}


THREE = [*ROWS, {"name": "rib 5", "member": "rib", "x": "1"}]


def far_from(rows: list[dict[str, Any]]) -> dict[str, Any]:
    """An opening drawn outside the surveyed rows along X, no route to its center, and a bay of 11 shown."""
    moved = {"opening.center": ["30", "0"], "site.routes": [], "rows.0.points": [["32.3", "0"]]}
    return {**moved, "site.rows": rows, "mandate": {"bay_x": "11"}}


def row_4(x: str) -> dict[str, Any]:
    return {"bay.rows": [BAY["rows"][0], {**BAY["rows"][1], "x": x}, *BAY["rows"][2:]]}


# A tape to rib 4 against the estimate, every u .01: the two routes have sqrt(2) .01 each, their mean .01; X of the mean
# less rib 4 holds half of rib 3, half of each tape and half of rib 4 less all of it: .01; the helper's tape .01 more.
TAPE_U = math.hypot(0.01, 0.01)

CASES = (
    Case("R933", PASS, SURVEYED, said="OUTBD at the right"),
    Case("R933", STOP, SURVEYED, {"site.right": "INBD"}, said="mirrored"),
    Case("R933", UNKNOWN, SURVEYED, {"site.up": None}, said="Two readings"),
    Case("R933", UNKNOWN, SURVEYED, {"site.seen_from": None}, said="X runs INBD"),
    Case("R933", UNKNOWN, SURVEYED, {"site.seen_from": "inside"}, said="one arrow"),
    Case("R933", PASS, SURVEYED, {"site.seen_from": "inside", "site.right": "INBD"}),
    Case("R933", UNKNOWN, SURVEYED, {"site.up": "UP"}, said="doesn't lie in this skin"),
    # u of a triangle is sqrt(3) .0005 = .00087
    Case("R934", PASS, SURVEYED, corners(ac="6.999", u=".0005"), of="ABC", value=-0.001, limit=0.0),
    Case("R934", UNKNOWN, SURVEYED, corners(ac="7", u=".0005"), of="ABC"),
    Case("R934", STOP, SURVEYED, corners(ac="7.001", u=".0005"), of="ABC", said="Tape them again"),
    # about a rectangle of 4 x 3 one lack of closing is AB + CD + (3/4)(BC + DA) - (5/4)(AC + BD), so that its u is
    # .01 sqrt(2 + 2 9/16 + 2 25/16) = .025
    Case("R935", PASS, SURVEYED, corners(), value=0.0),
    Case("R935", PASS, SURVEYED, corners(cd="4.0249")),
    Case("R935", STOP, SURVEYED, corners(cd="4.0259"), said="wrong"),
    Case("R935", CAUTION, SURVEYED, {"site.corners": {"ab": "4", "bc": "3"}}, said="2 of six"),
    Case("R935", CAUTION, SURVEYED, said="none taped"),
    Case("R935", STOP, SURVEYED, corners(ac="7.2"), said="four-sided bay"),
    # two readings of .01 differ by up to .01414
    Case("R936", PASS, SURVEYED, said="4 landmarks"),
    Case("R936", PASS, SURVEYED, {"site.rows": [*ROWS, {"name": "Rib  4", "x": "6.0141"}]}, of="read"),
    Case("R936", STOP, SURVEYED, {"site.rows": [*ROWS, {"name": "rib 4", "x": "6.0152"}]}, of="read"),
    Case("R936", UNKNOWN, SURVEYED, {"site.rows": [], "site.routes": []}, said="without a rivet row"),
    Case("R937", PASS, SURVEYED, twice_along("9.0141")),
    Case("R937", CAUTION, SURVEYED, twice_along("9.0152"), said="isn't parallel"),
    # four readings of .0004 are in the gap along X: .0008
    Case("R938", PASS, SURVEYED, second_x("5.9696", ".0004"), value=0.0304, limit=0.03125),
    Case("R938", PASS, SURVEYED, second_x("5.96875", ".0004"), value=0.03125),
    # four readings of .0156 and .0157: the gap has .0312 and .0314 as u
    Case("R938", PASS, SURVEYED, second_x("6", ".0156"), value=0.0),
    Case("R938", CAUTION, SURVEYED, second_x("6", ".0157"), value=0.0, said="could hide"),
    Case("R938", STOP, SURVEYED, second_x("5.9679", ".0004"), said="Don't mark it"),
    Case("R938", CAUTION, SURVEYED, second_x("6", ".03"), value=0.0, said="finer rule"),
    Case("R938", PASS, SURVEYED, {"site.gap": "1/16", **second_x("5.9605")}, limit=0.0625),
    Case("R938", UNKNOWN, SURVEYED, {"site.routes": ROUTES[:1]}, said="one route"),
    Case("R938", UNKNOWN, SURVEYED, {"site.routes": []}, said="no route"),
    Case("R938", UNKNOWN, SURVEYED, second_from("rib 4", "spar"), of="taped from spar alone", said="different"),
    Case("R938", UNKNOWN, SURVEYED, second_from("rib 3", "stringer"), of="center along X, taped from rib 3"),
    Case("R938", UNKNOWN, SURVEYED, with_route("rib 9"), of="route x", said="rib 9"),
    # four readings of .01: the gap has .01 as standard uncertainty
    Case("R939", PASS, SURVEYED, second_x("5.976"), value=2.4**2),
    Case("R939", CAUTION, SURVEYED, second_x("5.975"), value=2.5**2, said="u is too small"),
    Case("R940", PASS, SURVEYED, {"site.tapes": [["rib 4", f"{6 + TAPE_U - 1e-4:.4f}"]]}, limit=TAPE_U),
    Case("R940", STOP, SURVEYED, {"site.tapes": [["rib 4", f"{6 + TAPE_U + 1e-3:.4f}"]]}, said="mark is off"),
    Case("R940", UNKNOWN, SURVEYED, {"site.tapes": [["rib 9", "6"]]}, said="rib 3, rib 4, spar or stringer"),
    Case("R941", PASS, SURVEYED, hazard(), said="inside the bay"),
    Case("R941", PASS, SURVEYED, hazard(x_from="6.0099", x_to="7")),
    Case("R941", UNKNOWN, SURVEYED, hazard(x_from="6.0105", x_to="7"), said="outside the bay"),
    # .032 skin, point .125 through: .157
    Case("R942", PASS, SURVEYED, hazard(depth=".2825", u=".0005"), value=0.1255, limit=0.125),
    Case("R942", UNKNOWN, SURVEYED, hazard(depth=".282", u=".0005"), value=0.125),
    Case("R942", STOP, SURVEYED, hazard(depth=".2814", u=".0005"), said="Only .124"),
    Case("R942", STOP, SURVEYED, hazard(depth=".1"), said="hits it"),
    # from inside the skin comes on top
    Case("R942", PASS, SURVEYED, hazard(depth=".2505", found_from="inside", u=".0005"), value=0.1255),
    Case("R942", UNKNOWN, SURVEYED, hazard(), said="depth not measured"),
    Case("R942", UNKNOWN, SURVEYED, hazard(depth=".4", moves=True, u=".0005"), said="It moves"),
    Case("R942", PASS, SURVEYED, hazard(x_from="3", x_to="4", depth=".1"), said="beside"),
    # the opening's edge is at X = 2, the hole's radius .3125
    Case("R943", PASS, SURVEYED, hole("1.562"), value=0.1255, limit=0.125),
    Case("R943", UNKNOWN, SURVEYED, hole("1.5625"), value=0.125),
    Case("R943", STOP, SURVEYED, hole("1.564"), said="toward the center"),
    Case("R943", STOP, SURVEYED, hole("2.5"), said="isn't in the future waste"),
    Case("R944", PASS, SURVEYED, hole("0"), said="no hazard near"),
    Case("R944", PASS, SURVEYED, hole("0", **hazard(depth=".2825", u=".0005")), value=0.1255),
    Case("R944", STOP, SURVEYED, hole("0", **hazard(depth=".2814", u=".0005"))),
    Case("R944", UNKNOWN, SURVEYED, hole("0", **hazard())),
    Case("R945", PASS, ENTERED, said="what the survey says"),
    Case("R945", PASS, ENTERED, row_4("6.0099")),
    Case("R945", STOP, ENTERED, row_4("6.0105"), said="rib 4, X: job 6.010"),
    Case("R945", PASS, ENTERED, {"site.thickness": [".033"], "skin.measured": ".032"}),
    Case("R945", STOP, ENTERED, {"site.thickness": [".0331"], "skin.measured": ".032"}, said="surveyed"),
    Case("R945", UNKNOWN, SURVEYED, said="not in the job"),
    Case("R945", STOP, ENTERED, {"opening.center": ["0.02", "0"]}, of="center", said="surveyed"),
    # the survey tells the bay where the job has no rows, with the u of its readings
    Case("R908", STOP, SURVEYED, {"mandate": {"bay_x": "8"}}, said="found 11.000"),
    Case("R908", PASS, SURVEYED, {"mandate": {"bay_x": "11"}}),
    Case("R908", UNKNOWN, SURVEYED, {"mandate": {"bay_x": "11.25"}}, value=0.25, said="can't be shown"),
    # two bays of three rows are not one: without a center that was taped, and drawn elsewhere, nothing is known
    Case("R908", UNKNOWN, SURVEYED, far_from(THREE), said="rows on both sides not entered"),
    Case("R908", PASS, SURVEYED, far_from(ROWS)),
)  # fmt: skip


@cases(*CASES)
def test_site(case):
    case.holds()


@pytest.mark.parametrize("code", sorted({case.code for case in CASES} - {"R908"}))
def test_a_job_without_a_survey_is_told_nothing(code):
    assert judged(code, PLAIN) == []


def test_a_hazard_that_the_job_holds_is_judged_there():
    """As near and as wide as it may lie within u .01."""
    there = {"bay.keep_outs": [{"name": "Wire bundle", "x_from": "-1.01", "x_to": "1.01", "depth": ".09"}]}
    assert judged("R942", SURVEYED, {**hazard(depth=".1"), **there}) == []


@pytest.mark.parametrize(
    "held",
    [
        {"x_from": "-1.01", "x_to": "1.01", "depth": ".1"},
        {"x_from": "-1.01", "x_to": "1", "depth": ".09"},
        {"x_from": "-1.01", "x_to": "1.01", "y_from": "2", "depth": ".09"},
        {"x_from": "-1.01", "x_to": "1.01"},
    ],
)
def test_a_hazard_that_the_job_holds_deeper_or_narrower_is_judged_with_its_u(held):
    """Not as near, not as wide, ended where nobody saw it end, or without depth: the survey has more to say."""
    there = {"bay.keep_outs": [{"name": "Wire bundle", **held}]}
    (found,) = judged("R942", SURVEYED, {**hazard(depth=".1"), **there})
    assert found.status is Status.STOP


def test_every_difference_is_told_by_name():
    bay = {"bay": {"rows": [{**BAY["rows"][0], "x": "-5.2"}, BAY["rows"][1]]}}
    told = [subject_of(one) for one in judged("R945", SURVEYED, bay)]
    assert "rib 3, X: job -5.200, surveyed -5.000" in told
    assert "spar, rivet row surveyed and not in the job" in told
    assert "stringer, rivet row surveyed and not in the job" in told


def test_the_sketch_names_both_readings():
    (found,) = judged("R933", SURVEYED, {"site.up": None})
    told = advice_of(found)
    assert "seen from outside with FWD up and OUTBD at the right, X runs OUTBD and Y AFT" in told
    assert "seen from inside with FWD up and INBD at the right, X runs INBD and Y AFT" in told


def test_a_closing_has_the_u_of_all_six():
    (found,) = judged("R935", SURVEYED, corners())
    by_hand = 0.01 * math.sqrt(2.0 + 2.0 * (3 / 4) ** 2 + 2.0 * (5 / 4) ** 2)
    assert found.limit == pytest.approx(by_hand, rel=1e-6)


def test_right_bay_comes_before_a_gate_that_stops():
    from hatchwright.job.file import read_job
    from hatchwright.layout.lay_out import lay_out
    from hatchwright.rules.check import check
    from hatchwright.verdict import StrengthState, judge_all
    from job_text import job_text

    job = changed(SURVEYED, {"mandate": {"bay_x": "8"}, "gate": {"pressure_skin": True, "tank_wall": True}})
    layout = lay_out(read_job(job_text(job)))
    lines = judge_all(check(layout), side="left", strength=StrengthState.NOT_ASKED).lines
    assert lines[0].worst.code == "R908"
    assert any(line.worst.code < "R908" and line.shelf == lines[0].shelf for line in lines[1:])
