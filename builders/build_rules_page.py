"""Write docs/rules.md from the docstrings of the rules."""

from pathlib import Path

from hatchwright.workflow.rule_book import rules_page

if __name__ == "__main__":
    page = Path(__file__).parents[1] / "docs" / "rules.md"
    page.write_text(rules_page(), encoding="utf-8")
