"""The edges on a hole map: opening, doubler, cover and plug, those apart that can be told apart on paper."""

from __future__ import annotations

from hatchwright.drawings.hole_map_names import NamedEdge, along_edge
from hatchwright.drawings.ink import Layer, Outline, Style
from hatchwright.drawings.page_frame import PageFrame
from hatchwright.drawings.parts_table import edge_said
from hatchwright.layout.layout import Edge, Layout
from hatchwright.said import Listed, Value, said
from hatchwright.shapes.distance import distances
from hatchwright.shapes.profile import Loop, Profile
from hatchwright.words.of_job import in_words_of
from hatchwright.words.tell import tell

_APART_IN = 0.05
"""Lines nearer than this run into each other in a photocopy: half of each width, and .7 mm between [in]."""

_CHORD_IN = 0.01


def map_edges(layout: Layout, page: PageFrame) -> tuple[list[Outline], list[NamedEdge]]:
    """The edges as drawn, the finished opening first, and their names; an edge that lies too near to one that is drawn
    shares its line and its name."""
    drawn: list[Outline] = []
    names: list[list[Value]] = []
    for part in layout.parts:
        for edge in part.edges:
            loop, words = page.loop(edge.loop), said("hole_map.edge", edge=edge_said(edge))
            beside = next((k for k, one in enumerate(drawn) if _runs_beside(loop, one.loop)), None)
            if beside is None:
                layer, style = _drawn_as(edge, layout)
                drawn.append(Outline(loop, layer, style, edge.name.replace(" ", "-")))
                names.append([words])
            elif words not in names[beside]:
                names[beside].append(words)
    told = [tell(in_words_of(layout.job.kind, Listed(tuple(one), ","))) for one in names]
    return drawn, [NamedEdge(along_edge(one.loop), words) for one, words in zip(drawn, told, strict=True)]


def _drawn_as(edge: Edge, layout: Layout) -> tuple[Layer, Style]:
    """The finished opening thick, what lies behind the skin dashed, all else thin."""
    doubler = layout.job.doubler
    is_behind = doubler is not None and doubler.face == "inside"
    by_part = {
        "opening": (Layer.OPENING, Style.FINISHED),
        "doubler": (Layer.DOUBLER, Style.HIDDEN if is_behind else Style.DIMENSION),
        "cover": (Layer.COVER, Style.DIMENSION),
        "plug": (Layer.PLUG, Style.DIMENSION),
    }
    return by_part[edge.name.split()[0]]


def _runs_beside(loop: Loop, other: Loop) -> bool:
    """Whether all of a line lies so near to another that the two cannot be told apart."""
    if any(abs(a - b) > _APART_IN for a, b in zip(loop.bounds, other.bounds, strict=True)):
        return False
    return bool(distances(Profile((other,)), loop.points(_CHORD_IN)).distance_in.max() < _APART_IN)
