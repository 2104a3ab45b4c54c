"""R602: which rivets count on each side of the cut."""

from __future__ import annotations

from collections.abc import Iterator

from hatchwright.finding import Finding
from hatchwright.job.job import Job
from hatchwright.judged import Status
from hatchwright.layout.count_reading import COUNT_RULE, CountReading
from hatchwright.layout.cut_side import CutSide
from hatchwright.layout.survey import Survey
from hatchwright.register import Shelf
from hatchwright.rules.answer import stated
from hatchwright.rules.rule import rule
from hatchwright.said import Said, said
from hatchwright.words.readings import reading_called
from hatchwright.words.tell import ended
from hatchwright.workings import Quantity, Working


def count_workings(side: CutSide) -> tuple[Working, ...]:
    """The number of rivets on a side by each reading, the default first."""
    return tuple(
        Working.resting_on(
            one.basis,
            f"{one}: rivets beyond its line, load along {side.name[0]}",
            Quantity("rivets", float(len(side.counted(one))), ""),
            Quantity("cut", side.cut_in, "in"),
        )
        for one in side.readings
    )


@rule(
    "R602",
    Shelf.HOLDS,
    readings=tuple(map(str, CountReading)),
    rests_on=tuple(one.key for one in CountReading),
    reads=("holes", "opening", "parts", "sides", "wanted"),
)
def counted_rivets(survey: Survey) -> Iterator[Finding]:
    """R602: rivets that count on each side of the cut."""
    if survey.layout.part("doubler") is None:
        return
    for side in survey.sides:
        if side.half:
            yield _counted(survey.layout.job, side)


def _counted(job: Job, side: CutSide) -> Finding:
    basis, id = side.reading.basis, "R602.half" if side.reading is CountReading.HALF else "R602.ahead"
    return stated(
        Status.CAUTION if side.is_relaxed else Status.PASS,
        said(id, side=side.name, half=len(side.half), ahead=len(side.ahead)),
        basis,
        _why(side),
        *_chosen(job, side),
        value=float(len(side.rivets)),
        unit="rivets",
        working=count_workings(side),
        readings=tuple(map(str, side.readings)),
    )


def _why(side: CutSide) -> Said:
    if side.is_relaxed:
        return said("R602.relaxed")
    return said("R602.straight" if side.has_straight_edge else "R602.no_straight")


def _chosen(job: Job, side: CutSide) -> tuple[Said, ...]:
    choice = job.choice(COUNT_RULE)
    if choice is None or choice.reading != side.reading:
        return ()
    return (said("reading.chosen", reading=reading_called(side.reading), reason=ended(choice.reason)),)
