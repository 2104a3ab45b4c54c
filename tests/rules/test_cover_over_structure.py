"""R814: screws of a cover into the member that it lies over.

Into the member wherever possible: [NAVEDTRA-14018] ch. 13, page 567. One diameter from its row: common practice, no
source.
"""

from __future__ import annotations

from rules.cases import CAUTION, FLUSH, LAPPED, PASS, PLAIN, Case, cases, judged


def member(kind: str = "stringer", **at: str) -> dict:
    return {"bay.rows": [{"name": "stringer 4", "member": kind, **at}]}


# the lapped cover ends at 2.75 and its screws stand on 2.375; No. 8 is .164 across
CASES = (
    Case("R814", PASS, LAPPED, member(x="2.375"), value=0.0, limit=0.164),
    Case("R814", PASS, LAPPED, member(x="2.539"), value=0.164),
    Case("R814", CAUTION, LAPPED, member(x="2.540"), said="Put screws through the cover into the member"),
    Case("R814", CAUTION, LAPPED, member(x="-2.6"), said=".225 off, .164 allowed."),
    Case("R814", CAUTION, LAPPED, member(y="2.7"), said="[NAVEDTRA-14018, ch. 13 (page 567); published]"),
)


@cases(*CASES)
def test_cover_over_structure(case):
    case.holds()


def test_what_the_cover_does_not_lie_over_is_not_asked():
    assert judged("R814", LAPPED, member(x="2.751")) == []
    assert judged("R814", LAPPED, member(kind="other", x="2.6")) == []
    assert judged("R814", FLUSH, member(x="2.5")) == []
    assert judged("R814", PLAIN, member(x="2.5")) == []
