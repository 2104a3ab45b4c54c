"""What is wrong with a set of readings, each thing named with its figures and their uncertainty.

Method: docs/theory/matching.md, eq. 6 to 9. Clean sets are called wrong once in 100,000 by chance.
"""

from __future__ import annotations

import math
from collections.abc import Iterator, Mapping
from enum import StrEnum
from statistics import median

import numpy as np
from msgspec import Struct

from hatchwright.inspection.best_fit import BestFit, HoleFit
from hatchwright.inspection.poses import CALL_LEVEL
from hatchwright.inspection.readings import Reading
from hatchwright.metrology.budget import COVERAGE
from hatchwright.metrology.real_offset import coverage_factor
from hatchwright.said import Amount, Listed, Numbered, Place, Said, inch, missing, said


class Kind(StrEnum):
    """What a set of readings can be named."""

    MIRRORED = "mirrored"
    TURNED = "turned"
    """By a quarter turn or more."""
    NUMBERS = "numbers"
    """The numbers agree with no pose of the pattern."""
    SWAPPED = "swapped"
    RENUMBERED = "renumbered"
    UNCERTAIN_PLACE = "uncertain_place"
    """Without numbers the set fits in more than one place."""
    APART = "apart"
    DOUBLE = "double"
    READ_TWICE = "read_twice"
    """Or drilled twice: two readings of one hole, no farther apart than they are uncertain."""
    EXTRA = "extra"
    SHIFTED = "shifted"
    ROTATED = "rotated"
    """By less than half a quarter turn."""
    STRETCHED = "stretched"
    MISSING = "missing"
    ALIKE = "alike"
    """The pattern covers itself, so that without numbers a mirrored or turned set would not show."""


DOUBTFUL = (
    Kind.MIRRORED,
    Kind.TURNED,
    Kind.NUMBERS,
    Kind.SWAPPED,
    Kind.RENUMBERED,
    Kind.UNCERTAIN_PLACE,
    Kind.READ_TWICE,
)
"""What a set is not entered with, unless a person says that it is as it is."""


class Named(Struct, frozen=True):
    """One thing.

    Args:
        holes: numbers of the holes concerned.
        rows: of the table, of the readings concerned.
        size: its figure, None where it has none [in, rad for a turn, 1 for a stretch].
        expanded: expanded uncertainty of that [same unit].
        told: the sentence.
    """

    kind: Kind
    told: Said
    holes: tuple[int, ...] = ()
    rows: tuple[int, ...] = ()
    size: float | None = None
    expanded: float | None = None

    @property
    def is_doubtful(self) -> bool:
        """Whether the set must not be entered as it is without saying so."""
        return self.kind in DOUBTFUL


def named(fit: BestFit, diameters_in: Mapping[int, float]) -> tuple[Named, ...]:
    """Name what is wrong with a set, the gravest first.

    Args:
        diameters_in: of each hole, drilled or else of its fastener; holes whose size no table lists are left out [in].
    """
    found = (
        *_orientation(fit),
        *_numbers(fit),
        *_uncertain_place(fit),
        *_apart(fit),
        *_of_no_hole(fit, diameters_in),
        *_template(fit),
        *_missing(fit),
        *_alike(fit),
    )
    order = list(Kind)
    return tuple(sorted(found, key=lambda one: order.index(one.kind)))


def _orientation(fit: BestFit) -> Iterator[Named]:
    """A set that is mirrored, or turned by quarters: how far off it lies as drawn, and in the pose found."""
    off_in = median(math.hypot(*one.off_in) for one in fit.holes)
    left_in = median(math.hypot(*one.drilling_in) for one in fit.holes)
    u_in = max(one.u_in for one in fit.holes)
    figures = {"off": inch(off_in), "left": inch(left_in), "u": missing(u_in)}
    quarters = Amount(90.0 * fit.pose.quarter, "deg")
    if fit.pose.is_mirrored:
        id = {0: "measure.mirrored.x", 2: "measure.mirrored.y"}.get(
            fit.pose.quarter, "measure.mirrored.turned"
        )
        yield Named(Kind.MIRRORED, said(id, **figures, turn=quarters), size=off_in, expanded=u_in)
    elif fit.pose.quarter:
        told = said("measure.turned", **figures, turn=quarters)
        yield Named(Kind.TURNED, told, size=off_in, expanded=u_in)


