"""Why no ring can be laid: each pair of flanges for itself, the way through, the rows; and what moving a limit gives.

A job may hold two conflicts at once, one along X and one along Y: then moving one width gives nothing. So each pair is
asked for itself, and where there are several all of them together once more.
Method: docs/theory/conflict.md.
"""

from __future__ import annotations

from collections.abc import Sequence
from functools import partial
from itertools import groupby

from msgspec.structs import replace

from hatchwright.finding import Finding
from hatchwright.layout.layout import Layout
from hatchwright.progress import Progress, unheard
from hatchwright.said import Listed, Said, said
from hatchwright.search.proposal.conflict_asked import Asked, Question, Scope
from hatchwright.search.proposal.conflict_limit import Limit
from hatchwright.search.proposal.conflict_limits import limits_for
from hatchwright.search.proposal.conflict_passing import passing_conflicts
from hatchwright.search.proposal.conflict_requests import requests
from hatchwright.search.proposal.conflict_sets import Movable, Way, irreducible, smallest_sets
from hatchwright.search.proposal.conflict_told import between, called, narrowest_told, told
from hatchwright.search.proposal.problem import rivets_of
from hatchwright.search.proposal.ring import Shape
from hatchwright.search.proposal.values import Conflict, Relaxation

_BOTH = (0, 1)

MOST_TOLD = 3
"""Findings that are told in one line [-]."""

Grouped = dict[str, list[Limit]]
"""Limits by their key: both sizes of an opening that keeps its shape are one."""


def conflicts_of(
    layout: Layout, least: Shape, greatest: Shape | None = None, *, progress: Progress = unheard
) -> tuple[Conflict, ...]:
    """What keeps a ring from being laid round an opening; none where one can be.

    Args:
        least: the smallest opening that is wanted, round which a ring is soonest laid.
        greatest: the largest, which most goes through; the same where there is no range.
        progress: told the share that is done.
    Returns:
        tuple[Conflict, ...]: those of what does not go through; or that of the rows, alone; or those of the way
            through, along X and along Y, and where there are several what solves all; or that of what is in the bay.
    """
    told = [0.0]

    def going_on() -> None:
        progress(told[0], said("conflict.progress"))

    question, asked = Question(layout, going_on), asked_of(layout, least)
    if found_small := passing_conflicts(question, replace(asked, shape=greatest or least)):
        return found_small
    scopes = _broken(question, asked)
    found: list[Conflict] = []
    for done, scope in enumerate(scopes):
        told[0] = done / len(scopes)
        going_on()
        found.append(_conflict(question, asked, scope, is_last=scope is scopes[-1]))
    if len(found) > 1:
        # What cannot be kept together is told of each; which of them is left out first would say nothing here.
        every = tuple(dict.fromkeys(limit for one in found[:-1] for limit in one.limits))
        id = "conflict.told.together" if found[-1].ways else "conflict.told.together_none"
        found[-1] = replace(found[-1], limits=every, told=said(id))
    if found:
        found[-1] = replace(found[-1], requests=requests(question, asked))
    return tuple(found)


def conflict_of_rules(refused: Sequence[Finding]) -> Conflict:
    """Why no ring can be laid although some have room: what the rules found on the best of them.

    Args:
        refused: what holds it back.
    """
    codes = tuple(dict.fromkeys(one.code for one in refused))
    first = [next(one for one in refused if one.code == code) for code in codes]
    advice = tuple(dict.fromkeys(told for one in refused for told in one.advice))
    return Conflict(
        between=said("conflict.between.rules"),
        limits=tuple(said(f"{code}.title") for code in codes),
        ways=(),
        told=said("conflict.told.rules", why=Listed(tuple(one.subject for one in first[:MOST_TOLD]), ";")),
        requests=tuple(told for told in advice if isinstance(told, Said))
        or (said("conflict.request.holder"),),
    )


def asked_of(layout: Layout, shape: Shape) -> Asked:
    """What the job and its wish ask, nothing of it moved."""
    wish = layout.job.wish
    return Asked(
        shape=shape,
        rivets=rivets_of(layout),
        most_rows=wish.most_rows,
        short_holes=float(wish.short_holes),
        shift_in=wish.shift.inch if wish.shift else 0.0,
        is_through=any(one.what == "ring" for one in wish.passes),
    )


