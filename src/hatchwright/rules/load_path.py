"""R927: the load path around the opening."""

from __future__ import annotations

from collections.abc import Iterator

from hatchwright.finding import Finding
from hatchwright.judged import Status
from hatchwright.layout.survey import Survey
from hatchwright.register import Shelf
from hatchwright.remedy import ASK
from hatchwright.rules.answer import stated
from hatchwright.rules.rule import rule
from hatchwright.said import said
from hatchwright.shapes.distance import distances
from hatchwright.shapes.profile import Profile
from hatchwright.tables.instructions import instruction

_CHORD_IN = 1e-4


@rule("R927", Shelf.PLACE, rests_on=("door_parts",), reads=("opening", "parts", "skin"))
def load_path(survey: Survey) -> Iterator[Finding]:
    """R927: load path around the opening."""
    layout = survey.layout
    doubler = layout.part("doubler")
    if not layout.job.skin.stressed:
        status, subject = Status.PASS, said("load_path.unstressed")
    elif doubler is None:
        status, subject = Status.UNKNOWN, said("load_path.no_doubler")
    elif not bool(
        distances(Profile((doubler.edges[0].loop,)), layout.opening.points(_CHORD_IN)).inside.all()
    ):
        status, subject = Status.UNKNOWN, said("load_path.not_all_around")
    else:
        status, subject = Status.PASS, said("load_path.all_around")
    advice = () if status is Status.PASS else (said("load_path.sheds_load"), ASK)
    yield stated(status, subject, instruction("door_parts"), *advice)
