"""The words of a conflict: between what it is, why in one line, and what a way out gives."""

from __future__ import annotations

import math

from hatchwright.judged import FLOAT_NOISE
from hatchwright.said import Amount, Listed, Said, Value, inch, missing, room, said
from hatchwright.search.proposal.conflict_asked import Asked, Narrowest, Question, Scope

_AXES = {Scope.X: 0, Scope.Y: 1}


def between(scope: Scope, walls: tuple[str, ...]) -> Said:
    """What a conflict is between.

    Args:
        walls: what closes the bay, by name.
    """
    if scope in _AXES:
        return said("conflict.between.axis", axis="XY"[_AXES[scope]], walls=Listed(called(walls)))
    return said(f"conflict.between.{scope}")


def called(names: tuple[str, ...]) -> tuple[Value, ...]:
    """What the ring keeps off, as people call it: as entered, or a fastener that is there by its number."""
    return tuple(said("conflict.existing", number=int(name)) if name.isdecimal() else name for name in names)


def told(question: Question, asked: Asked, scope: Scope, walls: tuple[str, ...]) -> Said:
    """Why no ring fits, in one line: what is needed and what is there.

    Args:
        walls: what the ring can't keep off, by name, where that is no pair.
    """
    found = question.narrowest(asked)
    if found is None:
        needed = question.problem(asked).asked[0].kind.limits.needed
        return said("conflict.told.rows", x=needed[0], y=needed[1], rivets=Listed(asked.rivets, "or"))
    if scope is Scope.THROUGH:
        shape = asked.shape
        across_in = min(shape.width_in, shape.height_in) + 2.0 * found.width_in
        return said("conflict.told.through", across=missing(across_in), chord=room(shape.longest_chord_in))
    if scope in _AXES:
        return _along(question, asked, found, _AXES[scope])
    sizes = {"across": _across(asked, found, 0), "high": _across(asked, found, 1)}
    if walls:
        return said("conflict.told.among", walls=Listed(called(walls)), **sizes)
    return said("conflict.told.all", **sizes)


def _across(asked: Asked, found: Narrowest, axis: int) -> Amount:
    return missing((asked.shape.width_in, asked.shape.height_in)[axis] + 2.0 * found.width_in)


def _along(question: Question, asked: Asked, found: Narrowest, axis: int) -> Said:
    low, high = question.walls(asked, axis)
    walls = Listed(called(tuple(wall.name for wall in (low, high) if wall.name)))
    half_in = (asked.shape.width_in, asked.shape.height_in)[axis] / 2.0 + found.width_in
    there_in, kept_in = high.at_in - low.at_in, low.kept_in + high.kept_in
    if math.isfinite(there_in) and 2.0 * half_in + kept_in > there_in + FLOAT_NOISE:
        drawn = _drawn_in(question, axis)
        values: dict[str, Value] = {
            "axis": "XY"[axis],
            "walls": walls,
            "there": room(there_in),
            "clear": missing(kept_in),
        }
        if drawn is None:
            return said("conflict.told.pair", across=missing(2.0 * half_in), **values)
        return said("conflict.told.pair_drawn", across=missing(2.0 * half_in), drawn=inch(drawn), **values)
    wall = min((low, high), key=lambda one: abs(one.at_in) - one.kept_in)
    return said(
        "conflict.told.place",
        wall=called((wall.name,))[0],
        across=missing(half_in + wall.kept_in),
        there=room(abs(wall.at_in)),
    )


def _drawn_in(question: Question, axis: int) -> float | None:
    """The ring as it is drawn along an axis, None where there is none [in]."""
    doubler = question.layout.part("doubler")
    if doubler is None:
        return None
    bounds = doubler.edges[0].loop.bounds
    return bounds[axis + 2] - bounds[axis]


def narrowest_told(question: Question, moved: Asked) -> Said:
    """The narrowest ring that there is with something moved."""
    found = question.narrowest(moved)
    assert found is not None  # a way out is one because there is a ring
    ring = found.found.ring
    return said(
        "conflict.gives",
        n=len(ring.rows),
        width=missing(found.width_in),
        rivets=ring.count,
        rivet=found.rivet,
    )
