"""S101 to S107: the questions that send a job to an engineer; they come before every margin."""

from __future__ import annotations

from collections.abc import Iterator

from hatchwright.finding import Finding, held
from hatchwright.ground import Ground
from hatchwright.job.entry_words import label_of
from hatchwright.job.gate import Gate
from hatchwright.judged import Judgement, Measure, Status, bound, lengths
from hatchwright.layout.layout import Layout
from hatchwright.register import Entry, Shelf, enter
from hatchwright.said import inch, said
from hatchwright.strength.comparison import told
from hatchwright.strength.site import bay_along
from hatchwright.tables.strength_values import strength_value
from hatchwright.tables.table import ShopTables
from hatchwright.workings import Grade, Source

_THEORY = "docs/theory/gate.md"
_PRACTICE = Ground(Source("PRACTICE", "when a hand method is not used"), Grade.PRACTICE)

_QUESTIONS = {
    "S101": "spar_web_or_cap",
    "S102": "pressure_skin",
    "S103": "tank_wall",
    "S104": "movable_surface",
    "S105": "fitting_path",
    "S106": "member_cut",
}
for _code in _QUESTIONS:
    _reads = ("gate", "skin") if _code == "S102" else ("gate",)
    enter(Entry(_code, Shelf.PLACE, reads=_reads, theory=_THEORY))
S107 = enter(Entry("S107", Shelf.PLACE, reads=("bay", "opening"), theory=_THEORY)).code


def gate(layout: Layout, shop: ShopTables | None = None) -> tuple[Finding, ...]:
    """Answer the gate of a job, one finding a question: yes stops, and a question left open is unknown.

    Method: docs/theory/gate.md.
    """
    return (*_answered(layout), *_half_bay(layout, shop))


def must_refer(answers: tuple[Finding, ...]) -> bool:
    """Whether the gate sends the job to an engineer, as it does unless every question passes."""
    return any(answer.status is not Status.PASS for answer in answers)


def _answered(layout: Layout) -> Iterator[Finding]:
    given = layout.job.gate.model_dump()
    for code, field in _QUESTIONS.items():
        question = label_of(Gate, field)
        answer = True if field == "pressure_skin" and layout.job.skin.pressurized else given[field]
        if answer is None:
            open_, ask = said("gate.open", question=question), (said("gate.answer"), said("gate.until_then"))
            yield told(code, Status.UNKNOWN, open_, _PRACTICE, *ask, enter=(f"gate.{field}",))
        elif answer:
            yield told(code, Status.STOP, said("gate.yes", question=question), _PRACTICE, said("gate.refer"))
        else:
            yield told(code, Status.PASS, said("gate.no", question=question), _PRACTICE)


def _half_bay(layout: Layout, shop: ShopTables | None) -> Iterator[Finding]:
    most = strength_value("opening_over_bay_max", shop)
    bounds = layout.opening.bounds
    for axis, letter in enumerate("XY"):
        opening_in = bounds[axis + 2] - bounds[axis]
        bay_in = bay_along(layout.job.bay.rows, layout.opening, axis)
        if bay_in is None:
            subject = said("S107.open", opening=inch(opening_in), axis=letter)
            ask = (said("S107.enter_rows", axis=letter), said("gate.until_then"))
            yield told(S107, Status.UNKNOWN, subject, most, *ask, limit=most.value, enter=("bay.rows",))
            continue
        ratio = Measure(
            "opening / bay", opening_in / bay_in, unit="", with_=lengths(opening=opening_in, bay=bay_in)
        )
        judged = Judgement(ratio, (bound(most),), at_least=False)
        subject = said("S107.subject", opening=inch(opening_in), bay=inch(bay_in), axis=letter)
        yield held(S107, judged, subject, said("S107.more_than_half"), said("gate.refer"))
