"""The template's plate or plug on the page: its edges and its key, as the part itself has them."""

from __future__ import annotations

from hatchwright.drawings.page_frame import PageFrame
from hatchwright.drawings.sheet import Box, Circle, Layer, Outline, Point, Style
from hatchwright.job.cutter import Template
from hatchwright.shapes.profile import Profile
from hatchwright.tooling import template_part
from hatchwright.tooling.guide_template import GuideChain


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
        Outline: cut by the machine too.
    """
    edge = template_part.plate_edge(plate, border_in=border_in, frame=page.frame)
    return Outline(edge, Layer.TEMPLATE, css="plate-edge")


def key_hole(chain: GuideChain, page: PageFrame) -> Circle | None:
    """The key hole of a plug, off both its centre lines.

    Args:
        chain: the template.
        page: its page.
    Returns:
        Circle: as wide as the end mill, towards both direction arrows; None when the plug is too small for it.
    """
    plug = Profile(page.profile(chain.machinable))
    hole = template_part.key_hole(plug, chain.guide.end_mill_in, page.frame)
    if hole is None:
        return None
    return Circle(hole.centre, hole.diameter_in, Layer.DRILL_FINAL, Style.FINISHED, css="key-hole")


def key_quarter(page: PageFrame) -> Point:
    """The quarter of the page that lies towards both direction arrows, such as FWD and OUTBD.

    Args:
        page: of the template.
    Returns:
        Point: 1 or -1 to the right, 1 or -1 up.
    """
    return template_part.key_quarter(page.frame)


def middle(box: Box) -> Point:
    """The middle of a box.

    Args:
        box: on the page [in].
    Returns:
        Point: its middle (x, y) [in].
    """
    return 0.5 * (box.left + box.right), 0.5 * (box.bottom + box.top)
