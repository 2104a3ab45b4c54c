"""R924, R925: static test loads of a mounted part and the drag of an antenna.

Factors: [14CFR23], 23.561(b)(2) of the occupant and (b)(3) of an item of mass in the cabin, from Amdt 23-36 on (14 Sep
1988); down and the formula of the drag: [AC43.13-2A] chapters 1 and 3, from memory, so that nothing passes or stops by
them until the shop confirms them. The arithmetic is that of its worked examples, 7 lb and .135 ft2 at 250 mph.
"""

from __future__ import annotations

import pytest

from hatchwright.layout.lay_out import lay_out
from hatchwright.layout.survey import survey
from hatchwright.tables.shop import load_shop_tables
from hatchwright.workings import Grade
from rules.cases import CAUTION, PASS, RING, STOP, UNKNOWN, Case, cases, job_of, judged, rules
from told import advice_of, subject_of

OURS = "OUR-CIRCULAR,seen on the page,1977,the shop's own"


def mount(**more: object) -> dict:
    return {"mount": {"kind": "antenna", "base": ["3", "3"], **more}}


def seven(**test: object) -> dict:
    return mount(weight="7", category="utility", where="outside", test=test)


def cabin(certification: str, **test: object) -> dict:
    return mount(weight="7", category="utility", where="cabin", certification=certification, test=test)


HELD = {"down": "46.2", "up": "21", "forward": "63", "side": "10.5"}
CABIN = {"down": "46.2", "up": "21", "forward": "126", "side": "31.5"}
AREA = {"frontal_area": ".135", "speed": "250"}

CASES = (
    Case("R924", UNKNOWN, RING, mount(), said="enter the weight"),
    Case("R924", CAUTION, RING, seven(), limit=63.0, said="63 lbf forward"),
    Case("R924", CAUTION, RING, seven(**HELD), said="confirm it"),
    Case("R924", STOP, RING, seven(**{**HELD, "up": "20.9"}), said="21 lbf up (held 20.9 lbf)"),
    # an item of mass in the cabin takes 18 x 7 = 126 forward from Amdt 23-36 on, 9 x 7 = 63 before
    Case(
        "R924", STOP, RING, cabin("23-36", **HELD), value=63, limit=126, said="126 lbf forward (held 63 lbf)"
    ),
    Case("R924", STOP, RING, cabin("1988-09-14", **HELD), limit=126),
    Case("R924", CAUTION, RING, cabin("1988-09-13", **HELD), said="confirm"),
    Case("R924", CAUTION, RING, cabin("23-35", **HELD)),
    Case("R924", CAUTION, RING, cabin("CAR 3", **HELD)),
    Case("R924", CAUTION, RING, cabin("23-36", **CABIN)),
    # not known which: what holds only the lower is not shown, what holds neither is short
    Case("R924", UNKNOWN, RING, cabin("", **HELD), said="Enter where the part is"),
    Case("R924", UNKNOWN, RING, cabin("", **{**CABIN, "forward": "125.9"})),
    Case("R924", STOP, RING, cabin("", **{**HELD, "forward": "62.9"})),
    Case("R924", CAUTION, RING, cabin("", **CABIN), said="Enter where the part is"),
    Case("R924", CAUTION, RING, mount(weight="7", category="utility"), said="63 lbf to 126 lbf forward"),
    Case("R925", UNKNOWN, RING, mount(frontal_area=".135"), said="maximum speed"),
    # .000327 x .135 x 250^2 = 2.7591, and half as much again
    Case("R925", CAUTION, RING, mount(**AREA), limit=1.5 * 0.000327 * 0.135 * 250**2, said="4.2 lbf aft"),
    Case("R925", CAUTION, RING, mount(**AREA, test={"aft": "4.2"}), said="confirm it"),
)


@cases(*CASES)
def test_mount_loads(case):
    case.holds()


@pytest.fixture
def confirmed(tmp_path):
    """A shop that has seen the circular."""
    factors = {"down": "6.6", "up": "3", "forward": "9", "side": "1.5"}
    rows = [f"utility,{direction},{factor},{OURS}" for direction, factor in factors.items()]
    heading = "category,direction,factor_ratio,source,place,edition,basis"
    (tmp_path / "static_test_factors.csv").write_text("\n".join([heading, *rows]) + "\n", encoding="utf-8")
    limits = "key,value,unit,note,source,place,edition,basis"
    row = f"antenna_drag_coefficient,.000327,lbf per ft2 and mph squared,,{OURS}"
    (tmp_path / "rule_limits.csv").write_text(f"{limits}\n{row}\n", encoding="utf-8")
    return load_shop_tables(tmp_path)


def by_shop(code, changes, shop):
    layout = lay_out(job_of(RING, **changes), shop)
    (finding,) = rules()[code].check(survey(layout))
    assert finding.grade in (Grade.SHOP, Grade.PUBLISHED)
    return finding


@pytest.mark.parametrize(
    ("change", "status", "shortfall"),
    [
        ({}, PASS, 0.0),
        ({"down": "46.199"}, STOP, 0.001),
        ({"up": "20.999"}, STOP, 0.001),
        ({"forward": "62.999"}, STOP, 0.001),
        ({"side": "10.499"}, STOP, 0.001),
    ],
)
def test_figures_that_the_shop_confirms_pass_and_stop_at_the_limit(confirmed, change, status, shortfall):
    finding = by_shop("R924", seven(**{**HELD, **change}), confirmed)
    assert (finding.status, finding.judged.shortfall) == (status, pytest.approx(shortfall))
    assert "memory" not in advice_of(finding)


def test_what_was_not_tested_is_named_whatever_the_grade(confirmed):
    finding = by_shop("R924", seven(down="46.2", up="21", forward="63"), confirmed)
    assert finding.status is CAUTION
    assert "hold 10.5 lbf to the side." in advice_of(finding)


def test_drag_that_was_held_passes_and_less_stops(confirmed):
    for held, status in (("4.14", PASS), ("4.138", STOP)):
        assert by_shop("R925", mount(**AREA, test={"aft": held}), confirmed).status is status


def test_while_the_category_is_not_given_the_hardest_counts():
    (finding,) = judged("R924", RING, mount(weight="1", where="inside"))
    assert "9 lbf down, 4.5 lbf up, 9 lbf forward, 1.5 lbf to the side" in subject_of(finding)


def test_units_of_the_mount_change_nothing():
    """.135 ft2 is 19.44 in2; 250 mph is 402.336 km/h; 7 lb is 3.17514659 kg."""
    metric = mount(
        weight="3.17514659 kg",
        category="utility",
        where="outside",
        frontal_area="19.44 in2",
        speed="402.336 km/h",
    )
    for code in ("R924", "R925"):
        (one,), (other,) = (
            judged(code, RING, {**seven(), **mount(**AREA, weight="7", category="utility", where="outside")}),
            judged(code, RING, metric),
        )
        assert other.limit == pytest.approx(one.limit)


def test_a_camera_has_no_drag_rule():
    assert judged("R925", RING, {"mount": {"kind": "camera", "base": ["3", "3"]}}) == []
