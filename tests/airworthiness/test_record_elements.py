"""Elements of each record are all there, each present or named as missing, and no set of facts makes a record complete.

Element lists: 14 CFR 43.9(a)(1) to (4), 43.11(a), 91.417(a)(2)(v), 43.5 with 91.407; AC 43.9-1G by item; 16 items of
HBAW 98-18; M.A.305 and M.A.801(f); CAR 571.10, 571.12, 605.92, 605.93 and Standard 571.10. All seen only restated; what
is from memory is marked so here too, and held to its grade.
"""

from __future__ import annotations

import pytest
from msgspec.structs import replace

from hatchwright.airworthiness.record_elements import Standing, elements_of, missing_of, open_points
from hatchwright.airworthiness.record_facts import TYPED, RecordFacts, with_entered
from hatchwright.tables.record_elements import RECORD_ELEMENTS
from hatchwright.words.tell import tell
from hatchwright.workings import Grade

ASKED = {
    # 43-09a
    "entry": {
        "43.9(a)(1)": {"description", "data"},
        "43.9(a)(2)": {"date"},
        "43.9(a)(3)": {"performer"},
        "43.9(a)(4)": {"signer", "signature", "certificate_number", "certificate_kind"},
    },
    # 43-11, 43-11b
    "inspection": {
        "43.11(a)": {
            "type",
            "extent",
            "statement",
            "signature",
            "certificate_number",
            "certificate_kind",
        },
        "43.11(a)(2)": {"date", "total_time"},
        "43.11(a)(7)": {"programme"},
        "43.11(b)": {"discrepancies"},
    },
    # 91-417a2v
    "directive": {
        "91.417(a)(2)(v)": {
            "number",
            "revision",
            "method",
            "recurring",
            "next_due_time",
            "next_due_date",
        }
    },
    # 43-05, 43-07, 65-95a, 91-407
    "release": {
        "43.5(a)": {"entry"},
        "43.5(b)": {"form"},
        "43.5(c)": {"flight_manual"},
        "43.7": {"authorized"},
        "65.95(a)(1)": {"data_approval"},
        "91.407(b), (c)": {"flight_check"},
        "91.407(b)": {"flight_logged"},
    },
    # CA-571-10, CA-605-92, CA-571-12, CA-571-ctl
    "canada": {
        "571.03": {"description", "data"},
        "571.10(2)": {"statement"},
        "605.93(2)": {"signer", "signature", "date"},
        "571.12": {"major_report"},
        "605.92(1)": {"weight_balance"},
        "Standard 571.10(d)": {"second_signature"},
    },
}
"""What each paragraph asks for."""

FORM = {
    1: "aircraft",
    2: "owner",
    4: "kind",
    5: "unit",
    6: "performer address conformity",
    7: "approval",
    8: "place description data materials weight_balance sheets",
}
"""Items of the alteration form that AC 43.9-1G tells; item 3 and the reference in item 8 stand in HBAW 98-18."""

ICA = (
    *("introduction", "description", "operation", "servicing", "maintenance", "troubleshooting", "removal"),
    *("diagrams", "special_inspections", "protective", "fasteners", "special_tools", "commuter", "overhaul"),
    *("limitations", "revision"),
)
"""HBAW 98-18, in its order; from the tenth on from memory."""

RECORDS = (*ASKED, "form", "ica", "easa")
FULL = RecordFacts(
    **dict.fromkeys(TYPED, "told"),
    work=("told",),
    ica_items=tuple((name, "told") for name in ICA),
    is_recurring=True,
)
FULL = replace(FULL, certificate="mechanic 1234567", performer="somebody else")


@pytest.mark.parametrize("record", ASKED)
def test_each_paragraph_has_its_elements(record):
    found: dict[str, set[str]] = {}
    for one in elements_of(record, RecordFacts()):
        if one.by_rule:
            found.setdefault(one.source.place, set()).add(one.name)
    assert found == ASKED[record]


def test_the_form_is_told_by_item():
    found: dict[str, list[str]] = {}
    for one in elements_of("form", RecordFacts()):
        found.setdefault(one.source.place.partition(",")[0], []).append(one.name)
    for item, names in FORM.items():
        assert set(names.split()) <= set(found[f"item {item}"])
    assert found["block 3"] == ["authority_approval"]
    assert "compatibility" in found["item 8"]  # AC 43.9-1G, the notice above item 8
    assert found["par. 1"] == ["ica"]


def test_the_sixteen_items_stand_in_their_order_with_their_grade():
    items = elements_of("ica", RecordFacts())
    assert tuple(one.name for one in items) == ICA
    assert [one.source.place for one in items] == [f"item {n}" for n in range(1, 17)]
    assert [one.grade for one in items] == [Grade.RESTATED] * 9 + [Grade.MEMORY] * 7


