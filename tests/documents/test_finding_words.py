"""What is short never reads as if it were not, on the card, on the screen and on the command line."""

from __future__ import annotations

import pytest

from hatchwright.documents.verdict_on_paper import finding_line
from hatchwright.finding import held
from hatchwright.judged import Bound, Judgement, Measure
from hatchwright.words.amounts import value_text
from hatchwright.words.findings import number_said
from hatchwright.words.tell import tell
from hatchwright.workings import Grade, Source
from tests.told import named

SHORT = held(
    "R101", Judgement(Measure("e", 0.24996), (Bound(0.25, Source("K"), Grade.PUBLISHED),)), "rivet 1"
)
"""2 D of a 1/8 rivet less four hundred-thousandths."""


@pytest.mark.parametrize(
    ("unit", "value", "limit"),
    [("in", ".24996 in", ".25000 in"), ("mm", "6.349 mm", "6.350 mm")],
)
def test_a_shortfall_that_rounding_hides_shows_on_the_card_and_the_command_line(unit, value, limit):
    line = named(finding_line(SHORT, unit))
    assert (line.value, line.limit) == (value, limit)
    assert tell(number_said(SHORT), unit) == f"Is {value}, limit {limit}."


def test_a_shortfall_that_rounding_hides_shows_on_the_page():
    assert value_text(SHORT.value, "in", "in", beside=SHORT.limit) == ".24996 in"
    assert value_text(SHORT.limit, "in", "in", beside=SHORT.value) == ".25000 in"
    assert value_text(SHORT.value, "in", "mm", beside=SHORT.limit) == "6.349 mm"


def test_a_plain_shortfall_takes_no_more_places():
    short = held(
        "R101", Judgement(Measure("e", 0.243), (Bound(0.25, Source("K"), Grade.PUBLISHED),)), "rivet 1"
    )
    assert tell(number_said(short), "in") == "Is .243 in, limit .250 in."
    assert named(finding_line(short, "mm")).value == "6.17 mm"
