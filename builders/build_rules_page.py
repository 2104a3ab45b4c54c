"""Write docs/rules.md from the docstrings of the rules."""

from pathlib import Path

from hatchwright.workflow.rule_book import page_of

if __name__ == "__main__":
    page = Path(__file__).parents[1] / "docs" / "rules.md"
    page.write_text(page_of("R"), encoding="utf-8")
