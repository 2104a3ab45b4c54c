"""Solid rivets: part numbers, heads, holes, next sizes and substitutions."""

from __future__ import annotations

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from hatchwright.errors import EntryError, TableError
from hatchwright.tables.drills import drill, drill_sizes
from hatchwright.tables.rivet_part import SERIES, RivetPart, parse_rivet, rivet_alloys, rivet_heads
from hatchwright.tables.rivet_shear import rivet_shear
from hatchwright.tables.rivets import (
    RIVET_HEAD_SIZES,
    RIVET_HOLE_DRILLS,
    head_size,
    hole_drill,
    hole_range,
    next_rivet_diameter,
    rivet_diameters,
    substitution,
)
from hatchwright.workings import Grade

SIZES_IN = [3 / 32, 1 / 8, 5 / 32, 3 / 16, 1 / 4]
"""[FAA-CT-8080-8D], exhibit 1: dash numbers 3, 4, 5, 6 and 8 in 32nds."""


@pytest.mark.parametrize(
    ("text", "diameter_in", "length_in", "is_flush"),
    [
        ("MS20470AD4-3.5", 0.125, 0.21875, False),  # [AC43.13-1B], par. 4-57a(4)
        ("MS20470AD4-7", 4 / 32, 7 / 16, False),  # [FAA-CT-8080-8D], exhibit 1
        ("MS20426AD-6-5", 6 / 32, 0.3125, True),  # [FAA-KT]
        ("MS20430AD-4-8", 0.125, 0.5, False),  # [FAA-KT]
        (" ms20470 ad 4-4 ", 0.125, 0.25, False),
        ("NAS1097AD4-4", 0.125, 0.25, True),
        ("3.2 x 8 mm universal 2117", 3.2 / 25.4, 8 / 25.4, False),
        (" 4x10MM Flush 2117-T4 ", 4 / 25.4, 10 / 25.4, True),
        ("2,4 x 6 mm flush 2017", 2.4 / 25.4, 6 / 25.4, True),
    ],
)
def test_part_numbers(text: str, diameter_in: float, length_in: float, is_flush: bool) -> None:
    part = parse_rivet(text)
    assert part.length is not None
    step_in = 1 / 25.4 if "mm" in text.lower() else 1 / 16
    assert part.diameter_in == pytest.approx(diameter_in, abs=1e-12)
    assert part.length * step_in == pytest.approx(length_in, abs=1e-12)
    assert part.is_flush == is_flush


def test_a_metric_rivet_is_none_of_the_inch_ones() -> None:
    """3.2 mm is .126 in, not 1/8; no table of the inch sizes may take it for one."""
    for text in (
        "2.4 mm universal 2117",
        "3.2 mm universal 2117",
        "4 mm flush 2117",
        "4.8 mm universal 2117",
    ):
        part = parse_rivet(text)
        assert str(part) == text
        for listed in (hole_range, lambda size_in: rivet_shear("AD", diameter_in=size_in)):
            with pytest.raises(TableError):
                listed(part.diameter_in)
        assert hole_drill(part.diameter_in).is_metric
    assert next_rivet_diameter(3.2 / 25.4, "mm", above=True).value == pytest.approx(4 / 25.4)


def test_a_part_number_may_leave_the_length_open() -> None:
    part = parse_rivet("MS20426AD3")
    assert part.length is None
    assert str(part) == "MS20426AD3"


@pytest.mark.parametrize(
    ("text", "match"),
    [
        ("", "not a solid rivet"),
        ("MS20470", "not a solid rivet"),
        ("MS20470AD4-4-4", "not a solid rivet"),
        ("MS29999AD4-4", "no rivet family MS29999.*MS20470"),
        ("MS20470ZZ4-4", "no alloy letters 'ZZ'.*AD"),
        ("MS20470AD7-4", "no rivet is 7/32 in across.*2, 3, 4, 5, 6, 8"),
        ("MS20470AD4-4.2", "no rivet is 4.2 sixteenths long.*4.5"),
        ("MS20470AD4-0", "no rivet is 0 sixteenths long"),
        ("3.3 mm universal 2117", "no metric rivet is 3.3 mm across.*2.4, 3.2, 4"),
        ("3.2 x 8.5 mm universal 2117", "no metric rivet is 8.5 mm long.*whole millimeters"),
        ("3.2 mm pan 2117", "no rivet family PAN.*UNIVERSAL"),
        ("3.2 mm universal 6061", "no rivet alloy 6061.*2117"),
        ("3.2 mm", "not a solid rivet.*3.2 mm universal 2117"),
        ("x" * 5000, "not a solid rivet"),
    ],
)
def test_unreadable_part_numbers_say_what_would_do(text: str, match: str) -> None:
    with pytest.raises(EntryError, match=match) as caught:
        parse_rivet(text)
    assert len(str(caught.value)) < 400


