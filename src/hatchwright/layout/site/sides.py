"""Two surveys beside each other, left and right: what stands on one side only, and what differs by more than its u.

Readings of one side are turned into the frame of the other as a mirror shows them: outboard stays outboard.
"""

from __future__ import annotations

import math
from collections.abc import Iterator, Sequence
from itertools import count

import numpy as np
from msgspec import Struct

from hatchwright.errors import JobError
from hatchwright.job.existing import ExistingFastener
from hatchwright.job.frame import Frame
from hatchwright.job.job import Job
from hatchwright.job.site import Site
from hatchwright.judged import FLOAT_NOISE
from hatchwright.layout.site.center import center_of, lengths_of
from hatchwright.layout.site.landmarks import called
from hatchwright.layout.site.thickness import skin_in, thickness_of
from hatchwright.metrology.propagated import Propagated, as_read
from hatchwright.said import Place, Said, inch, said

Matrix = tuple[tuple[int, int], tuple[int, int]]

_SAME: Matrix = (1, 0), (0, 1)


class SideDifference(Struct, frozen=True):
    """One thing that isn't the same on both sides.

    Args:
        what: which of its sizes or places.
        one_in, other_in: on each side, in the frame of the first; None where it is not there, or is no length [in].
        u_in: expanded uncertainty of the difference [in].
        is_on_one, is_on_other: on which sides it is.
    """

    name: Said | str
    what: Said
    one_in: float | None
    other_in: float | None
    u_in: float = 0.0
    is_on_one: bool = True
    is_on_other: bool = True

    @property
    def off_in(self) -> float | None:
        """By how much they differ; None where one side has nothing of it [in]."""
        return None if self.one_in is None or self.other_in is None else abs(self.other_in - self.one_in)


class _Thing(Struct, frozen=True):
    """A number of one side, by what it is of; None of what is there and has no number.

    Args:
        bound: of a flange, which of its bounds the edge is in the frame of the first side, "" of all else.
    """

    name: Said | str
    what: str
    at: Propagated | None = None
    bound: str = ""

    @property
    def called(self) -> str:
        """Its name as names are compared."""
        return called(self.name) if isinstance(self.name, str) else str(self.name)


def mirrored_axes(frame: Frame, other: Frame) -> Matrix:
    """What takes places of one side into the frame of the other, as a mirror shows them: entries of 0, 1 and -1.

    Skins on top and below turn over left for right between the sides; on the page of a side skin forward does.
    """
    flip = np.diag([1.0, 1.0] if frame.side == other.side else [-1.0, 1.0])
    here, there = np.array(frame.matrix), np.array(other.matrix)
    (a, b), (c, d) = (here.T @ flip @ there).round().astype(int).tolist()
    return (a, b), (c, d)


def sides_compared(job: Job, other: Job) -> tuple[SideDifference, ...]:
    """What two surveys say differently, each thing by its name.

    Raises:
        JobError: one of them has no survey, or they are of skins that don't mirror each other.
    """
    if job.site is None or other.site is None:
        raise JobError.about("site", "survey.no_site")
    if job.aircraft.surface != other.aircraft.surface:
        raise JobError.about("aircraft.surface", "survey.other_surface", other.aircraft.surface)
    turned = mirrored_axes(job.frame, other.frame)
    own = _by_key(_things(job, job.site, _SAME))
    theirs = _by_key(_things(other, other.site, turned))
    found: list[SideDifference] = []
    shared, told = {name for name, *_ in own} & {name for name, *_ in theirs}, set[str]()
    for key in dict.fromkeys((*own, *theirs)):
        one, there = own.get(key), theirs.get(key)
        if one is None or there is None:
            if key[0] not in told:
                found += _alone(one, there)
            if (
                key[0] not in shared
            ):  # what is nowhere on the other side is told once, not for each of its sizes
                told.add(key[0])
        elif one.at is not None and there.at is not None:
            # Readings of two sides are two readings, whatever their names.
            u_in = math.hypot(one.at.u, there.at.u)
            if abs(one.at.value - there.at.value) > u_in + FLOAT_NOISE:
                found.append(SideDifference(one.name, _what(one), one.at.value, there.at.value, u_in))
    return (*found, *_odd_fasteners(job.site, other.site, turned))


