"""A name that no table lists makes the answers that need it not shown, and no other.

The names are made up: no table has a screw 8-33, a rivet CR9999 or a sheet 2042-T3. Common practice, no source. What is
held is one property: a missing value never makes an answer milder, and what doesn't need it is what it was.
"""

from __future__ import annotations

from collections import Counter
from functools import cache
from typing import Any

import pytest
import tomlkit

from hatchwright.errors import TableError
from hatchwright.finding import Finding
from hatchwright.job.file import read_job
from hatchwright.judged import Status
from hatchwright.layout.lay_out import lay_out
from hatchwright.search.strength_answer import answer_of
from hatchwright.strength.family import Family, worked_out
from hatchwright.strength.report import Elements, strength_findings
from hatchwright.verdict import StrengthState, judge_all
from tests.conftest import EXAMPLES
from tests.strength.jobs import ANSWERED, RESTORE, SYMMETRIC, layout_of
from told import advice_of, subject_of

NO_BUCKLING = Elements(buckling=False)


@cache
def found_in(
    example: str, *changes: tuple[str, str], elements: Elements | None = None
) -> tuple[Finding, ...]:
    job: Any = tomlkit.parse((EXAMPLES / f"{example}.toml").read_text(encoding="utf-8")).unwrap()
    job["loads"] = {"basis": "restore", "efficiency": "1.00"}
    for path, value in changes:
        *parts, last = path.split(".")
        place = job
        for part in parts:
            place = place[int(part)] if part.isdigit() else place[part]
        place[last] = value
    return strength_findings(answer_of(lay_out(read_job(tomlkit.dumps(job))), elements).report)


def stops(found: tuple[Finding, ...]) -> Counter[tuple[str, str]]:
    return Counter((one.code, subject_of(one)) for one in found if one.status is Status.STOP)


def codes(found: tuple[Finding, ...]) -> set[str]:
    return {one.code for one in found}


def not_shown(found: tuple[Finding, ...]) -> list[str]:
    return [subject_of(one) for one in found if one.code == "S100"]


def test_a_screw_that_no_table_lists_leaves_every_stop_of_rows_and_sheets():
    whole, lacking = found_in("heron"), found_in("heron", ("cover.screws.size", "8-33"))
    assert {"S302", "S303", "S306"} <= {code for code, _ in stops(whole)}
    assert stops(lacking) == stops(whole)
    (told,) = not_shown(lacking)
    assert "screw 8-33 isn't in the tables" in told
    assert codes(whole) == codes(lacking) - {"S100"}


def test_a_section_that_lacks_a_hole_and_is_short_says_that_it_is_no_more():
    lacking = found_in("heron", ("cover.screws.size", "8-33"))
    straps = [one for one in lacking if one.code in ("S302", "S303")]
    assert straps
    assert all("no more than this" in advice_of(one) for one in straps)


def test_a_section_that_lacks_a_hole_and_is_not_short_is_not_shown():
    thick = ("doubler.thickness", ".125")
    passed = {one.status for one in found_in("heron", thick) if one.code in ("S302", "S303")}
    lacking = found_in("heron", thick, ("cover.screws.size", "8-33"))
    assert passed == {Status.PASS}
    assert {one.status for one in lacking if one.code in ("S302", "S303")} == {Status.UNKNOWN}


def test_finite_elements_that_need_no_screw_are_worked_out_without_it():
    lacking = found_in("heron", ("cover.screws.size", "8-33"), elements=NO_BUCKLING)
    assert "S814" in codes(lacking)


def test_rivets_that_no_table_lists_leave_the_sheets():
    whole = found_in("alder")
    rows = tuple((f"rows.{row}.rivet", "CR9999") for row in range(8))
    lacking = found_in("alder", *rows)
    sheets = ("S302", "S303", "S306")
    assert {one for one in stops(whole) if one[0] in sheets} == set(stops(lacking))
    assert {one.status for one in lacking if one.code in ("S201", "S202")} == {Status.UNKNOWN}
    assert all("rivet CR9999" in told for told in not_shown(lacking))
    assert len({told.split(" can't")[0] for told in not_shown(lacking)}) == len(not_shown(lacking)) > 1


def test_a_doubler_that_no_table_lists_leaves_what_needs_only_its_thickness():
    whole, lacking = found_in("alder"), found_in("alder", ("doubler.alloy", "2042"))
    for code in ("S305", "S306", "S703"):
        assert [one for one in lacking if one.code == code] == [one for one in whole if one.code == code]
    assert {one.status for one in lacking if one.code in ("S201", "S202")} == {Status.UNKNOWN}
    assert any("Doubler across the opening" in told for told in not_shown(lacking))
    # Tear-out that is short in the skin is short whatever the doubler holds.
    assert {one for one in stops(lacking) if one[0] == "S304"} <= set(stops(whole))


def test_a_skin_that_no_table_lists_leaves_the_metal_put_back():
    whole, lacking = found_in("alder"), found_in("alder", ("skin.alloy", "2042"))
    assert {one for one in stops(whole) if one[0] == "S306"} == set(stops(lacking)) != set()
    (told,) = not_shown(lacking)
    assert "every margin" in told


def test_families_that_lack_a_name_are_told_in_the_line_that_names_it():
    lacking = found_in("heron", ("cover.screws.size", "8-33"))
    assert {one.told_by for one in lacking if one.code == "S100"} == {"R931"}


def test_families_that_lack_the_same_value_are_told_in_one_line():
    # A doubler of a listed alloy, thicker than any that the tables give strengths for.
    lacking = found_in("alder", ("doubler.thickness", ".25"))
    told = judge_all(lacking, side="left", strength=StrengthState.RUN).lines
    (line,) = (line for line in told if line.findings[0].code == "S100")
    assert len(line.findings) == len(not_shown(lacking)) > 1


def test_a_family_keeps_what_it_found_before_it_was_refused():
    def answers():
        yield 1
        raise TableError("no such row", where="a table")

    layout = layout_of(ANSWERED, RESTORE, base=SYMMETRIC)
    found, refused = worked_out(layout, [Family("rivets", answers), Family("skin", lambda: [2])])
    assert found == (1, 2)
    assert [one.status for one in refused] == [Status.UNKNOWN]
    assert "no such row" in subject_of(refused[0])


@pytest.mark.parametrize("example", ["alder", "heron"])
def test_a_job_whose_names_are_all_listed_has_no_family_refused(example):
    assert not_shown(found_in(example)) == []
