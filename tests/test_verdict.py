"""One verdict, its five shelves, what is to be entered, and the mark of its answers."""

from __future__ import annotations

import pytest
from msgspec.structs import replace

from hatchwright.finding import Finding, held, stated
from hatchwright.ground import Ground
from hatchwright.judged import Bound, Judgement, Measure, Status
from hatchwright.layout.lay_out import lay_out
from hatchwright.register import Shelf
from hatchwright.rules.check import check
from hatchwright.verdict import Acknowledgement, StrengthState, acknowledged_number, judge_all
from hatchwright.words.tell import tell
from hatchwright.words.verdict import headline, line_text, stop_text
from hatchwright.workings import Grade, Source
from rules.cases import PLAIN, job_of

SOURCE = Source("KEY")


def finding(code: str, status: Status, advice: tuple[str, ...] = (), **more) -> Finding:
    return stated(code, status, f"subject of {code}", Ground(SOURCE, Grade.SHOP), *advice, **more)


def verdict(*findings: Finding, strength: StrengthState = StrengthState.NOT_ASKED, acknowledged=()):
    return judge_all(findings, side="left", strength=strength, acknowledged=acknowledged)


STOPS = (
    *(finding("R901", Status.STOP), finding("R101", Status.STOP), finding("R101", Status.STOP)),
    *(finding("R601", Status.UNKNOWN), finding("R205", Status.CAUTION), finding("R301", Status.PASS)),
)


def test_the_verdict_is_the_worst_of_all():
    assert verdict(*STOPS).status is Status.STOP
    assert verdict(*STOPS[3:]).status is Status.UNKNOWN
    assert verdict(*STOPS[4:]).status is Status.CAUTION
    assert verdict().status is Status.PASS
    assert [verdict(one).holds_back for one in (STOPS[0], STOPS[3], STOPS[4], STOPS[5])] == [
        True,
        True,
        False,
        False,
    ]


def test_one_line_a_cause_counts_causes_and_names_the_worst():
    found = verdict(*STOPS)
    assert [found.count(status) for status in Status] == [1, 1, 1, 2]
    (edge,) = (line for line in found.lines if line.worst.code == "R101")
    assert (edge.more, edge.status) == (1, Status.STOP)
    assert line_text(edge, "in") == "Subject of R101, plus 1 more"
    assert tell(headline(found)) == "DO NOT CUT, DRILL OR RIVET: 2 STOP, 1 NOT SHOWN"


def test_codes_that_share_a_cause_stand_in_one_line():
    found = verdict(*(finding(code, Status.STOP) for code in ("R701", "R703", "R704")))
    assert [line.codes for line in found.lines] == [("R701", "R703", "R704")]


def test_findings_of_one_code_with_other_causes_stand_apart():
    found = verdict(
        finding("R101", Status.STOP, cause="opening"), finding("R101", Status.STOP, cause="doubler")
    )
    assert len(found.lines) == 2


def test_the_gravest_shelf_comes_first_even_when_it_only_cautions():
    found = verdict(
        finding("R101", Status.STOP), finding("R702", Status.CAUTION), finding("R908", Status.CAUTION)
    )
    assert [line.shelf for line in found.lines] == [Shelf.PLACE, Shelf.BEHIND, Shelf.HOLDS]


def test_strength_that_was_not_run_is_not_shown():
    found = verdict(finding("R301", Status.PASS), strength=StrengthState.NOT_RUN)
    assert (found.status, found.count(Status.UNKNOWN)) == (Status.UNKNOWN, 1)
    assert "not run" in stop_text(found)
    assert not verdict(finding("R301", Status.PASS), strength=StrengthState.RUN).holds_back


def test_missing_entries_are_one_list_the_one_that_unlocks_most_first():
    found = verdict(
        finding("R802", Status.UNKNOWN, enter=("cover.screws.nut_height",)),
        finding("R705", Status.UNKNOWN, enter=("cover.screws.nut_height", "cover.screws.length")),
        finding("T306", Status.CAUTION, enter=("cutter.reach",)),
    )
    assert not found.lines
    assert [(one.entry, one.status, one.codes) for one in found.to_enter] == [
        ("cover.screws.nut_height", Status.UNKNOWN, ("R802", "R705")),
        ("cover.screws.length", Status.UNKNOWN, ("R705",)),
        ("cutter.reach", Status.CAUTION, ("T306",)),
    ]
    assert found.status is Status.UNKNOWN
    assert found.count(Status.UNKNOWN) == 1


