"""The papers that the page makes: those that are ticked, each by itself, so that one refusal keeps none back."""

from __future__ import annotations

from datetime import UTC, datetime

from hatchwright.page.made_papers import OFFERED, PaperChoice, made_papers
from hatchwright.page.screen import Asked
from tests.conftest import EXAMPLES

STAMP = datetime(2026, 3, 1, 10, tzinfo=UTC)


def papers_of(name, **choice):
    asked = Asked((EXAMPLES / f"{name}.toml").read_text(encoding="utf-8"), EXAMPLES, f"{name}.toml")
    return made_papers(asked, stamp=STAMP, choice=PaperChoice(**choice))


def kinds(papers):
    return [str(one.file.kind) for one in papers]


def test_without_a_tick_the_usual_ones_are_made_and_nothing_on_request():
    wanted = PaperChoice().wanted
    assert set(OFFERED) - set(wanted) == {"as-built", "record", "package", "forms"}
    (side,) = papers_of("dogwood").sides
    assert kinds(side.papers)[0] == "CARRY_CARD"
    assert kinds(side.papers)[-1] == "ANNEX"
    assert side.asked == ()
    assert side.whole.sheets == sum(one.sheets for one in side.papers)


def test_only_what_is_ticked_is_made_in_reading_order():
    (side,) = papers_of("dogwood", only=("package", "annex", "layout")).sides
    assert kinds(side.papers) == ["LAYOUT", "ANNEX"]
    assert kinds(side.asked) == ["PACKAGE"]
    assert side.whole.file not in [one.file for one in side.asked]
    assert {one.picture.name for one in side.asked} <= {picture.name for picture in side.pictures}


def test_a_refused_template_keeps_no_other_paper_back():
    made = papers_of("elder", only=("annex", "template"))
    assert made.refusals
    assert kinds(made.sides[0].papers) == ["ANNEX"]