def test_what_is_from_memory_says_so():
    """EASA-crs is from memory; of CAR, 571.03 alone; AC 43-9C appendix 1, form items 4 and 5."""
    grades = {(r, e.name): e.grade for r in RECORDS for e in elements_of(r, RecordFacts())}
    assert grades["easa", "statement"] is Grade.MEMORY
    assert grades["easa", "reference"] is Grade.RESTATED
    assert grades["canada", "description"] is Grade.MEMORY
    assert grades["canada", "statement"] is Grade.RESTATED
    assert grades["form", "kind"] is grades["form", "unit"] is Grade.MEMORY
    assert grades["directive", "applies_to"] is Grade.MEMORY


def test_every_fact_of_the_table_is_known_by_that_name_or_written_by_hand():
    known = {
        *TYPED,
        "work",
        "certificate_number",
        "certificate_kind",
        "aircraft_identity",
        "directive_revised",
    }
    known |= {"recurring", "performer_if_other", *ICA}
    for row in RECORD_ELEMENTS.all():
        assert row.is_by_hand or row.fact in known, row


@pytest.mark.parametrize("record", RECORDS)
def test_no_set_of_facts_makes_a_record_complete(record):
    """What a person writes by hand is missing whatever is typed; a signature is never told."""
    missing = missing_of(elements_of(record, FULL))
    assert {one.standing for one in missing} <= {Standing.BY_HAND}
    by_hand = {one.name for one in elements_of(record, FULL) if one.by_rule and not one.values}
    assert {one.name for one in missing} == by_hand
    assert by_hand or record == "directive"  # the status line of an owner bears no signature


@pytest.mark.parametrize("record", RECORDS)
def test_each_thing_that_is_not_told_is_named_as_missing(record):
    for one in elements_of(record, FULL):
        if one.standing is not Standing.PRESENT:
            continue
        lacking = _without(one.fact)
        if not one.by_rule:
            assert _named(record, lacking, one.name).standing is Standing.MISSING
            continue
        (points,) = open_points(elements_of(record, lacking), (), ())
        assert tell(one.called) in tell(points), one.name


def _without(fact):
    if fact in ICA and fact not in TYPED:
        return replace(FULL, ica_items=tuple(pair for pair in FULL.ica_items if pair[0] != fact))
    match fact:
        case "certificate_number":
            return replace(FULL, certificate="mechanic")
        case "certificate_kind":
            return replace(FULL, certificate="1234567")
        case "aircraft_identity":
            return replace(FULL, serial="")
        case "directive_revised":
            return replace(FULL, directive_revision="")
        case "performer_if_other":
            return replace(FULL, performer="")
        case "recurring":
            return replace(FULL, is_recurring=None)
        case "work":
            return replace(FULL, work=())
    return replace(FULL, **{fact: ""})


def _named(record, facts, name):
    return next(one for one in elements_of(record, facts) if one.name == name)


def test_the_performer_need_not_be_named_where_he_signs():
    """43.9(a)(3): the name of who did the work, if other than the signer."""
    same = RecordFacts(performer="A. Mechanic", signer="A. Mechanic")
    assert _named("entry", same, "performer").standing is Standing.NOT_ASKED
    assert _named("form", same, "performer").standing is Standing.PRESENT  # item 6 asks for it always
    other = RecordFacts(performer="A. Mechanic", signer="B. Inspector")
    assert _named("entry", other, "performer").standing is Standing.PRESENT
    assert _named("entry", RecordFacts(), "performer").standing is Standing.MISSING


@pytest.mark.parametrize(
    ("recurring", "standing"), [(True, "missing"), (None, "missing"), (False, "not_asked")]
)
def test_time_and_date_are_asked_unless_it_is_known_not_to_recur(recurring, standing):
    """91.417(a)(2)(v): if recurring, the time AND date when the next action is required."""
    facts = RecordFacts(is_recurring=recurring)
    for name in ("next_due_time", "next_due_date"):
        assert _named("directive", facts, name).standing == standing


@pytest.mark.parametrize(
    ("disturbed", "standing"), [(True, "by_hand"), (None, "by_hand"), (False, "not_asked")]
)
def test_two_sign_unless_controls_are_known_to_be_undisturbed(disturbed, standing):
    """Standard 571.10(d)."""
    facts = RecordFacts(is_disturbed=disturbed)
    assert _named("canada", facts, "second_signature").standing == standing


@pytest.mark.parametrize(("major", "standing"), [(True, "missing"), (None, "missing"), (False, "not_asked")])
def test_a_form_is_asked_unless_somebody_says_that_the_work_is_minor(major, standing):
    """43.9(d), 43.5(b): major repairs and alterations go on the form."""
    facts = with_entered(RecordFacts(), {} if major is None else {"is_major": major})
    assert _named("release", facts, "form").standing == standing
    assert _named("release", facts, "data_approval").standing == standing


def test_entered_words_fill_blanks_and_nothing_else():
    entered = {"signer": "  ", "data": " B-7 ", "signature": "x", "is_disturbed": False, "work": "done"}
    facts = with_entered(RecordFacts(signer="A. Mechanic"), entered)
    assert facts == RecordFacts(signer="A. Mechanic", data="B-7")
    assert _named("entry", facts, "signature").standing is Standing.BY_HAND
