"""Readings besides the places of holes put into the text of a job as what was made; comments and all else stay."""

from __future__ import annotations

from collections.abc import Iterator, Mapping, Sequence
from typing import Any

from hatchwright.errors import Fault, JobError
from hatchwright.inspection.entering import own_or_typed, with_common_u, with_numbered, without_end
from hatchwright.inspection.kinds import Kind
from hatchwright.inspection.other_readings import ALL, OUTLINES, SHEETS, SIDES, OtherReading, side_of
from hatchwright.job.as_typed import raw_data, standing_at
from hatchwright.job.frame import Frame
from hatchwright.job.job_text import added, taken, with_values_at
from hatchwright.job.list_lines import with_lines
from hatchwright.said import Listed, said

_LISTS: Mapping[Kind, str] = {
    "diameter": "as_made.sizes",
    "head": "as_made.heads",
    "countersink": "as_made.countersinks",
    "dimple": "as_made.cracked_dimples",
}
_STRAYS = "as_made.strays"
_U_BEFORE = 3
"""Values of the line of a stray hole before its u."""

_RADII = tuple(f"radius_{k}" for k in range(1, 5))

_ROUND = ("circle", "obround", "round ends")
"""Drawn shapes that are measured by their four extremes alone."""

_ANGULAR = ("rounded rectangle", "edges")
"""Drawn shapes that are measured by four edges and the radius of their corners."""


def with_others(text: str, readings: Sequence[OtherReading], *, u: str, typed_u: str, axes: Frame) -> str:
    """The text with the readings: what was measured before gets its new value in the same place.

    Args:
        u: expanded uncertainty of readings that name none, as typed or as the job has it.
        typed_u: the same, "" where nobody typed one for this set: a thickness never takes that of the job's places.
        axes: of the job.
    Raises:
        JobError: an outline is not measured all round, or is of a shape that is not measured by its edges; or the text
            can't take a value.
    """
    of_kind: dict[Kind, list[OtherReading]] = {}
    for one in readings:
        of_kind.setdefault(one.kind, []).append(one)
    if set(of_kind) - {"thickness"}:
        text, common = with_common_u(text, u)
        for kind, field in _LISTS.items():
            lines = {int(one.cells[0]): _numbered(one, u, common) for one in of_kind.get(kind, ())}
            text = with_numbered(text, field, lines)
        strays = [_stray(one, u, common) for one in of_kind.get("stray", ())]
        text = with_lines(text, _STRAYS, strays)
        for word, name in OUTLINES.items():
            own = [one for one in readings if one.kind in ("edge", "corner") and one.cells[0] == word]
            text = _with_outline(text, name, own, "" if u == common else u, axes) if own else text
    for one in of_kind.get("thickness", ()):
        text = _with_thickness(text, one, typed_u)
    return text


def _numbered(one: OtherReading, u: str, common: str) -> list[Any]:
    number, *sizes = one.cells
    width = 2 if one.kind in ("head", "countersink") else 1
    held = [*sizes, *[""] * width][:width]
    return [int(number), *without_end([*held, own_or_typed(one.own_u, u, common)])]


def _stray(one: OtherReading, u: str, common: str) -> list[Any]:
    before, after = list(one.cells[:_U_BEFORE]), list(one.cells[_U_BEFORE + 1 :])
    return without_end([*before, own_or_typed(one.own_u, u, common), *after])


def _with_thickness(text: str, one: OtherReading, typed_u: str) -> str:
    sheet, thickness, u = SHEETS[one.cells[0]], one.cells[1], one.own_u or typed_u
    if standing_at(raw_data(text), sheet) is None:
        raise JobError((Fault.saying("", "readings.no_sheet", one.cells[0], line=one.row),))
    text = _put(text, f"{sheet}.measured", thickness)
    u_field = f"{sheet}.measured_u"
    return _put(text, u_field, u) if u else taken(text, [u_field])


def _put(text: str, field: str, value: str) -> str:
    is_there = standing_at(raw_data(text), field) is not None
    return with_values_at(text, {field: value}) if is_there else added(text, {field: value})


def _with_outline(text: str, name: str, own: Sequence[OtherReading], u: str, axes: Frame) -> str:
    """The text with the sides and corners of one outline; those that were measured before stay."""
    field, data = f"as_made.{name}", raw_data(text)
    shape = _shape(data, name, own[0])
    held = standing_at(data, field)
    is_alike = isinstance(held, dict) and held.get("shape") == shape
    values = dict(_values(own, u, axes))
    if shape == "round ends" and (corner := next((one for one in own if one.kind == "corner"), None)):
        raise JobError((Fault.saying("", "readings.no_corners", corner.cells[0], line=corner.row),))
    if is_alike:
        read_anew = {*values, *(_RADII if "radius" in values else ())}
        every = (*read_anew, *(f"{name}_u" for name in read_anew))
        text = taken(text, [f"{field}.{at}" for at in every if at in held and at not in values])
        for at, value in values.items():
            text = _put(text, f"{field}.{at}", value)
        return text
    asked = [*SIDES]
    if shape == "edges" and "radius" not in values:
        asked += _RADII
        values["radius"] = values.get(_RADII[0], "")
    if missing := [at for at in asked if at not in values]:
        told = Listed(tuple(said(f"readings.side.{at}") for at in missing), ",")
        raise JobError((Fault.saying("", "readings.not_all_round", line=own[0].row, missing=told),))
    text = taken(text, [field]) if held is not None else text
    return added(text, {field: {"shape": shape, **values}})


def _values(own: Sequence[OtherReading], u: str, axes: Frame) -> Iterator[tuple[str, str]]:
    """The entries of an outline; what is said of all corners is said first, so that a single one says better."""
    for one in sorted(own, key=lambda one: one.cells[1] != ALL):
        _, which, value, *_ = one.cells
        is_of_all = one.kind == "corner" and which == ALL
        at = side_of(which, axes) if one.kind == "edge" else "radius" if is_of_all else f"radius_{which}"
        yield at, value
        if one.own_u or u:
            yield from ((f"{k}_u", one.own_u or u) for k in (_RADII if is_of_all else (at,)))


def _shape(data: Mapping[str, Any], name: str, first: OtherReading) -> str:
    """How an outline of the drawn shape is measured."""
    drawn = {"opening": "opening", "doubler_outer": "doubler.outer", "doubler_inner": "doubler.inner"}[name]
    shape = standing_at(data, f"{drawn}.shape") or standing_at(data, "opening.shape")
    if name == "doubler_outer" and standing_at(data, "doubler") is None:
        raise JobError((Fault.saying("", "readings.no_sheet", first.cells[0], line=first.row),))
    if shape in _ANGULAR:
        return "edges"
    if shape in _ROUND:
        return "round ends"
    raise JobError((Fault.saying("", "readings.no_edges", str(shape), line=first.row),))