def _broken(question: Question, asked: Asked) -> tuple[Scope, ...]:
    """Where no ring has room, and last all of it together where that is more than one of them."""
    if not question.holds(asked, Scope.ROWS):
        return (Scope.ROWS,)
    found = tuple(one for one in (Scope.THROUGH, Scope.X, Scope.Y) if not question.holds(asked, one))
    if len(found) == 1 or (not found and question.holds(asked, Scope.ALL)):
        return found
    return (*found, Scope.ALL)


def _conflict(question: Question, asked: Asked, scope: Scope, *, is_last: bool) -> Conflict:
    grouped = _grouped(limits_for(question, asked, scope))
    movables = [some[0].movable for some in grouped.values()]
    walls = {f"wall {', '.join(names)}": names for names in _walls(question, asked, scope)}
    structure = [Movable(key, 1, partial(_without, names=names)) for key, names in walls.items()]
    named = {
        key: said("conflict.limit.walls", n=len(names), walls=Listed(called(names)))
        for key, names in walls.items()
    }
    named |= {key: some[0].name for key, some in grouped.items()}
    kept = irreducible(asked, [*structure, *movables], partial(question.holds, scope=scope))
    return Conflict(
        between=between(scope, tuple(name for names in walls.values() for name in names)),
        limits=tuple(named[key] for key in kept),
        ways=_ways(question, asked, grouped, Scope.ALL if is_last else scope),
        told=told(question, asked, scope, tuple(name for key in kept for name in walls.get(key, ()))),
    )


def _ways(
    question: Question, asked: Asked, grouped: Grouped, scope: Scope
) -> tuple[tuple[Relaxation, ...], ...]:
    """The smallest sets of limits to move; with nothing else left that could keep a ring from its place, of the limits
    of the conflict where those suffice, else of all of them."""
    some: list[Grouped] = [grouped]
    if scope is Scope.ALL:
        some.append(_grouped(limits_for(question, asked, Scope.ALL)))
    for limits in some:
        movables = [one[0].movable for one in limits.values()]
        if found := smallest_sets(asked, movables, partial(question.holds, scope=scope)):
            return tuple(_relaxed(question, asked, limits, way) for way in found)
    return ()


def _grouped(limits: Sequence[Limit]) -> Grouped:
    return {key: list(some) for key, some in groupby(limits, lambda one: one.key)}


def _walls(question: Question, asked: Asked, scope: Scope) -> tuple[tuple[str, ...], ...]:
    """What nobody can move, by its names: each pair that closes an axis, then whatever else the ring can reach."""
    axes = {Scope.X: (0,), Scope.Y: (1,), Scope.ALL: _BOTH}.get(scope, ())
    pairs = [tuple(wall.name for wall in question.walls(asked, axis) if wall.name) for axis in axes]
    found = [pair for pair in pairs if pair]
    narrowest = question.narrowest(asked)
    if scope is Scope.ALL and narrowest is not None:
        taken = {name for pair in found for name in pair}
        for one in question.problem(asked).asked:
            near = one.obstacles.within_reach(asked.shape, narrowest.width_in, asked.shift_in)
            found += [(name,) for name in near.names if name not in taken]
            taken |= set(near.names)
    return tuple(found)


def _without(asked: Asked, stop: int, *, names: tuple[str, ...]) -> Asked:
    return replace(asked, without=asked.without | set(names)) if stop else asked


def _relaxed(question: Question, asked: Asked, grouped: Grouped, way: Way) -> tuple[Relaxation, ...]:
    """A way, each limit with what it must become and with what all of them together give."""
    moved = asked
    for key, stop in way:
        moved = grouped[key][0].movable.at(moved, stop)
    given = narrowest_told(question, moved)
    return tuple(
        Relaxation(
            key=limit.key,
            limit=limit.name,
            from_=limit.from_,
            to=limit.to(stop),
            whose=limit.whose,
            may_be_entered=limit.entered(stop),
            gives=said(f"conflict.gives.{limit.gives or limit.whose}", ring=given),
        )
        for key, stop in way
        for limit in grouped[key]
    )
