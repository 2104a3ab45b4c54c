"""A ring as it is entered into a job: opening, doubler and rows, each length as it is typed."""

from __future__ import annotations

from collections.abc import Iterator
from fractions import Fraction
from typing import Any

from msgspec import Struct

from hatchwright.errors import EntryError, GeometryError
from hatchwright.job.job import Job
from hatchwright.job.outline import Circle, Outline, RoundedRectangle
from hatchwright.job.rivet_rows import Row
from hatchwright.layout.layout import Layout
from hatchwright.remedy import EntryChange, PartChange
from hatchwright.said import Said, inch, said
from hatchwright.search.candidate import Candidate
from hatchwright.search.proposal.best_first import Found
from hatchwright.search.proposal.family import Family
from hatchwright.search.proposal.laid import LaidRow
from hatchwright.search.proposal.place import Shift
from hatchwright.search.proposal.ring import Shape
from hatchwright.search.variation import gauge_text
from hatchwright.tables.rivet_part import parse_rivet
from hatchwright.units import Length, Unit
from hatchwright.words.tell import tell

_PLACES = 6
"""Decimals of a typed length: sixty-fourths of an inch have as many [-]."""

_NAMES = ("proposal.row.inner", "proposal.row.outer")


class Sized(Struct, frozen=True):
    """An opening that is proposed.

    Args:
        grown_in: how much wider and higher than the job's own it is (x, y), exact [in].
        shift_in: from where the job has it [in].
    """

    shape: Shape
    grown_in: tuple[Fraction, Fraction] = (Fraction(0), Fraction(0))
    shift_in: Shift = (0.0, 0.0)


def shape_of(job: Job) -> Shape:
    """The job's own opening.

    Raises:
        GeometryError: it is neither a rounded rectangle with four straight sides nor a circle.
    """
    opening = job.opening
    if isinstance(opening, Circle):
        size_in = opening.diameter.inch
        return Shape(size_in, size_in, size_in / 2.0, is_round=True)
    if isinstance(opening, RoundedRectangle):
        shape = Shape(opening.width.inch, opening.height.inch, opening.radius.inch)
        if all(shape.has_straight) and shape.radius_in > 0.0:
            return shape
    raise GeometryError.saying("error.proposal_shape", where="opening.shape")


def candidate_of(layout: Layout, family: Family, found: Found, sized: Sized) -> Candidate:
    """The change of the job that lays a ring, told by its measures."""
    entries, parts = list[EntryChange](), list[PartChange]()
    job, unit = layout.job, layout.job.unit
    ring_in = _exact(found.ring.width, family.step_in)
    if any(sized.grown_in) or any(sized.shift_in):
        parts.append(
            PartChange("opening", _outline(job.opening, sized.grown_in, unit, _center(layout, sized)))
        )
        parts += _beside(job, sized)
    outer = _ring_outline(job.opening, sized.grown_in, ring_in, unit)
    gauge = gauge_text(family.kind.gauge_in, unit)
    if job.doubler is None:
        sheet = {"alloy": job.skin.alloy, "temper": job.skin.temper, "clad": job.skin.clad}
        parts.append(PartChange("doubler", {**sheet, "thickness": gauge, "outer": outer}))
    else:
        if abs(job.doubler.thickness.inch - family.kind.gauge_in) > _SAME_GAUGE_IN:
            entries.append(EntryChange("doubler.thickness", job.doubler.thickness.text, gauge))
        parts.append(PartChange("doubler.outer", outer))
    rivet = family.kind.limits.rivet
    rows = [_row(job, rivet, row, number, unit, family.step_in) for number, row in enumerate(found.ring.rows)]
    parts.append(PartChange("rows", rows))
    if stale := [name for name in job.samples if name.split(".")[0] in _REPLACED]:
        parts.append(PartChange("samples", [name for name in job.samples if name not in stale]))
    return Candidate(tuple(entries), _told(family, found), tuple(parts))


_SAME_GAUGE_IN = 0.0005
_REPLACED = ("rows", "opening", "doubler")