@pytest.mark.property
@settings(deadline=None)
@given(
    st.sampled_from(["MS20470", "MS20426", "NAS1097"]),
    st.sampled_from(["A", "AD", "D", "DD", "B", "KE"]),
    st.sampled_from(SERIES["in"].diameters),
    st.one_of(st.none(), st.integers(1, 128).map(lambda halves: halves / 2)),
)
def test_a_part_number_reads_back(family: str, letters: str, diameter: float, length: float | None) -> None:
    part = RivetPart(family, letters, diameter, length)
    assert parse_rivet(str(part)) == part


@pytest.mark.parametrize("diameter", SERIES["mm"].diameters)
def test_a_metric_rivet_reads_back(diameter: float) -> None:
    for family, length in (("UNIVERSAL", None), ("FLUSH", 8.0), ("UNIVERSAL", 100.0)):
        part = RivetPart(family, "AD", diameter, length)
        assert parse_rivet(str(part)) == part


def test_alloys_and_head_marks() -> None:
    marks = {letters: (alloy.alloy, alloy.head_mark) for letters, alloy in rivet_alloys().items()}
    # [FAA-CT-8080-8D], exhibit 1
    assert marks["A"] == ("1100", "plain")
    assert marks["AD"] == ("2117-T4", "dimple")
    assert marks["D"] == ("2017-T4", "raised dot")
    assert marks["DD"] == ("2024-T4", "two raised dashes")
    assert marks["B"] == ("5056", "raised cross")
    assert rivet_alloys()["KE"].grade is Grade.MEMORY
    assert parse_rivet("MS20470AD4").alloy.alloy == "2117-T4"


def test_what_replaced_the_older_heads() -> None:
    # [AC43.13-1B], par. 4-57a(4) and 7-1
    replaced = {family: head.replaced_by for family, head in rivet_heads().items() if head.replaced_by}
    assert {family for family, by in replaced.items() if by == "MS20470"} >= {
        "AN470", "AN430", "AN442", "AN455", "AN456",
    }  # fmt: skip
    assert replaced["AN426"] == "MS20426"


def test_flush_lengths_are_over_all() -> None:
    assert parse_rivet("MS20426AD3-3").head.length_measured == "overall"  # [FAA-KT]
    assert parse_rivet("MS20470AD3-3").head.length_measured == "under the head"


def test_standard_diameters() -> None:
    assert [one.value for one in rivet_diameters()] == SIZES_IN


@pytest.mark.parametrize(
    ("wanted_in", "found_in"),
    [(0.096, 1 / 8), (0.09375, 3 / 32), (0.15, 5 / 32), (0.060, 3 / 32), (0.19, 1 / 4)],
)
def test_next_standard_diameter(wanted_in: float, found_in: float) -> None:
    assert next_rivet_diameter(wanted_in).value == found_in


def test_next_oversize() -> None:
    assert [next_rivet_diameter(size_in, above=True).value for size_in in SIZES_IN[:-1]] == SIZES_IN[1:]
    with pytest.raises(TableError, match=r"no standard rivet is listed for diameter above \.250 in"):
        next_rivet_diameter(0.25, above=True)
    with pytest.raises(TableError, match=r"no standard rivet is listed for diameter \.300 in.*to \.250 in\."):
        next_rivet_diameter(0.3)


