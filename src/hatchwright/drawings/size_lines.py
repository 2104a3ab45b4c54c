"""The over-all sizes lettered in the opening, where they hide no hole and no edge; the table of parts has them too."""

from __future__ import annotations

from collections.abc import Iterable

from hatchwright.drawings.figures import bare
from hatchwright.drawings.ink import Anchor, Text
from hatchwright.drawings.marks import arrow, cross
from hatchwright.drawings.page_frame import PageFrame
from hatchwright.drawings.plate_room import PlateRoom
from hatchwright.layout.layout import Layout
from hatchwright.layout.sizes import size_of
from hatchwright.said import Place, Said, said
from hatchwright.shapes.profile import Loop, Profile
from hatchwright.words.of_job import in_words_of

CENTER_CROSS_IN = 0.4
"""Width of the cross at the center of the opening [in]."""

_HEIGHTS_IN = (0.11, 0.1, 0.09, 0.08, 0.075)
_LINE_RATIO = 1.8
_HOLE_ROOM_IN = 0.36
_ABOVE_IN = 0.8


def size_lines(layout: Layout, page: PageFrame, edges: Iterable[Loop]) -> tuple[Text, ...]:
    """Letter the over-all sizes of what is drawn, and where the center of the opening lies, a line each.

    None when there is no room to read them beside the edges, all that are drawn on the page.
    """
    center = page.point(*layout.center_in)
    room = PlateRoom(
        Profile((page.loop(layout.opening),)),
        ((page.point(hole.x_in, hole.y_in), _HOLE_ROOM_IN) for hole in layout.holes),
        edges=edges,
        cell_in=0.1,
    )
    room.take(cross(center, CENTER_CROSS_IN))
    for words, angle in page.axes_deg():
        room.take(arrow((0.0, 0.0), angle, words, 0.8, 0.1))
    lines = size_words(layout)
    variants = (  # below each other, the largest letters first
        tuple(
            Text((0.0, -_LINE_RATIO * height_in * row), line, height_in, anchor=Anchor.MIDDLE, css="size")
            for row, line in enumerate(lines)
        )
        for height_in in _HEIGHTS_IN
    )
    put = room.put(variants, near=(center[0], center[1] + _ABOVE_IN))
    return tuple(part for part in put if isinstance(part, Text))


def size_words(layout: Layout) -> list[str]:
    """The over-all sizes of what is drawn, and where the center of the opening lies, a line each."""
    unit = layout.job.unit
    sizes: list[Said] = []
    for part in layout.parts:
        for edge in part.edges:
            if edge.is_split:
                continue
            name = edge.name.removesuffix(" edge").replace(" ", "_")
            size = said(f"size.of.{name}", size=size_of(edge.loop.bounds, edge.corner))
            sizes.append(said("size.was_made", size=size) if edge.uncertainty_in else size)
    sizes.append(said("size.center", center=Place(*layout.center_in)))
    return [bare(in_words_of(layout.job.kind, one), unit) for one in sizes]