def test_what_stops_is_told_in_its_own_words_though_an_entry_would_mend_it():
    """A departure that changed after it was accepted is no entry that is missing."""
    found = verdict(finding("R903", Status.STOP, enter=("departures.accepted",)))
    assert [line.worst.code for line in found.lines] == ["R903"]
    assert found.to_enter == ()
    assert found.count(Status.STOP) == 1


def test_what_was_measured_and_is_not_shown_is_told_on_its_shelf():
    """A cable .6 deep that moves is in front of the drill: its name is told, not that an entry is missing."""
    cable = {"name": "cable", "x_from": "2.3", "x_to": "2.3", "depth": ".6", "moves": True}
    layout = lay_out(job_of(PLAIN, bay__keep_outs=[cable]))
    found = verdict(*check(layout))
    told = [line for line in found.lines if line.shelf is Shelf.BEHIND and line.status is Status.UNKNOWN]
    assert "R702" in {line.worst.code for line in told}
    assert all("able" in line_text(line, "in") for line in told)
    assert "bay.keep_outs" not in {one.entry for one in found.to_enter}


def test_what_waits_for_a_name_is_told_in_the_line_of_the_code_that_names_it():
    waiting = [
        finding(code, Status.UNKNOWN, cause=name, told_by="R931")
        for code in ("R101", "S100")
        for name in ("one", "other")
    ]
    names = [finding("R931", Status.UNKNOWN, cause=name) for name in ("one", "other")]
    found = verdict(*waiting, finding("R101", Status.STOP), *names)
    assert found.status is Status.STOP
    assert [(line.shelf, line.codes, line.worst.cause) for line in found.lines] == [
        (Shelf.HOLDS, ("R101",), ""),
        (Shelf.SETTLE, ("R931", "R101", "S100"), "one"),
        (Shelf.SETTLE, ("R931", "R101", "S100"), "other"),
    ]
    assert found.to_enter == ()
    assert "R931" in stop_text(found)
    assert "S100" not in stop_text(found)


def test_the_stop_box_names_what_holds_back_and_nothing_else():
    found = verdict(*STOPS)
    assert (
        stop_text(found)
        == "DO NOT CUT, DRILL OR RIVET: 2 STOP, 1 NOT SHOWN. R901, R101, R601. SEE THE CARRY CARD."
    )
    assert stop_text(verdict(*STOPS[:1]), "findings").endswith("1 STOP. R901. SEE THE FINDINGS.")
    assert stop_text(verdict(*STOPS[4:])) == ""


def short_by(value: float, status: Status = Status.CAUTION) -> Finding:
    judged = Judgement(Measure("e", value), (Bound(0.25, SOURCE, Grade.PUBLISHED),), fails_as=status)
    return held("R103", judged, "screw 1")


def test_an_acknowledged_caution_is_folded_until_its_number_changes():
    known = Acknowledgement("R103", acknowledged_number(short_by(0.24)), "as the covers beside it", "RB")
    assert not verdict(short_by(0.24), acknowledged=(known,)).open_lines
    assert verdict(short_by(0.23), acknowledged=(known,)).open_lines
    assert verdict(short_by(0.24), short_by(0.23), acknowledged=(known,)).open_lines


@pytest.mark.parametrize("status", [Status.STOP, Status.UNKNOWN])
def test_what_holds_back_is_never_acknowledged_away(status):
    found = short_by(0.24, status)
    known = Acknowledgement("R103", acknowledged_number(found), "because", "RB")
    assert verdict(found, acknowledged=(known,)).open_lines
    assert verdict(found, acknowledged=(known,)).holds_back


def test_the_mark_changes_with_any_answer_and_with_nothing_else():
    found = verdict(*STOPS)
    assert found.mark == verdict(*reversed(STOPS)).mark
    assert len(found.mark) == 8
    others = [
        verdict(*STOPS[1:]),
        verdict(*STOPS[:-1], replace(STOPS[-1], code="R302")),
        verdict(*STOPS, strength=StrengthState.RUN),
        judge_all(STOPS, side="right", strength=StrengthState.NOT_ASKED),
        verdict(short_by(0.24)),
        verdict(short_by(0.2401)),
    ]
    assert len({found.mark, *(one.mark for one in others)}) == 7


def test_a_verdict_never_sounds_like_an_approval():
    for found in (verdict(), verdict(*STOPS[4:]), verdict(*STOPS)):
        said = tell(headline(found)).lower()
        assert not any(word in said for word in ("approved", "airworthy", "certified", "complian", "safe"))
