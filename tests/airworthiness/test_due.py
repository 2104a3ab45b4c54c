"""What is due where something is missing, moved, read in two ways or stopped by a permit."""

from __future__ import annotations

from datetime import date
from decimal import Decimal

import pytest
from pydantic import ValidationError

from hatchwright.airworthiness.due.line import State
from hatchwright.job.fleet.sound_mandates import mandate_faults

from .fleets import AD, action, applies, at, done, fleet, line, lines, mandate


@pytest.mark.parametrize("missing", ["answer", "hours", "reading"])
def test_what_can_not_be_worked_out_is_treated_as_due(missing):
    entries = {
        "applies": [applies(hours="4312.6")]
        if missing == "reading"
        else [applies()]
        if missing == "hours"
        else [],
        "readings": [] if missing == "reading" else [at("2026-04-01", "4320.0")],
    }
    ad = mandate(action(first={"hours": "100"}), effective="2026-03-15")
    (found,) = lines(fleet(ad, **entries), "2026-04-02")
    assert found.state is State.NOT_SHOWN
    assert found.state.holds_back
    assert found.notes


def test_a_reading_that_may_have_been_flown_past_is_not_shown():
    ad = mandate(action(first={"hours": "100"}), effective="2026-03-15")
    of_it = fleet(
        ad, applies=[applies(hours="4312.6")], readings=[at("2026-04-01", "4402.6")], hours_per_month="30"
    )
    assert line(of_it, "2026-04-10").state is State.OPEN
    assert line(of_it, "2026-04-11").state is State.NOT_SHOWN


def test_calendar_months_of_a_directive_are_asked_about_between_both_readings():
    ad = mandate(action(first={"calendar_months": 3}), effective="2026-03-15")
    days = ("2026-06-15", "2026-06-16", "2026-07-01")
    states = [line(fleet(ad, applies=[applies()]), on).state for on in days]
    assert states == [State.OPEN, State.NOT_SHOWN, State.OVERDUE]
    manual = fleet({**ad, "kind": "instructions"}, applies=[applies()])
    assert [line(manual, on).state for on in days] == [State.OPEN, State.OPEN, State.OVERDUE]


def test_a_permit_leaves_it_overdue():
    """R-16, 14 CFR 39.23."""
    ad = mandate(action(first={"days": 30}), effective="2026-03-15", permit="allowed")
    permit = {"mandate": AD, "date": "2026-05-01", "reference": "permit 7"}
    found = line(fleet(ad, applies=[applies()], permits=[permit]), "2026-05-02")
    assert (found.state, len(found.permits)) == (State.OVERDUE, 1)


def test_actual_notice_binds_before_the_effective_date():
    """R-03: stored text of AD 70-25-09, separate dates for those who received individual copies."""
    ad = mandate(action(first={"days": 10}), effective="2026-03-15")
    found = line(fleet(ad, applies=[applies(notice="2026-03-01")]), "2026-03-02")
    assert found.due_date == date(2026, 3, 11)


def test_a_part_that_was_elsewhere_keeps_what_was_done_on_it():
    bolt = {"name": "spar bolt", "serial": "B7"}
    out = {
        **bolt,
        "date": "2025-01-01",
        "own_hours": "100.0",
        "aircraft_hours": "6000.0",
        "removed": "2025-06-01",
        "removed_hours": "6080.0",
    }
    then = {**bolt, "date": "2025-07-01", "own_hours": "180.0", "aircraft_hours": "1200.0"}
    ad = mandate(
        action(component="spar bolt", first={"hours": "50"}, repeat={"hours": "50"}), effective="2024-01-01"
    )
    of_it = fleet(
        ad,
        aircraft=(
            {
                "registration": "N101HW",
                "serial": "1",
                "applies": [applies()],
                "components": [out],
                "done": [done("2025-05-01", "6060.0")],
            },
            {
                "registration": "N102HW",
                "serial": "2",
                "applies": [applies()],
                "components": [then],
                "readings": [at("2025-07-01", "1200.0")],
            },
        ),
    )
    # Done at 160 of its own hours, so due at 210: 30 h after it went in at 180, at 1,230.
    assert lines(of_it, "2025-08-01")[1].due_hours == Decimal("1230.0")


