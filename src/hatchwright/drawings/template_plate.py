"""The template as a part: its plate, and the mark that keeps a left one from passing for a right one.

A rounded window in the middle of a plate, or a rounded plug, is its own mirror image. The plate therefore has one
corner cut off, twice as far along the aircraft as across it, and the plug a key hole off both its centre lines,
twice as far along it as across, so that neither can be laid on its mirror image by turning it.
"""

from __future__ import annotations

import numpy as np

from hatchwright.drawings.page_frame import PageFrame
from hatchwright.drawings.sheet import Box, Circle, Layer, Outline, Point, Style
from hatchwright.job.cutter import Template
from hatchwright.shapes.distance import distances
from hatchwright.shapes.profile import Loop, Profile
from hatchwright.tooling.guide_template import GuideChain

KEY_HOLE_WALL_IN = 0.25
"""Least material round the key hole of a plug [in]. Common practice, no source."""

_LONGEST_LEG_IN = 1.0
_KEY_RATIOS = ((0.36, 0.18), (0.30, 0.15))


def guide_edges(chain: GuideChain, page: PageFrame) -> tuple[Outline, ...]:
    """The edges that the cutter's guide runs along: the window, or the plug.

    Args:
        chain: the template.
        page: its page.
    Returns:
        tuple[Outline, ...]: closed edges as the template's own end mill makes them.
    """
    return tuple(Outline(loop, Layer.TEMPLATE, css="guide-edge") for loop in page.profile(chain.machinable))


def plate_box(chain: GuideChain, template: Template, page: PageFrame) -> Box:
    """The plate of a window, or the blank of a plug, on the page.

    Args:
        chain: the template.
        template: its border.
        page: its page.
    Returns:
        Box: the guide edges and the border round them [in].
    """
    return page.box(chain.machinable.bounds).grown(template.border.inch)


def plate_edge(plate: Box, border_in: float, page: PageFrame) -> Outline:
    """The edge of a window's plate, with the corner cut off that lies towards both direction arrows.

    Args:
        plate: the plate on the page [in].
        border_in: width of its border [in].
        page: its page.
    Returns:
        Outline: cut by the machine too; the cut corner leaves most of the border.
    """
    leg_in = min(border_in, _LONGEST_LEG_IN)
    level_in, upright_in = (leg_in, 0.5 * leg_in) if _first_is_level(page) else (0.5 * leg_in, leg_in)
    x, y = 0.5 * plate.width_in, 0.5 * plate.height_in
    corners = ((-x, -y), (x, -y), (x, y - upright_in), (x - level_in, y), (-x, y))
    edge = Loop(np.array([(*corner, 0.0) for corner in corners]))
    right, up = key_quarter(page)
    return Outline(
        edge.transformed(((right, 0.0), (0.0, up)), middle(plate)), Layer.TEMPLATE, css="plate-edge"
    )


def key_hole(chain: GuideChain, page: PageFrame) -> Circle | None:
    """The key hole of a plug, off both its centre lines.

    Args:
        chain: the template.
        page: its page.
    Returns:
        Circle: as wide as the end mill, towards both direction arrows; None when the plug is too small for it.
    """
    plug = Profile(page.profile(chain.machinable))
    box = Box(*plug.bounds)
    (right, up), (x, y) = key_quarter(page), middle(box)
    need_in = 0.5 * chain.guide.end_mill_in + KEY_HOLE_WALL_IN
    is_level = box.width_in > box.height_in or (box.width_in == box.height_in and _first_is_level(page))
    for long, short in _KEY_RATIOS:
        level, upright = (long, short) if is_level else (short, long)
        centre = (x + right * level * box.width_in, y + up * upright * box.height_in)
        found = distances(plug, np.array([centre]))
        if found.inside[0] and found.distance_in[0] >= need_in:
            return Circle(centre, chain.guide.end_mill_in, Layer.DRILL_FINAL, Style.FINISHED, css="key-hole")
    return None


def key_quarter(page: PageFrame) -> Point:
    """The quarter of the page that lies towards both direction arrows, such as FWD and OUTBD.

    Args:
        page: of the template.
    Returns:
        Point: 1 or -1 to the right, 1 or -1 up.
    """
    (_, first), (_, second) = page.frame.directions()
    return first[0] + second[0], first[1] + second[1]


def middle(box: Box) -> Point:
    """The middle of a box.

    Args:
        box: on the page [in].
    Returns:
        Point: its middle (x, y) [in].
    """
    return 0.5 * (box.left + box.right), 0.5 * (box.bottom + box.top)


def _first_is_level(page: PageFrame) -> bool:
    (_, first), _ = page.frame.directions()
    return first[0] != 0.0
