"""R928: holes without a reading in a row that was measured."""

from __future__ import annotations

from collections.abc import Iterator

from hatchwright.finding import Finding
from hatchwright.judged import Status
from hatchwright.layout.layout import Hole
from hatchwright.layout.survey import Survey
from hatchwright.register import Shelf
from hatchwright.rules.answer import in_words
from hatchwright.rules.rule import rule
from hatchwright.rules.wording import holes_named
from hatchwright.tables.instructions import Instruction
from hatchwright.workings import Grade, Source

_MEASURING = Instruction(
    "what is made is measured: every hole of a row, and the edges of the opening",
    Source("PRACTICE", "measuring what was drilled"),
    Grade.PRACTICE,
)


@rule("R928", Shelf.PLACE, rests_on=(_MEASURING,), reads=("as_made", "rows"))
def measured_in_part(survey: Survey) -> Iterator[Finding]:
    """R928: rows measured in part."""
    made = survey.layout.job.as_made
    if made is not None and made.opening is None:
        yield in_words(
            "R928",
            Status.CAUTION,
            "the opening as filed is not entered: every distance to its edge is to the edge as drawn",
            _MEASURING,
            advice="Once it is cut and filed, measure its edges and enter them as as_made.opening.",
        )
    measured = [holes for holes in survey.rows.values() if any(hole.is_made for hole in holes)]
    whole = True
    for holes in measured:
        for word, missing in (
            ("reading", [hole for hole in holes if not hole.is_made]),
            ("measured size", _without_size(holes)),
        ):
            if missing:
                whole = False
                yield in_words(
                    "R928",
                    Status.UNKNOWN,
                    f"{holes_named(*missing)} of row '{holes[0].row}' ({len(holes)} holes) "
                    f"{'has' if len(missing) == 1 else 'have'} no {word}",
                    _MEASURING,
                    advice="Measure them, or say why they are not there: until then they are judged as drawn."
                    if word == "reading"
                    else "Measure them and enter the diameter behind X and Y.",
                    holes=tuple(hole.number for hole in missing),
                )
    if measured and whole:
        rest = len(survey.rows) - len(measured)
        yield in_words(
            "R928",
            Status.PASS,
            f"all {sum(map(len, measured))} holes of {len(measured)} row{'s' * (len(measured) > 1)} measured"
            + (f"; {rest} row{'s' * (rest > 1)} judged as drawn" if rest else ""),
            _MEASURING,
        )


def _without_size(holes: tuple[Hole, ...]) -> list[Hole]:
    """Measured holes without a diameter in a row where others have one."""
    if all(hole.hole_in is None for hole in holes):
        return []
    return [hole for hole in holes if hole.is_made and hole.hole_in is None]
