"""Whether the shop's tools can make a cut: thickness, corners, room behind, reach; and what is refused at the door."""

from __future__ import annotations

import math

import pytest
from pydantic import ValidationError

from hatchwright.errors import JobError
from hatchwright.job.cutter import HandTool
from hatchwright.judged import Status
from hatchwright.layout.lay_out import lay_out
from hatchwright.making.cutter.cutter_fit import cutter_findings, tool_findings
from hatchwright.words.tell import tell
from hatchwright.workings import Grade
from told import advice_of, subject_of


@pytest.fixture
def by_code(layout_of):
    def found(*names: str, **changes: str):
        return {finding.code: finding for finding in cutter_findings(layout_of(*names, **changes))}

    return found


def hand_tool(**facts):
    return HandTool.model_validate(facts, context={"unit": "in"})


def test_thickness_against_capacity(by_code):
    assert by_code("dogwood", cutter__capacity=".063")["T301"].status is Status.PASS
    thick = by_code("dogwood", cutter__capacity=".032")["T301"]
    assert thick.status is Status.STOP
    assert (thick.value, thick.limit) == (0.040, 0.032)
    assert thick.grade is Grade.SHOP


def test_the_thicker_of_drawn_and_measured_counts(by_code):
    assert by_code("alder", cutter__capacity=".0315")["T301"].value == 0.032


def test_line_behind_the_cut(by_code):
    """The drain line lies .60 behind the skin and crosses the edge of the opening from X 3.2 to 4.0."""
    room = by_code("dogwood", cutter__behind=".30")["T303"]
    assert (room.status, room.value) == (Status.PASS, pytest.approx(0.30))
    assert by_code("dogwood", cutter__behind=".475")["T303"].status is Status.PASS
    assert by_code("dogwood", cutter__behind=".476")["T303"].status is Status.STOP
    assert by_code("dogwood", cutter__behind=".75")["T303"].status is Status.STOP


def test_unmeasured_reach_behind_is_asked_for(by_code):
    asked = by_code("dogwood")["T303"]
    assert asked.status is Status.UNKNOWN
    assert "fuel drain line" in subject_of(asked)
    assert asked.enter == ("cutter.behind",)
    assert "from the outer face of the skin" in advice_of(asked)


def waste_of_dogwood(y_to, **changes):
    """A line .60 behind the skin, X -1 to 1, from Y -1: the rough line runs along Y 1.5, the cut is .25 wide."""
    bounds = {"x_from": "-1", "x_to": "1", "y_from": "-1", "y_to": y_to}
    return {f"bay__keep_outs__0__{name}": value for name, value in bounds.items()} | changes


def test_what_lies_behind_the_waste_is_judged_where_the_tool_may_pass(layout_of):
    """Right at the line there is no way round it; within the waste the tool can be led round, once one knows."""
    for y_to, status, where in (
        ("1", Status.CAUTION, "behind the waste"),  # .5 inside the line
        ("1.3", Status.STOP, "behind the cut"),  # .2 inside it
    ):
        (found,) = behind(layout_of("dogwood", **waste_of_dogwood(y_to, cutter__behind=".75")))
        assert (found.status, found.value) == (status, pytest.approx(-0.15))
        assert where in subject_of(found)
    (asked,) = behind(layout_of("dogwood", **waste_of_dogwood("1")))
    assert asked.status is Status.UNKNOWN
    (clear,) = behind(layout_of("dogwood", **waste_of_dogwood("1", cutter__behind=".3")))
    assert clear.status is Status.PASS


@pytest.mark.parametrize(
    ("x", "body", "status"),
    [
        ("8.2", "1.75", Status.CAUTION),  # half the body reaches .875 from the line
        ("8.2", None, Status.CAUTION),  # .215 off: the tube is wider than its center line
        ("8.85", "1.75", Status.CAUTION),
        ("8.87", "1.75", None),
        ("8.3", None, None),  # .315 off
    ],
)
def test_what_lies_beside_the_line_under_the_tool_is_judged(layout_of, x, body, status):
    """ALDER's rough line runs along X 5.5 + 2.5 - .015 = 7.985; its tube is 2.1 behind, entered as a center line, and
    stays here where it is."""
    measured = {"cutter__behind": "3"} | ({"cutter__body": body} if body else {})
    tube = {"bay__keep_outs__0__x_from": x, "bay__keep_outs__0__x_to": x}
    moving = layout_of("alder", **measured, **tube)
    found = behind(at_rest(moving))
    assert [one.status for one in found] == ([status] if status else [])
    if status:  # a part that moves is no matter of going round it
        assert [one.status for one in behind(moving)] == [Status.STOP]
    for one in found:
        assert one.value == pytest.approx(-0.9)
        assert f"{float(x) - 7.985:.3f} from the line".lstrip("0") in subject_of(one)


def at_rest(layout):
    """The same with everything behind entered as something that stays where it is."""
    bay = layout.job.bay
    entries = {"moves": None, "swing": None, "clearance": None}
    still = tuple(one.model_copy(update=entries) for one in bay.keep_outs)
    return lay_out(layout.job.model_copy(update={"bay": bay.model_copy(update={"keep_outs": still})}))


