"""Lines of readings put into the text of a job beside those that it holds."""

from __future__ import annotations

import math
from collections.abc import Collection, Mapping, Sequence
from typing import Any

from msgspec import Struct
from msgspec.structs import replace

from hatchwright.inspection.other_readings import placed
from hatchwright.job.as_typed import raw_data, standing_at
from hatchwright.job.job_text import added, with_values_at, without_lines
from hatchwright.job.list_lines import with_lines
from hatchwright.units import Unit, parse_length

HOLES = "as_made.holes"
DIAMETER, HOLE_U = 3, 4
"""Where the line of a hole has them."""

STRAYS = "as_made.strays"
STRAY_U = 3
"""Where the line of a hole of no row has its uncertainty."""


class SetU(Struct, frozen=True):
    """Expanded uncertainties of a set of readings, as a job takes them.

    Args:
        typed: of readings that name none.
        unit: of the job.
        zero_in: of the zero that all places were measured from [in].
        common: that of the job's readings, once its text has one.
    """

    typed: str
    unit: Unit
    zero_in: float = 0.0
    common: str = ""

    def of_size(self, own_u: str) -> str:
        """What the line of a size names: its own, else that of its set where the job's readings have another."""
        return own_u or ("" if self.typed == self.common else self.typed)

    def of_place(self, own_u: str) -> str:
        """What that of a place names: its own and that of the zero together.

        Source: [JCGM 100:2008], 5.1.2; both are expanded by one factor.
        """
        if not self.zero_in:
            return self.of_size(own_u)
        own_in = self.inch(self.of_size(own_u))
        return placed(math.hypot(own_in, self.zero_in), self.unit, rounds_up=True)

    def inch(self, named: str) -> float:
        """What a line has that names this [in]."""
        return parse_length(named or self.common, unit=self.unit).inch


def with_common_u(text: str, u: SetU) -> tuple[str, SetU]:
    """The text with a section for what was made, and the uncertainties beside that of its readings."""
    if standing_at(raw_data(text), "as_made") is None:
        text = added(text, {"as_made": {"uncertainty": u.typed}})
    return text, replace(u, common=str(standing_at(raw_data(text), "as_made.uncertainty") or u.typed))


def held_lines(text: str, field: str) -> dict[int, list[Any]]:
    """The lines of a list that begin with the number of a hole, by that number."""
    held = standing_at(raw_data(text), field) or []
    return {line[0]: line for line in held if isinstance(line, list) and line}


def with_numbered(text: str, field: str, lines: Mapping[int, list[Any]]) -> str:
    """The text with lines that begin with the number of a hole: in the place of that hole's line, else at the end."""
    held = standing_at(raw_data(text), field) or []
    at = {line[0]: k for k, line in enumerate(held) if isinstance(line, list) and line}
    text = with_values_at(
        text, {f"{field}.{at[number]}": line for number, line in lines.items() if number in at}
    )
    return with_lines(text, field, [line for number, line in sorted(lines.items()) if number not in at])


def without_numbered(text: str, field: str, numbers: Collection[int]) -> str:
    """The text without the lines of these holes."""
    held = standing_at(raw_data(text), field) or []
    going = [k for k, line in enumerate(held) if isinstance(line, list) and line and line[0] in numbers]
    return without_lines(text, field, going)


def with_strays(text: str, lines: Sequence[list[Any]], u: SetU) -> str:
    """The text with holes of no row: each in the place of one held within their uncertainties, else at the end.

    A hole that stays keeps the rivet that fills it and its sheets where the new line names none.

    Args:
        lines: place (x, y), diameter, u, rivet and sheets, those at the end left out.
    """
    held = [line for line in standing_at(raw_data(text), STRAYS) or [] if isinstance(line, list)]
    were, are = ([_place_in(line, u) for line in some] for some in (held, lines))
    near = sorted(
        (apart_in, old, new)
        for new, (place, u_in) in enumerate(are)
        for old, (before, old_u_in) in enumerate(were)
        if (apart_in := math.dist(place, before)) <= math.hypot(u_in, old_u_in)
    )
    again: dict[int, int] = {}
    for _, old, new in near:
        if old not in again.values() and new not in again:
            again[new] = old
    text = with_values_at(
        text, {f"{STRAYS}.{old}": _kept_filling(lines[new], held[old]) for new, old in again.items()}
    )
    return with_lines(text, STRAYS, [line for new, line in enumerate(lines) if new not in again])


def _place_in(stray: list[Any], u: SetU) -> tuple[tuple[float, float], float]:
    """Where a hole of no row is (x, y), and the uncertainty of that [in]."""
    x_in, y_in = (parse_length(str(at), unit=u.unit, signed=True).inch for at in stray[:2])
    return (x_in, y_in), u.inch(value_at(stray, STRAY_U))


def _kept_filling(line: list[Any], held: list[Any]) -> list[Any]:
    own = [value_at(line, at) for at in range(STRAY_U + 1)]
    after = range(STRAY_U + 1, max(len(line), len(held)))
    return without_end([*own, *(value_at(line, at) or value_at(held, at) for at in after)])


def value_at(line: list[Any], at: int) -> str:
    """A value of a line, "" where it has none."""
    return str(line[at]) if at < len(line) else ""


def without_end(values: list[Any]) -> list[Any]:
    """A line without the empty texts at its end."""
    while not values[-1]:
        values.pop()
    return values
