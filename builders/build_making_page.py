"""Write docs/template-findings.md from the register and the catalogue."""

from pathlib import Path

from hatchwright.workflow.rule_book import page_of

if __name__ == "__main__":
    page = Path(__file__).parents[1] / "docs" / "template-findings.md"
    page.write_text(page_of("T"), encoding="utf-8")
