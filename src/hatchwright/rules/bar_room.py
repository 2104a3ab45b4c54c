"""R706: room for the bucking bar behind the rivets, asked only where something lies there."""

from __future__ import annotations

from collections.abc import Iterator

from hatchwright.finding import Finding
from hatchwright.judged import Status
from hatchwright.layout.behind_skin import BEFORE_IN, BESIDE_IN, holes_before
from hatchwright.layout.survey import Survey
from hatchwright.recipe.stops import before_bar, moving_advice, moving_entries
from hatchwright.register import Shelf
from hatchwright.rules.answer import held, stated
from hatchwright.rules.rule import judged_by, rule
from hatchwright.rules.wording import some_numbered
from hatchwright.said import inch, said
from hatchwright.tables.cited import Cited
from hatchwright.workings import Grade, Source

_BAR = Cited(BEFORE_IN, "in", Source("PRACTICE", "bucking bar in front of something"), Grade.PRACTICE)


@rule(
    "R706", Shelf.BEHIND, reads=("bay", "doubler", "holes", "parts", "skin"), marks_holes=True, step="rivet"
)
@judged_by(_BAR, limits=("upset_allowance",))
def bar_room(survey: Survey) -> Iterator[Finding]:
    """R706: room for the bucking bar."""
    layout = survey.layout
    rivets = layout.holes_of("rivet")
    for keep_out in layout.job.bay.keep_outs:
        one = before_bar(layout, keep_out, rivets)
        if one is None:
            continue
        near = holes_before(keep_out, rivets, BESIDE_IN)
        numbers, of = tuple(hole.number for hole in near), some_numbered(*near)
        if one.judged is None:
            subject = said("bar_room.not_entered", name=keep_out.name, depth=inch(one.depth_in), of=of)
            measure = said("bar_room.measure", most=inch(one.most_in))
            yield stated(
                Status.UNKNOWN,
                subject,
                _BAR,
                measure,
                limit=one.depth_in,
                unit="in",
                holes=numbers,
                cause=keep_out.name,
                enter=("bay.bar",),
            )
            continue
        passes = one.status is Status.PASS
        subject = said("bar_room.one", name=keep_out.name, depth=inch(one.depth_in), of=of)
        moves = one.status is Status.UNKNOWN
        advice = moving_advice(one) if moves else said("bar_room.too_deep", kept=inch(one.kept_in))
        yield held(
            one.judged,
            subject,
            advice,
            holes=() if passes else numbers,
            cause=keep_out.name,
            enter=moving_entries(one),
        )
