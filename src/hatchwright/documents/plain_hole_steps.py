"""The step at length for the edge of a plain hole: its grommet, and the wire that goes through."""

from __future__ import annotations

from hatchwright.documents.step import PRACTICE, Line, Step, Tellers, Work, line
from hatchwright.layout.layout import Layout
from hatchwright.recipe.task import Task
from hatchwright.said import Amount, inch, said
from hatchwright.tables.wiring import wire_clearances


def _hole_edge(task: Task, work: Work) -> Step:
    layout, hole = work.layout, work.layout.job.plain_hole
    assert hole is not None  # the task is of the recipe only then
    asks = wire_clearances(layout.shop)
    has_grommet = hole.edge == "grommet"
    lines = [_groove(layout), line(said("card.hole_edge.fit"), rests_on=(PRACTICE,))] if has_grommet else []
    blanks = []
    if hole.wires:
        if not has_grommet:
            least = said("card.hole_edge.clear", least=inch(asks.hole_edge_in.value))
            lines.append(line(least, rests_on=(asks.hole_edge_in,)))
            blanks.append(said("card.hole_edge.measured"))
        support = said("card.hole_edge.support", apart=Amount(asks.support_ft.value, "ft"))
        lines.append(line(said("card.hole_edge.tie"), support, rests_on=(asks.support_ft,)))
    title = "card.hole_edge.grommet_title" if has_grommet else "card.hole_edge.wires_title"
    return Step(said(title), tuple(lines), tuple(blanks))


def _groove(layout: Layout) -> Line:
    """What the groove of the grommet takes; where the doubler has a window of its own, the sheet that shows decides."""
    skin_in, doubler = layout.parts[0].thickness_in, layout.part("doubler")
    if doubler is None:
        return line(said("card.hole_edge.groove_skin", thickness=inch(skin_in)))
    if doubler.edges[-1].loop != layout.opening:
        return line(said("card.hole_edge.groove_open"))
    return line(said("card.hole_edge.groove_both", thickness=inch(skin_in + doubler.thickness_in)))


PLAIN_HOLE: Tellers = {"hole_edge": _hole_edge}