BOLT = {"name": "spar bolt", "date": "2025-01-01", "aircraft_hours": "1000.0"}
BOLTS = [{**BOLT, "serial": "L1", "own_hours": "500.0"}, {**BOLT, "serial": "R1", "own_hours": "200.0"}]
AT_BOLTS = mandate(
    action(component="spar bolt", first={"total_hours": "600"}, repeat={"hours": "50"}), kind="owner"
)


@pytest.mark.parametrize(
    ("part", "left", "right"),
    [({}, "1100.0", "1400.0"), ({"part": "L1"}, "1140.0", "1400.0"), ({"part": "R1"}, "1100.0", "1140.0")],
)
def test_of_two_parts_of_one_name_only_the_one_that_is_named_was_done(part, left, right):
    """At 1,090 h; L1 then has 590 h of its own and R1 290, so 50 h more come at 1,140 on the aircraft."""
    one = done("2025-06-01", "1090.0", **part)
    both = lines(fleet(AT_BOLTS, applies=[applies()], components=BOLTS, done=[one]), "2025-06-02")
    due = {line.part.serial: line.due_hours for line in both}
    assert due == {"L1": Decimal(left), "R1": Decimal(right)}
    is_told = ["due.note.which_part" in [note.id for note in line.notes] for line in both]
    assert is_told == [not part] * 2


def test_a_part_whose_time_is_not_known_is_treated_as_due():
    """R-15."""
    (found,) = lines(
        fleet(AT_BOLTS, applies=[applies()], components=[{**BOLT, "serial": "L1"}]), "2025-06-02"
    )
    assert (found.state, found.due_hours, found.unknown) == (State.NOT_SHOWN, None, {"hours"})


def test_a_mandate_whose_actions_nobody_entered_is_not_passed_over():
    (found,) = lines(fleet(mandate()), "2026-01-01")
    assert found.state is State.NOT_SHOWN
    assert [one.state for one in lines(fleet(mandate(), applies=[applies(applies=False)]), "2026-01-01")] == [
        State.DOES_NOT_APPLY
    ]


def test_what_is_dated_later_is_left_out():
    ad = mandate(action(first={"hours": "100"}), effective="2026-03-15")
    later = [at("2026-03-01", "4300.0"), at("2026-03-10", "4310.0")]
    found = line(fleet(ad, applies=[applies()], readings=later), "2026-03-02")
    assert found.due_hours == Decimal("4400.0")


def test_landings_without_their_hours_still_count_as_made():
    ad = mandate(action(first={"landings": 500}), action("h", stands=True), effective="2026-01-01")
    of_it = fleet(
        ad,
        applies=[applies(landings=8000)],
        readings=[at("2026-01-02", "3000.0", landings=8010)],
        done=[{"mandate": AD, "paragraph": "h", "date": "2026-05-01", "landings": 8501}],
    )
    assert line(of_it, "2026-05-01").landings_left == -1


def test_a_superseded_directive_gives_way_on_the_day_of_the_new_one_and_its_letters_with_it():
    """R-14, R-17."""
    letter = {
        "letter": "AMOC letter 1",
        "approved": "2025-01-01",
        "by": "the manager named",
        "serials": ["1001"],
        "paragraph": "g",
        "repeat": {"hours": "500"},
    }
    old = mandate(action(repeat={"hours": "100"}), effective="2024-01-01", alternatives=[letter])
    new = mandate(
        action("f", repeat={"hours": "60"}),
        number="AD 2026-99-02",
        effective="2026-03-15",
        replaces=AD,
        unless_done=True,
    )
    then = done("2026-01-01", "1000.0")
    both = [then, {**then, "mandate": "AD 2026-99-02", "paragraph": "f"}]
    of_it = fleet(old, new, applies=[applies(), applies("AD 2026-99-02", hours="1020.0")], done=both)
    assert line(of_it, "2026-03-14").due_hours == Decimal("1500.0")
    assert line(of_it, "2026-03-15").state is State.REPLACED
    assert line(of_it, "2026-03-15", "f").due_hours == Decimal("1060.0")


