"""R707: how far the screws of a mounted base reach behind the skin, against what lies there."""

from __future__ import annotations

from collections.abc import Iterator

from hatchwright.finding import Finding
from hatchwright.judged import Status
from hatchwright.layout.survey import Survey
from hatchwright.recipe.stops import base_screw_stop, moving_advice, moving_entries
from hatchwright.register import Shelf
from hatchwright.remedy import ASK
from hatchwright.rules.answer import held, stated
from hatchwright.rules.rule import judged_by, rule
from hatchwright.said import inch, said
from hatchwright.tables.cited import Cited
from hatchwright.workings import Grade, Source

_BEHIND = Cited(0.0, "in", Source("PRACTICE", "screws against moving parts"), Grade.PRACTICE)


@rule("R707", Shelf.BEHIND, reads=("bay", "doubler", "mount", "opening", "parts", "skin"), step="mount")
@judged_by(_BEHIND, limits=("clearance_to_adjacent_structure",))
def base_screws_behind(survey: Survey) -> Iterator[Finding]:
    """R707: screws of a mounted base and what lies behind; their reach is asked only where something is there."""
    stop = base_screw_stop(survey.layout)
    if stop is None:
        return
    one = stop.before
    if one is None:
        yield stated(Status.PASS, said("base_reach.nothing_behind"), _BEHIND)
        return
    name, depth = one.keep_out.name, inch(one.depth_in)
    if one.judged is None or stop.reach_in is None:
        subject = said("base_reach.reach_open", name=name, depth=depth)
        advice = said("base_reach.measure")
        yield stated(Status.UNKNOWN, subject, _BEHIND, advice, unit="in", enter=(stop.enter,), cause=name)
        return
    subject = said(
        "base_reach.apart", name=name, depth=depth, reach=inch(stop.reach_in, beside_in=one.depth_in)
    )
    if one.status is Status.UNKNOWN:
        yield held(one.judged, subject, moving_advice(one), cause=name, enter=moving_entries(one))
    else:
        yield held(one.judged, subject, said("base_reach.too_near", kept=inch(one.kept_in)), ASK, cause=name)
