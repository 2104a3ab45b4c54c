"""R912, R913: dissimilar metals and drains.

Two coats on each surface, [TM-1-1500-204-23] vol. 9; drain holes are kept, [AC43.13-1B] par. 1-37.
"""

from __future__ import annotations

from hatchwright.register import entries
from rules.cases import FLUSH, PASS, PLAIN, STOP, Case, cases, judged
from told import advice_of

CASES = (
    Case("R912", PASS, FLUSH),
    Case("R912", PASS, FLUSH, {"cover.screws.steel": True}, said="Install screws and nuts wet"),
    Case("R913", PASS, PLAIN, {"gate": {"drain_covered": False}}),
    Case("R913", STOP, PLAIN, {"gate": {"drain_covered": True}}, said="drain of the same size"),
)


@cases(*CASES)
def test_protection(case):
    case.holds()


def test_steel_screws_are_told_where_parts_are_primed_and_caution_nobody():
    """An instruction of its step, whether steel was entered or is only taken for granted."""
    for changes in ({"cover.screws.steel": True}, {"cover.screws.steel": None}):
        (finding,) = judged("R912", FLUSH, changes)
        assert finding.status is PASS
        assert "wet with sealant" in advice_of(finding)
    assert entries()["R912"].step == "prime"


def test_without_screws_there_is_no_steel():
    assert judged("R912", PLAIN) == []
