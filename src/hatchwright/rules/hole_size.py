"""R404 to R406, R815: drilled hole sizes, and how many of them call for oversize rivets."""

from __future__ import annotations

from collections.abc import Iterable, Iterator

import numpy as np

from hatchwright.errors import TableError
from hatchwright.finding import Finding
from hatchwright.judged import FLOAT_NOISE, Bound, Judgement, Measure, Numbers, Status, bound
from hatchwright.layout.layout import Hole, is_closed, points_of
from hatchwright.layout.oversize import has_larger_rivet, is_oversize
from hatchwright.layout.survey import Survey
from hatchwright.register import Shelf
from hatchwright.remedy import ASK, Change
from hatchwright.rules.answer import held, stated, worse
from hatchwright.rules.next_size import next_size_told, next_sizes
from hatchwright.rules.rule import judged_by, mended_by, rule
from hatchwright.rules.wording import numbered
from hatchwright.said import Said, inch, said
from hatchwright.tables.cited import Cited
from hatchwright.tables.drills import Drill
from hatchwright.tables.rivets import RIVET_HOLE_RANGES, HoleRange, hole_range
from hatchwright.tables.screws import (
    SCREW_CLEARANCE_DRILLS,
    SCREW_SIZES,
    ScrewSize,
    clearance_drills,
    screw_size,
)
from hatchwright.workings import Grade, Source


def _measured(survey: Survey) -> list[Hole]:
    return [hole for hole in survey.layout.holes_of("rivet") if hole.hole_in is not None]


_RANGE = Cited(0.0, "in", Source("PRACTICE", "range of a hole"), Grade.PRACTICE)


@rule("R404", Shelf.HOLDS, reads=("distinct_edges", "holes", "near"), marks_holes=True)
@judged_by(RIVET_HOLE_RANGES, _RANGE)
@mended_by(Change.NEXT_RIVET, Change.NEXT_REDUCED_HEAD)
def hole_size(survey: Survey) -> Iterator[Finding]:
    """R404: size of drilled holes."""
    kinds: dict[str, list[Hole]] = {}
    for hole in _measured(survey):
        kinds.setdefault(hole.fastener, []).append(hole)
    for holes in kinds.values():
        try:
            allowed = hole_range(holes[0].diameter_in, survey.shop)
        except TableError:
            yield from map(_no_range, holes)
        else:
            yield from _sizes(survey, holes, allowed)


def _no_range(hole: Hole) -> Finding:
    return stated(
        Status.UNKNOWN,
        said("R404.no_range", hole=numbered(hole), size=inch(hole.diameter_in)),
        _RANGE,
        said("R404.own_standard"),
        value=hole.hole_in,
        unit="in",
        holes=(hole.number,),
        place=hole.place,
        cause="no range",
    )


def size_held(hole_in: Numbers, u_in: Numbers, allowed: HoleRange) -> tuple[Judgement, Judgement]:
    """Hold measured holes to the greatest and to the least that their rivet allows [in]."""
    size = Measure("hole", hole_in, u_in)
    most = Bound(allowed.greatest_in, allowed.source, allowed.grade)
    least = Bound(allowed.least_in, allowed.source, allowed.grade)
    return Judgement(size, (most,), at_least=False), Judgement(size, (least,), fails_as=Status.CAUTION)


def _sizes(survey: Survey, holes: list[Hole], allowed: HoleRange) -> Iterator[Finding]:
    """Each hole that does not pass; of those that do the one that is least sure speaks for all of its rivet."""
    u_in = np.array([hole.size_uncertainty_in for hole in holes])
    large, small = size_held(np.array([hole.hole_in for hole in holes], dtype=float), u_in, allowed)
    is_large, is_small = large.ranks() > 0, small.ranks() > 0
    sizes = next_sizes(survey) if is_large.any() else None
    for i in np.flatnonzero(is_large | is_small).tolist():
        told: tuple[Said, ...] = (said("R404.open_up"),)
        if sizes and is_large[i]:
            told = next_size_told(sizes, holes[i], survey.shop)
        yield _size(large.at(i) if is_large[i] else small.at(i), holes[i], allowed, *told)
    passing = np.flatnonzero(~(is_large | is_small))
    if len(passing):
        room_in = np.minimum(large.margins(), small.margins())[passing] - u_in[passing]
        i = int(passing[np.argmin(room_in)])
        yield _size(worse(small.at(i), large.at(i)), holes[i], allowed)


