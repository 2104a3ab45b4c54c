"""Readings besides the places of holes put into the text of a job as what was made; comments and all else stay."""

from __future__ import annotations

from collections.abc import Iterator, Mapping, Sequence
from typing import Any

from hatchwright.errors import Fault, JobError
from hatchwright.inspection.held_lines import (
    DIAMETER,
    HOLE_U,
    HOLES,
    STRAY_U,
    SetU,
    held_lines,
    value_at,
    with_common_u,
    with_numbered,
    with_strays,
    without_end,
)
from hatchwright.inspection.kinds import Kind
from hatchwright.inspection.other_readings import ALL, OUTLINES, SHEETS, SIDES, OtherReading, side_of
from hatchwright.job.as_typed import raw_data, standing_at
from hatchwright.job.frame import Frame
from hatchwright.job.job_text import added, taken, with_values_at
from hatchwright.said import Listed, said

_LISTS: Mapping[Kind, str] = {
    "diameter": "as_made.sizes",
    "head": "as_made.heads",
    "countersink": "as_made.countersinks",
    "dimple": "as_made.cracked_dimples",
}

_RADII = tuple(f"radius_{k}" for k in range(1, 5))

_ROUND = ("circle", "obround", "round ends")
"""Drawn shapes that are measured by their four extremes alone."""

_ANGULAR = ("rounded rectangle", "edges")
"""Drawn shapes that are measured by four edges and the radius of their corners."""


def with_others(text: str, readings: Sequence[OtherReading], *, u: SetU, typed_u: str, axes: Frame) -> str:
    """The text with the readings: what was measured before gets its new value in the same place.

    Args:
        typed_u: expanded uncertainty of readings that name none, "" where nobody typed one for this set: a thickness
            never takes that of the job's places.
        axes: of the job.
    Raises:
        JobError: an outline is not measured all round, or is of a shape that is not measured by its edges; or the text
            can't take a value.
    """
    of_kind: dict[Kind, list[OtherReading]] = {}
    for one in readings:
        of_kind.setdefault(one.kind, []).append(one)
    if set(of_kind) - {"thickness"}:
        text, u = with_common_u(text, u)
        text = _without_diameters(text, of_kind.get("diameter", ()))
        for kind, field in _LISTS.items():
            held = held_lines(text, field)
            lines = {int(one.cells[0]): _numbered(one, held, u) for one in of_kind.get(kind, ())}
            text = with_numbered(text, field, lines)
        text = with_strays(text, [_stray(one, u) for one in of_kind.get("stray", ())], u)
        for word, name in OUTLINES.items():
            own = [one for one in readings if one.kind in ("edge", "corner") and one.cells[0] == word]
            text = _with_outline(text, name, own, u, axes) if own else text
    for one in of_kind.get("thickness", ()):
        text = _with_thickness(text, one, typed_u)
    return text


def _without_diameters(text: str, read_again: Sequence[OtherReading]) -> str:
    """The text with the places alone of holes whose diameter was measured again."""
    held = held_lines(text, HOLES)
    lines = {
        number: without_end([*held[number][:DIAMETER], "", *held[number][HOLE_U:]])
        for number in (int(one.cells[0]) for one in read_again)
        if value_at(held.get(number, []), DIAMETER)
    }
    return with_numbered(text, HOLES, lines)


def _numbered(one: OtherReading, held: Mapping[int, list[Any]], u: SetU) -> list[Any]:
    """The line of a hole; a size that was not measured again stays, and all then are as uncertain as the least sure."""
    number, width = int(one.cells[0]), 2 if one.kind in ("head", "countersink") else 1
    before = held.get(number, [])
    kept = [value_at(before, at) for at in range(1, width + 1)]
    sizes = [*one.cells[1:], *[""] * width][:width]
    own_u = u.of_size(one.own_u)
    if any(was and not size for was, size in zip(kept, sizes, strict=True)):
        own_u = max(own_u, value_at(before, width + 1), key=u.inch)
    return [number, *without_end([*(size or was for size, was in zip(sizes, kept, strict=True)), own_u])]


def _stray(one: OtherReading, u: SetU) -> list[Any]:
    before, after = list(one.cells[:STRAY_U]), list(one.cells[STRAY_U + 1 :])
    return without_end([*before, u.of_place(one.own_u), *after])


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


def _with_outline(text: str, name: str, own: Sequence[OtherReading], u: SetU, axes: Frame) -> str:
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


def _values(own: Sequence[OtherReading], u: SetU, axes: Frame) -> Iterator[tuple[str, str]]:
    """The entries of an outline; what is said of all corners is said first, so that a single one says better."""
    for one in sorted(own, key=lambda one: one.cells[1] != ALL):
        _, which, value, *_ = one.cells
        is_of_all = one.kind == "corner" and which == ALL
        at = side_of(which, axes) if one.kind == "edge" else "radius" if is_of_all else f"radius_{which}"
        yield at, value
        if own_u := (u.of_place if one.kind == "edge" else u.of_size)(one.own_u):
            yield from ((f"{k}_u", own_u) for k in (_RADII if is_of_all else (at,)))


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
