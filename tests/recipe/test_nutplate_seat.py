"""How the ears of a nutplate are drilled and take their rivets, and what the strap does.

Ears are drilled before the screw hole is dimpled, through a flat nutplate; a nutplate that nests in the dimple is
drilled through after it: common practice, no source. The strap: [REPAIR-1940S] access doors, page 93.
"""

from __future__ import annotations

import pytest

from hatchwright.layout.lay_out import lay_out
from hatchwright.layout.mass import weight_change
from hatchwright.recipe.cover_hardware import cover_hardware
from hatchwright.recipe.nutplate_seat import nutplate_seat
from hatchwright.recipe.sheet_work import hole_work
from rules.cases import CLAD, FLUSH, LAPPED, job_of

STRAP = {**CLAD, "thickness": ".064"}


def layout(**screws):
    screws = {"nut_rivet": "MS20426AD3", "size": "8-32", **screws}
    return lay_out(job_of(FLUSH, **{f"cover__screws__{key}": value for key, value in screws.items()}))


def how(layers):
    return {layer.part: layer.preparation for layer in layers}


@pytest.mark.parametrize(
    ("screws", "drilled"),
    [
        ({}, "before_dimple"),
        ({"strap": STRAP}, "at_size"),
        ({"nut": "100-degree two-lug nutplate"}, "after_dimple"),
        ({"preparation": "dimple over countersink"}, "at_size"),
        ({"head": "pan"}, "any_time"),
    ],
)
def test_when_the_ears_are_drilled(screws, drilled):
    assert nutplate_seat(layout(**screws)).ears_drilled == drilled


def test_the_ears_are_dimpled_with_the_sheet():
    seat = nutplate_seat(layout(nut_ears="dimple"))
    assert how(seat.ear_layers) == {"doubler": "dimple", "ears": "dimple"}
    assert [step.operation for step in seat.ear_layers[-1].steps] == ["dimple"]
    assert how(nutplate_seat(layout(nut_ears="countersink")).ear_layers) == {
        "doubler": "countersink",
        "ears": "plain",
    }


def test_a_strap_takes_the_dimples_and_leaves_the_ears_flat():
    strapped = layout(strap=STRAP, nut_ears="dimple")
    seat = nutplate_seat(strapped)
    assert how(seat.ear_layers) == {"doubler": "dimple", "strap": "countersink", "ears": "plain"}
    layers = hole_work(strapped.holes_of("screw")[0], strapped)
    assert how(layers) == {"cover": "dimple", "doubler": "dimple", "strap": "countersink"}
    assert [step.operation for step in layers[-1].steps] == ["pilot", "final", "countersink"]


def test_a_strap_counts_in_every_grip_and_behind_the_sheet():
    without, strapped = layout(nut_height=".25"), layout(nut_height=".25", strap=STRAP)
    plain, thick = cover_hardware(without), cover_hardware(strapped)
    assert thick.grip_in == pytest.approx(plain.grip_in + 0.064)
    assert thick.rivets.choice.grip_in == pytest.approx(plain.rivets.choice.grip_in + 0.064)
    assert (plain.rivets.seat.behind_in, thick.rivets.seat.behind_in) == (
        pytest.approx(0.25),
        pytest.approx(0.314),
    )
    assert (thick.strap.alloy, thick.strap.thickness_in) == ("2024", 0.064)


def test_a_strap_is_weighed_once_its_width_is_entered():
    assert "strap" in str(weight_change(layout(strap=STRAP)).not_weighed)
    found = weight_change(layout(strap={**STRAP, "width": ".5"}))
    (strap,) = (mass for mass in found.masses if mass.name == "strap")
    # eight screws .38 inside a cover of about 3.94 square, round it at most 4 x 3.18 long; .101 lb a cubic inch
    assert 0.8 * 12.0 * 0.5 * 0.064 * 0.1 < strap.mass_lb < 12.8 * 0.5 * 0.064 * 0.102


def test_clip_nuts_have_no_seat():
    assert nutplate_seat(lay_out(job_of(LAPPED))) is None