def _told(family: Family, found: Found) -> Said:
    ring = found.ring
    return said(
        "proposal.ring",
        width=inch(ring.width * family.step_in),
        n=len(ring.rows),
        rivets=ring.count,
        rivet=family.kind.limits.rivet,
        gauge=inch(family.kind.gauge_in),
    )


def _exact(steps: int, step_in: float) -> Fraction:
    """So many steps, exact [in]."""
    return steps * Fraction(step_in).limit_denominator(10**6)


def _typed(value_in: Fraction, unit: Unit) -> str:
    value = value_in * Fraction(127, 5) if unit == "mm" else value_in
    return f"{float(value):.{_PLACES}f}".rstrip("0").rstrip(".")


def _ring_outline(
    opening: Outline, grown: tuple[Fraction, Fraction], ring_in: Fraction, unit: Unit
) -> dict[str, str]:
    more = (grown[0] + 2 * ring_in, grown[1] + 2 * ring_in)
    outline = _outline(opening, more, unit)
    if isinstance(opening, RoundedRectangle):
        outline["radius"] = _typed(opening.radius.exact_in + ring_in, unit)
    return outline


def _outline(
    outline: Outline, grown: tuple[Fraction, Fraction], unit: Unit, center: list[str] | None = None
) -> dict[str, Any]:
    """An outline so much wider and higher, with its center where that is told."""
    made: dict[str, Any]
    match outline:
        case RoundedRectangle():
            made = {
                "shape": outline.shape,
                "width": _typed(outline.width.exact_in + grown[0], unit),
                "height": _typed(outline.height.exact_in + grown[1], unit),
                "radius": _typed(outline.radius.exact_in, unit),
            }
        case Circle():
            made = {"shape": outline.shape, "diameter": _typed(outline.diameter.exact_in + grown[0], unit)}
        case _:
            raise GeometryError.saying("error.proposal_shape", where="opening.shape")
    return {**made, "center": center} if center else made


def _center(layout: Layout, sized: Sized) -> list[str]:
    """Where the opening's center is typed."""
    own, unit = getattr(layout.job.opening, "center", None), layout.job.unit
    at: list[Fraction] = [one.exact_in for one in own] if own else [Fraction(one) for one in layout.center_in]
    moved = (_exact(round(by / _FINE_IN), _FINE_IN) for by in sized.shift_in)
    return [_typed(one + by, unit) for one, by in zip(at, moved, strict=True)]


_FINE_IN = 1e-6


def _beside(job: Job, sized: Sized) -> Iterator[PartChange]:
    """The window of the doubler and the outline of the cover, as much larger as the opening, about its center."""
    outlines: tuple[tuple[str, Outline | None], ...] = (
        ("doubler.inner", job.doubler.inner if job.doubler else None),
        ("cover.outline", job.cover.outline if job.cover else None),
    )
    for field, outline in outlines:
        if outline is not None:
            yield PartChange(field, _outline(outline, sized.grown_in, job.unit))


def _row(job: Job, rivet: str, row: LaidRow, number: int, unit: Unit, step_in: float) -> dict[str, Any]:
    """A row as the file has it; what the job says of rows of such a head stays."""
    flush = parse_rivet(rivet).is_flush
    alike = next((one for one in job.rows if _is_flush(one.rivet) == flush), None)
    distance = _typed(_exact(round(row.distance_in / step_in), step_in), unit)
    made: dict[str, Any] = {
        "name": tell(said(_NAMES[number])),
        "lay": "offset",
        "rivet": rivet,
        "edge": "opening",
        "distance": distance,
        "stagger": row.is_staggered,
    }
    made |= {"per_side": list(row.per_side), "corners": "middles"} if row.y_bays else {"count": row.count}
    if alike is not None and alike.preparation:
        made["preparation"] = alike.preparation
    if alike is not None and alike.rivet == rivet:
        made |= {key: size.text for key, size in _drilled(alike)}
    return made


def _drilled(row: Row) -> Iterator[tuple[str, Length]]:
    for key, size in (("pilot", row.pilot), ("final", row.final)):
        if size is not None:
            yield key, size


def _is_flush(rivet: str) -> bool:
    try:
        return parse_rivet(rivet).is_flush
    except EntryError:
        return False  # no table lists it
