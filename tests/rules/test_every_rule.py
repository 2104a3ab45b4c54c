"""The house test of the rules: each has a case that passes and a case that does not, and says what it rests on."""

from __future__ import annotations

import ast
import importlib
from pathlib import Path

import pytest

from hatchwright.judged import Status
from rules.cases import Case, judged, rules

MODULES = sorted(
    path.stem for path in Path(__file__).parent.glob("test_*.py") if not path.stem.startswith("test_every_")
)


def all_cases() -> list[Case]:
    found = []
    for name in MODULES:
        module = importlib.import_module(f"rules.{name}")
        found += list(getattr(module, "CASES", ()))
    return found


CASES_OF_ALL = all_cases()


ONLY_REMIND = {
    "R423": "every crack that was found stops, and that none was found is nobody's reading (test_as_made)",
    "R429": "head heights and the two thirds are from memory until the shop confirms them (test_flush_heads)",
    "R924": "the factors are from memory, so that nothing passes until the shop confirms them (test_mount_loads)",
    "R925": "the formula is from memory, so that nothing passes until the shop confirms it (test_mount_loads)",
}
"""Rules that never pass, and why."""


ONLY_TELL = {
    "R809": "what a document says of self-locking nuts, told at its step: which nut it is, is the job's own choice",
    "R912": "what a document says of dissimilar metals, told at its step: most screws are of steel",
}
"""Rules that pass always and tell an instruction of their step, and why."""


@pytest.mark.parametrize("code", sorted(rules()))
def test_a_rule_has_a_case_that_passes_and_one_that_does_not(code):
    seen = {case.status for case in CASES_OF_ALL if case.code == code}
    assert (Status.PASS in seen) != (code in ONLY_REMIND), "no case passes"
    assert bool(seen - {Status.PASS}) != (code in ONLY_TELL), "no case fails"


@pytest.mark.parametrize("code", sorted(ONLY_TELL))
def test_a_rule_that_only_tells_names_its_step_and_has_something_to_say(code):
    assert rules()[code].entry.step
    found = [
        finding
        for case in CASES_OF_ALL
        if case.code == code
        for finding in judged(code, case.job, case.changes)
    ]
    assert any(finding.advice for finding in found)


@pytest.mark.parametrize("code", sorted(rules()))
def test_a_rule_says_what_it_rests_on_and_its_findings_cite_nothing_else(code):
    """What `hatchwright rules` lists with source and grade is what the findings cite."""
    rule = rules()[code]
    listed = {cited.source.key for _, cited in rule.limits()} | {source.key for _, source, _ in rule.bases()}
    assert listed, "no source"
    for case in CASES_OF_ALL:
        if case.code == code:
            assert {finding.source.key for finding in judged(code, case.job, case.changes)} <= listed


@pytest.mark.parametrize("name", MODULES)
def test_every_case_of_a_module_is_run(name):
    """A module that lists cases also runs them."""
    tree = ast.parse((Path(__file__).parent / f"{name}.py").read_text(encoding="utf-8"))
    names = {node.id for node in ast.walk(tree) if isinstance(node, ast.Name)}
    assert "CASES" not in names or "cases" in names


def test_there_are_more_rules_than_were_asked_for():
    assert len(rules()) >= 45
