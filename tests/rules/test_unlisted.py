"""R931, and what every other rule answers while a sheet, a rivet or a screw is in no table.

The names are made up: no table has a CR9999, a 77-99 screw or a sheet 9999-T99. Common practice, no source.
"""

from __future__ import annotations

from functools import cache
from typing import Any

import pytest
import tomlkit

from hatchwright.errors import TableError
from hatchwright.finding import Finding
from hatchwright.job.file import read_job
from hatchwright.job.job import Job
from hatchwright.judged import Status
from hatchwright.layout.lay_out import lay_out
from hatchwright.register import Entry, Shelf
from hatchwright.rules.check import check
from hatchwright.rules.rule import Rule
from hatchwright.workflow.examine import Examination, examine
from rules.cases import FLUSH, LAPPED, PASS, PLAIN, RING, UNKNOWN, Case, cases, judged
from tests.conftest import EXAMPLES
from told import advice_of, subject_of

NO_RIVET, NO_SCREW = "CR9999", "77-99"
NO_HEAD, NO_NUT = "82 degree flush", "zorb nut"

CASES = (
    Case("R931", PASS, FLUSH, said="Every sheet, rivet, screw and nut is in the tables"),
    Case("R931", UNKNOWN, PLAIN, {"rows.0.rivet": NO_RIVET}, said="rivet CR9999 isn't in the tables"),
    Case("R931", UNKNOWN, PLAIN, {"rows.0.rivet": "MS2470AD4"}, said="MS20470"),
    Case("R931", UNKNOWN, PLAIN, {"rows.0.rivet": "MS20470AD44"}, said="2, 3, 4, 5, 6"),
    Case("R931", UNKNOWN, PLAIN, {"skin.alloy": "2042"}, said="skin sheet 2042-T3 clad isn't in the tables"),
    Case("R931", UNKNOWN, PLAIN, {"skin.alloy": "2042"}, said="2024-T3 clad"),
    Case("R931", UNKNOWN, RING, {"doubler.temper": "T99"}, said="doubler sheet 2024-T99 clad"),
    Case("R931", UNKNOWN, LAPPED, {"cover.clad": True, "cover.alloy": "1"}, said="cover sheet 1-H32 clad"),
    Case("R931", UNKNOWN, LAPPED, {"cover.screws.size": NO_SCREW}, said="Add the shop's own row"),
    Case("R931", UNKNOWN, FLUSH, {"cover.screws.nut_rivet": NO_RIVET}, said="nutplate rivet CR9999"),
    Case(
        "R931", UNKNOWN, FLUSH, {"cover.screws.head": NO_HEAD}, said="Listed: 100 degree flush, pan, washer"
    ),
    Case("R931", UNKNOWN, FLUSH, {"cover.screws.nut": NO_NUT}, said="two-lug nutplate, one-lug nutplate"),
    Case(
        "R931",
        UNKNOWN,
        PLAIN,
        {"mount": {"kind": "other", "base": ["5", "2"], "screw_size": NO_SCREW}},
        said="mount screw 77-99",
    ),
)


@cases(*CASES)
def test_unlisted(case):
    case.holds()


def test_one_line_names_a_rivet_and_marks_its_holes():
    (found,) = judged("R931", PLAIN, {"rows.0.rivet": NO_RIVET})
    assert found.holes == (1,)


NAMES = ("alder", "birch", "cypress", "dogwood", "elder")


def _text(name: str) -> Any:
    return tomlkit.parse((EXAMPLES / f"{name}.toml").read_text(encoding="utf-8"))