def _odd_fasteners(one: Site, other: Site, turned: Matrix) -> Iterator[SideDifference]:
    """Those that have none of their diameter on the other side at their place, within the u of both."""
    u_in = math.hypot(one.u_in(None), other.u_in(None)) + FLOAT_NOISE
    ours, theirs = _odd(one, _SAME), _odd(other, turned)
    for mine, others, is_ours in ((ours, theirs, True), (theirs, ours, False)):
        for (x_in, y_in), entered in mine:
            if not any(
                math.dist((x_in, y_in), at_in) <= u_in and there.diameter.inch == entered.diameter.inch
                for at_in, there in others
            ):
                size, at = inch(entered.diameter.inch), Place(x_in, y_in)
                name = said("site.name.odd", diameter=size, at=at)
                what = said("site.what.existing")
                yield SideDifference(name, what, None, None, is_on_one=is_ours, is_on_other=not is_ours)


def _odd(site: Site, turned: Matrix) -> list[tuple[tuple[float, float], ExistingFastener]]:
    """Fasteners with their place in the frame of the first side [in]."""
    (a, b), (c, d) = turned
    at = [(one.at[0].inch, one.at[1].inch, one) for one in site.existing]
    return [((a * x + b * y, c * x + d * y), one) for x, y, one in at]


_Key = tuple[str, str, str, int]


def _by_key(things: Iterator[_Thing]) -> dict[_Key, _Thing]:
    """Each by its name, what of it and which edge; several alike, such as two hazards of one name, by their number."""
    found: dict[_Key, _Thing] = {}
    for one in things:
        key = one.called, one.what, one.bound
        found[(*key, next(k for k in count() if (*key, k) not in found))] = one
    return found


def _alone(one: _Thing | None, there: _Thing | None) -> Iterator[SideDifference]:
    found = one or there
    if found is not None:
        at_in = found.at.value if found.at else None
        yield SideDifference(
            name=found.name,
            what=_what(found),
            one_in=at_in if one else None,
            other_in=at_in if there else None,
            is_on_one=one is not None,
            is_on_other=there is not None,
        )


def _what(thing: _Thing) -> Said:
    return said(f"site.what.{thing.what}")


def _things(job: Job, site: Site, turned: Matrix) -> Iterator[_Thing]:
    """Everything of a survey that has a number, in the frame of the first side."""
    center = center_of(site, job.frame)
    best = center.best
    for line in center.lines:
        axis, sign = _to(turned, line.axis)
        at = line.at(None if best is None else best.at_in[1 - line.axis])
        low = line.bound.endswith("from") == (sign > 0)
        bound = ("from" if low else "to") if line.bound else ""
        yield _Thing(line.name, "xy"[axis], _signed(at, sign), bound)
    for row in site.rows:
        if row.diameter:
            yield _Thing(row.name, "diameter", Propagated(row.diameter.inch))
    if turned == _SAME:
        for name, length in lengths_of(site).items():
            yield _Thing(
                said("site.name.length", one=name[0].upper(), other=name[1].upper()), "length", length
            )
    yield from _hazards(site, skin_in(job), turned)
    if thickness := thickness_of(site):
        yield _Thing(said("site.name.skin"), "thickness", thickness)
    if best is not None:
        yield _Thing(said("site.name.center"), "center")
        for axis in (0, 1):
            to, sign = _to(turned, axis)
            yield _Thing(said("site.name.center"), "xy"[to], _signed(best.place[axis], sign))


def _hazards(site: Site, skin: float, turned: Matrix) -> Iterator[_Thing]:
    for hazard in site.hazards:
        u_in = site.u_in(hazard.u)
        yield _Thing(hazard.name, "hazard")
        if hazard.moves:
            yield _Thing(hazard.name, "moves")
        for axis in (0, 1):
            to, sign = _to(turned, axis)
            ends = [hazard.bounds_in[axis], hazard.bounds_in[axis + 2]]
            low, high = sorted(sign * end for end in ends)
            for what, at_in in (("from", low), ("to", high)):
                if math.isfinite(at_in):
                    yield _Thing(hazard.name, f"{'xy'[to]}_{what}", as_read("hazard", at_in, u_in))
        if hazard.depth:
            depth_in = hazard.depth.inch + (skin if hazard.found_from == "inside" else 0.0)
            yield _Thing(hazard.name, "depth", as_read("hazard", depth_in, u_in))


def _to(turned: Matrix, axis: int) -> tuple[int, int]:
    """The axis of the first side along which an axis of this side runs, and which way."""
    column: Sequence[int] = [row[axis] for row in turned]
    to = next(k for k, step in enumerate(column) if step)
    return to, column[to]


def _signed(number: Propagated, sign: int) -> Propagated:
    return Propagated(sign * number.value, number.parts)
