"""What holds the cover: counted, with spares.

A nutplate takes two flush AD rivets of 3/32: [BUILDER-LOGS] nutplate rivets, seen only restated. Spares of a tenth, at
least five: common practice, no source. Lengths by grip and 1.5 diameters: [AC43.13-1B] par. 4-58g(2)(b).
"""

from __future__ import annotations

import pytest

from hatchwright.layout.lay_out import lay_out
from hatchwright.recipe.cover_hardware import cover_hardware
from hatchwright.words.tell import tell
from rules.cases import FLUSH, LAPPED, PLAIN, changed, job_of


def hardware(job, **screws):
    return cover_hardware(
        lay_out(job_of(job, **{f"cover__screws__{key}": value for key, value in screws.items()}))
    )


def test_alder_and_dogwood(alder_drawn, dogwood):
    cover = cover_hardware(lay_out(alder_drawn))
    assert (cover.screws.count, cover.screws.order) == (16, 21)
    assert cover.least_length_in == pytest.approx(0.072 + 1.0 / 32.0)
    assert (cover.rivets.count, str(cover.rivets.choice.part)) == (32, "MS20426AD3")
    clips = cover_hardware(lay_out(dogwood))
    assert (tell(clips.nuts.name), clips.nuts.count) == ("clip nut 8-32", 12)
    assert clips.rivets is None


def test_a_job_without_screws_has_none():
    assert cover_hardware(lay_out(job_of(PLAIN))) is None


def test_nutplates_and_their_rivets_are_counted_with_spares():
    cover = hardware(FLUSH, count=14)
    assert (tell(cover.screws.name), cover.screws.count, cover.screws.order) == ("10-32 x 1/2", 14, 19)
    assert (tell(cover.nuts.name), cover.nuts.count, cover.nuts.order) == ("two-lug nutplate 10-32", 14, 19)
    assert (cover.rivets.count, cover.rivets.order) == (28, 33)
    assert cover.rivets.seat.sheet.name == "doubler"
    assert cover.rivets.choice.calculated_in == pytest.approx(0.040 + 0.03 + 1.5 * 3 / 32)
    assert cover.washers is None


def test_the_rivets_of_the_nutplates_are_counted_though_it_is_not_said_which():
    cover = cover_hardware(lay_out(job_of(changed(FLUSH, {"cover.screws.nut_rivet": None}))))
    assert cover.rivets.count == 16
    assert cover.rivets.choice is None


def test_flush_nutplate_rivets_in_thin_sheet_are_dimpled_before_the_final_drill():
    cover = hardware(changed(FLUSH, {"doubler.thickness": ".032"}), nut_rivet="MS20426AD3")
    layer, ears = cover.rivets.choice.layers
    assert ears.part == "ears"
    assert layer.preparation == "dimple"
    assert [step.operation for step in layer.steps] == ["pilot", "dimple", "final"]


def test_only_a_pan_head_may_lie_on_a_washer():
    assert hardware(LAPPED).washers.count == 8
    assert "where your data" in tell(hardware(LAPPED).washers.only)
    assert hardware(LAPPED, head="washer").washers is None


def test_the_nut_counts_in_the_least_length_once_it_is_entered():
    without = hardware(FLUSH).least_length_in
    assert hardware(FLUSH, nut_height=".25").least_length_in == pytest.approx(without + 0.25)