def named(name: str) -> dict[str, str]:
    """Every entry of an example that names a sheet, a rivet or a screw, with a name that no table has."""
    job = _text(name).unwrap()
    sheets = [part for part in ("skin", "doubler", "cover") if part in job]
    found = {f"{part}.{entry}": "9999" for part in sheets for entry in ("alloy", "temper")}
    found |= {f"rows.{index}.rivet": NO_RIVET for index in range(len(job.get("rows", ())))}
    screws, mount = job.get("cover", {}).get("screws", {}), job.get("mount", {})
    found |= {f"cover.screws.{entry}": NO_SCREW for entry in ("size",) if entry in screws}
    found |= {f"cover.screws.{entry}": NO_RIVET for entry in ("nut_rivet",) if entry in screws}
    found |= {f"cover.screws.{entry}": name for entry, name in (("head", NO_HEAD), ("nut", NO_NUT)) if screws}
    return found | {f"mount.{entry}": NO_SCREW for entry in ("screw_size",) if entry in mount}


def with_names(name: str, names: dict[str, str]) -> Job:
    """An example with other names in some entries."""
    job = _text(name)
    for path, value in names.items():
        *way, last = path.split(".")
        node = job
        for part in way:
            node = node[int(part) if part.isdigit() else part]
        node[last] = value
    return read_job(job.as_string())


@cache
def as_drawn(name: str) -> Examination:
    return examine(with_names(name, {}), with_strength=False)


def told(finding: Finding) -> tuple[object, ...]:
    return (
        finding.code,
        finding.status,
        subject_of(finding),
        advice_of(finding),
        finding.value,
        finding.limit,
        finding.holes,
    )


def told_but_advice(finding: Finding) -> tuple[object, ...]:
    return tuple(part for at, part in enumerate(told(finding)) if at != 3)


BY_NAME_ALONE = {"R413", "R414", "R601", "R804"}
"""Rules that compare sheets by their names, or look for a table of the name: another name is another question."""


OF_THE_PINS = {"T501", "T502"}
"""Pins stand in the holes that are left, so that these answer anew."""

BY_ADVICE_ALONE = {"R304"}
"""Whether a sheet may be bowed in is read from its table: without it only that is left unsaid."""

AS_THE_LARGEST = {"R702", "R706"}
"""Where a size that isn't known counts as the largest rivet: more holes may be named, and none goes."""

MAY_ANSWER_ANEW = BY_NAME_ALONE | OF_THE_PINS | BY_ADVICE_ALONE | AS_THE_LARGEST


@pytest.mark.parametrize(
    ("name", "entry"), [(name, entry) for name in NAMES for entry in named(name)], ids=str
)
def test_only_what_needs_the_name_is_not_shown(name, entry):
    before, after = (
        as_drawn(name),
        examine(with_names(name, {entry: named(name)[entry]}), with_strength=False),
    )
    for code in BY_ADVICE_ALONE:
        old, new = ([finding for finding in one.findings if finding.code == code] for one in (before, after))
        assert [told_but_advice(one) for one in old] == [told_but_advice(one) for one in new]
        assert not entry.startswith("doubler.") or not any("bow" in advice_of(one) for one in new)
    was, now = ({told(finding) for finding in one.findings} for one in (before, after))
    fresh = [finding for finding in after.findings if told(finding) not in was]
    gone = [finding for finding in before.findings if told(finding) not in now]
    assert after.verdict.holds_back
    waiting = {finding.code for finding in fresh if finding.status is Status.UNKNOWN}
    assert "R931" in waiting
    # What goes is replaced by what is not shown, and nothing else comes but what the same rule says of the other holes.
    assert {finding.code for finding in gone} <= waiting | MAY_ANSWER_ANEW
    for finding in fresh:
        code, status = finding.code, finding.status
        assert status is Status.UNKNOWN or code in waiting | MAY_ANSWER_ANEW, told(finding)
        if status is not Status.UNKNOWN and code not in BY_NAME_ALONE:
            worst = max((one.status.rank for one in before.findings if one.code == code), default=0)
            assert status.rank <= worst, f"stops falsely: {told(finding)}"
    marked = {hole for finding in after.findings if finding.code in AS_THE_LARGEST for hole in finding.holes}
    assert {hole for finding in gone if finding.code in AS_THE_LARGEST for hole in finding.holes} <= marked
    # What counts as the largest rivet names no fewer holes, and gives no milder answer.
    for code in AS_THE_LARGEST:
        old, new = ([finding for finding in one.findings if finding.code == code] for one in (before, after))
        assert {number for one in old for number in one.holes} <= {
            number for one in new for number in one.holes
        }
        assert max((one.status.rank for one in new), default=0) >= max(
            (one.status.rank for one in old), default=0
        )
    # No code that held back does so no longer.
    held_back = {finding.code for finding in before.findings if finding.status.holds_back}
    assert held_back <= {finding.code for finding in after.findings if finding.status.holds_back}