def _size(judged: Judgement, hole: Hole, allowed: HoleRange, *told: Said) -> Finding:
    subject = said(
        "R404.hole", hole=numbered(hole), least=inch(allowed.least_in), most=inch(allowed.greatest_in)
    )
    return held(judged, subject, *told, holes=(hole.number,), place=hole.place)


def _is_over(survey: Survey, hole: Hole) -> bool:
    """Whether a hole takes an oversize rivet: it came out too large, or was rescued by a larger rivet already."""
    return is_oversize(hole, survey.shop) or has_larger_rivet(hole, survey.layout)


@rule("R405", Shelf.HOLDS, reads=("holes",), marks_holes=True)
@judged_by(limits=("oversize_repair_limit_fraction", "oversize_repair_limit_count"))
def oversize_count(survey: Survey) -> Iterator[Finding]:
    """R405: number of oversize rivets."""
    every = survey.layout.holes_of("rivet")
    oversize = tuple(hole.number for hole in every if _is_over(survey, hole))
    if not oversize and not _measured(survey):
        return
    share = survey.limit("oversize_repair_limit_fraction")
    count = survey.limit("oversize_repair_limit_count")
    cited = share if share.value * len(every) < count.value else count
    most = Bound(
        float(min(int(share.value * len(every) + FLOAT_NOISE), int(count.value))), cited.source, cited.grade
    )
    n = Measure("n", float(len(oversize)), unit="", with_=(("pattern", float(len(every)), "rivets"),))
    subject = said("R405.count", count=len(oversize), n=len(every))
    yield held(Judgement(n, (most,), at_least=False), subject, said("R405.beyond"), ASK, holes=oversize)


@rule("R406", Shelf.HOLDS, reads=("holes", "rows"), marks_holes=True)
@judged_by(limits=("oversize_adjacent_limit",))
def oversize_side_by_side(survey: Survey) -> Iterator[Finding]:
    """R406: oversize rivets side by side."""
    every = survey.layout.holes_of("rivet")
    if not _measured(survey) and not any(_is_over(survey, hole) for hole in every):
        return
    most = survey.limit("oversize_adjacent_limit")
    runs = sorted((run for holes in survey.rows.values() for run in _runs(survey, holes)), key=len)[::-1]
    longest = runs[0] if runs else ()
    # Every run that is too long is named, not the longest alone: each of them goes beyond the standard repair.
    named = [run for run in runs if len(run) > most.value] or ([longest] if longest else [])
    n = Measure("run", float(len(longest)), unit="")
    subject = said("R406.run", holes=numbered(*longest), n=len(longest)) if longest else said("R406.none")
    numbers = tuple(hole.number for run in named for hole in run)
    yield held(Judgement(n, (bound(most),), at_least=False), subject, said("R406.beyond"), ASK, holes=numbers)


def _runs(survey: Survey, holes: tuple[Hole, ...]) -> list[tuple[Hole, ...]]:
    """The oversize holes of a row that stand side by side, run by run; a row all round has no first hole."""
    if not holes or holes[0].kind != "rivet":
        return []
    over = [_is_over(survey, hole) for hole in holes]
    if all(over):
        return [holes]
    # A closed row is begun behind a good hole, so that no run is parted where its numbers begin again.
    begin = over.index(False) if is_closed(points_of(holes)) else 0
    runs: list[tuple[Hole, ...]] = []
    run: tuple[Hole, ...] = ()
    for k in (*range(begin, len(holes)), *range(begin)):
        if over[k]:
            run = (*run, holes[k])
        elif run:
            runs, run = [*runs, run], ()
    return [*runs, run] if run else runs


