"""Quick answers: each equals the full job, meets what is published, and refuses bad input as a job does.

Sources beside each check. Random questions: a seeded sample of `studies/quick_equals_job.py`.
"""

from __future__ import annotations

import math
import re
from datetime import UTC, datetime

import pytest
from pypdfium2 import PdfDocument
from studies import quick_equals_job

from hatchwright.errors import EntryError, JobError
from hatchwright.judged import Status
from hatchwright.said import Amount
from hatchwright.words.findings import advice_text
from hatchwright.words.tell import tell
from hatchwright.workflow.quick.answer import Answer
from hatchwright.workflow.quick.book import all_quick, entries_of, quick, quick_names, work_out
from hatchwright.workflow.quick.paper import QuickPaper
from hatchwright.workings import Grade

STAMP = datetime(2026, 1, 2, 3, 4, tzinfo=UTC)

ASKED = {
    "cg": {"empty_weight": "1438", "empty_arm": "85.6", "arm": "93", "weight": ".42"},
    "drills": {"rivet": "MS20426AD3", "sheets": ".032 + .050", "preparation": "dimple over countersink"},
    "edge": {"fastener": "MS20470AD4", "distance": ".2375"},
    "hand": {"width": "4", "height": "3", "radius": ".5"},
    "land": {"rivet": "MS20426AD4", "rows": "2"},
    "radius": {"chord": "8", "rise": ".583"},
    "ring": {"width": "5", "height": "5", "radius": ".5", "ring_width": "7.5", "ring_height": "6.5",
             "ring_radius": "1"},
    "rivet": {"rivet": "MS20470AD4", "sheets": ".032 + .040"},
    "screw": {"size": "8-32", "sheets": ".032 + .040", "nut_height": ".20"},
    "template": {"width": "8", "height": "5", "radius": ".5", "template": "male", "cut_width": ".25",
                 "guide": ".625", "filing_allowance": "0", "end_mill": ".25"},
}  # fmt: skip
"""One question of each kind, only what it needs and what is checked below."""


def answered(name: str, /, *, unit="in", **changes: str) -> Answer:
    return work_out(quick(name), {**ASKED[name], **changes}, unit=unit)


def number(answer: Answer, id: str) -> float | str:
    """A number of an answer, as inches or as it is told, by the end of its id."""
    value = next(one.value for one in answer.told if one.what.id.endswith(id))
    return value.value if isinstance(value, Amount) else tell(value)


def finding(answer: Answer, code: str):
    return next(one for one in answer.findings if one.code == code)


@pytest.mark.parametrize("name", quick_equals_job.KINDS)
def test_an_answer_is_that_of_the_full_job(name):
    assert list(quick_equals_job.differences(name, 12, seed=7)) == []


def test_another_answer_is_found(monkeypatch):
    """Where the quick answer is of another question than the job's."""
    answer = quick_equals_job.answer

    def of_another(name, **typed):
        return answer(name, **{**typed, "height": f"{float(typed['height']) - 0.6:.4f}"})

    monkeypatch.setattr(quick_equals_job, "answer", of_another)
    assert list(quick_equals_job.differences("hand", 12, seed=7))


def test_every_answer_is_compared():
    assert set(quick_equals_job.KINDS) == set(quick_names()) == set(ASKED)


@pytest.mark.parametrize("name", ASKED)
@pytest.mark.parametrize("unit", ["in", "mm"])
def test_every_number_has_a_working_with_source_and_grade(name, unit):
    answer = work_out(quick(name), {**ASKED[name], "units": ""}, unit="in")
    assert answer.told
    assert answer.open
    for one in answer.told:
        assert one.working
        assert all(step.source.key and isinstance(step.grade, Grade) for step in one.working)
        assert tell(one.what, unit).strip()
        assert tell(one.value, unit).strip()
    told = " ".join(
        [tell(one.title) + tell(one.about) for one in all_quick()]
        + [advice_text(one, unit) for one in answer.findings]
        + [tell(point, unit) for point in answer.open]
    )
    assert not re.search(r"\b(approved|airworthy|certified|accepted)\b", told, re.IGNORECASE)


@pytest.mark.parametrize("name", ASKED)
def test_every_answer_is_one_page_to_print(name):
    """Written and read back, in millimeters too where it has the longest words."""
    one, unit = quick(name), "mm" if name in ("rivet", "radius") else "in"
    typed = {entry: f"{text} in" if re.fullmatch(r"\d*\.\d+|8", text) and unit == "mm" else text
             for entry, text in ASKED[name].items()}  # fmt: skip
    typed |= {"sheets": ".032 in + .040 in + .063 in"} if name == "rivet" else {}
    answer = work_out(one, typed, unit=unit)
    made = QuickPaper(one, typed, answer, unit, STAMP).page()
    assert len(PdfDocument(made.content)) == 1
    assert not made.true_size


