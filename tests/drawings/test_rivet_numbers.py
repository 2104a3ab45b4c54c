"""Numbers of rivets: none lies on another, on another rivet, or on an arrow, however close the rivets stand."""

from __future__ import annotations

from itertools import combinations
from xml.etree import ElementTree

import numpy as np
import pytest
from shapely.geometry import LineString, Point, Polygon, box

from hatchwright.drawings.lettering import text_width_in
from hatchwright.drawings.picture import Picture, number_rivets

HIGH = 7.0


def lettered(places: np.ndarray, tips: np.ndarray, labels: dict[int, str]) -> list[Polygon]:
    """What each number covers, in units of the picture with y up."""
    picture = Picture(400, 300, "rivets")
    number_rivets(picture, places, tips, labels)
    found = {}
    for text in ElementTree.fromstring(picture.svg()).iter("{http://www.w3.org/2000/svg}text"):
        assert text.get("text-anchor") == "middle"
        x, y = float(text.get("x", "")), 300 - float(text.get("y", ""))
        half = text_width_in(text.text or "", height_in=HIGH) / 2
        found[text.text] = box(x - half, y, x + half, y + HIGH)
    return [found[words] for words in labels.values()]


@pytest.mark.parametrize("turn_deg", [0.0, 30.0, 45.0, 90.0, 160.0])
def test_numbers_of_neighbors_keep_off_each_other_and_off_rivets_and_arrows(turn_deg: float) -> None:
    """A row of rivets 13 units apart, far less than a number is wide, in any direction."""
    along = np.array([np.cos(np.radians(turn_deg)), np.sin(np.radians(turn_deg))])
    places = np.array([200.0, 150.0]) + np.arange(-4, 5)[:, None] * 13.0 * along
    tips = places + 20.0 * np.array([-along[1], along[0]])
    labels = {3: "116: 41", 4: "117: 39", 5: "118: 42"}
    covered = lettered(places, tips, labels)
    for one, other in combinations(covered, 2):
        assert not one.intersects(other)
    for row, shape in zip(labels, covered, strict=True):
        assert shape.distance(Point(places[row])) < 60
        for place, tip in zip(places, tips, strict=True):
            assert not shape.intersects(Point(place).buffer(3.0))
            assert not shape.intersects(LineString([place, tip]))


def test_each_number_stands_beside_its_own_rivet() -> None:
    places = np.array([(50.0, 50.0), (300.0, 50.0), (300.0, 250.0)])
    covered = lettered(places, places + 5.0, {0: "1: 20", 2: "3: 30"})
    for shape, place in zip(covered, places[[0, 2]], strict=True):
        assert shape.distance(Point(place)) < 8
