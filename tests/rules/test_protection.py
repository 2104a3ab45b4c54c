"""R912, R913: dissimilar metals and drains.

Two coats on each surface, [TM-1-1500-204-23] vol. 9; drain holes are kept, [AC43.13-1B] par. 1-37.
"""

from __future__ import annotations

from rules.cases import CAUTION, FLUSH, PASS, PLAIN, STOP, Case, cases, judged

CASES = (
    Case("R912", PASS, FLUSH),
    Case("R912", CAUTION, FLUSH, {"cover.screws.steel": True}, said="put the screws and nuts in wet"),
    Case("R913", PASS, PLAIN, {"gate": {"drain_covered": False}}),
    Case("R913", STOP, PLAIN, {"gate": {"drain_covered": True}}, said="drain of the same size"),
)


@cases(*CASES)
def test_protection(case):
    case.holds()


def test_without_screws_there_is_no_steel():
    assert judged("R912", PLAIN) == []
