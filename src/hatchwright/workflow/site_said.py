"""What a survey answers as rows and sentences, for the command and for paper."""

from __future__ import annotations

import math
from collections.abc import Iterable, Iterator

from hatchwright.layout.site.sides import SideDifference
from hatchwright.metrology.propagated import Propagated
from hatchwright.said import Amount, Place, Said, Value, inch, missing, said
from hatchwright.workflow.site import SiteAnswer

Row = tuple[Value, ...]

ROUTE_HEADS = ("route", "x", "y", "why")
TAPE_HEADS = ("from", "expected", "taped", "off")
DIFFERENCE_HEADS = ("name", "what", "job", "survey", "off")
SIDE_HEADS = ("name", "what", "one", "other", "off")


def measured(number: Propagated) -> Said:
    """A length with its uncertainty, which is rounded up."""
    return said("survey.measured", value=inch(number.value), u=missing(number.u))


def route_rows(answer: SiteAnswer) -> list[Row]:
    """The center by each route: name, X, Y, and why where there is none."""
    rows: list[Row] = []
    for route in answer.routes:
        place = ("", "") if route.place is None else tuple(map(measured, route.place))
        rows.append((route.name, *place, route.why or ""))
    return rows


def center_lines(answer: SiteAnswer) -> Iterator[Said]:
    """The gap and the best estimate."""
    if gap := answer.center.gap:
        yield said(
            "survey.gap", one=gap.one, other=gap.other, gap=_apart(gap.apart.distance_in, gap.apart.u_in)
        )
    if best := answer.best:
        x, y = best.place
        yield said(
            "survey.best", at=Place(*best.at_in), x_u=missing(x.u), y_u=missing(y.u), n=_placed(answer)
        )


def tape_rows(answer: SiteAnswer) -> list[Row]:
    """What to tape to the center: from, distance, and what a helper taped."""
    rows: list[Row] = []
    for tape in answer.tapes:
        name = tape.landmark if tape.axis is not None else said("site_center.corner", letter=tape.landmark)
        off = tape.off
        taped = "" if tape.taped is None else inch(tape.taped.value)
        rows.append(
            (name, measured(tape.expected), taped, "" if off is None else _off(abs(off.value), off.u))
        )
    return rows


def difference_rows(answer: SiteAnswer) -> list[Row]:
    """What the job says otherwise: name, what, job, survey, off."""
    rows: list[Row] = []
    for one in answer.differences:
        job = said("survey.missing") if one.is_missing else _length(one.job_in, one.site_in)
        survey = "" if one.site_in is None else _surveyed(one.site_in, one.u_in, one.job_in)
        off = "" if one.off_in is None else _off(one.off_in, one.u_in)
        rows.append((one.name, one.what, job, survey, off))
    return rows


def side_rows(found: Iterable[SideDifference]) -> list[Row]:
    """What two sides say differently: name, what, one side, the other, off."""
    rows: list[Row] = []
    for each in found:
        nothing = said("survey.not_there")
        there = said("survey.there")
        is_on_one = each.one_in is not None or each.is_on_one
        is_on_other = each.other_in is not None or each.is_on_other
        one: Value = inch(each.one_in) if each.one_in is not None else there if is_on_one else nothing
        other: Value = inch(each.other_in) if each.other_in is not None else there if is_on_other else nothing
        rows.append(
            (each.name, each.what, one, other, "" if each.off_in is None else _off(each.off_in, each.u_in))
        )
    return rows


def _placed(answer: SiteAnswer) -> int:
    return sum(route.place is not None for route in answer.routes)


def _length(value_in: float | None, beside_in: float | None) -> Value:
    return "" if value_in is None else inch(value_in, beside_in=beside_in)


def _surveyed(value_in: float, u_in: float, beside_in: float | None) -> Said | Amount:
    value = inch(value_in, beside_in=beside_in)
    return said("survey.measured", value=value, u=missing(u_in)) if u_in else value


def _apart(value_in: float, u_in: float) -> Said:
    return said("survey.measured", value=inch(value_in), u=missing(u_in))


def _off(value_in: float, u_in: float) -> Said | Amount:
    shown = math.isfinite(u_in) and u_in > 0.0
    return _apart(value_in, u_in) if shown else inch(value_in)