@pytest.mark.parametrize(("of_two", "state"), [("first", State.OVERDUE), ("or_later", State.OPEN)])
def test_whichever_later_of_hours_and_a_date_needs_both(of_two, state):
    limits = (
        {"first": {"hours": "100", "days": 30}}
        if of_two == "first"
        else {"first": {"hours": "100"}, "or_later": {"days": 30}}
    )
    ad = mandate(action(**limits), effective="2026-03-15")
    of_it = fleet(ad, applies=[applies(hours="1000.0")], readings=[at("2026-03-20", "1100.1")])
    assert line(of_it, "2026-03-20").state is state
    assert line(of_it, "2026-04-15").state is State.OVERDUE


def test_an_early_finding_is_gone_once_it_is_corrected_by_its_data():
    """R-18; the inspection that found it corrects nothing."""
    crack = {
        "mandate": AD,
        "paragraph": "g",
        "date": "2026-09-19",
        "hours": "4377.2",
        "what": "crack at hole 4",
    }
    ad = mandate(action(repeat={"hours": "100"}), effective="2026-03-15")
    inspected = done("2026-09-19", "4377.2")

    def states(**more):
        of_it = fleet(ad, applies=[applies()], done=[inspected], found=[{**crack, **more}])
        return [one.state for one in lines(of_it, "2026-09-21")]

    assert states() == [State.BEFORE_FLIGHT, State.OPEN]
    assert states(corrected="2026-09-20", data="approved repair 12") == [State.OPEN]
    assert states(corrected="2026-09-21", data="approved repair 12") == [State.OPEN]
    assert states(corrected="2026-09-22", data="approved repair 12") == [State.BEFORE_FLIGHT, State.OPEN]


@pytest.mark.parametrize(
    ("hours", "state"), [("1099.9", State.OPEN), ("1100.0", State.BEFORE_FLIGHT), ("1100.1", State.OVERDUE)]
)
def test_the_last_tenth_leaves_no_flight(hours, state):
    ad = mandate(action(first={"hours": "100"}), effective="2026-03-15")
    assert (
        line(
            fleet(ad, applies=[applies(hours="1000.0")], readings=[at("2026-04-01", hours)]), "2026-04-01"
        ).state
        is state
    )


@pytest.mark.parametrize(("hours", "state"), [("3310.0", State.EN_ROUTE), ("3310.1", State.OVERDUE)])
def test_the_100_hour_inspection_is_overrun_by_ten_hours_at_most(hours, state):
    """14 CFR 91.409(b)."""
    hundred = mandate(action(repeat={"hours": "100"}, overrun="10"), kind="inspection")
    of_it = fleet(
        hundred, applies=[applies()], done=[done("2026-01-10", "3200.0")], readings=[at("2026-05-01", hours)]
    )
    assert line(of_it, "2026-05-01").state is state


@pytest.mark.parametrize(
    ("day", "revision", "counts"),
    [
        ("2026-03-14", "B", True), ("2026-03-14", "C", True), ("2026-03-14", "", False), ("2026-03-14", "A", False),
        ("2026-03-15", "C", True), ("2026-03-15", "", True), ("2026-03-15", "B", False),
    ],
)  # fmt: skip
def test_credit_is_for_what_was_done_before(day, revision, counts):
    """R-13: the credit paragraph names B, the directive asks for C."""
    ad = mandate(
        action(first={"hours": "100"}),
        effective="2026-03-15",
        unless_done=True,
        data_revision="C",
        credit=["B"],
    )
    found = line(
        fleet(ad, applies=[applies(hours="1000.0")], done=[done(day, "990.0", revision=revision)]),
        "2026-03-16",
    )
    assert (found.state is State.DONE) == counts
    bare = mandate(action(first={"hours": "100"}), effective="2026-03-15")
    found = line(fleet(bare, applies=[applies(hours="1000.0")], done=[done(day, "990.0")]), "2026-03-16")
    assert (found.state is State.DONE) == (day == "2026-03-15"), "without the words that credit it"


@pytest.mark.parametrize(
    ("day", "due"), [("2026-03-14", "1025.0"), ("2026-03-15", "1010.0"), ("2026-03-16", "1010.0")]
)
def test_grace_is_for_what_was_done_before_the_new_interval(day, due):
    """R-14."""
    ad = mandate(
        action(repeat={"hours": "10"}, grace={"hours": "25"}), effective="2026-03-15", unless_done=True
    )
    found = line(fleet(ad, applies=[applies(hours="1000.0")], done=[done(day, "1000.0")]), "2026-03-16")
    assert found.due_hours == Decimal(due)