def _numbers(fit: BestFit) -> Iterator[Named]:
    """Readings that lie at another hole than that of their number."""
    if not fit.numbers_hold:
        count = sum(one.number is not None for one in fit.readings)
        yield Named(Kind.NUMBERS, said("measure.numbers", n=count))
        return
    moved = {one.reading.number: one for one in fit.holes if one.reading.number not in (None, one.number)}
    for number, one in sorted(moved.items()):
        other = moved.get(one.number)
        if other is not None and other.number == number:
            if number < one.number:
                yield _swapped(one, other)
            continue
        left_in = math.hypot(*one.drilling_in)
        told = said(
            "measure.renumbered",
            row=one.reading.row,
            number=number,
            hole=one.number,
            left=inch(left_in),
            u=missing(one.drilling_u_in),
        )
        yield Named(
            Kind.RENUMBERED, told, (number, one.number), (one.reading.row,), left_in, one.drilling_u_in
        )


def _swapped(one: HoleFit, other: HoleFit) -> Named:
    left_in = max(math.hypot(*hole.drilling_in) for hole in (one, other))
    u_in = max(one.drilling_u_in, other.drilling_u_in)
    numbers = tuple(sorted((one.number, other.number)))
    told = said("measure.swapped", holes=Numbered("hole", numbers), left=inch(left_in), u=missing(u_in))
    return Named(Kind.SWAPPED, told, numbers, (one.reading.row, other.reading.row), left_in, u_in)


def _uncertain_place(fit: BestFit) -> Iterator[Named]:
    """Readings without numbers that are not at the holes where they lie, and fit as well at another place."""
    if any(one.reading.number is not None for one in fit.holes):
        return
    here, gap_in = fit.pose, fit.pattern.gap_in
    elsewhere = [
        math.dist(one.shift_in, here.shift_in)
        for one in fit.alike
        if (one.is_mirrored, one.quarter) == (here.is_mirrored, here.quarter)
    ]
    farthest_in = max(math.hypot(*one.off_in) for one in fit.holes)
    if farthest_in > gap_in and any(apart_in > gap_in for apart_in in elsewhere):
        apart_in = min(apart_in for apart_in in elsewhere if apart_in > gap_in)
        yield Named(
            Kind.UNCERTAIN_PLACE, said("measure.uncertain_place", apart=inch(apart_in)), size=apart_in
        )


def _apart(fit: BestFit) -> Iterator[Named]:
    for one in fit.holes:
        if one.is_apart:
            size_in = math.hypot(*one.drilling_in)
            told = said(
                "measure.apart",
                hole=Numbered("hole", (one.number,)),
                row=one.reading.row,
                off=inch(size_in),
                u=missing(one.drilling_u_in),
            )
            yield Named(Kind.APART, told, (one.number,), (one.reading.row,), size_in, one.drilling_u_in)


def _of_no_hole(fit: BestFit, diameters_in: Mapping[int, float]) -> Iterator[Named]:
    """Readings that are of no hole: within a drilled hole, so that it was drilled twice, or by themselves."""
    for at in fit.matching.extra:
        reading = fit.readings[at]
        beside = min(fit.holes, key=lambda one: math.dist(one.reading.place, reading.place))
        far_in = math.dist(beside.reading.place, reading.place)
        u_in = COVERAGE * math.hypot(beside.reading.u_in / COVERAGE, reading.u_in / COVERAGE)
        if far_in < _reach_in(beside, reading, diameters_in):
            yield _double(beside, reading, far_in, u_in)
        else:
            told = said(
                "measure.extra", row=reading.row, place=Place(*reading.place), u=missing(reading.u_in)
            )
            yield Named(Kind.EXTRA, told, (), (reading.row,), far_in, u_in)


