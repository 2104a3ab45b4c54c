"""R303, R304, R308: room for a hand, the doubler through the opening, bucking where it leaves no opening.

3.5 in square and an oval of 74 x 104 mm, which both passed a hand: [BUILDER-LOGS], seen only restated. Longest
chord of a rounded rectangle hypot(W - 2 r, H - 2 r) + 2 r: geometry.
"""

from __future__ import annotations

from math import hypot

import pytest

from hatchwright.shapes.across import least_width, longest_chord
from hatchwright.shapes.outlines import obround, polygon, rounded_rectangle
from rules.cases import CAUTION, LAPPED, PASS, PATCH, PLAIN, RING, UNKNOWN, Case, cases, judged


def narrow(width: str) -> dict:
    return {"opening.width": width, "opening.radius": ".5"}


def mounted(window: str) -> dict:
    inner = {"shape": "rounded rectangle", "width": window, "height": "3.5", "radius": ".25"}
    return {"mount": {"kind": "other", "base": ["3", "3"]}, "doubler.inner": inner}


PORT = {"bay.way_in": "port in the next bay"}
FROM_INSIDE = {"cover.holes_from": "inside", "cover.holes_reason": "the skin comes with its screw holes"}

CASES = (
    # by the square: 3.5 both ways; by the oval of 74 x 104 mm: 2.9134 one way and 4.0945 the other
    Case("R303", PASS, PLAIN, {"opening.width": "3.5"}, limit=3.5),
    Case("R303", CAUTION, PLAIN, {"opening.width": "3.499"}, value=4.0, limit=104 / 25.4, said="cardboard"),
    Case("R303", PASS, PLAIN, {**narrow("3.499"), "opening.height": "4.095"}),
    Case("R303", CAUTION, PLAIN, {**narrow("3.499"), "opening.height": "4.094"}, value=4.094),
    Case("R303", PASS, PLAIN, {**narrow("2.914"), "opening.height": "8"}, value=2.914, limit=74 / 25.4),
    Case("R303", CAUTION, PLAIN, {**narrow("2.913"), "opening.height": "8"}, value=2.913, limit=74 / 25.4),
    # the opening that was called too small for a hand: 8.00 x 3.00
    Case("R303", PASS, PLAIN, {**narrow("3"), "opening.height": "8"}, said="3.000 x 8.000"),
    Case(
        "R303",
        CAUTION,
        PLAIN,
        {**narrow("2"), "opening.height": "3"},
        said="an oval 2.913 x 4.094, or a square 3.5",
    ),
    Case(
        "R303",
        CAUTION,
        RING,
        {"doubler.inner": {"shape": "circle", "diameter": "3.4"}},
        said="inside the land",
    ),
    # 4 x 4 with R 1, a sheet .040 thick: longest chord 2 sqrt 2 + 2 sqrt(1 - .02^2) = 4.8280
    Case("R304", PASS, RING, {"doubler.outer.width": "4.827"}, limit=4.828027, value=4.827),
    Case("R304", CAUTION, RING, {"doubler.outer.width": "4.8285"}, said="whichever leg goes first"),
    # .025 thick, squeezed from 4.9 to 4.797, 1/64 clear at each end: 25,000 psi in its middle by elliptic integrals of
    # SciPy, under .9 x 39,000 of clad 2024-T3
    Case(
        "R304",
        CAUTION,
        RING,
        {"doubler.outer.width": "4.9", "doubler.thickness": ".025"},
        said="Bow a scrap strip of the same sheet as far first",
    ),
    Case(
        "R304",
        CAUTION,
        RING,
        {"doubler.outer.width": "5.5"},
        said="Don't bow it in: it would take a set",
    ),
    # another way in is to be tried with it, and settles nothing by being entered
    Case(
        "R304",
        CAUTION,
        RING,
        {"doubler.outer.width": "4.8285", "bay.way_in": "port in the next bay"},
        said="cardboard doubler through port in the next bay",
    ),
    Case(
        "R304",
        CAUTION,
        RING,
        {"doubler.outer.width": "4.8285", "bay.way_in": "port in the next bay"},
        said="passes through port in the next bay isn't judged: the job has no size for it",
    ),
    Case(
        "R304",
        CAUTION,
        RING,
        {"mount": {"kind": "other", "base": ["3", "3"]}},
        said="won't pass through the opening flat",
    ),
    # a mount's doubler with a window of 74 mm, 2.9134 in, one way; a patch's has none
    Case("R308", PASS, RING, mounted("2.914"), value=2.914, limit=74 / 25.4),
    Case("R308", UNKNOWN, RING, mounted("2.913"), value=2.913, said="Enter the other way in"),
    Case(
        "R308",
        PASS,
        RING,
        {**mounted("1"), "bay.way_in": "port in the next bay"},
        said="port in the next bay",
    ),
    Case("R308", UNKNOWN, PATCH, said="closed off by the doubler"),
    Case("R308", PASS, PATCH, {"bay.way_in": "port in the next bay"}),
    Case("R310", UNKNOWN, LAPPED, FROM_INSIDE, said="Enter the other way in"),
    Case("R310", PASS, LAPPED, FROM_INSIDE | PORT, said="port in the next bay"),
)