@pytest.mark.parametrize(
    ("diameter_in", "drill", "least_in", "greatest_in"),
    [  # [TRADE-2001], table of drills and holes
        (3 / 32, "40", 0.093, 0.103),
        (1 / 8, "30", 0.125, 0.135),
        (5 / 32, "21", 0.156, 0.171),
        (3 / 16, "11", 0.187, 0.202),
        (1 / 4, "F", 0.250, 0.265),
    ],
)
def test_holes(diameter_in: float, drill: str, least_in: float, greatest_in: float) -> None:
    assert hole_drill(diameter_in).name == drill
    found = hole_range(diameter_in)
    assert (found.least_in, found.greatest_in) == (least_in, greatest_in)
    assert found.grade is Grade.RESTATED
    assert least_in < hole_drill(diameter_in).diameter_in < greatest_in


def test_drills_side_by_side() -> None:
    def listed(diameter_in: float) -> dict[str, str]:
        return {row.use: row.drill for row in RIVET_HOLE_DRILLS.all(diameter_in=diameter_in)}

    # usual [TRADE-2001]; strength basis: the size that reproduces the circular's tables; 1940s [REPAIR-1940S]
    assert listed(3 / 32) == {"usual": "40", "strength basis": "41", "1940s": "41"}
    assert listed(5 / 32) == {"usual": "21", "alternative": "20", "strength basis": "21", "1940s": "22"}


def test_a_decimal_size_finds_its_fraction() -> None:
    assert hole_drill(0.156).name == "21"
    assert hole_drill(0.188).name == "11"


def test_every_listed_drill_is_larger_than_its_rivet() -> None:
    for row in RIVET_HOLE_DRILLS.rows():
        name, size_in = row.cells["drill"], row.number("diameter_in")
        hole_in = 0.25 if name == "1/4" else drill(name).diameter_in if "mm" in name else drill_sizes()[name]
        assert size_in <= hole_in <= size_in + 0.011


@pytest.mark.parametrize("diameter_in", [0.07, 0.23, 0.5, float("nan")])
def test_no_hole_is_guessed(diameter_in: float) -> None:
    with pytest.raises(TableError, match=r"Listed by diameter: .*\.125"):
        hole_drill(diameter_in)
    with pytest.raises(TableError, match=r"Listed by diameter: .*\.125"):
        hole_range(diameter_in)


def test_head_sizes_agree_with_their_geometry() -> None:
    """A 100 degree cone from shank to head: depth (A - D)/(2 tan 50 deg); printed to .001, so within .001."""
    tan_50_deg = 1.19175
    for row in RIVET_HEAD_SIZES.rows():
        size_in, head_in, height_in = (row.number(name) for name in ("diameter_in", "head_in", "height_in"))
        if row.cells["family"] == "MS20426":
            assert height_in == pytest.approx((head_in - size_in) / (2 * tan_50_deg), abs=0.001)
        else:
            assert head_in == pytest.approx(2 * size_in, abs=0.001)
        assert row.grade is Grade.MEMORY


def test_head_size_of_a_part() -> None:
    found = head_size(parse_rivet("MS20426AD3-3"))
    assert (found.head_in, found.height_in) == (0.179, 0.036)  # from memory, unverified
    assert head_size(parse_rivet("AN426AD3-3")) == found
    with pytest.raises(TableError, match="no head size is listed for NAS1097 rivets"):
        head_size(parse_rivet("NAS1097AD4-4"))


def test_substitution_of_paragraph_4_57b() -> None:
    # [AC43.13-1B], par. 4-57b: 2117 for 2017 up to 3/16 and for 2024 up to 5/32, 1/32 larger
    found = substitution("D", diameter_in=5 / 32)
    assert (found.letters, found.diameter_in, found.grade) == ("AD", 3 / 16, Grade.PUBLISHED)
    assert substitution("D", diameter_in=3 / 16).diameter_in == 7 / 32
    assert substitution("DD", diameter_in=5 / 32).diameter_in == 3 / 16
    for letters, diameter_in in [("D", 1 / 4), ("DD", 3 / 16), ("AD", 1 / 8), ("KE", 1 / 8)]:
        with pytest.raises(TableError, match="Keep the original rivet"):
            substitution(letters, diameter_in=diameter_in)
