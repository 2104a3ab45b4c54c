"""The page of rules is the one that the docstrings make, and every code has its family."""

from __future__ import annotations

from pathlib import Path

from hatchwright.rules.rule import all_rules
from hatchwright.said import said
from hatchwright.words.tell import tell
from hatchwright.workflow.rule_book import page_of

PAGE = Path(__file__).parents[2] / "docs" / "rules.md"


def test_the_page_is_up_to_date():
    assert PAGE.read_text(encoding="utf-8") == page_of("R"), "run: python builders/build_rules_page.py"


def test_every_rule_says_something_and_its_limits_exist():
    for rule in all_rules():
        assert tell(said(f"family.{rule.entry.family}")), rule.code
        assert len(tell(rule.entry.asks)) > 40, rule.code
        rule.limits()
