"""R928, R930, R931: what a job leaves open: readings, sample values, and names that no table lists."""

from __future__ import annotations

from collections.abc import Iterator

from hatchwright.finding import Finding
from hatchwright.judged import Status
from hatchwright.layout.layout import Hole
from hatchwright.layout.survey import Survey
from hatchwright.layout.unlisted import unlisted_names, what_of
from hatchwright.register import Shelf
from hatchwright.rules.answer import stated
from hatchwright.rules.rule import judged_by, rule
from hatchwright.rules.wording import numbered
from hatchwright.said import said
from hatchwright.tables.instructions import practised

_MEASURING = practised(
    "what is made is measured: every hole of a row, and the edges of the opening",
    "measuring what was drilled",
)


@rule("R928", Shelf.KNOW, reads=("as_made", "rows"), step="measure")
@judged_by(_MEASURING)
def measured_in_part(survey: Survey) -> Iterator[Finding]:
    """R928: rows measured in part."""
    made = survey.layout.job.as_made
    if made is not None and made.opening is None:
        subject, advice = said("readings.opening_not_entered"), said("readings.measure_opening")
        yield stated(Status.CAUTION, subject, _MEASURING, advice, enter=("as_made.opening",))
    measured = [holes for holes in survey.rows.values() if any(hole.is_made for hole in holes)]
    whole = True
    for holes in measured:
        for what, missing in (
            ("place", tuple(hole for hole in holes if not hole.is_made)),
            ("size", _without_size(holes)),
        ):
            if missing:
                whole = False
                yield _missing(what, missing, holes)
    for holes in survey.rows.values():
        if holes not in measured and any(hole.hole_in is not None for hole in holes):
            if missing := _without_size(holes):
                yield _missing("size", missing, holes)
            subject = said("readings.as_drawn", row=holes[0].row, total=len(holes))
            yield stated(Status.PASS, subject, _MEASURING)
    if measured and whole:
        yield _all_measured(survey, measured)


def _missing(what: str, missing: tuple[Hole, ...], holes: tuple[Hole, ...]) -> Finding:
    no_reading, advice, field = {
        "place": ("readings.no_place", "readings.measure_place", "as_made.holes"),
        "size": ("readings.no_size", "readings.measure_size", "as_made.sizes"),
    }[what]
    subject = said(no_reading, holes=numbered(*missing), row=holes[0].row, total=len(holes))
    numbers = tuple(hole.number for hole in missing)
    enter = (field,)
    return stated(
        Status.UNKNOWN, subject, _MEASURING, said(advice), holes=numbers, cause=holes[0].row, enter=enter
    )


def _all_measured(survey: Survey, measured: list[tuple[Hole, ...]]) -> Finding:
    rest = len(survey.rows) - len(measured)
    subject = said(
        "readings.some_rows" if rest else "readings.all_rows",
        holes=sum(map(len, measured)),
        measured=said("readings.rows", n=len(measured)),
        drawn=said("readings.rows", n=rest),
    )
    return stated(Status.PASS, subject, _MEASURING)


def _without_size(holes: tuple[Hole, ...]) -> tuple[Hole, ...]:
    """Holes without a diameter in a row where others have one; where places were measured, those with a place."""
    if all(hole.hole_in is None for hole in holes):
        return ()
    is_placed = any(hole.is_made for hole in holes)
    return tuple(hole for hole in holes if hole.is_made == is_placed and hole.hole_in is None)


_OWN_VALUES = practised("every value of a job is that of the aircraft at hand", "values of a new job")


SAMPLES = "R930"
"""The code that asks for values that nobody has confirmed."""


@rule(SAMPLES, Shelf.KNOW, reads=("samples",))
@judged_by(_OWN_VALUES)
def samples_left(survey: Survey) -> Iterator[Finding]:
    """R930: sample values left."""
    left = survey.layout.job.samples
    subject = said("R930.subject", n=len(left)) if left else said("R930.none")
    advice = (said("R930.do"),) if left else ()
    yield stated(Status.UNKNOWN if left else Status.PASS, subject, _OWN_VALUES, *advice, enter=left)


_LISTED = practised("what a job names is looked up in the tables, and never guessed", "what no table gives")


@rule("R931", Shelf.SETTLE, reads=("cover", "holes", "mount", "parts", "rows"), step="cut")
@judged_by(_LISTED)
def unlisted(survey: Survey) -> Iterator[Finding]:
    """R931: what no table lists; rules that need its values are not shown, and this says why in one line."""
    layout = survey.layout
    names = {name.what: name for name in unlisted_names(layout.job, layout.shop)}
    for what, name in names.items():
        holes = (hole.number for hole in layout.holes if what_of(hole) == what)
        yield stated(
            Status.UNKNOWN,
            what,
            _LISTED,
            said("R931.do"),
            said("no_value.remedy", remedy=name.remedy),
            holes=tuple(holes),
            cause=str(what),
        )
    if not names:
        yield stated(Status.PASS, said("R931.all"), _LISTED)
