"""R305 to R307, R420, R603, R932: a flush patch, and what is not asked of one.

The filler of a flush patch is of the gauge and material of the skin: [AL0992], flush patches. The doubler is split,
with filler strips, over internal members: [NAVEDTRA-14018] fig. 13-62. 1/8 of sound metal beyond the damage and a gap
of about 1/32 round the plug: common practice, no source. Whether a point lies in the cut-out is geometry.
"""

from __future__ import annotations

import pytest

from hatchwright.job.file import read_job
from hatchwright.layout.lay_out import lay_out
from hatchwright.layout.survey import survey
from hatchwright.rules.check import check
from job_text import job_text
from rules.cases import CAUTION, PASS, PATCH, STOP, UNKNOWN, Case, cases, changed, judged, rivets
from told import advice_of, subject_of


def end(x: str, u: str = "0") -> dict:
    """The other end of the crack; the edge of the cut-out lies at X = 2."""
    return {"patch.extent.1": {"at": [x, "0"], "uncertainty": u}}


def area(*points: tuple[str, str], damage: str = "corrosion") -> dict:
    return {"patch.damage": damage, "patch.extent": [{"at": [*at], "uncertainty": "0"} for at in points]}


def filed(x_to: str) -> dict:
    """The edge of the cut-out at X = 2 filed to another place."""
    edges = {"shape": "edges", "x_from": "-2", "x_to": x_to, "y_from": "-2", "y_to": "2", "radius": "1"}
    return {"as_made": {"uncertainty": ".005", "opening": edges}}


def split(at: str = "0", gap: str = "1", along: str = "y") -> dict:
    return {"patch.split": {"along": along, "at": at, "gap": gap}}


def flange(x_from: str, x_to: str) -> dict:
    return {"bay.flanges": [{"name": "stringer flange", "x_from": x_from, "x_to": x_to}]}


L_SHAPE = {
    "opening": {
        "shape": "polygon",
        "corners": [["-2", "-2"], ["2", "-2"], ["2", "0"], ["0", "0"], ["0", "2"], ["-2", "2"]],
        "radii": [".5"],
    }
}

CASES = (
    Case("R305", PASS, PATCH, end("1.875"), value=0.125, limit=0.125),
    Case("R305", CAUTION, PATCH, end("1.876"), limit=0.125, said="Inspect the filed edge"),
    Case("R305", CAUTION, PATCH, end("1.999")),
    Case("R305", STOP, PATCH, end("2"), value=0.0, limit=0.0, said="will run on from under the patch"),
    Case("R305", STOP, PATCH, end("2.5"), value=-0.5, said=".500 outside the cut-out edge"),
    # its end is known to u: what may lie on the edge stops, also where it was measured inside
    Case("R305", CAUTION, PATCH, end("1.939", ".06")),
    Case("R305", STOP, PATCH, end("1.94", ".06"), said="The crack may end outside the cut-out"),
    Case("R305", STOP, PATCH, end("1.95", ".06"), said=".050 inside the cut-out edge, u .060"),
    Case("R305", PASS, PATCH, end("1.81", ".06")),
    # the edge as filed has its u too: .066 inside, .06 and .005 unsure
    Case("R305", CAUTION, PATCH, {**end("1.934", ".06"), **filed("2")}),
    Case("R305", STOP, PATCH, {**end("1.935", ".06"), **filed("2")}),
    Case("R305", PASS, PATCH, area(("-1", "-1"), ("1", "-1"), ("0", "1"))),
    Case("R305", STOP, PATCH, area(("-1", "-1"), ("1", "-1"), ("0", "2.1")), said="left in the skin"),
    # every point lies in the cut-out, and the straight between two of them does not
    Case("R305", STOP, PATCH, {**L_SHAPE, **area(("-1.5", "-1.5"), ("1.5", "-.5"), ("-.5", "1.5"))}),
    Case("R306", PASS, PATCH, {"patch.plug.gap": ".015"}),
    Case("R306", CAUTION, PATCH, {"patch.plug.gap": ".0149"}, limit=0.015, said="A gap of .031"),
    Case("R306", PASS, PATCH, {"patch.plug.gap": "1/16"}),
    Case("R306", CAUTION, PATCH, {"patch.plug.gap": ".063"}, limit=0.0625, said=".001 over."),
    Case("R306", PASS, PATCH, filed("2.02625"), value=0.0575),
    Case("R306", CAUTION, PATCH, filed("1.974"), limit=0.015),
    Case("R306", STOP, PATCH, filed("1.9637"), limit=0.0, said="will not go into the cut-out"),
    Case("R307", PASS, PATCH),
    Case("R307", CAUTION, PATCH, split(), said="No load along X crosses the split"),
    Case("R307", CAUTION, PATCH, split(along="x"), said="No load along Y crosses the split"),
    Case("R307", CAUTION, PATCH, split(), said="Fill the strip to .040"),
    Case("R420", PASS, PATCH),
    Case("R420", CAUTION, PATCH, {"patch.plug.thickness": ".033"}, said="stands proud"),
    Case("R420", CAUTION, PATCH, {"patch.plug.thickness": ".031"}, said="lies low"),
    Case(
        "R420",
        CAUTION,
        PATCH,
        {"patch.plug.alloy": "6061", "patch.plug.temper": "T6"},
        said="skin's material",
    ),
    Case("R420", CAUTION, PATCH, {"patch.plug.clad": False}, said="skin's material"),
    Case("R603", PASS, PATCH, value=4.0),
    Case("R603", STOP, PATCH, {"rows.1": rivets((2.3, 0.5), name="plug")}, said="no rivet holds it"),
    Case("R603", STOP, PATCH, {"rows.1": rivets((1.6, 0), (0, 1.6), (0, -1.6), name="plug")}, said="side X-"),
    Case("R932", PASS, PATCH),
    Case("R932", UNKNOWN, PATCH, {"patch.cause": None}, said="cause of the crack"),
    Case("R932", UNKNOWN, PATCH, {"patch.cause": "  "}, said="Find what caused it"),
    Case("R932", UNKNOWN, PATCH, {"patch.inspected_by": None}, said="penetrant or eddy current"),
    Case("R932", PASS, PATCH, {**area(("0", "0"), ("1", "0"), ("0", "1")), "patch.inspected_by": None}),
    # a flange in the strip of a split doubler has what the strip leaves it; without a split it is under the doubler
    Case("R701", STOP, PATCH, flange("2.2", "2.6"), of="stringer flange"),
    Case(
        "R701",
        PASS,
        PATCH,
        {**flange("2.2", "2.6"), **split("2.4", ".65")},
        of="stringer flange",
        value=0.125,
    ),
    Case("R701", STOP, PATCH, {**flange("2.2", "2.6"), **split("2.4", ".648")}, of="stringer flange"),
    # the wider piece of a doubler of 6 x 6, split 1 wide at its center line: 2.5, through a cut-out of 4 x 4
    Case("R304", PASS, PATCH, split(), value=2.5),
    Case("R304", CAUTION, PATCH),
)


