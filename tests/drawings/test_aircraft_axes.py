"""FWD, OUTBD, UP and the axes of a job on every kind of drawing, against a model of an aircraft in space.

The model is a fuselage and two wings of triangles in axes of its own: x forward, y to the left, z up. A drawing shows a
skin as one sees it who looks at it from outside, against its outward normal. Which way the page is turned follows from
the drawn FWD alone; everything else must then lie as the model has it. The arrows are read back from the written SVG.
"""

from __future__ import annotations

import math
import re
from xml.etree import ElementTree

import numpy as np
import pytest

from hatchwright.drawings.bay_view import bay_sheet
from hatchwright.drawings.hole_map_view import hole_map
from hatchwright.drawings.overview_sheet import overview_sheet
from hatchwright.drawings.part_sheet import part_sheets
from hatchwright.drawings.writers.svg import picture_svg_of, svg_of
from hatchwright.layout.lay_out import lay_out
from hatchwright.recipe.recipe import recipe_of

COMBINATIONS = [
    ("left", "upper"),
    ("left", "lower"),
    ("left", "side"),
    ("right", "upper"),
    ("right", "lower"),
    ("right", "side"),
    ("center", "upper"),
    ("center", "lower"),
]
"""Side and surface: all that there are; the side of the center is neither."""

ON_PAPER = (0, 5)
"""Of the eight ways of the axes those in which X and Y lie along the page each way once."""

SVG = "{http://www.w3.org/2000/svg}"


def box_of_triangles(x, y, z):
    """The twelve triangles of a box, each three corners in space."""
    corners = np.array([(a, b, c) for a in x for b in y for c in z])
    quads = ((0, 1, 3, 2), (4, 5, 7, 6), (0, 1, 5, 4), (2, 3, 7, 6), (0, 2, 6, 4), (1, 3, 7, 5))
    return [corners[list(three)] for q in quads for three in (q[:3], (q[0], q[2], q[3]))]


BODIES = {
    "fuselage": box_of_triangles((-120, 60), (-20, 20), (-25, 25)),
    "left wing": box_of_triangles((-30, 30), (21, 200), (-4, 4)),
    "right wing": box_of_triangles((-30, 30), (-200, -21), (-4, 4)),
}


def skin(side, surface):
    """A point on that skin and its outward normal."""
    body = BODIES["fuselage" if surface == "side" or side == "center" else f"{side} wing"]
    inside = np.mean([triangle.mean(axis=0) for triangle in body], axis=0)
    wanted = {"upper": lambda p, n: n[2] > 0.9, "lower": lambda p, n: n[2] < -0.9}.get(
        surface, lambda p, n: abs(n[1]) > 0.9 and (p[1] > 0) == (side == "left")
    )
    for triangle in body:
        middle = triangle.mean(axis=0)
        normal = np.cross(triangle[1] - triangle[0], triangle[2] - triangle[0])
        normal = normal / np.linalg.norm(normal)
        normal = normal if normal @ (middle - inside) > 0 else -normal
        if wanted(middle, normal):
            return middle, normal
    raise AssertionError(f"no skin {side} {surface}")


def in_space(word, point):
    """The way of a word at a place of the aircraft."""
    ways = {"FWD": (1, 0, 0), "LEFT": (0, 1, 0), "UP": (0, 0, 1), "OUTBD": (0, math.copysign(1, point[1]), 0)}
    behind = {"AFT": "FWD", "RIGHT": "LEFT", "DOWN": "UP", "INBD": "OUTBD"}
    return -np.array(ways[behind[word]]) if word in behind else np.array(ways[word])


def arrows_of(svg: bytes) -> dict[str, tuple[float, float]]:
    """The words of the bold arrows of an SVG with the way each points on the page, y up: that of the nearest head."""
    root = ElementTree.fromstring(svg)
    heads = []
    for group in root.iter(f"{SVG}g"):
        if "solid-" in group.get("class", ""):
            for path in group.iter(f"{SVG}path"):
                numbers = [float(v) for v in re.findall(r"-?\d+\.?\d*(?:e-?\d+)?", path.get("d"))]
                tip, left, right = (np.array((numbers[k], -numbers[k + 1])) for k in (0, 2, 4))
                back = (left + right) / 2
                heads.append((tip, (tip - back) / np.linalg.norm(tip - back)))
    found = {}
    for e in root.iter(f"{SVG}text"):
        if e.get("font-weight") == "bold" and len(e.text or "") > 1:
            size = float(e.get("font-size"))
            wide, high = 0.72 * size * len(e.text), 0.73 * size
            before = {"start": 0.0, "middle": 0.5, "end": 1.0}[e.get("text-anchor", "start")]
            low = np.array((float(e.get("x")) - before * wide, -float(e.get("y"))))
            off = [np.linalg.norm(np.clip(tip, low, low + np.array([wide, high])) - tip) for tip, _ in heads]
            if min(off) < 0.3:
                way = heads[int(np.argmin(off))][1]
                found[e.text] = (round(float(way[0]), 6), round(float(way[1]), 6))
    return found