@cases(*CASES)
def test_passage(case):
    if case.limit and case.code == "R304":
        (finding,) = judged(case.code, case.job, case.changes)
        assert finding.limit == pytest.approx(case.limit, abs=2e-4)
        assert finding.limit <= 2 * 2**0.5 + 2 * 0.9998**0.5
        assert finding.status is case.status
        return
    case.holds()


@pytest.mark.parametrize(("x", "is_near"), [("2.625", True), ("2.626", False)])
def test_what_lies_where_the_drill_works_from_inside_is_not_passed_over(x, is_near):
    # the screws stand at X = 2 + .75 - .375 = 2.375; .25 beside a tool: common practice, no source
    tube = {"name": "tube", "x_from": x, "x_to": x, "depth": "3"}
    found = judged("R310", LAPPED, {**FROM_INSIDE, **PORT, "bay.keep_outs": [tube]})
    assert [one.status for one in found] == [PASS] + [UNKNOWN] * is_near
    assert all(one.holes for one in found[1:])


def test_a_cover_drilled_from_outside_asks_for_no_way_in():
    assert judged("R310", LAPPED, {}) == []


@pytest.mark.parametrize(
    ("width", "height", "radius"), [(4.0, 4.0, 1.0), (5.0, 4.0, 0.75), (8.0, 3.0, 0.3125)]
)
def test_longest_chord_of_a_rounded_rectangle(width, height, radius):
    loop = rounded_rectangle(width_in=width, height_in=height, radius_in=radius)
    exact = hypot(width - 2 * radius, height - 2 * radius) + 2 * radius
    assert longest_chord(loop).length_in == pytest.approx(exact, abs=2e-4)
    assert longest_chord(loop).length_in <= exact + 1e-12


def test_least_width_is_taken_across_not_along_the_axes():
    # an obround 6 x 2 turned by 30 degrees still goes through a slot of 2
    turned = obround(length_in=6.0, width_in=2.0, angle_deg=30.0)
    assert least_width(turned) == pytest.approx(2.0, abs=2e-4)


def test_least_width_of_an_outline_with_a_notch_is_that_of_its_hull():
    # an L of two limbs 1 wide and 3 long: from its corner to the line x + y = 4 over the notch, 4 / sqrt 2
    corners = [(0, 0), (3, 0), (3, 1), (1, 1), (1, 3), (0, 3)]
    assert least_width(polygon(corners, [0.0] * 6)) == pytest.approx(4 / 2**0.5, abs=1e-9)


def test_a_doubler_outside_needs_no_way_in():
    assert judged("R304", RING, {"doubler.face": "outside"}) == []
