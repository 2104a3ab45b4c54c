"""Tables of the as-built sheet besides its holes: edges and corners, sheets, heads, countersinks, dimples, strays."""

from __future__ import annotations

from collections.abc import Callable, Iterator, Sequence
from typing import TypeAlias

from hatchwright.documents.made_table import MadeTable, signed
from hatchwright.finding import Finding
from hatchwright.job.frame import OPPOSITE
from hatchwright.job.hole_readings import DimpleCrack, MadeCountersink, MadeHead
from hatchwright.job.made_outline import MadeOutline, MeasuredEdges
from hatchwright.job.outline import loop_about
from hatchwright.job.side_uncertainty import SideUncertainty
from hatchwright.judged import Status, worst_of
from hatchwright.layout.layout import Layout
from hatchwright.layout.stray import Stray
from hatchwright.said import Said, said
from hatchwright.shapes.corners import smallest_corner
from hatchwright.shapes.profile import Loop
from hatchwright.units import Length, figure
from hatchwright.words.of_job import said_of
from hatchwright.words.tell import tell

_OF_PARTS = frozenset(("R107", "R217", "R403", "R424", "R425"))
_CORNERS = ((0, 0), (1, 0), (1, 1), (0, 1))
"""In the order of a measured outline's radii: which end of X and of Y."""


def finding_of_part(finding: Finding) -> bool:
    """Whether a finding speaks of a measured sheet or a hole of no row."""
    return finding.code in _OF_PARTS


def _heads(*names: str) -> tuple[Said, ...]:
    return tuple(said(f"as_built.heading.{name}") for name in names)


def _status(status: Status) -> str:
    return tell(said(f"status.{status}"))


def edge_table(layout: Layout) -> MadeTable:
    """Each measured outline by its four extremes and its corners, beside what was drawn."""
    job, made = layout.job, layout.job.as_made
    doubler = job.doubler
    center_in = layout.center_in
    outlines: list[tuple[str, MadeOutline | None, Loop | None]] = []
    if made is not None:
        outer = loop_about(doubler.outer, center_in) if doubler else None
        inner = loop_about(doubler.inner, center_in) if doubler and doubler.inner else None
        outlines = [
            ("opening_edge", made.opening, layout.wanted),
            ("doubler_outer_edge", made.doubler_outer, outer),
            ("doubler_inner_edge", made.doubler_inner, inner),
        ]
    rows: list[tuple[str, ...]] = []
    for name, outline, drawn in outlines:
        if made is not None and outline is not None and drawn is not None:
            edge, own_u = tell(said_of(job.kind, said(f"edge.{name}"))), made.own_edge_u(outline)
            assert own_u is not None  # it was measured
            rows += ((edge, *row) for row in _outline(layout, outline, own_u, drawn))
    widths = (1.6, 2.2, 1.1, 1.1, 1.0, 0.8)
    heads = _heads("edge", "where", "nominal", "measured", "deviation", "u")
    return MadeTable(said("as_built.edges"), heads, widths, tuple(rows))


def _outline(
    layout: Layout, outline: MadeOutline, own_u: SideUncertainty, drawn: Loop
) -> Iterator[tuple[str, str, str, str, str]]:
    frame, unit = layout.frame, layout.job.unit
    ways = (OPPOSITE[frame.x], frame.x), (OPPOSITE[frame.y], frame.y)
    as_made = loop_about(outline, layout.center_in)
    for at, axis in enumerate("XY"):
        for end in (0, 1):
            nominal_in, found_in = drawn.bounds[at + 2 * end], as_made.bounds[at + 2 * end]
            where = tell(said("forms.edge", way=ways[at][end], axis=axis))
            off, u = signed(found_in - nominal_in, unit), figure(own_u.sides_in[2 * at + end], unit)
            yield where, figure(nominal_in, unit), figure(found_in, unit), off, u
    nominal = smallest_corner(drawn)
    if nominal is None:
        return
    radii: tuple[float, ...] = ()
    if isinstance(outline, MeasuredEdges):
        radii = outline.radii_in
    elif (corner := smallest_corner(as_made)) is not None:
        radii = (corner.radius_in,)
    for k, (found_in, (x, y)) in enumerate(zip(radii, _CORNERS, strict=False)):
        where = tell(
            said("forms.corner", one=ways[0][x], other=ways[1][y])
            if len(radii) > 1
            else said("as_built.smallest_corner")
        )
        off = signed(found_in - nominal.radius_in, unit)
        u = figure(own_u.corners_in[k] if len(radii) > 1 else max(own_u.corners_in), unit)
        yield where, f"R{figure(nominal.radius_in, unit)}", f"R{figure(found_in, unit)}", off, u