def holes_run_along(svg: bytes, job, x_way, y_way) -> bool:
    """Whether the holes lie to each other along the drawn axes as their coordinates say, whatever the scale; a hole
    that the views of several pieces show, as the first of them does."""
    drawn_in = [e for e in ElementTree.fromstring(svg).iter(f"{SVG}circle") if e.get("data-hole")]
    at = {
        int(e.get("data-hole")): np.array((float(e.get("cx")), -float(e.get("cy"))))
        for e in reversed(drawn_in)
    }
    holes = [hole for hole in lay_out(job).holes if hole.number in at]
    first, others = holes[0], holes[1:]
    drawn = np.array([at[hole.number] - at[first.number] for hole in others])
    meant = np.array([(hole.x_in - first.x_in) * x_way + (hole.y_in - first.y_in) * y_way for hole in others])
    scale = np.linalg.norm(drawn) / np.linalg.norm(meant)
    return len(others) > 10 and np.allclose(drawn, scale * meant, atol=1e-5)


def words_of(side, surface):
    if surface == "side":
        return ("FWD", "AFT", "UP", "DOWN")
    return ("FWD", "AFT", "LEFT", "RIGHT") if side == "center" else ("FWD", "AFT", "OUTBD", "INBD")


def jobs_on(job, side, surface):
    """The job on another skin, its axes in every way that the skin has."""
    words = words_of(side, surface)
    aircraft = job.aircraft.model_copy(update={"side": side, "surface": surface, "both_sides": False})
    for x in words:
        for y in words:
            if {x, y} & set(words[:2]) and {x, y} & set(words[2:]):
                frame = job.frame_entry.model_copy(update={"x": x, "y": y})
                yield x, y, job.model_copy(update={"aircraft": aircraft, "frame_entry": frame})


def drawings_of(job, *, on_paper):
    """Every kind of drawing of a job; those set on a page take longer, and are drawn only where that is asked."""
    layout = lay_out(job)
    yield "layout", picture_svg_of(bay_sheet(layout, (), date=""))
    yield "hole map", picture_svg_of(hole_map(layout, ()).sheet)
    if on_paper:
        yield "overview", svg_of(overview_sheet(layout, (), paper_in=(8.5, 11.0), date=""))
        made = part_sheets(layout, recipe_of(layout), paper_in=(8.5, 11.0), date="")
        yield from (("part sheet", svg_of(one.sheet)) for one in made.drawn)


@pytest.mark.parametrize(("side", "surface"), COMBINATIONS)
def test_arrows_agree_with_the_aircraft(alder_drawn, side, surface):
    point, normal = skin(side, surface)
    second = "UP" if surface == "side" else "LEFT" if side == "center" else "OUTBD"
    compared = 0
    for number, (x, y, job) in enumerate(jobs_on(alder_drawn, side, surface)):
        for name, svg in drawings_of(job, on_paper=number in ON_PAPER):
            arrows = arrows_of(svg)
            assert {"FWD", second, f"X {x}", f"Y {y}"} <= set(arrows), (name, arrows)
            # The page has a right and an up in space, right x up = the way to the eye. FWD as drawn turns it.
            a, b = arrows["FWD"]
            forward, to_left = in_space("FWD", point), np.cross(normal, in_space("FWD", point))
            right, up = a * forward - b * to_left, b * forward + a * to_left
            assert np.cross(right, up) == pytest.approx(normal)
            for words, word in ((second, second), (f"X {x}", x), (f"Y {y}", y)):
                seen = in_space(word, point)
                assert arrows[words] == pytest.approx((seen @ right, seen @ up), abs=1e-6), (name, words)
                compared += 1
            assert holes_run_along(svg, job, np.array(arrows[f"X {x}"]), np.array(arrows[f"Y {y}"])), name
    assert compared == 3 * (8 * 2 + len(ON_PAPER) * 2)