def behind(layout):
    return [finding for finding in cutter_findings(layout) if finding.code == "T303"]


def codes(layout):
    return [finding.code for finding in cutter_findings(layout)]


@pytest.mark.parametrize(
    ("left", "status"), [(".015", None), ("1/16", None), (".063", Status.CAUTION), (".5", Status.CAUTION)]
)
def test_more_metal_than_anybody_files_is_doubted(by_code, left, status):
    found = by_code("alder", cutter__filing_allowance=left).get("T307")
    assert (found.status if found else None) is status
    if found:
        assert (found.value, found.limit) == (pytest.approx(float(left)), 0.0625)


def test_what_was_not_measured_of_a_cutter_is_asked_for_in_one_finding(by_code):
    asked = by_code("alder")["T306"]
    assert asked.status is Status.CAUTION
    assert subject_of(asked) == (
        "Round-punch nibbler not fully measured: capacity, reach, eccentricity, bite advance"
    )
    assert asked.enter == ("cutter.capacity", "cutter.reach", "cutter.eccentricity", "cutter.advance")
    assert all(code in advice_of(asked) for code in ("T301", "T304", "T404", "T403"))
    measured = {"cutter__capacity": ".063", "cutter__reach": "6", "cutter__eccentricity": "0"}
    assert by_code("alder", **measured)["T306"].enter == ("cutter.advance",)
    assert "T306" not in by_code("alder", **measured, cutter__advance="1/16")
    assert "T306" not in by_code("dogwood", **measured)  # a router takes no bites


def test_a_hand_tool_needs_the_thickness_that_it_cuts(layout_of):
    def asked(**facts):
        found = tool_findings(layout_of("dogwood"), hand_tool(**facts))
        return [subject_of(finding) for finding in found if finding.code == "T306"]

    assert asked(kind="double-cut shear") == ["Double-cut shear not fully measured: capacity"]
    assert asked(kind="double-cut shear", capacity=".05") == []
    assert asked(kind="snips") == []  # their limit is published


def test_reach_from_the_starting_hole(by_code):
    far = by_code("dogwood", cutter__reach="4")["T304"]
    assert far.status is Status.STOP
    corner = math.hypot(4.0 - 0.3125, 1.5 - 0.3125) + 0.3125
    assert far.value == pytest.approx(corner, abs=1e-3)
    assert by_code("dogwood", cutter__reach="4.5")["T304"].status is Status.PASS


def test_hand_tools(layout_of):
    layout = layout_of("dogwood")
    shear = tool_findings(
        layout, hand_tool(kind="double-cut shear", capacity=".050", least_radius="3", behind=".2")
    )
    assert {f.code: f.status for f in shear} == {
        "T301": Status.PASS, "T302": Status.CAUTION, "T303": Status.PASS,
    }  # fmt: skip
    saw = tool_findings(layout, hand_tool(kind="hole saw", diameters=["1/2", "5/8", "1"], behind=".2"))
    (size,) = [f for f in saw if f.code == "T305"]
    assert (size.status, size.value) == (Status.PASS, 0.625)
    step = tool_findings(layout, hand_tool(kind="step drill", diameters=["1/2", "3/4"], behind=".2"))
    assert [f.status for f in step if f.code == "T305"] == [Status.CAUTION]


def test_snips_have_a_published_limit(layout_of):
    """Hand snips to about .064 in aluminium: a Navy manual's page on hand tools."""
    (thick,) = [f for f in tool_findings(layout_of("dogwood"), hand_tool(kind="snips")) if f.code == "T301"]
    assert thick.status is Status.PASS
    assert thick.source.key == "NAVEDTRA-14315"


@pytest.mark.parametrize(
    ("changes", "field", "word"),
    [
        ({"cutter__advance": ".193"}, "cutter", "would not overlap"),
        ({"cutter__kind": "router", "cutter__advance": ".05"}, "cutter", "takes no bites"),
        ({"cutter__starter": ".1"}, "cutter", "starter hole"),
        ({"cutter__filing_allowance": "-.015"}, "cutter.filing_allowance", "negative"),
        ({"cutter__kind": "chisel"}, "cutter.kind", "not one of the words"),
        ({"cutter__eccentricity": "-1"}, "cutter.eccentricity", "negative"),
        ({"template__pin": ".25", "template__pin_body": ".125"}, "template", "wider than its hole"),
        ({"template__revision": "1"}, "template.revision", "one to three capital letters"),
    ],
)
def test_bad_facts_are_refused_by_name(job_of, changes, field, word):
    with pytest.raises(JobError, match=word) as caught:
        job_of("alder", **changes)
    assert field in [fault.field for fault in caught.value.faults]


def test_hole_saw_without_sizes_is_refused():
    with pytest.raises(ValidationError) as caught:
        hand_tool(kind="hole saw")
    (fault,) = caught.value.errors()
    assert "has diameters" in tell(fault["ctx"]["what"])