CLOSE, LOOSE = "general close", "general loose"
"""The fits that a screw hole passes by, and that it stops beyond."""

_CLEARANCE = Cited(0.0, "in", Source("PRACTICE", "clearance holes of screws"), Grade.PRACTICE)


@rule("R815", Shelf.HOLDS, reads=("holes",), marks_holes=True)
@judged_by(SCREW_CLEARANCE_DRILLS, SCREW_SIZES, _CLEARANCE)
def screw_hole_size(survey: Survey) -> Iterator[Finding]:
    """R815: size of screw holes; each bad one speaks for itself, the largest good one for the others."""
    drilled = tuple(hole for hole in survey.layout.holes_of("screw") if hole.hole_in is not None)
    for thread in dict.fromkeys(hole.fastener for hole in drilled):
        yield from _of_thread(survey, thread, tuple(hole for hole in drilled if hole.fastener == thread))


def _of_thread(survey: Survey, thread: str, holes: tuple[Hole, ...]) -> Iterator[Finding]:
    screw, drills = screw_size(thread, survey.shop), clearance_drills(thread, survey.shop)
    if CLOSE not in drills or LOOSE not in drills:
        yield from (_not_listed(hole) for hole in holes)
        return
    close, loose = drills[CLOSE], drills[LOOSE]
    d = Measure(
        "d",
        np.array([hole.hole_in or 0.0 for hole in holes]),
        np.array([hole.size_uncertainty_in for hole in holes]),
    )
    judged = screw_size_held(d, screw, close, loose)
    ranks = np.array([one.ranks() for one in judged])
    good = np.flatnonzero(ranks.max(axis=0) == 0)
    largest = {int(good[np.argmax(np.asarray(d.value)[good])])} if len(good) else set()
    for i in (*np.flatnonzero(ranks.max(axis=0)).tolist(), *largest):
        hole = holes[i]
        one, advice = first_missed((each.at(i) for each in judged), thread)
        subject = said("screw_hole.one", screw=numbered(hole), size=thread)
        yield held(one, subject, *advice, holes=(hole.number,), place=hole.place)


def screw_size_held(d: Measure, screw: ScrewSize, close: Drill, loose: Drill) -> tuple[Judgement, ...]:
    """Hold measured holes to the loose fit of their screw, to the screw itself and to its close fit.

    Args:
        d: of one hole or of many [in].
    """
    major = Bound(screw.major_diameter_in, screw.source, screw.grade, "screw")
    fit = Bound(close.diameter_in, close.source, close.grade, "close fit")
    return (
        Judgement(d, (Bound(loose.diameter_in, loose.source, loose.grade, "loose fit"),), at_least=False),
        Judgement(d, (major,), fails_as=Status.CAUTION),
        Judgement(d, (fit,), at_least=False, fails_as=Status.CAUTION),
    )


def first_missed(judged: Iterable[Judgement], thread: str) -> tuple[Judgement, tuple[Said, ...]]:
    """Of `screw_size_held` of one hole the first that does not pass, else the last, with what to do about it."""
    advice: tuple[tuple[Said, ...], ...] = (
        (said("screw_hole.too_large", size=thread), ASK),
        (said("screw_hole.open_it"),),
        (said("screw_hole.looser_fit"),),
    )
    held_to = tuple(zip(judged, advice, strict=True))
    return next((pair for pair in held_to if pair[0].status is not Status.PASS), held_to[-1])


def _not_listed(hole: Hole) -> Finding:
    return stated(
        Status.UNKNOWN,
        said("screw_hole.one", screw=numbered(hole), size=hole.fastener),
        _CLEARANCE,
        said("screw_hole.no_drills", size=hole.fastener),
        value=hole.hole_in,
        unit="in",
        uncertainty=hole.size_uncertainty_in,
        holes=(hole.number,),
        place=hole.place,
    )
