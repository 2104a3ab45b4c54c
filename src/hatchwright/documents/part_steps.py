"""Steps of the work card for the parts themselves: making doubler and cover, and getting the doubler in."""

from __future__ import annotations

from collections.abc import Iterator

from hatchwright.documents.step import PRACTICE, Step, asked, line
from hatchwright.drawings.figures import size_of
from hatchwright.drawings.parts_table import sheet_said
from hatchwright.layout.layout import Edge, Layout, Part
from hatchwright.rules.passage import least_width, longest_chord
from hatchwright.said import Listed, Said, inch, said


def part_steps(layout: Layout) -> Iterator[Step]:
    """How doubler and cover are made, and how a doubler that lies inside gets there; nothing without them."""
    parts = [part for part in layout.parts if part.name != "skin"]
    if not parts:
        return
    title = said("card.make.title", parts=Listed(tuple(said(f"part.{part.name}") for part in parts)))
    filed = line(said("card.make.outlines"), said("card.make.file"), rests_on=(PRACTICE,))
    lines = (*(line(_part(part)) for part in parts), filed, asked("edge_finish"))
    yield Step(title, lines, tuple(blank for part in parts for blank in _blanks(part)))
    if layout.job.doubler is not None and layout.job.doubler.face == "inside":
        yield _bring_in(layout)


def _part(part: Part) -> Said:
    edges = Listed(tuple(_edge(edge, part) for edge in part.edges), ";")
    return said("card.make.part", part=said(f"part.{part.name}"), sheet=sheet_said(part), edges=edges)


def _edge(edge: Edge, part: Part) -> Said:
    which = edge.name.removesuffix(" edge").removeprefix(part.name).strip() or "whole"
    size, corner = size_of(edge.loop.bounds), edge.corner
    if corner is None:
        return said(f"card.edge.{which}", size=size)
    return said(f"card.edge.{which}_corner", size=size, radius=inch(corner.radius_in, fine=True))


def _blanks(part: Part) -> Iterator[Said]:
    x_min, y_min, x_max, y_max = part.edges[0].loop.bounds
    name = said(f"part.{part.name}")
    yield said("card.make.along_x", part=name, size=inch(x_max - x_min))
    yield said("card.make.along_y", part=name, size=inch(y_max - y_min))


def _bring_in(layout: Layout) -> Step:
    """Straight through the opening, or threaded in, split, or by another way, as rule R304 has it."""
    doubler = layout.part("doubler")
    assert doubler is not None  # asked before
    width_in, chord_in = least_width(doubler.edges[0].loop), longest_chord(layout.wanted)
    sizes = line(said("card.bring_in.sizes", width=inch(width_in), chord=inch(chord_in)))
    if width_in < chord_in:
        how = line(said("card.bring_in.straight"))
    elif layout.job.mount is not None:
        how = line(said("card.bring_in.not_through"), said("card.bring_in.split_only"))
    else:
        how = line(said("card.bring_in.one_leg"), said("card.bring_in.split"), said("card.bring_in.no_force"))
    cord = line(said("card.bring_in.cord"), rests_on=(PRACTICE,))
    return Step(said("card.bring_in.title"), (sizes, how, cord), (said("card.bring_in.way"),))