def test_what_may_come_later_than_something_unknown_has_no_limit_that_is_known():
    ad = mandate(action(first={"hours": "100", "days": 9}, or_later={"days": 30}), effective="2026-03-15")
    found = line(fleet(ad, applies=[applies()]), "2026-03-16")
    assert (found.state, found.terms, found.unknown) == (State.NOT_SHOWN, (), {"hours", "landings", "date"})


def test_a_check_that_follows_work_on_both_sides_counts_from_the_first():
    check = action("i", repeat={"calendar_months": 12}, after={"paragraph": "h"})
    ad = mandate(action("h", first={"hours": "100"}), check, effective="2026-01-01")
    sides = [done("2026-02-10", "1000.0", "h"), done("2026-03-10", "1000.0", "h")]
    assert line(fleet(ad, applies=[applies()], done=sides), "2026-03-10", "i").due_date == date(2027, 2, 28)
    assert line(fleet(ad, applies=[applies()]), "2026-03-10", "i").state is State.WAITS


def test_what_was_done_on_the_day_that_a_part_was_put_in_counts():
    one = done("2025-01-01", "1000.0")
    (found,) = lines(fleet(AT_BOLTS, applies=[applies()], components=BOLTS[:1], done=[one]), "2025-06-02")
    assert found.due_hours == Decimal("1050.0")


@pytest.mark.parametrize(
    "part", [None, {"name": "strut", "serial": "1", "date": "2026-01-01", "aircraft_hours": "9"}]
)
def test_before_further_flight_leaves_no_flight_on_its_own_day_where_hours_are_not_known(part):
    """R-18: no flight remaining."""
    asked = action(first={"before_flight": True}, component="strut" if part else "")
    of = fleet(mandate(asked, effective="2026-12-01"), applies=[applies()], components=[part] if part else [])
    assert line(of, "2026-12-01").state.holds_back


@pytest.mark.parametrize(
    ("letter", "hours", "day"),
    [
        ({"hours": "150"}, Decimal("250"), date(2027, 1, 1)),
        ({"calendar_months": 24}, Decimal("200"), date(2028, 1, 31)),
    ],
)
def test_what_a_letter_does_not_name_stays_as_in_the_directive(letter, hours, day):
    """R-17, and C-19: date limit unchanged."""
    approved = {
        "letter": "L",
        "approved": "2026-02-01",
        "by": "manager",
        "serials": ["1001"],
        "paragraph": "g",
    }
    asked = action(first={"hours": "10"}, repeat={"hours": "100", "months": 12})
    of = fleet(
        mandate(asked, effective="2025-01-02", alternatives=[{**approved, "repeat": letter}]),
        applies=[applies()],
        done=[done("2026-01-01", "100")],
    )
    found = line(of, "2026-03-01")
    assert (found.due_hours, found.due_date) == (hours, day)


def test_what_was_done_before_its_clock_started_does_not_count():
    """A check within 50 h after a modification is not the one that was made a month before it."""
    asked = action("g", first={"hours": "1000"}), action("h", first={"hours": "50"}, after={"paragraph": "g"})
    of = fleet(
        mandate(*asked, effective="2025-01-02"),
        applies=[applies()],
        done=[done("2026-02-01", "110", paragraph="h"), done("2026-03-01", "120")],
    )
    assert line(of, "2026-04-01", "h").due_hours == Decimal("170")


def test_of_two_meters_put_in_on_one_day_the_last_one_counts():
    """105 h on a meter that began at 0 are 105 h more, not 5."""
    of = fleet(
        mandate(action(first={"total_hours": "200"})),
        applies=[applies()],
        meters=[
            {"date": "2026-01-01", "total": "100", "new": "100"},
            {"date": "2026-01-01", "total": "100", "new": "0"},
        ],
        readings=[{"date": "2026-02-01", "meter": "105"}],
    )
    assert line(of, "2026-02-01").hours_left == Decimal("-5")