def test_a_stop_among_the_rivets_that_are_listed_stays():
    """Edge distance and spacing of alder's measured rivets, with each other row unlisted in turn."""
    before = as_drawn("alder")
    row_of = {hole.number: hole.row for hole in before.layout.holes}
    stops = [one for one in before.findings if one.code in ("R101", "R209") and one.status is Status.STOP]
    assert stops
    for index, row in enumerate(before.job.rows):
        after = examine(with_names("alder", {f"rows.{index}.rivet": NO_RIVET}), with_strength=False)
        still = {told(finding) for finding in after.findings}
        for stop in stops:
            if row.name not in {row_of[number] for number in stop.holes}:
                assert told(stop) in still


@pytest.mark.parametrize(("name", "rows"), [("alder", (0, 1)), ("cypress", (0,))], ids=str)
def test_all_that_waits_for_a_rivet_is_one_line(name, rows):
    """However many rows hold the name: nothing is told as still to enter, and every answer stays."""
    after = examine(with_names(name, {f"rows.{row}.rivet": NO_RIVET for row in rows}), with_strength=False)
    verdict, before = after.verdict, as_drawn(name).verdict
    assert verdict.status.holds_back
    assert len(verdict.open_lines) <= len(before.open_lines) + 1
    (line,) = [line for line in verdict.open_lines if "R931" in line.codes]
    assert line.status is Status.UNKNOWN
    assert line.worst.code == "R931"
    assert subject_of(line.worst) == "rivet CR9999 isn't in the tables: size not known"
    assert {"R101", "R201", "R501", "R601"} <= set(line.codes)
    assert {one.entry for one in verdict.to_enter} <= {one.entry for one in before.to_enter}
    told = [finding for line in verdict.lines for finding in line.findings]
    held_back = [one for one in after.findings if one.status is not Status.PASS and not one.enter]
    assert sorted(map(id, told)) == sorted(map(id, held_back))


def test_two_names_have_a_line_each():
    names = {"rows.0.rivet": NO_RIVET, "rows.1.rivet": "CR9998"}
    verdict = examine(with_names("alder", names), with_strength=False).verdict
    lines = [line.worst for line in verdict.open_lines if "R931" in line.codes]
    assert sorted(map(subject_of, lines)) == [
        "rivet CR9998 isn't in the tables: size not known",
        "rivet CR9999 isn't in the tables: size not known",
    ]


def test_what_a_table_lacks_of_the_rivets_that_are_listed_is_told_too(monkeypatch):
    """A rule that asks for a size, then for a row that is missing: correcting the name is not all there is to do."""

    def asks_for_both(survey):
        for hole in survey.layout.holes:
            assert hole.diameter_in > 0.0
        raise TableError("no such row", remedy="add it")
        yield

    rule = Rule(Entry("R999", Shelf.HOLDS), asks_for_both, ())
    monkeypatch.setattr("hatchwright.rules.check.all_rules", lambda: (rule,))
    job = with_names("alder", {"rows.0.rivet": NO_RIVET})
    found = [finding for finding in check(lay_out(job)) if finding.code == "R999"]
    assert [finding.status for finding in found] == [UNKNOWN, UNKNOWN]
    assert {finding.told_by for finding in found} == {"", "R931"}
