"""Write the list of codes in docs/strength.md from the register and the catalogue."""

from pathlib import Path

from hatchwright.workflow.rule_book import page_of

HEADING = "## Checks\n\n"

if __name__ == "__main__":
    page = Path(__file__).parents[1] / "docs" / "strength.md"
    before, heading, _ = page.read_text(encoding="utf-8").partition(HEADING)
    page.write_text(before + heading + page_of("S"), encoding="utf-8")
