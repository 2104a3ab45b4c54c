"""Bad input: every refusal says where, what, and what to change."""

from __future__ import annotations

import pytest
from msgspec.structs import replace

from fem.models import MODULUS_PSI, reinforced
from hatchwright.errors import SolveError
from hatchwright.fem.analysis import analyze
from hatchwright.fem.model import Fastener, Sheet
from hatchwright.fem.stations import Fineness
from hatchwright.shapes.outlines import rounded_rectangle
from hatchwright.words.tell import tell
from tests.told import remedy_of

MODEL = reinforced()
COARSE = Fineness().coarser()


def refused(model, match):
    with pytest.raises(SolveError, match=match) as caught:
        analyze(model, fineness=COARSE)
    assert caught.value.where
    assert remedy_of(caught.value)


def frame(width, height, radius=0.5, **more):
    return rounded_rectangle(width_in=width, height_in=height, radius_in=radius, **more)


def moved(number, **change):
    fasteners = list(MODEL.fasteners)
    fasteners[number] = replace(fasteners[number], **change)
    return replace(MODEL, fasteners=tuple(fasteners))


def test_an_opening_larger_than_the_panel():
    inside = replace(MODEL.skin, outer=frame(4.0, 2.5, 0.0))
    refused(replace(MODEL, skin=inside), "skin.inner: its opening is larger than the sheet")
    crossing = replace(MODEL.skin, outer=frame(5.0, 6.0, 0.0))
    refused(replace(MODEL, skin=crossing), "skin: its edges can't be used: .* Make the opening smaller")


def test_an_opening_across_the_edge_of_the_panel():
    across = replace(MODEL.skin, inner=frame(4, 3, center=(9.0, 0.0)))
    refused(replace(MODEL, skin=across), "skin: its edges can't be used")


def test_a_doubler_beyond_the_panel():
    wide = replace(MODEL.doublers[0], outer=frame(22.0, 15.0))
    refused(replace(MODEL, doublers=(wide,)), "doubler: it reaches beyond 'skin'")


@pytest.mark.parametrize("field", ["thickness_in", "modulus_psi"])
@pytest.mark.parametrize("value", [0.0, -0.04, float("nan"), float("inf")])
def test_a_thickness_or_modulus_that_will_not_do(field, value):
    refused(replace(MODEL, skin=replace(MODEL.skin, **{field: value})), f"skin.{field}: .* is out of range")


def test_a_poisson_ratio_that_will_not_do():
    refused(
        replace(MODEL, skin=replace(MODEL.skin, poisson_ratio=0.5)), "skin.poisson_ratio: 0.5 is out of range"
    )


def test_a_rivet_outside_a_sheet():
    refused(moved(3, x_in=30.0), "rivet 4: its hole is outside 'skin'")
    refused(moved(3, x_in=0.0, y_in=0.0), "rivet 4: its hole is outside 'skin'")
    refused(moved(3, x_in=4.6, y_in=0.0), "rivet 4: its hole is outside 'doubler'")


def test_a_hole_across_an_edge():
    refused(moved(3, x_in=2.60, y_in=0.0), "rivet 4: its hole crosses the edge of 'skin'")


def test_holes_that_overlap():
    first = MODEL.fasteners[0]
    refused(moved(1, x_in=first.x_in + 0.1, y_in=first.y_in), "rivet 1: its hole overlaps that of 'rivet 2'")


def test_a_hole_given_twice():
    first = MODEL.fasteners[0]
    refused(moved(1, x_in=first.x_in, y_in=first.y_in), "rivet 1: its hole overlaps that of 'rivet 2'")


def test_a_hole_of_no_size_and_a_place_that_is_no_number():
    refused(moved(2, diameter_in=0.0), "rivet 3.diameter_in: 0 is out of range")
    refused(moved(2, x_in=float("nan")), "rivet 3: its place is not a number")
    refused(moved(2, flexibility_in_per_lbf=-1.0), "rivet 3.flexibility_in_per_lbf: -1 is out of range")
    refused(moved(2, kind="glue"), "'glue' is not a kind of fastener")


def test_a_fastener_through_no_sheet_or_one_sheet():
    refused(moved(2, joins=("skin", "web")), "rivet 3: no sheet 'web'")
    refused(moved(2, joins=("skin", "skin")), "rivet 3: it joins a sheet to itself")


def test_a_sheet_that_hangs_on_nothing():
    refused(replace(MODEL, fasteners=()), "doubler: fewer than two fasteners tie it to 'skin'")
    refused(replace(MODEL, fasteners=MODEL.fasteners[:1]), "doubler: fewer than two fasteners")
    other = Sheet("strap", frame(9.2, 7.6), frame(6.0, 4.4), 0.04, MODULUS_PSI)
    refused(replace(MODEL, doublers=(*MODEL.doublers, other)), "strap: fewer than two fasteners")


def test_two_sheets_of_one_name_and_a_skin_without_opening():
    refused(
        replace(MODEL, doublers=(MODEL.doublers[0], MODEL.doublers[0])), "doubler: two sheets have this name"
    )
    refused(replace(MODEL, skin=replace(MODEL.skin, inner=None)), "skin.inner: it has no opening")


def test_a_sharp_corner_of_the_opening():
    refused(replace(MODEL, skin=replace(MODEL.skin, inner=frame(5, 3.4, 0.0))), "skin.inner: .*sharp corner")


def test_a_disc_short_of_room_is_made_smaller_and_said():
    unit = analyze(moved(3, x_in=2.56 + 0.13, y_in=0.0), fineness=COARSE)
    assert unit.patch_radius_in[3] == pytest.approx(0.13)
    assert any("Rivet 4" in tell(caution) for caution in unit.cautions)
    assert analyze(MODEL, fineness=COARSE).cautions == ()


def test_one_fastener_may_go_through_three_sheets():
    strap = Sheet("strap", MODEL.doublers[0].outer, MODEL.doublers[0].inner, 0.032, MODULUS_PSI)
    extra = tuple(
        Fastener(f"{f.name} again", f.x_in, f.y_in, f.diameter_in, f.modulus_psi, ("doubler", "strap"))
        for f in MODEL.fasteners
    )
    model = replace(MODEL, doublers=(*MODEL.doublers, strap), fasteners=MODEL.fasteners + extra)
    unit = analyze(model, fineness=COARSE)
    plain = analyze(MODEL, fineness=COARSE)
    both = unit.pick_up_in("doubler", x_in=0.0) + unit.pick_up_in("strap", x_in=0.0)
    assert both[0, 0] > plain.pick_up_in("doubler", x_in=0.0)[0, 0]


def test_more_rivets_than_memory_holds_are_refused_before_anything_is_factorized():
    many = tuple(replace(MODEL.fasteners[0], name=f"rivet {k}", y_in=3.0 + 1e-3 * k) for k in range(1201))
    refused(replace(MODEL, fasteners=many), "1,?201 fasteners are too many.*up to 1,?200.*hand methods stand")
