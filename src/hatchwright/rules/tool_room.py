"""R708: room for the tool that cuts the opening where no cutter is entered, asked only where something lies there."""

from __future__ import annotations

from collections.abc import Iterator

from hatchwright.finding import Finding
from hatchwright.judged import Status
from hatchwright.layout.behind_skin import BEFORE_IN
from hatchwright.layout.survey import Survey
from hatchwright.recipe.stops import before_tool, moving_advice, moving_entries
from hatchwright.register import Shelf
from hatchwright.rules.answer import held, stated
from hatchwright.rules.rule import judged_by, rule
from hatchwright.said import Value, inch, said
from hatchwright.tables.cited import Cited
from hatchwright.workings import Grade, Source

_TOOL = Cited(BEFORE_IN, "in", Source("PRACTICE", "cutting tool in front of something"), Grade.PRACTICE)


@rule("R708", Shelf.BEHIND, reads=("bay", "cutter", "hand_tool", "opening", "parts", "skin"), step="cut")
@judged_by(_TOOL)
def tool_room(survey: Survey) -> Iterator[Finding]:
    """R708: room for the tool that cuts the opening; a cutter that was entered is judged by T303."""
    layout = survey.layout
    if layout.job.cutter is not None or layout.job.hand_tool is not None:
        return
    for keep_out in layout.job.bay.keep_outs:
        one = before_tool(layout, keep_out)
        if one is None:
            continue
        where: dict[str, Value] = {"name": keep_out.name, "depth": inch(one.depth_in)}
        if one.judged is None:
            yield stated(
                Status.UNKNOWN,
                said("tool_room.not_entered", **where),
                _TOOL,
                said("tool_room.measure", most=inch(one.most_in)),
                limit=one.depth_in,
                unit="in",
                cause=keep_out.name,
                enter=("bay.tool",),
            )
            continue
        moves = one.status is Status.UNKNOWN
        advice = moving_advice(one) if moves else said("tool_room.too_deep", kept=inch(one.kept_in))
        yield held(
            one.judged, said("tool_room.one", **where), advice, cause=keep_out.name, enter=moving_entries(one)
        )