def _reach_in(beside: HoleFit, reading: Reading, diameters_in: Mapping[int, float]) -> float:
    """How far apart the centers of two holes are that touch: half of each diameter [in]."""
    own = beside.reading.diameter_in or diameters_in.get(beside.number, 0.0)
    return 0.5 * (own + (reading.diameter_in or own))


def _double(beside: HoleFit, reading: Reading, far_in: float, u_in: float) -> Named:
    kind = Kind.READ_TWICE if far_in <= u_in else Kind.DOUBLE
    hole = Numbered("hole", (beside.number,))
    rows = tuple(sorted((beside.reading.row, reading.row)))
    told = said(
        f"measure.{kind}", hole=hole, first=rows[0], second=rows[1], apart=inch(far_in), u=missing(u_in)
    )
    return Named(kind, told, (beside.number,), rows, far_in, u_in)


def _template(fit: BestFit) -> Iterator[Named]:
    """Shift, turn and stretch of the whole pattern, where they are beyond what chance gives.

    Method: docs/theory/matching.md, eq. 8.
    """
    own, common = fit.fit, fit.fit.common
    factor = coverage_factor(own.freedom, CALL_LEVEL)
    x, y = own.shift_effects
    shift_in, shift_u_in = math.hypot(x.size_in, y.size_in), max(x.expanded_in, y.expanded_in)
    if max(abs(x.size_in), abs(y.size_in)) > factor * math.hypot(own.shift_standard_in, common.place_in):
        told = said("measure.shifted", x=inch(x.size_in), y=inch(y.size_in), u=missing(shift_u_in))
        yield Named(Kind.SHIFTED, told, size=shift_in, expanded=shift_u_in)
    turn_rad = math.remainder(own.turn_rad - 0.5 * math.pi * fit.pose.quarter, math.tau)
    turn = own.turn_effect
    if abs(turn_rad) > factor * math.hypot(own.turn_standard_rad, common.turn_rad):
        told = said(
            "measure.rotated",
            turn=degrees_said(turn_rad),
            u=degrees_said(turn.expanded_in),
        )
        yield Named(Kind.ROTATED, told, size=turn_rad, expanded=turn.expanded_in)
    scale, factor = own.scale_effect, coverage_factor(max(1, own.freedom - 1), CALL_LEVEL)
    if abs(scale.size_in) > factor * math.hypot(own.scale_standard, common.scale):
        id = "measure.larger" if scale.size_in > 0.0 else "measure.smaller"
        span_in = float(np.hypot(*np.ptp(fit.pattern.places_in, axis=0)))
        size, u = inch(abs(scale.size_in) * span_in), missing(scale.expanded_in * span_in)
        told = said(id, size=size, u=u, span=inch(span_in))
        yield Named(Kind.STRETCHED, told, size=scale.size_in, expanded=scale.expanded_in)


def degrees_said(turn_rad: float) -> Amount:
    """A turn, to a thousandth of a degree: less than any hole on a skin shows."""
    return Amount(round(math.degrees(turn_rad), 3), "deg")


def _missing(fit: BestFit) -> Iterator[Named]:
    if fit.matching.missing:
        numbers = tuple(int(fit.pattern.numbers[hole]) for hole in fit.matching.missing)
        yield Named(
            Kind.MISSING, said("measure.missing", n=len(numbers), holes=Numbered("hole", numbers)), numbers
        )


def _alike(fit: BestFit) -> Iterator[Named]:
    """A set that lies as well mirrored or turned: without numbers, or with all its readings in a line."""
    ways = {(one.is_mirrored, one.quarter) for one in fit.alike} - {(fit.pose.is_mirrored, fit.pose.quarter)}
    if ways:
        told = tuple(
            said("measure.way.mirrored") if flip else said("measure.way.turned", turn=Amount(90.0 * k, "deg"))
            for flip, k in sorted(ways)
        )
        ways_told = Listed(tuple(dict.fromkeys(told)), "or")
        is_numbered = any(one.number is not None for one in fit.readings) and fit.numbers_hold
        id = "measure.alike_in_line" if is_numbered else "measure.alike"
        yield Named(Kind.ALIKE, said(id, ways=ways_told))
