"""Shop heads by document, temporary fasteners by hole, dimple spread.

Shop head of 1/8: .163 at least wide [MIL-HDBK-5H] sect. 8.1.2 (1.3 D); .160 to .210 [COLLEGE-NOTES], seen restated.
Temporary fasteners: 3/32 cadmium (silver), 1/8 copper [NAVEDTRA-14315]. A No. 40 hole dimples to .104 (No. 37):
[BUILDER-FORUMS].
"""

from __future__ import annotations

import json

import pytest
from msgspec.structs import replace

from hatchwright.layout.lay_out import lay_out
from hatchwright.layout.rivet_length import shop_head
from hatchwright.recipe.fastener_choice import heads_asked, missed_by, rivet_choices
from hatchwright.tables.rivet_part import parse_rivet
from hatchwright.words.tell import tell
from hatchwright.workflow.fasteners import choose_fasteners, fastener_values
from tests.conftest import EXAMPLES

DESIGN = "design minimum"
NOTES = "college notes"


def head(diameter_in: float):
    """A head of 1/8 rivet that comes out so wide."""
    found = shop_head(parse_rivet("MS20470AD4"), 4, grip_in=0.072, hole_in=0.1285)
    return replace(found, diameter_in=diameter_in)


@pytest.mark.parametrize(
    ("diameter_in", "missed"),
    [(0.1625, False), (0.1624, True), (0.163, False)],
)
def test_a_head_exactly_as_wide_as_the_design_minimum_does(diameter_in, missed):
    asked = heads_asked(parse_rivet("MS20470AD4"))
    assert (DESIGN in missed_by(head(diameter_in), asked)) is missed


@pytest.mark.parametrize(
    ("diameter_in", "missed"), [(0.210, False), (0.2101, True), (0.16, False), (0.1599, True)]
)
def test_a_head_exactly_at_the_ends_of_a_range_does(diameter_in, missed):
    asked = heads_asked(parse_rivet("MS20470AD4"))
    assert (NOTES in missed_by(head(diameter_in), asked)) is missed


def test_temporary_fasteners_for_pilot_and_final_hole(alder_drawn):
    (choice,) = rivet_choices(lay_out(alder_drawn))
    assert [(held.fastener.diameter_in, held.fastener.colour) for held in choice.held_by] == [
        (0.09375, "cadmium (silver)"),
        (0.125, "copper"),
    ]
    assert choice.spreads == ()


@pytest.mark.parametrize(
    ("pilot", "said"),
    [
        ("#40", "Dimpling opens a #40 hole to .1040 [BUILDER-FORUMS"),
        ("#42", "#42 hole is not listed: measure a trial piece"),
    ],
)
def test_how_far_a_dimple_opens_the_hole_before_it(alder_drawn, pilot, said):
    from hatchwright.tables.drills import drill_sizes
    from hatchwright.units import parse_length

    length = parse_length(pilot, drills=drill_sizes())
    rows = tuple(
        row.model_copy(update={"rivet": "MS20426AD3", "preparation": "dimple", "pilot": length})
        for row in alder_drawn.rows
    )
    (choice,) = rivet_choices(lay_out(alder_drawn.model_copy(update={"rows": rows})))
    (spread,) = choice.spreads
    assert said in tell(spread)


def test_the_report_tells_next_size_and_screws_by_the_rules(tmp_path):
    report = choose_fasteners(EXAMPLES / "alder.toml")
    assert {finding.code for finding in report.judged} == {"R105", "R214", "R802", "R803"}
    values = json.loads(json.dumps(fastener_values(report)))
    lengths = {one["part"]: one["missed_by"] for one in values["rivets"][0]["lengths"]}
    assert lengths == {"MS20470AD4-4": [], "MS20470AD4-4.5": [NOTES], "MS20470AD4-5": [NOTES]}
    assert values["rivets"][0]["temporary_fasteners"][1]["colour"] == "copper"
    assert {finding["code"] for finding in values["findings"]} == {"R105", "R214", "R802", "R803"}
