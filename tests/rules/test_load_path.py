"""R927: the load path round the opening. A doubler riveted inside the skin: [NAVEDTRA-14018] fig. 13-64."""

from __future__ import annotations

import pytest

from rules.cases import LAPPED, PASS, PLAIN, RING, UNKNOWN, Case, cases, judged

CASES = (
    Case("R927", PASS, RING, said="all around"),
    Case("R927", UNKNOWN, PLAIN, said="without a doubler"),
    Case("R927", PASS, LAPPED, said="as entered"),
    Case(
        "R927",
        UNKNOWN,
        LAPPED,
        {"skin.stressed": True},
        said="nothing picks it up. Ask the design approval holder",
    ),
)


@cases(*CASES)
def test_load_path(case):
    case.holds()


@pytest.mark.parametrize(("x_to", "status"), [("2.99", PASS), ("3.01", UNKNOWN)])
def test_an_opening_filed_out_to_the_doublers_edge_has_none_there(x_to, status):
    edges = {"shape": "edges", "x_from": "-2", "x_to": x_to, "y_from": "-2", "y_to": "2", "radius": "1"}
    (finding,) = judged("R927", RING, {"as_made": {"uncertainty": ".005", "opening": edges}})
    assert finding.status is status