@pytest.mark.parametrize(
    ("first", "second", "says"),
    [
        ({"replaces": "B"}, {"replaces": AD}, "due.supersedes_itself"),
        ({"replaces": AD}, {}, "due.supersedes_itself"),
        ({}, {"replaces": AD, "kind": "bulletin"}, "due.supersedes_directive"),
    ],
)
def test_nothing_is_put_out_of_force_by_a_slip(first, second, says):
    """Each would say of every line that another one stands for it, and nothing would be due."""
    asked = action(first={"hours": "10"})
    days = {"effective": "2026-01-02"}
    entered = [mandate(asked, **days, **first), mandate(asked, number="B", **days, **second)]
    of = fleet(*entered)
    assert says in {fault.what.id for fault in mandate_faults(of.mandates, of.aircraft)}


@pytest.mark.parametrize(("hours", "is_refused"), [("4312.6", False), ("4400", True), ("4299", True)])
def test_hours_when_a_limit_began_lie_between_the_readings(hours, is_refused):
    """4,400 h on a day after which 4,330 h were read would make every limit of it late."""
    of = fleet(
        mandate(action(first={"hours": "100"}), effective="2026-03-15"),
        applies=[applies(hours=hours)],
        readings=[at("2026-03-01", "4300"), at("2026-04-01", "4330")],
    )
    faults = [fault.what.id for fault in mandate_faults(of.mandates, of.aircraft)]
    assert faults == ["due.began_elsewhere"] * is_refused


def test_landings_when_a_part_was_put_in_are_no_more_than_were_made_later():
    """5,000 in place of 500 would put its landings off by 4,500."""
    part = {
        "name": "strut", "serial": "1", "date": "2026-01-01", "aircraft_hours": "9", "own_hours": "9",
        "own_landings": 10, "aircraft_landings": 5000,
    }  # fmt: skip
    with pytest.raises(ValidationError) as refused:
        fleet(components=[part], readings=[at("2026-02-01", "20", landings=1000)])
    assert refused.value.errors()[0]["ctx"]["what"].id == "due.landings_back"


def test_a_modification_of_one_strut_of_two_does_not_close_the_inspection_of_the_aircraft():
    """R-11: the terminating action is done when it is done on both."""
    struts = [
        {"name": "strut", "serial": one, "date": "2025-01-01", "aircraft_hours": "50", "own_hours": "50"}
        for one in "12"
    ]
    asked = (
        action("g", first={"hours": "500"}, repeat={"hours": "10"}),
        action("k", first={"hours": "500"}, closes=["g"], component="strut"),
    )

    def inspection(*serials: str) -> State:
        of = fleet(
            mandate(*asked, effective="2025-01-02"),
            applies=[applies()],
            components=struts,
            done=[done("2026-02-01", "110", paragraph="k", part=one) for one in serials],
        )
        return line(of, "2026-02-01").state

    assert [inspection("1"), inspection("1", "2")] == [State.OPEN, State.CLOSED]


@pytest.mark.parametrize(
    ("on", "readings", "state", "day"),
    [
        ("2026-12-01", [at("2026-11-30", "100")], State.OPEN, date(2026, 12, 14)),
        ("2026-12-15", [at("2026-11-30", "100")], State.BEFORE_FLIGHT, date(2026, 12, 15)),
        ("2026-12-01", [], State.OPEN, date(2026, 12, 14)),
        ("2026-12-15", [], State.NOT_SHOWN, date(2026, 12, 15)),
    ],
)
def test_before_further_flight_holds_nothing_back_until_it_is_in_effect(on, readings, state, day):
    """R-03: the limits count from the effective date, not from the day that the text came."""
    of = fleet(
        mandate(action(first={"before_flight": True}), effective="2026-12-15"),
        applies=[applies()],
        readings=readings,
    )
    assert (line(of, on).state, line(of, on).due_date) == (state, day)


def test_what_was_done_on_one_part_is_not_taken_for_the_whole_aircraft():
    """The left strut alone would start the next interval of both."""
    of = fleet(mandate(action(repeat={"hours": "100"})), done=[done("2026-02-01", "110", part="left")])
    assert [fault.what.id for fault in mandate_faults(of.mandates, of.aircraft)] == ["due.part_of_none"]
