"""Shop heads: the documents side by side."""

from __future__ import annotations

import pytest

from hatchwright.errors import TableError
from hatchwright.tables.driven_heads import driven_head_limits
from hatchwright.workings import Grade


def test_an_eighth_rivet_in_every_document() -> None:
    heads = {head.document: head for head in driven_head_limits(0.125)}
    aim = heads["1940s manual"]  # [REPAIR-1940S], par. 14 and 15: 1.5D by 0.5D
    assert (aim.head_aim_in, aim.height_aim_in, aim.head_min_in, aim.grade) == (
        0.1875,
        0.0625,
        None,
        Grade.PUBLISHED,
    )
    least = heads["design minimum"]  # [MIL-HDBK-5H], 8.1.2, page 8-9: 1.3D by 0.3D
    assert least.head_min_in == pytest.approx(0.1625)
    assert least.height_min_in == pytest.approx(0.0375)
    assert least.grade is Grade.PUBLISHED
    notes = heads["college notes"]  # [COLLEGE-NOTES], table of limits
    assert (notes.head_min_in, notes.head_max_in) == (0.16, 0.21)
    assert (notes.height_min_in, notes.height_max_in) == (0.04, 0.08)
    specification = heads["military specification"]  # [MIL-R-47196A], quoted
    assert (specification.head_min_in, specification.head_max_in) == (0.163, None)
    assert (specification.height_min_in, specification.height_max_in) == (0.050, 0.070)


def test_a_3_32_rivet_in_the_military_specification() -> None:
    heads = {head.document: head for head in driven_head_limits(3 / 32)}
    specification = heads["military specification"]
    assert specification.head_min_in == 0.122
    assert (specification.height_min_in, specification.height_max_in) == (0.038, 0.050)


def test_a_5_32_rivet_in_the_military_specification() -> None:
    """[MIL-R-47196A], table III, quoted in a builder record: .203 at least, .062 to .092 high."""
    heads = {head.document: head for head in driven_head_limits(5 / 32)}
    specification = heads["military specification"]
    assert (specification.head_min_in, specification.grade) == (0.203, Grade.RESTATED)
    assert (specification.height_min_in, specification.height_max_in) == (0.062, 0.092)


def test_7050_rivets_need_a_wider_head() -> None:
    plain = {head.document: head for head in driven_head_limits(0.125, letters="AD")}
    hard = {head.document: head for head in driven_head_limits(0.125, letters="KE")}
    assert hard["design minimum"].head_min_in == pytest.approx(1.4 * 0.125)  # [MIL-HDBK-5H], 8.1.2
    assert plain["design minimum"].head_min_in == pytest.approx(1.3 * 0.125)
    assert len(hard) == len(plain)


def test_sizes_that_only_diameters_speak_of() -> None:
    assert [head.document for head in driven_head_limits(5 / 16)] == ["1940s manual", "design minimum"]


def test_the_least_lies_below_the_aim_in_every_document() -> None:
    for size in (2, 3, 4, 5, 6, 8):
        for head in driven_head_limits(size / 32):
            if head.head_min_in is not None:
                assert head.head_min_in < 1.5 * size / 32
            if head.height_min_in is not None and head.height_max_in is not None:
                assert head.height_min_in < 0.5 * size / 32 < head.height_max_in


def test_no_rivet_no_head() -> None:
    with pytest.raises(TableError, match=r"no shop head is listed for \.1100 in\. Listed: 2/32, 3/32, 4/32"):
        driven_head_limits(0.11)
