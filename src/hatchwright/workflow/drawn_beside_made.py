"""Drawn beside made: every number that what was measured changes, by the same judgements of the job in both states."""

from __future__ import annotations

from collections import defaultdict
from collections.abc import Hashable, Iterable, Iterator, Mapping
from math import isfinite
from typing import TYPE_CHECKING, TypeAlias

from hatchwright.documents.drawn_made import DrawnMade
from hatchwright.errors import HatchwrightError
from hatchwright.finding import Finding
from hatchwright.job.job import Job
from hatchwright.judged import Status, worst_of
from hatchwright.layout.lay_out import lay_out
from hatchwright.layout.layout import Hole, Layout
from hatchwright.layout.mass import weight_change
from hatchwright.layout.survey import EdgeDistances, Survey, survey
from hatchwright.rules.wording import edge_named, numbered, part_named
from hatchwright.said import Value, said
from hatchwright.search.changed_findings import names_in, question_of
from hatchwright.workflow.examine import Examination, examine_layout

if TYPE_CHECKING:
    from hatchwright.strength.margin import Margin
    from hatchwright.strength.report import StrengthReport

_TOLD = 5e-5
"""Numbers that differ by less read the same on paper [any unit]."""

_EDGES = frozenset(("R101", "R102", "R103"))
_SPACINGS = frozenset(("R201", "R212"))
"""Codes whose findings speak for many holes at once: their numbers are told hole by hole."""

_Answers: TypeAlias = Mapping[tuple[str, int], Status]
"""By the edge and the number of a hole, what was judged of it."""


def is_measured(job: Job) -> bool:
    """Whether anything that a job makes was measured; the skin is before it is cut."""
    parts = (job.doubler, job.cover, job.patch.plug if job.patch else None)
    return job.as_made is not None or any(part is not None and part.measured for part in parts)


def as_drawn(job: Job) -> Job:
    """The job without what was measured."""
    bare = {"measured": None, "measured_u": None}
    patch = job.patch and job.patch.model_copy(update={"plug": job.patch.plug.model_copy(update=bare)})
    parts = {
        name: part.model_copy(update=bare)
        for name in ("skin", "doubler", "cover")
        if (part := getattr(job, name)) is not None
    }
    return job.model_copy(update={"as_made": None, "patch": patch, **parts})


def drawn_beside_made(made: Examination) -> tuple[DrawnMade, ...]:
    """Every number that differs between a job as drawn and as made; none where nothing was measured.

    Args:
        made: the job as it stands; strength is judged anew only where it was judged there.
    Returns:
        tuple: edge distances and spacings hole by hole, then every other judged number, then the weight.
    """
    if not is_measured(made.job):
        return ()
    layout = lay_out(as_drawn(made.job), made.layout.shop)
    return changed_numbers(examine_layout(layout, with_strength=made.strength is not None), made)


def changed_numbers(before: Examination, after: Examination) -> tuple[DrawnMade, ...]:
    """Every number that differs between two states of a job, in the order of `drawn_beside_made`.

    Args:
        before: strength is compared only where both states have it.
    """
    return tuple(
        one
        for one in (
            *_distances(before, after),
            *_judged(before.judged, after.judged),
            *_margins(before.strength, after.strength),
            *_weights(before.layout, after.layout),
        )
        if one.change is None or abs(one.change) >= _TOLD
    )


def _distances(drawn: Examination, made: Examination) -> Iterator[DrawnMade]:
    before, after = survey(drawn.layout), survey(made.layout)
    was, now = _of_edges(drawn.findings), _of_edges(made.findings)
    old = {(row.part.name, row.edge.name): row for row in before.distinct_edges}
    for row in after.distinct_edges:
        if (other := old.get((row.part.name, row.edge.name))) is not None:
            yield from _edge(other, row, was, now)
    yield from _spacings(before, after, _of_pairs(drawn.findings), _of_pairs(made.findings))


def _of_edges(findings: Iterable[Finding]) -> _Answers:
    found: dict[tuple[str, int], list[Status]] = defaultdict(list)
    for one in findings:
        for number in one.holes if one.code in _EDGES else ():
            found[one.cause, number].append(one.status)
    return {key: worst_of(every) for key, every in found.items()}


def _edge(before: EdgeDistances, after: EdgeDistances, was: _Answers, now: _Answers) -> Iterator[DrawnMade]:
    """Each hole to one edge; one that no finding names passes, as its row's closest does."""
    old = dict(zip((hole.number for hole in before.holes), before.distance_in.tolist(), strict=True))
    edge = after.edge.name
    for hole, made_in, u_in in zip(
        after.holes, after.distance_in.tolist(), after.uncertainty_in.tolist(), strict=True
    ):
        key = edge, hole.number
        told: dict[str, Value] = {
            "hole": numbered(hole),
            "edge": edge_named(after.edge),
            "part": part_named(after.part),
        }
        yield DrawnMade(
            "edge",
            said("edge.one", **told),
            old.get(hole.number),
            made_in,
            "in",
            u_in,
            was.get(key, Status.PASS) if hole.number in old else None,
            now.get(key, Status.PASS),
        )


