"""The numbers that rules judge by, copied by hand with the place where they stand."""

from __future__ import annotations

import math

import pytest

from hatchwright.errors import TableError
from hatchwright.tables.limits import RULE_LIMITS, limit
from hatchwright.workings import Grade

A, B, C, M, S = Grade.PUBLISHED, Grade.RESTATED, Grade.COMPUTED, Grade.MEMORY, Grade.PRACTICE


@pytest.mark.parametrize(
    ("key", "value", "unit", "source", "grade"),
    [
        ("edge_min_single_row_protruding", 2.0, "D", "AL0992", A),  # page 63 of the copy
        ("edge_min_countersunk", 2.5, "D", "AL0992", A),
        ("edge_max", 4.0, "D", "AL0992", A),
        ("pitch_min_single_row", 3.0, "D", "TM-10-5410-229-13P", A),
        ("pitch_min_double_row", 4.0, "D", "AC43.13-1B", B),
        ("pitch_min_triple_row", 3.0, "D", "AC43.13-1B", B),
        ("pitch_min_absolute", 3.0, "D", "NAVEDTRA-14018", A),  # ch. 13, rivet spacing
        ("pitch_usual_max", 8.0, "D", "NAVEDTRA-14018", A),
        ("pitch_max", 10.0, "D", "AL0992", A),
        ("transverse_pitch_min", 2.5, "D", "TM-10-5410-229-13P", A),  # par. 5-6
        ("transverse_pitch_min_fig4_5", 2.0, "D", "AC43.13-1B", M),
        ("min_overlap_double_row", 6.5, "D", "FAA-KT", B),
        ("diameter_rule", 3.0, "t", "AC43.13-1B", A),  # par. 4-58g(2)(a)
        ("diameter_min_navy", 1.0, "t", "NAVEDTRA-14018", A),  # rivet selection rule 6
        ("diameter_max_navy", 3.0, "t", "NAVEDTRA-14018", A),  # rule 7
        ("diameter_min_structural", 3 / 32, "in", "NAVEDTRA-14018", A),  # rule 5
        ("upset_allowance", 1.5, "D", "NAVEDTRA-14018", A),  # rule 8
        ("shop_head_diameter_min_design", 1.3, "D", "MIL-HDBK-5H", A),  # 8.1.2, page 8-9
        ("shop_head_height_nominal", 0.5, "D", "REPAIR-1940S", A),
        ("t_over_d_min_for_bearing_allowables", 0.18, "-", "MIL-HDBK-5H", A),
        ("oversize_repair_limit_fraction", 0.2, "of rivets in the pattern", "MIL-R-47196A", B),
        ("oversize_repair_limit_count", 10, "rivets per pattern", "MIL-R-47196A", B),
        ("oversize_adjacent_limit", 2, "rivets", "MIL-R-47196A", B),
        ("deburr_depth_max_fraction", 0.1, "t", "MIL-R-47196A", B),
        ("deburr_depth_max_abs", 0.032, "in", "MIL-R-47196A", B),
        ("dimple_best_max_thickness", 0.040, "in", "AC65-15A", B),
        ("dimple_max_1940s", 0.051, "in", "REPAIR-1940S", A),
        ("corner_radius_chem_milled_repair", 0.25, "in", "NAVEDTRA-14018", A),
        ("corner_radius_min_handbook", 0.5, "in", "FAA-H-8083-31", M),
        ("clearance_to_adjacent_structure", 0.125, "in", "TM-1-1520-240-BD", A),
        ("cover_screw_edge_distance", 2.0, "D", "PRACTICE", S),
        ("cover_gap_usual", 1 / 32, "in", "PRACTICE", S),
        ("scope_weight_max", 12_500, "lb", "AC43.13-2B", A),
        ("thread_protrusion", 1, "threads", "AC43.13-1B", A),  # par. 7-37
        ("bend_allowance_radius_faa", 0.01743, "in per in and deg", "FAA-H-8083-31", B),
        ("factor_of_safety", 1.5, "-", "14CFR23", A),
        ("mass_negligible_light", 1.0, "lb", "AC43.13-1B", A),  # par. 10-2c
    ],
)
def test_a_limit(key: str, value: float, unit: str, source: str, grade: Grade) -> None:
    found = limit(key)
    assert (found.value, found.unit, found.source.key, found.grade) == (value, unit, source, grade)


def test_nested_cones() -> None:
    """A dimple of a sheet t nests in a 100 degree cone t (1/sin 50 - 1) deeper; printed to three digits."""
    depth = 1 / math.sin(math.radians(50)) - 1
    assert limit("dimple_then_csk_extra_depth").value == pytest.approx(depth, abs=0.0005)
    assert limit("dimple_then_csk_extra_diameter").value == pytest.approx(
        2 * math.tan(math.radians(50)) * depth, abs=0.0005
    )


def test_least_and_greatest_do_not_cross() -> None:
    for low, high in [
        ("edge_min_countersunk", "edge_max"),
        ("pitch_min_double_row", "pitch_usual_max"),
        ("pitch_usual_max", "pitch_max"),
        ("cover_gap_min", "cover_gap_usual"),
        ("cover_gap_usual", "cover_gap_max"),
        ("corner_radius_chem_milled_repair", "corner_radius_min_handbook"),
        ("cover_screw_spacing_min", "cover_screw_spacing_max"),
    ]:
        assert limit(low).value < limit(high).value
        assert limit(low).unit == limit(high).unit


def test_every_limit_has_a_unit_and_a_place() -> None:
    assert RULE_LIMITS.all()
    for key, found in ((row.key, row.as_cited) for row in RULE_LIMITS.all()):
        assert key == key.lower()
        assert found.unit
        assert found.source.place


def test_an_unknown_limit_is_an_error() -> None:
    with pytest.raises(TableError, match=r"no limit is listed for 'edge_min_typo'.*Listed by key: edge_min"):
        limit("edge_min_typo")
