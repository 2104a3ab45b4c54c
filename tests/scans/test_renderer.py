"""The scans of these tests themselves: what is drawn has the size that it is said to have.

Checked against areas and lengths of plane geometry, and against OpenCV's finder of marks, which these pictures have
to pass as those of a scanner would.
"""

from __future__ import annotations

import cv2
import numpy as np
import pytest

from tests.scans.card import card
from tests.scans.scanner import Bed, covered, scan_of
from tests.scans.setup import STILL, any_setup
from tests.scans.shapes import around, cut_disc, disc, nibbled, rounded_rectangle
from tests.scans.truths import PARTS


def still(dpi: int = 300):
    """A scanner without faults."""
    return any_setup(np.random.default_rng(910_000), dpi=dpi).but(
        scale=(1.0, 1.0), square=0.0, bows=(STILL, STILL), banding=STILL, jitter=0.0
    )


def area_of(shape) -> float:
    """Area that the pixels of a shape cover on a scanner without faults [sq in]."""
    return float(covered(shape, Bed(still(), (1100, 1100), np.random.default_rng(0))).sum()) / 300.0**2


@pytest.mark.parametrize(
    ("shape", "area"),
    [
        (disc(2.0, 0.01, 0.02), np.pi),
        (rounded_rectangle(3.0, 2.0, 0.5), 6.0 - (4.0 - np.pi) * 0.25),
        (rounded_rectangle(3.0, 1.0, 0.5), 2.0 + np.pi / 4.0),
        # a half round where the flat goes through the middle and the corners are sharp
        (cut_disc(3.0, 0.0, 1e-9), np.pi * 1.5**2 / 2.0),
    ],
)
def test_a_shape_covers_its_area(shape, area):
    assert area_of(shape) == pytest.approx(area, rel=2e-5)


def test_bites_leave_crests_of_the_height_that_two_rounds_leave():
    """Two rounds of diameter c, a apart, meet (c - sqrt(c^2 - a^2))/2 within their common tangent: Pythagoras."""
    steps = np.full(160, (4.0 * 2.807 - (8.0 - 2.0 * np.pi) * 0.4035) / 160)
    shape = nibbled(3.0, 3.0, 0.5, cutter=0.193, steps=steps)
    x = np.linspace(1.49, 1.505, 15001)
    root, crest = (x[shape(x, np.full_like(x, steps[0] * way)) < 0].max() for way in (1.0, 1.5))
    assert root == pytest.approx(1.5, abs=2e-6)
    assert root - crest == pytest.approx((0.193 - np.sqrt(0.193**2 - steps[0] ** 2)) / 2.0, abs=2e-6)


def test_places_along_a_rounded_rectangle_lie_on_it_in_even_steps():
    places = around(3.0, 2.0, 0.5, np.arange(0.0, 9.0, 0.01))
    assert np.abs(rounded_rectangle(3.0, 2.0, 0.5)(*places.T)).max() < 1e-12
    assert np.hypot(*np.diff(places, axis=0).T) == pytest.approx(0.01, rel=1e-4)


def test_pixels_look_where_the_scanner_errs():
    """A bed whose axes are off by .5 % and bowed by .002 and .003 shows each place within that, and finds it back."""
    setup = any_setup(np.random.default_rng(910_001))
    bed = Bed(setup, (1200, 1000), np.random.default_rng(0))
    column, row = np.array([10.0, 500.3, 990.0]), np.array([1190.0, 600.6, 5.0])
    x, y = bed.at(column, row)
    assert np.abs(x - (column - 499.5) / 300.0).max() < 0.5 * 0.0167 + 0.005
    assert np.abs(y + (row - 599.5) / 300.0).max() < 0.5 * 0.02 + 0.005
    back_column, back_row = bed.seen_at(x, y)
    assert np.abs(back_column - column).max() < 0.01
    assert (
        np.abs(back_row - row).max() < 0.3
    )  # lines jitter: what a place between two of them is, is not to the point


def test_marks_are_found_in_place_by_an_outside_reader():
    rng = np.random.default_rng(910_002)
    part = PARTS["slot"](rng)
    drawn, setup = card(part.window), any_setup(rng)
    levels = scan_of(part, drawn, setup, rng).astype(np.uint8)
    finder = cv2.aruco.ArucoDetector(cv2.aruco.getPredefinedDictionary(cv2.aruco.DICT_4X4_50))
    corners, ids, _ = finder.detectMarkers(levels)
    assert sorted(ids.ravel()) == [0, 1, 2, 3, 19]
    middles = dict(zip(ids.ravel(), (c[0].mean(0) for c in corners), strict=True))
    right = middles[1] - middles[0]
    assert np.hypot(*right) == pytest.approx(4.5 * 300, rel=0.012)  # scales of printer and scanner together
    assert np.degrees(np.arctan2(-right[1], right[0])) == pytest.approx(np.degrees(setup.card_turn), abs=0.1)


def test_a_picture_holds_as_much_light_as_its_part_is_large():
    """Blur spreads light and loses none: the tone curve undone, a disc weighs its area and balances on its middle."""
    rng = np.random.default_rng(910_003)
    part = PARTS["disc"](rng)
    setup = still().but(card_turn=0.0, card_at=(0.05, -0.02), part_at=(0.03, 0.04), exposure=1.0, glare=0.0)
    setup = setup.but(grain=0.0, glints=0, dust=0, scratches=0, noise=0.5, print_bows=(STILL, STILL))
    levels = scan_of(part, card("4x4"), setup, rng)
    light = ((levels / 255.0) ** setup.gamma - setup.black) / (setup.metal - setup.black)
    rows, columns = ((np.arange(n) - (n - 1) / 2.0) / 300.0 for n in light.shape)
    near = np.abs(rows) < 1.2, np.abs(columns) < 1.2
    light, rows, columns = light[np.ix_(*near)], rows[near[0]], columns[near[1]]
    assert np.sqrt(light.sum() / 300.0**2 * 4.0 / np.pi) == pytest.approx(part.outline.width, abs=0.0015)
    assert np.average(columns, weights=light.sum(0)) == pytest.approx(0.08, abs=1e-4)
    assert np.average(-rows, weights=light.sum(1)) == pytest.approx(0.02, abs=1e-4)