@cases(*CASES)
def test_patch(case):
    case.holds()


NOT_ASKED = ("R303", *(code for code in ("R801", "R802", "R803", "R804", "R805", "R812", "R814")))


@pytest.mark.parametrize("code", NOT_ASKED)
def test_hands_covers_and_screws_are_not_asked_about(code):
    assert judged(code, PATCH) == []


def test_no_finding_of_a_patch_speaks_of_an_opening_or_a_cover():
    layout = lay_out(read_job(job_text(changed(PATCH, flange("-3.4", "-3.3")))))
    for finding in check(layout):
        words = f"{subject_of(finding)} {advice_of(finding)}".lower()
        assert "opening" not in words, finding
        if finding.code != "R915":  # the gate asks whether a new part covers a drain
            assert " cover" not in words, finding


@pytest.mark.parametrize("code", ["R305", "R306", "R307", "R420", "R603", "R932"])
def test_an_opening_is_asked_nothing_about_patches(code):
    opening = {key: value for key, value in PATCH.items() if key != "patch"}
    assert judged(code, opening) == []


def test_the_rivets_of_the_plug_count_on_no_side_of_the_cut():
    """One rivet beyond the edge at X = 2, and four in the plug that join no skin."""
    sides = survey(lay_out(read_job(job_text(PATCH)))).sides
    assert {side.name: [hole.number for hole in side.half] for side in sides} == {
        "X+": [1],
        "X-": [],
        "Y+": [],
        "Y-": [],
    }


def test_the_row_of_the_plug_is_no_part_of_the_pattern_in_the_skin():
    """Two straight rows half an inch apart, one each side of the edge of the cut-out at X = 2."""
    rows = [
        rivets(*((2.25, y) for y in (-0.8, -0.4, 0.0, 0.4)), name="in the skin"),
        rivets(*((1.65, y) for y in (-0.8, -0.4, 0.0, 0.4)), name="in the plug"),
    ]
    patched = survey(lay_out(read_job(job_text(changed(PATCH, {"rows": rows})))))
    assert patched.pattern("in the skin") == {"in the skin"}
    opened = {key: value for key, value in PATCH.items() if key != "patch"}
    both = survey(lay_out(read_job(job_text(changed(opened, {"rows": rows})))))
    assert both.pattern("in the skin") == {"in the skin", "in the plug"}
