"""R931: sheets, rivets and screws that no table lists."""

from __future__ import annotations

from collections.abc import Iterator

from hatchwright.finding import Finding
from hatchwright.judged import Status
from hatchwright.layout.survey import Survey
from hatchwright.layout.unlisted import unlisted_names, what_of
from hatchwright.register import Shelf
from hatchwright.rules.answer import stated
from hatchwright.rules.rule import rule
from hatchwright.said import said
from hatchwright.tables.instructions import practised

_LISTED = practised("what a job names is looked up in the tables, and never guessed", "what no table gives")


@rule(
    "R931", Shelf.SETTLE, rests_on=(_LISTED,), reads=("cover", "holes", "mount", "parts", "rows"), step="cut"
)
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