def test_a_hole_of_1_9_d_is_short_and_its_next_size_too():
    """2 D of a 1/8 rivet is .250, [AL0992]; 2 D of the next, 5/32, is .3125."""
    answer = answered("edge")
    assert finding(answer, "R101").status is Status.STOP
    assert number(answer, ".ratio") == pytest.approx(1.9)
    assert number(answer, "edge.next") == "short by .075 in"  # .2375 of .3125
    assert number(answer, ".next_size") == "MS20470AD5"
    assert answered("edge", distance=".3125").worst is Status.PASS
    assert finding(answered("edge", distance=".249", uncertainty=".005"), "R101").status is Status.UNKNOWN
    assert "breaks out" in advice_text(finding(answered("edge", distance=".06"), "R101"), "in")


def test_a_sound_hole_is_told_the_room_of_the_next_size_and_asks_for_nothing():
    """.260 is 2.08 D; 3 D of the next size, 5/32, is .469, and .400 apart leaves .069 too little: nothing that a hole
    of .1285, within .125 to .135, [TRADE-2001], is held to."""
    sound = answered("edge", distance=".260", hole=".1285", spacing=".400")
    assert {one.code for one in sound.findings} == {"R101", "R201", "R404"}
    assert sound.worst is Status.PASS
    assert (number(sound, "edge.next"), number(sound, ".spacing_next")) == (
        "short by .053 in",
        "short by .069 in",
    )
    assert number(answered("edge", distance=".3325"), "edge.next") == ".020 in to spare"
    unsure = answered("edge", distance=".260", hole=".1345", spacing=".400", uncertainty=".001")
    assert {one.code for one in unsure.findings if one.status is Status.CAUTION} == {"R105", "R214"}


def test_a_cover_screw_is_held_to_its_own_limits():
    """8-32: .164 across, .060 + 8 x .013, [FED-STD-H28/2B]; 2 D of it is .328, the rivet rule, by which a screw only
    cautions. Its loose fit is a #3, .213, [ASME-B18.2.8]."""
    answer = answered("edge", fastener="8-32", distance=".3", spacing=".3", hole=".240")
    assert finding(answer, "R103").status is Status.CAUTION
    assert finding(answer, "R103").limit == pytest.approx(2 * (0.060 + 8 * 0.013))
    assert finding(answer, "R212").status is Status.CAUTION
    assert finding(answer, "R815").status is Status.STOP


def test_an_oversize_hole_is_told_whether_the_next_size_takes_it():
    """1/8: .125 to .135; 5/32: .156 to .171, [TRADE-2001]."""
    assert "takes MS20470AD5" in advice_text(finding(answered("edge", hole=".150"), "R404"), "in")
    assert "too large even" in advice_text(finding(answered("edge", hole=".180"), "R404"), "in")
    assert finding(answered("edge", hole=".150"), "R105").limit == pytest.approx(2 * 5 / 32)
    largest = answered("edge", fastener="MS20470AD8", hole=".300")
    assert not [one for one in largest.findings if one.code == "R105"]


def test_shop_head_of_the_trade_example():
    """.032 + .040 with a 1/8 rivet: calculated .2595, and a -4 gives a shop head .209 wide; 1.67 D as worked out in
    `layout.rivet_length` by volume."""
    answer = answered("rivet")
    assert number(answer, ".calculated") == pytest.approx(0.072 + 1.5 * 0.125)
    assert number(answer, ".first") == "MS20470AD4-4"
    head_in = math.sqrt((0.125**2 * (0.25 - 0.072) - (0.1285**2 - 0.125**2) * 0.072) / (0.5 * 0.125))
    (first, *_) = [one for one in answer.told if one.what.id.startswith("quick.rivet.head")]
    assert first.working[0].result.value == pytest.approx(head_in)