def _of_pairs(findings: Iterable[Finding]) -> dict[tuple[int, int], Status]:
    found: dict[tuple[int, int], Status] = {}
    for one in findings:
        if one.code in _SPACINGS and len(one.holes) == 2:
            low, high = sorted(one.holes)
            found[low, high] = worst_of((one.status, found.get((low, high), Status.PASS)))
    return found


def _spacings(
    before: Survey,
    after: Survey,
    was: Mapping[tuple[int, int], Status],
    now: Mapping[tuple[int, int], Status],
) -> Iterator[DrawnMade]:
    """Every two holes that lie near each other or side by side in their row, drawn or made; of holes that only one has,
    that alone."""
    old, new = _pairs(before), _pairs(after)
    held = [{hole.number: hole for hole in one.layout.holes} for one in (before, after)]
    for key in sorted({*old, *new}):
        drawn = old.get(key) or _apart(held[0], *key)
        made = new.get(key) or _apart(held[1], *key)
        one_of_them = made or drawn
        assert one_of_them is not None  # the pair is of one state at least
        first, second, *_ = one_of_them
        yield DrawnMade(
            "spacing",
            said("spacing.pair", holes=numbered(first, second)),
            drawn[2] if drawn else None,
            made[2] if made else None,
            "in",
            made[3] if made else 0.0,
            was.get(key, Status.PASS) if drawn else None,
            now.get(key, Status.PASS) if made else None,
        )


_Pair: TypeAlias = tuple[Hole, Hole, float, float]
"""Two holes, how far apart they are, and its uncertainty [in]."""


def _pairs(found: Survey) -> dict[tuple[int, int], _Pair]:
    every: dict[tuple[int, int], _Pair] = {}
    for pair in (*found.near, *found.layout.pitches):
        first, second = sorted((pair.first, pair.second), key=lambda hole: hole.number)
        every[first.number, second.number] = first, second, pair.distance_in, pair.uncertainty_in
    return every


def _apart(holes: Mapping[int, Hole], one: int, two: int) -> _Pair | None:
    """Two holes however far apart, None where one of them is not there."""
    first, second = holes.get(one), holes.get(two)
    if first is None or second is None:
        return None
    apart_in = ((first.x_in - second.x_in) ** 2 + (first.y_in - second.y_in) ** 2) ** 0.5
    return first, second, apart_in, max(first.uncertainty_in, second.uncertainty_in)


def _judged(drawn: Iterable[Finding], made: Iterable[Finding]) -> Iterator[DrawnMade]:
    """Every other number that was judged, paired by its code, its cause and its holes."""
    old: dict[Hashable, list[Finding]] = defaultdict(list)
    for one in drawn:
        if one.value is not None:
            old[question_of(one)].append(one)
    for one in made:
        if one.value is None or one.code in _EDGES | _SPACINGS:
            continue
        before = old[question_of(one)].pop(0) if old[question_of(one)] else None
        if before is not None and before.unit == one.unit:
            what = said("as_built.number", title=said(f"{one.code}.title"), subject=one.subject)
            u, was, now = one.judged.uncertainty, before.status, one.status
            yield DrawnMade("judged", what, before.value, one.value, one.unit, u, was, now)


def _margins(drawn: StrengthReport | None, made: StrengthReport | None) -> Iterator[DrawnMade]:
    """Every margin of safety, paired by its check, its load case and level, in the order of both reports; and what
    strength compares without a margin."""
    if drawn is None or made is None:
        return
    old: dict[tuple[object, ...], list[Margin]] = defaultdict(list)
    for one in drawn.margins:
        old[_of_margin(one)].append(one)
    for one in made.margins:
        before = old[_of_margin(one)].pop(0) if old[_of_margin(one)] else None
        if before is not None and isfinite(before.ratio or 0.0) and isfinite(one.ratio or 0.0):
            subject = said("margin.subject", subject=one.subject, case=one.case, level=one.level)
            what = said("as_built.number", title=said(f"{one.code}.title"), subject=subject)
            yield DrawnMade("margin", what, before.ratio, one.ratio, "", 0.0, before.status, one.status)
    yield from _judged(drawn.findings, made.findings)


def _of_margin(margin: Margin) -> tuple[object, ...]:
    return margin.code, names_in(margin.subject), str(margin.case), margin.level


def _weights(drawn: Layout, made: Layout) -> Iterator[DrawnMade]:
    try:
        before, after = weight_change(drawn), weight_change(made)
    except HatchwrightError:  # what can't be weighed is told by its own answer
        return
    old = {mass.name: mass for mass in before.masses}
    for mass in after.masses:
        if mass.name in old:
            drawn_lb = old[mass.name].mass_lb
            yield DrawnMade(
                "weight",
                said("as_built.weight", what=mass.name),
                drawn_lb,
                mass.mass_lb,
                "lb",
                mass.uncertainty_lb,
            )
