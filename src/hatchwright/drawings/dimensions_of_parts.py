"""The dimensions of the parts: their sizes from edge to edge, and their edges from the datum.

A circle is dimensioned by its diameter, and from the datum to its center; what was measured says so.
"""

from __future__ import annotations

from collections.abc import Iterator

from hatchwright.drawings.bay_structure import drawn_bounds, origin_is_near, parts_bounds
from hatchwright.drawings.dimensions import baseline, dimension
from hatchwright.drawings.ink import Ink, Point
from hatchwright.drawings.page_frame import PageFrame
from hatchwright.layout.layout import Edge, Layout
from hatchwright.layout.sizes import is_round
from hatchwright.said import Value, inch, said
from hatchwright.words.tell import tell

_OFF_IN = 0.35
_STEP_IN = 0.3
_LEAST_IN = 1e-6


def sizes(layout: Layout, page: PageFrame, css: str = "") -> Iterator[Ink]:
    """The sizes of the opening and of the outermost part, below and to the left of all parts."""
    opening, outermost = _opening_and_outermost(layout)
    around = page.box(parts_bounds(layout))
    for step, edge in enumerate((opening, outermost) if outermost is not opening else (opening,)):
        box, off_in, part = page.box(edge.loop.bounds), _OFF_IN + step * _STEP_IN, _entered_at(edge, layout)
        is_circle = is_round(edge.loop.bounds, edge.corner)
        across = said("size.round", across=inch(box.width_in)) if is_circle else inch(box.width_in)
        feet, words = ((box.left, box.bottom), (box.right, box.bottom)), _words(across, edge, layout)
        yield from dimension(*feet, "x", around.bottom - off_in, words, css=css, part=part)
        if not is_circle:
            feet, words = (
                ((box.left, box.bottom), (box.left, box.top)),
                _words(inch(box.height_in), edge, layout),
            )
            yield from dimension(*feet, "y", around.left - off_in, words, css=css, part=part)


def from_datum(layout: Layout, page: PageFrame, css: str = "", *, with_halves: bool = True) -> Iterator[Ink]:
    """Both pairs of edges of the opening and of the outermost part from a datum that is near, below and to the left.

    Args:
        with_halves: whether also where the datum is the center line of the part, so that its size tells both.
    """
    if not origin_is_near(layout):
        return
    shown = page.box(drawn_bounds(layout))
    below: dict[str, tuple[Point, str]] = {}
    left: dict[str, tuple[Point, str]] = {}
    for edge in dict.fromkeys(_opening_and_outermost(layout)):
        box = page.box(edge.loop.bounds)
        xs: tuple[float, ...] = (box.left, box.right)
        ys: tuple[float, ...] = (box.bottom, box.top)
        if is_round(edge.loop.bounds, edge.corner):
            xs, ys = (box.middle[0],), (box.middle[1],)
        if not with_halves:
            xs, ys = ((() if abs(sum(ends)) < _LEAST_IN else ends) for ends in (xs, ys))
        for x in xs:
            below.setdefault(f"{x:.4f}", ((x, box.bottom), _words(inch(abs(x)), edge, layout)))
        for y in ys:
            left.setdefault(f"{y:.4f}", ((box.left, y), _words(inch(abs(y)), edge, layout)))
    across = [one for one in below.values() if abs(one[0][0]) > _LEAST_IN]
    up = [one for one in left.values() if abs(one[0][1]) > _LEAST_IN]
    datum, at = (0.0, shown.bottom), shown.bottom - _OFF_IN
    yield from baseline(datum, across, along="x", first_line_at=at, spacing_in=0.32, css=css)
    datum, at = (shown.left, 0.0), shown.left - _OFF_IN
    yield from baseline(datum, up, along="y", first_line_at=at, spacing_in=0.4, css=css)


def _opening_and_outermost(layout: Layout) -> tuple[Edge, Edge]:
    """The edge of the opening, and that of the largest part, which is the same where there is no other part."""
    edges = [edge for part in layout.parts for edge in part.edges if not edge.is_split]
    return edges[0], max(edges, key=lambda edge: abs(edge.loop.area_sq_in))


def _entered_at(edge: Edge, layout: Layout) -> str:
    """Where the job file tells how large it is: among what was measured, or among what was drawn."""
    made = layout.job.as_made
    if made and made.opening and edge.name == "opening edge":
        return "as_made.opening"
    if made and made.doubler_outer and edge.name == "doubler outer edge":
        return "as_made.doubler_outer"
    return "patch.plug" if edge.name == "plug edge" else edge.name.split()[0]


def _words(size: Value, edge: Edge, layout: Layout) -> str:
    id = "size.as_made" if _entered_at(edge, layout).startswith("as_made") else "size.drawn"
    return tell(said(id, size=size), layout.job.unit)