def test_published_rivet_lengths():
    """Trade article of 2019: two sheets of .050, 3 t = .15, a 5/32 rivet, length .334. College notes: two of .040 with
    1/8 take .267, -4 the nearest, -5 by the next above. [AC43.13-1B] par. 4-58g(2)(a): 3 x .032 = .096, use 1/8."""
    article = answered("rivet", rivet="MS20470AD5", sheets=".050 + .050")
    assert number(article, ".calculated") == pytest.approx(0.334, abs=0.0005)
    assert next(one.value.value for one in article.told if one.what.id == "diameter.about") == 5 / 32
    notes = answered("rivet", sheets=".040 + .040")
    assert number(notes, ".calculated") == pytest.approx(0.267, abs=0.001)
    lengths = [tell(one.what) for one in notes.told if one.what.id.startswith("quick.rivet.head")]
    assert lengths[0].startswith("MS20470AD4-4 (nearest")
    assert lengths[-1].startswith("MS20470AD4-5 (")
    splice = answered("rivet", sheets=".032 + .032")
    assert next(one.value.value for one in splice.told if one.what.id == "diameter.about") == 0.125


def test_a_closed_form_of_the_template():
    """Case C01 of the tree's own closed forms: 10 x 6 with R 1, cut .25, guide .75: 10.5 x 6.5 with R 1.25."""
    answer = answered(
        "template", width="10", height="6", radius="1", template="female", cut_width=".25", guide=".75"
    )
    assert number(answer, ".window") == "10.500 x 6.500 in"
    assert number(answer, ".template_corner") == pytest.approx(1.25)


def test_template_of_a_router_round_a_plug():
    """Plug = wanted - (guide + cut), window = wanted + (guide - cut), as trade texts state it for a router; least
    corner round a plug half of guide + cut."""
    plug = answered("template")
    assert number(plug, ".plug") == "7.125 x 4.125 in"
    assert number(plug, ".offset") == pytest.approx((0.625 + 0.25) / 2)
    assert finding(answered("template", radius=".4375"), "T102").status is Status.PASS
    assert finding(answered("template", radius=".43"), "T102").status is not Status.PASS
    assert number(answered("template", template="female"), ".window") == "8.375 x 5.375 in"


def test_radius_of_a_straightedge():
    """A chord of 8 and its rise on a circle of 14: h = R - sqrt(R^2 - c^2/4), by Pythagoras."""
    rise = 14.0 - math.sqrt(14.0**2 - 16.0)
    answer = answered("radius", rise=f"{rise:.9f}", skin=".032", sheet=".040", reach="3")
    assert number(answer, "radius.radius") == pytest.approx(14.0, abs=1e-6)
    assert number(answer, ".roll_inside") == pytest.approx(14.0 - 0.072, abs=1e-6)
    assert number(answer, ".rigid_off") == pytest.approx(3.0 - 14.0 * math.sin(3.0 / 14.0), abs=1e-6)
    unsure = answered("radius", uncertainty=".01")
    assert number(unsure, ".at_least") < number(unsure, "radius.radius") < number(unsure, ".at_most")
    assert unsure.worst is Status.PASS


def test_a_rise_within_its_uncertainty_may_be_that_of_a_flat_skin():
    """A rise of .05 that may be .06 out: nothing at the one end; .11 at the other, 64 / .88 + .055 by Pythagoras. No
    arc rises more than half its chord, and none of a chord of 8 is rounder than 4."""
    flat = answered("radius", rise=".05", uncertainty=".06")
    assert flat.worst is Status.UNKNOWN
    assert number(flat, ".at_most") == "as flat as can be measured"
    assert number(flat, ".at_least") == pytest.approx(64 / 0.88 + 0.055)
    assert answered("radius", rise=".05", uncertainty=".05").worst is Status.UNKNOWN
    assert number(answered("radius", rise="3.9", uncertainty=".2"), ".at_least") == pytest.approx(4.0)


def test_screw_stands_a_thread_out_of_its_nut():
    """One thread, [AC43.13-1B] par. 7-37; 8-32 has 32 to the inch."""
    answer = answered("screw")
    assert number(answer, ".least") == pytest.approx(0.072 + 0.20 + 1 / 32)
    assert finding(answer, "R802").status is Status.UNKNOWN
    assert finding(answer, "R802").enter == ("length",)
    assert finding(answered("screw", length="5/16"), "R802").status is Status.PASS
    assert finding(answered("screw", length=".300"), "R802").status is Status.STOP
    assert "12 in-lbf to 15 in-lbf" in tell(finding(answer, "R808").subject)  # table 7-1


