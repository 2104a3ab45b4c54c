"""Screws with clearance: the closed form of two screws on one line, both bounds, and that the slide is really taken."""

from __future__ import annotations

import numpy as np
import pytest
from msgspec.structs import replace

from fem.models import MODULUS_PSI, reinforced, ring_of
from hatchwright.errors import SolveError
from hatchwright.fem.analysis import analyze
from hatchwright.fem.clearance import settled
from hatchwright.fem.coupling import flexibilities
from hatchwright.fem.model import Fastener, Sheet
from hatchwright.shapes.outlines import rounded_rectangle

RIVETS = 44


def frame(grow, radius):
    return rounded_rectangle(width_in=5.12 + grow, height_in=3.54 + grow, radius_in=radius)


def covered(places):
    """The reinforced opening with a cover screwed to its doubler."""
    screws = tuple(
        Fastener(f"screw {k}", float(x), float(y), 0.164, 29.0e6, ("doubler", "cover"), kind="bolt")
        for k, (x, y) in enumerate(places, start=1)
    )
    model = reinforced()
    cover = Sheet("cover", frame(2.5, 2.2), None, 0.040, MODULUS_PSI)
    return replace(model, fasteners=model.fasteners + screws, cover=cover, cover_carries=True)


@pytest.fixture(scope="module")
def two():
    return analyze(covered([(-3.51, 0.0), (3.51, 0.0)]))


@pytest.fixture(scope="module")
def ring():
    return analyze(covered(ring_of(frame(1.9, 1.9), 16)))


def slides(unit, slide_in):
    return np.array([0.0] * RIVETS + [slide_in] * (len(unit.model.fasteners) - RIVETS))


def across(unit, load):
    """Force of the screw at +X along X."""
    return float(unit.fastener_in[RIVETS + 1, 0] @ load)


@pytest.mark.parametrize("slide_in", [0.0003, 0.001, 0.002])
def test_two_screws_on_a_line_follow_the_closed_form(two, slide_in):
    """F (k + 2 C) = s with the stretch s between the screws: F falls by 2 g / (k + 2 C). Both s and k come from two
    solutions with other flexibilities and no clearance."""
    load = np.array([900.0, 0.0, 0.0])
    flexibility = flexibilities(two.model, "huth")
    slack = two.changed(flexibility_in_per_lbf=np.where(slides(two, 1.0) > 0, 10 * flexibility, flexibility))
    tight_lbf, slack_lbf = across(two, load), across(slack, load)
    c = flexibility[-1]
    k = 2 * c * (10 * slack_lbf - tight_lbf) / (tight_lbf - slack_lbf)
    found = across(settled(two, load, slides(two, slide_in)), load)
    assert found == pytest.approx(tight_lbf - np.sign(tight_lbf) * 2 * slide_in / (k + 2 * c), rel=1e-4)
    assert abs(found) < abs(tight_lbf)


def test_a_wide_clearance_leaves_the_cover_idle(ring):
    load = np.array([300.0, -100.0, 200.0])
    idle = analyze(replace(ring.model, cover_carries=False))
    loose = settled(ring, load, slides(ring, 0.05))
    assert np.abs(loose.fastener_in[RIVETS:] @ load).max() < 0.1
    assert loose.fastener_in[:RIVETS] @ load == pytest.approx(idle.fastener_in[:RIVETS] @ load, abs=0.2)


def test_no_clearance_changes_nothing(ring):
    load = np.array([300.0, -100.0, 200.0])
    assert settled(ring, load, slides(ring, 0.0)).fastener_in == pytest.approx(ring.fastener_in)


def test_every_screw_that_carries_has_slid_its_clearance_and_no_other_has(ring):
    """The law of the slide, read from the displacements of both sheets: (C + g / |F|) F where a screw carries."""
    load, slide_in = np.array([800.0, -300.0, 200.0]), 0.003
    unit = settled(ring, load, slides(ring, slide_in))
    means = {name: unit.gives[name].means @ (unit.displacement(name) @ load) for name in ("doubler", "cover")}
    moved = means["doubler"][-16:] - means["cover"]
    force = unit.fastener_in[RIVETS:] @ load
    size = np.hypot(*force.T)
    carries = size > 1e-3 * size.max()
    assert carries.any()
    c = flexibilities(ring.model, "huth")[-1]
    wanted = (c + slide_in / size[carries])[:, None] * force[carries]
    assert moved[carries] == pytest.approx(wanted, rel=2e-3, abs=1e-6)
    assert (np.hypot(*moved[~carries].T) < 1.01 * slide_in).all()


def test_more_clearance_leaves_less_to_the_cover(ring):
    load = np.array([900.0, 0.0, 0.0])
    taken = [
        (settled(ring, load, slides(ring, slide_in)).pick_up_in("cover", x_in=0.0) @ load)[0]
        for slide_in in (0.0, 0.001, 0.003, 0.006)
    ]
    assert (np.diff(taken) < 0).all()
    assert taken[-1] >= 0


def test_forces_still_balance(ring):
    load = np.array([800.0, -300.0, 200.0])
    force = settled(ring, load, slides(ring, 0.003)).fastener_in[RIVETS:] @ load
    x, y = ring.model.centers[RIVETS:].T
    assert np.abs(force.sum(axis=0)).max() < 1e-9 * np.abs(force).sum()
    assert abs((x * force[:, 1] - y * force[:, 0]).sum()) < 1e-8 * np.abs(force).sum()


def test_a_slide_below_nought_is_refused(ring):
    with pytest.raises(SolveError, match="can't be negative"):
        settled(ring, np.ones(3), slides(ring, -0.001))