def thickness_table(layout: Layout, findings: Sequence[Finding]) -> MadeTable:
    """Each sheet whose thickness was measured."""
    job, unit = layout.job, layout.job.unit
    rows = []
    for part in layout.parts:
        if part.measured_in is None:
            continue
        code = "R403" if part.name == "skin" else "R425"
        named = said(f"part.{part.name}")
        own = [one for one in findings if one.code == code]
        if code == "R425":
            own = [one for one in own if isinstance(one.subject, Said) and _names(one.subject, part.name)]
        off = signed(part.measured_in - part.thickness_in, unit)
        verdict = _status(worst_of(one.status for one in own))
        nominal, measured = (figure(at, unit, fine=True) for at in (part.thickness_in, part.measured_in))
        u = figure(part.measured_u_in, unit, fine=True) if part.measured_u_in else ""
        rows.append((tell(said_of(job.kind, named)), nominal, measured, off, u, verdict))
    heads = _heads("part", "nominal", "measured", "deviation", "u", "verdict")
    return MadeTable(said("as_built.thickness"), heads, (2.0, 1.2, 1.2, 1.2, 0.8, 1.4), tuple(rows))


def _names(subject: Said, part: str) -> bool:
    return any(
        isinstance(value, Said) and value.id.partition("@")[0] == f"part.{part}"
        for _, value in subject.values
    )


def head_tables(layout: Layout, findings: Sequence[Finding]) -> Iterator[MadeTable]:
    """Shop heads, countersinks and cracked dimples, hole by hole."""
    made = layout.job.as_made
    if made is None:
        return
    kinds: tuple[tuple[str, str, Sequence[_AtHole], tuple[str, ...]], ...] = (
        ("heads", "R421", made.heads, ("diameter", "height")),
        ("countersinks", "R422", made.countersinks, ("diameter", "depth")),
        ("cracked", "R423", made.cracked_dimples, ("length",)),
    )
    for name, code, readings, sizes in kinds:
        rows = tuple(_at_hole(one, sizes, code, layout, findings) for one in readings)
        heads = _heads("hole", "fastener", *sizes, "u", "verdict")
        widths = (0.6, 1.6, *(1.0,) * len(sizes), 0.8, 1.2)
        yield MadeTable(said(f"as_built.{name}"), heads, widths, rows)


_AtHole: TypeAlias = MadeHead | MadeCountersink | DimpleCrack


def _at_hole(
    one: _AtHole, sizes: tuple[str, ...], code: str, layout: Layout, findings: Sequence[Finding]
) -> tuple[str, ...]:
    """One reading at a hole: what is in it, the sizes by their names, u and the verdict of its rule."""
    made, unit, number = layout.job.as_made, layout.job.unit, one.number
    assert made is not None  # it holds the reading
    fastener = next(hole.fastener for hole in layout.holes if hole.number == number)
    read: list[Length | None] = [getattr(one, size) for size in sizes]
    verdict = worst_of(found.status for found in findings if found.code == code and number in found.holes)
    lengths = ("" if length is None else figure(length.inch, unit) for length in read)
    return str(number), fastener, *lengths, figure(made.u_in(one), unit), _status(verdict)


def stray_table(layout: Layout, findings: Sequence[Finding]) -> MadeTable:
    """Holes that belong to no row."""
    unit = layout.job.unit
    rows = tuple(_stray(stray, findings, lambda at: figure(at, unit)) for stray in layout.strays)
    heads = _heads("number", "x", "y", "diameter", "u", "part", "filled", "verdict")
    return MadeTable(said("as_built.strays"), heads, (0.6, 1.0, 1.0, 1.0, 0.8, 1.2, 1.6, 1.2), rows)


def _stray(stray: Stray, findings: Sequence[Finding], told: Callable[[float], str]) -> tuple[str, ...]:
    own = (
        one.status for one in findings if one.code in ("R107", "R217", "R424") and one.place == stray.place
    )
    filled = stray.filled_with or tell(said("as_built.not_filled"))
    sizes = (stray.x_in, stray.y_in, stray.hole_in, stray.uncertainty_in)
    parts = ", ".join(tell(said(f"part.{name}")) for name in stray.parts)
    return str(stray.number), *map(told, sizes), parts, filled, _status(worst_of(own))