def test_ring_goes_through_by_the_longest_chord():
    """hypot(W - 2 r, H - 2 r) + 2 r of a rounded rectangle, 6.657 for 5 x 5 with 1/2 corners."""
    chord_in = math.hypot(4.0, 4.0) + 1.0
    answer = answered("ring")
    assert number(answer, ".chord") == pytest.approx(chord_in, abs=1e-3)
    assert answer.worst is Status.PASS
    told = "Short leg first: the ring, 6.500 across, laid along the longest chord"
    assert number(answered("ring", ring_height="6.5"), ".goes") == told
    stuck = answered("ring", ring_height="6.7")
    assert stuck.worst is Status.CAUTION
    assert "cardboard" in advice_text(stuck.findings[0], "in")
    assert number(stuck, ".goes_not") == "No leg goes first: the ring is 6.700 across where it is narrowest"


def test_land_of_rows():
    """2 D + 2.5 D + 2 D = 6.5 D for a double row of protruding heads, an item of [FAA-KT]; flush heads take 2.5 D."""
    double = answered("land", rivet="MS20470AD4")
    assert number(double, ".least") == pytest.approx(6.5 * 0.125)
    assert finding(double, "R208").status is Status.PASS
    assert number(answered("land"), ".least") == pytest.approx(7.5 * 0.125)
    assert number(answered("land", rows="1", rivet="MS20470AD4"), ".least") == pytest.approx(0.5)
    narrow = answered("land", land=".80")
    assert narrow.worst is Status.STOP
    assert number(narrow, ".edge") == pytest.approx((0.80 - 0.3125) / 2 / 0.125)
    assert answered("land", edge=".3125", land=".9").worst is Status.STOP


def test_hand_holes_that_passed():
    """A square of 3.5 in and an oval of 74 x 104 mm passed a hand, [BUILDER-LOGS]."""
    assert answered("hand", width="3.5", height="3.5").worst is Status.PASS
    assert answered("hand", width="74 mm", height="104 mm").worst is Status.PASS
    assert answered("hand").worst is Status.CAUTION
    assert answered("hand").drawn is not None


def test_drills_of_a_dimpled_sheet_over_a_countersunk_one():
    answer = answered("drills")
    outer, inner = (one for one in answer.told if one.what.id == "quick.drills.sheet")
    assert "dimple" in tell(outer.value)
    assert tell(inner.value).endswith("countersink")
    assert finding(answered("drills", sheets=".032 + .020"), "R408").status is Status.STOP
    thick = answered("drills", sheets=".063 + .080", preparation="dimple")
    assert finding(thick, "R409").status is Status.UNKNOWN
    assert answered("drills", preparation="").worst is Status.UNKNOWN  # nobody said how the head is taken
    plain = answered("drills", rivet="MS20470AD4", preparation="")
    assert plain.findings == ()
    assert "dimple" not in tell(plain.told[0].value)


@pytest.mark.parametrize(
    ("rows", "arm"),
    [
        ([(1169, 10.6), (17, -49), (170, 16), (170, 48), (170, 16), (240, 22), (100, 75.5)], 18.7),
        ([(8000, 77), (-100, 30), (100, 150)], 78.5),
    ],
)
def test_published_balances(rows, arm):
    """[AC43.13-1B] figure 10-14, page 10-18, prints 18.7; [FAA-H-8083-25], weight shifted from 30 to 150, 78.5."""
    weight, cg = str(rows[0][0]), str(rows[0][1])
    for pounds, at in rows[1:]:
        answer = answered(
            "cg",
            empty_weight=weight,
            empty_arm=cg,
            weight=f"{min(abs(pounds), 200)}",
            arm=str(at),
            change="put in" if pounds > 0 else "taken out",
        )
        weight, cg = f"{number(answer, 'cg.weight'):.2f}", f"{number(answer, 'cg.arm'):.6f}"
        if abs(pounds) > 200:  # the rest of it, at the same place
            answer = answered("cg", empty_weight=weight, empty_arm=cg, weight=f"{pounds - 200}", arm=str(at))
            weight, cg = f"{number(answer, 'cg.weight'):.2f}", f"{number(answer, 'cg.arm'):.6f}"
    assert float(cg) == pytest.approx(arm, abs=0.06)


def test_a_weight_is_rounded_in_the_unit_that_it_is_told_in():
    """851 + 2 kg, and 1438 lb with a third of a pound."""
    metric = answered("cg", unit="mm", empty_weight="851 kg", empty_arm="2000", arm="2500", weight="2 kg")
    told = next(one.value for one in metric.told if one.what.id == "quick.cg.weight")
    assert tell(told, "mm") == "853 kg"
    assert number(answered("cg", weight=".3333"), "cg.weight") == pytest.approx(1438.33, abs=1e-9)


