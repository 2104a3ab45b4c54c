"""R309: the edge of a plain hole against the wire that goes through it."""

from __future__ import annotations

from collections.abc import Iterator

from hatchwright.finding import Finding
from hatchwright.judged import Judgement, Measure, Status, bound
from hatchwright.layout.survey import Survey
from hatchwright.register import Shelf
from hatchwright.rules.answer import held, stated
from hatchwright.rules.rule import judged_by, rule
from hatchwright.said import inch, said
from hatchwright.tables.wiring import wire_clearances


@rule("R309", Shelf.BEHIND, reads=("plain_hole",))
@judged_by(limits=("wire_to_hole_edge_min",))
def wire_in_hole(survey: Survey) -> Iterator[Finding]:
    """R309: a wire nearer to the edge of a hole than the circular allows needs a grommet there."""
    hole = survey.layout.job.plain_hole
    if hole is None:
        return
    least = wire_clearances(survey.shop).hole_edge_in
    if hole.edge == "grommet":
        yield stated(Status.PASS, said("R309.grommet"), least)
    elif hole.wires is False:
        yield stated(Status.PASS, said("R309.no_wires"), least)
    elif hole.wires is None:
        enter = ("plain_hole.wires",)
        yield stated(Status.UNKNOWN, said("R309.wires_open"), least, said("R309.say_wires"), enter=enter)
    elif hole.wire_distance is None:
        enter = ("plain_hole.wire_distance",)
        advice = said("R309.measure", least=inch(least.value))
        yield stated(Status.UNKNOWN, said("R309.distance_open"), least, advice, unit="in", enter=enter)
    else:
        distance_in = hole.wire_distance.inch
        judged = Judgement(Measure("wire to edge", distance_in), (bound(least),))
        yield held(judged, said("R309.wire", distance=inch(distance_in)), said("R309.fit_grommet"))
