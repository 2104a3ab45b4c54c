"""A group of fasteners under a load beside and above its middle: worked example, table formula and reference library.

Shigley, Mechanical Engineering Design, example 8-7 (bolted joint in shear with eccentric loading), from memory: four
bolts at 75 and 60 mm from the middle, 16 kN at 425 mm; r 96.0 mm, 4 kN direct and 17.7 kN by the moment, 21.0 kN at the
hardest and 14.8 kN at the others; printed to three figures, hence .05.

AISC Steel Construction Manual, part 7, case II (bolts in tension by an eccentric load, axis through the middle), from
memory: r = P e / (n' d), n' bolts on the tension side of a group of two rows d apart.

Equal springs share a load so that the sum of the squares is least: the pseudo-inverse of NumPy gives that share without
any formula of a bolt group.
"""

from __future__ import annotations

import numpy as np
import pytest

from hatchwright.errors import GeometryError
from hatchwright.strength.screw_group import screw_loads

CORNERS = [(75.0, 60.0), (75.0, -60.0), (-75.0, -60.0), (-75.0, 60.0)]


def test_shear_of_an_eccentric_group() -> None:
    found = screw_loads(CORNERS, force_lbf=(0, -16, 0), offset_in=(425, 0), height_in=0)
    resultant = np.hypot(*found.shear_lbf.T)
    assert resultant[:2] == pytest.approx([21.0, 21.0], abs=0.05)
    assert resultant[2:] == pytest.approx([14.8, 14.8], abs=0.05)
    assert found.tension_lbf == pytest.approx(np.zeros(4))


def test_a_square_group_with_its_load_beside_it() -> None:
    """P/n and M r / sum r^2 as vectors, the fastener group with an offset load, by statics: 400 lbf 1 in beside four at
    half an inch, r .7071: 100 direct, 400 x 1 / (4 x .5) x .7071 = 141.4 at 45 deg by the moment, 223.6 together."""
    square = [(0.5, 0.5), (0.5, -0.5), (-0.5, -0.5), (-0.5, 0.5)]
    found = screw_loads(square, force_lbf=(0, 400, 0), offset_in=(1, 0), height_in=0)
    assert np.hypot(*found.shear_lbf.T).max() == pytest.approx(223.6, abs=0.05)


def test_tension_of_two_rows() -> None:
    """P e / (n' d) with P 63 lbf, e 3 in, n' 2, d 1 in: 94.5 lbf."""
    points = [(2.5, 0.5), (2.5, -0.5), (-2.5, -0.5), (-2.5, 0.5)]
    found = screw_loads(points, force_lbf=(0, -63, 0), offset_in=(0, 0), height_in=3)
    assert found.pull_lbf == pytest.approx([94.5, 0.0, 0.0, 94.5])


@pytest.mark.parametrize("seed", range(5))
def test_equal_springs_share_with_the_least_squares(seed: int) -> None:
    rng = np.random.default_rng(seed)
    points = rng.uniform(-3, 3, (5, 2))
    force, offset, height = rng.uniform(-50, 50, 3), rng.uniform(-2, 2, 2), 1.7
    found = screw_loads(points, force_lbf=force, offset_in=offset, height_in=height)
    x, y = (points - points.mean(axis=0)).T
    one, none = np.ones(5), np.zeros(5)
    in_plane = np.array([[*one, *none], [*none, *one], [*-y, *x]])
    moment = offset[0] * force[1] - offset[1] * force[0]
    shear = np.linalg.pinv(in_plane) @ [force[0], force[1], moment]
    assert found.shear_lbf.T.ravel() == pytest.approx(shear)
    out_of_plane = np.array([one, x, y])
    tipping = offset * force[2] - height * force[:2]
    assert found.tension_lbf == pytest.approx(np.linalg.pinv(out_of_plane) @ [force[2], *tipping])


def test_screws_on_one_line_hold_nothing_against_tipping() -> None:
    with pytest.raises(GeometryError, match="one line"):
        screw_loads([(0, 0), (1, 0), (2, 0)], force_lbf=(1, 0, 0), offset_in=(0, 0), height_in=1)