def test_a_change_is_negligible_up_to_a_pound():
    """1 lb under 5,000 lb, and 0.05 percent of the mean chord, [AC43.13-1B] par. 10-2c."""
    assert answered("cg", weight="1").worst is Status.PASS
    assert answered("cg", weight="1.01").worst is Status.CAUTION
    far = answered("cg", weight=".9", arm="300", mean_chord="58")
    assert far.worst is Status.CAUTION
    by_sheet = {
        "weight": "",
        "alloy": "2024",
        "temper": "T3",
        "thickness": ".040",
        "width": "6",
        "height": "6",
    }
    assert answered("cg", **by_sheet).worst is Status.CAUTION  # a density from memory passes nothing

    def allowed_lb(empty_weight: str) -> float | None:
        return answered("cg", empty_weight=empty_weight).findings[0].limit

    assert [allowed_lb(one) for one in ("4999", "5000", "50000")] == [1.0, 2.0, 2.0]  # 5 lb above 50,000


BAD = (
    ("edge", {"distance": "30 deg"}, "distance"),
    ("edge", {"distance": "1,2,3"}, "distance"),
    ("edge", {"distance": "1/0"}, "distance"),
    ("edge", {"distance": ""}, "distance"),
    ("edge", {"distance": "nan"}, "distance"),
    ("edge", {"fastener": "MS20470AD4-4"}, "fastener"),
    ("edge", {"fastener": "rivet"}, "fastener"),
    ("edge", {"hole": "30"}, "hole"),
    ("edge", {"nonsense": "1"}, "nonsense"),
    ("rivet", {"sheets": ".032 +"}, "sheets"),
    ("rivet", {"sheets": "+".join([".032"] * 7)}, "sheets"),
    ("rivet", {"sheets": "3 + 2"}, "sheets"),
    ("template", {"template": "window"}, "template"),
    ("template", {"radius": "4"}, "radius"),
    ("template", {"guide": ".1"}, "guide"),
    ("template", {"cut_width": "6", "guide": "6"}, "cut_width"),
    ("template", {"filing_allowance": "3"}, "filing_allowance"),
    ("radius", {"rise": "5"}, "rise"),
    ("radius", {"other_rise": ".3"}, "other_rise"),
    ("screw", {"size": "8-31"}, "size"),
    ("ring", {"ring_radius": "9"}, "ring_radius"),
    ("land", {"rows": "0"}, "rows"),
    ("land", {"rows": "1.5"}, "rows"),
    ("cg", {"weight": ""}, "weight"),
    ("cg", {"weight": "0"}, "weight"),
    ("cg", {"weight": "", "alloy": "2024"}, "temper"),
    ("cg", {"empty_weight": "1438 mm"}, "empty_weight"),
    ("cg", {"change": "moved"}, "change"),
    ("cg", {"weight": "", "alloy": "X", "temper": "T3", "thickness": ".04", "width": "6", "height": "6"}, "alloy"),
    ("cg", {"weight": "", "alloy": "2024", "temper": "T3", "thickness": ".04", "width": "6", "height": "6",
            "window_width": "2"}, "window_height"),
    ("cg", {"weight": "", "alloy": "2024", "temper": "T3", "thickness": ".04", "width": "6", "height": "6",
            "window_width": "7", "window_height": "2"}, "window_width"),
)  # fmt: skip


@pytest.mark.parametrize(("name", "changes", "entry"), BAD)
def test_bad_input_is_named_with_what_would_do(name, changes, entry):
    with pytest.raises(JobError) as refused:
        answered(name, **changes)
    (fault,) = refused.value.faults
    assert fault.field == entry
    assert fault.remedy
    assert fault.given == changes.get(entry, ASKED[name].get(entry, ""))


def test_every_fault_is_told_at_once():
    with pytest.raises(JobError) as refused:
        answered("ring", width="wide", height="0", ring_radius="")
    assert {fault.field for fault in refused.value.faults} == {"width", "height", "ring_radius"}


def test_a_comma_is_a_decimal_and_a_unit_may_stand_beside_a_number():
    in_mm = answered("edge", unit="mm", distance="6,0325")
    assert number(in_mm, ".ratio") == pytest.approx(1.9)
    assert number(answered("edge", distance="6.0325 mm"), ".ratio") == pytest.approx(1.9)


def test_an_answer_that_there_is_not_is_refused_with_the_nearest():
    with pytest.raises(EntryError, match="edge"):
        quick("egde")


def test_entries_bear_the_labels_of_the_job():
    labels = {field.name: field.label for field in entries_of(quick("template"))}
    assert labels["cut_width"] == "Width of cut"
    assert {field.label for field in entries_of(quick("edge"))} >= {"Rivet or screw", "Uncertainty u"}
