"""Union, difference and intersection of regions, exact, arcs kept.

Both edges are cut wherever they meet. For each part it is then known whether either region lies on its left
and on its right; the part bounds the answer when the answer lies on one of its sides only. The answer is
checked beside every part against the two regions themselves. Method: docs/theory/offset.md.
"""

from __future__ import annotations

from collections.abc import Callable
from functools import lru_cache

import numpy as np

from hatchwright.errors import GeometryError
from hatchwright.shapes.contacts import cut_apart
from hatchwright.shapes.pieces import Bools, Pieces, joined
from hatchwright.shapes.profile import Profile
from hatchwright.shapes.stitching import stitch
from hatchwright.shapes.welding import twins, weld

_PROBE_IN = 1e-6

_Rule = Callable[[Bools, Bools], Bools]


def union(first: Profile, second: Profile) -> Profile:
    """The region that lies in either of two regions.

    Raises:
        GeometryError: a profile crosses itself, or the answer failed its own check; `place` is where.
    """
    return _combined(first, second, np.logical_or)[0]


def intersection(first: Profile, second: Profile) -> Profile:
    """The region that lies in both of two regions; raises as `union` does."""
    return _combined(first, second, np.logical_and)[0]


def difference(first: Profile, second: Profile) -> Profile:
    """The region of the first that does not lie in the second; raises as `union` does."""
    return _combined(first, second, np.greater)[0]


def differences(first: Profile, second: Profile) -> tuple[Profile, Profile]:
    """What of the first region does not lie in the second, and of the second not in the first; raises as `union`."""
    first_only, second_only = _combined(first, second, np.greater, np.less)
    return first_only, second_only


@lru_cache(maxsize=256)
def _combined(first: Profile, second: Profile, *rules: _Rule) -> tuple[Profile, ...]:
    """The answer of each rule, both edges cut but once."""
    a, b = first.checked().working_form(), second.checked().working_form()
    cuts, old = cut_apart(joined([a, b]))
    parts, which = weld(cuts)
    from_a = old[which] < a.count
    left, right = _beside(parts, from_a)
    answers = []
    for rule in rules:
        on_left = rule(from_a | left, ~from_a | left)
        on_right = rule(~from_a & right, from_a & right)
        edge = joined([parts.taken(on_left & ~on_right), parts.taken(on_right & ~on_left).turned()])
        answer = Profile(stitch(edge))
        _refuse_wrong(answer.working_form(), a, b, parts, rule)
        answers.append(answer)
    return tuple(answers)


def _beside(parts: Pieces, from_a: Bools) -> tuple[Bools, Bools]:
    """Whether the other region lies on the left and on the right of each part, each of shape (n,)."""
    middle = parts.middle
    left = np.empty(parts.count, dtype=np.bool_)
    left[from_a] = parts.taken(~from_a).inside(middle[from_a])
    left[~from_a] = parts.taken(from_a).inside(middle[~from_a])
    right = left.copy()
    one, other, same_way = twins(parts)
    common = from_a[one] != from_a[other]
    for each in (one[common], other[common]):
        left[each], right[each] = same_way[common], ~same_way[common]
    return left, right


def _refuse_wrong(answer: Pieces, a: Pieces, b: Pieces, parts: Pieces, rule: _Rule) -> None:
    probes = parts.beside(_PROBE_IN)
    wrong = answer.inside(probes) != rule(a.inside(probes), b.inside(probes))
    for edge in (a, b):
        if edge.count:
            wrong &= edge.distance(probes)[0] > 0.1 * _PROBE_IN
    if wrong.any():
        raise GeometryError.saying_at(probes[wrong.argmax()], "error.joined")
