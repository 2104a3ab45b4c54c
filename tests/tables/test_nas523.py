"""The fastener symbol of drawings, as [NAS523] is restated."""

from __future__ import annotations

import pytest

from hatchwright.errors import TableError
from hatchwright.tables.nas523 import fastener_symbol
from hatchwright.tables.rivet_part import parse_rivet
from hatchwright.workings import Grade


def test_a_universal_rivet() -> None:
    symbol = fastener_symbol(parse_rivet("MS20470AD4-4.5"), head="F")
    assert (symbol.upper_left, symbol.upper_right) == ("BJ", "4F")
    assert (symbol.lower_left, symbol.lower_right) == ("", "4.5")
    assert symbol.grade is Grade.RESTATED


def test_a_dimpled_flush_rivet_of_open_length() -> None:
    symbol = fastener_symbol(parse_rivet("AN426AD3"), preparation="D2")
    assert (symbol.upper_left, symbol.upper_right) == ("BB", "3N")
    assert (symbol.lower_left, symbol.lower_right) == ("D2", "")


@pytest.mark.parametrize(
    ("part", "head", "preparation", "match"),
    [
        ("MS20470DD4-4", "N", "", "no symbol code is listed.* MS20470DD.*by meaning: MS20470AD"),
        ("MS20470AD4-4", "X", "", r"upper right, code X.*Listed by code: N, F\."),
        ("MS20470AD4-4", "", "", "upper right, code ''"),
        ("MS20470AD4-4", "N", "Z", r"lower left, code Z.*Listed by code: D, D2, C\."),
    ],
)
def test_no_code_is_invented(part: str, head: str, preparation: str, match: str) -> None:
    with pytest.raises(TableError, match=match):
        fastener_symbol(parse_rivet(part), head=head, preparation=preparation)
