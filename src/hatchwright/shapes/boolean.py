"""Union, difference and intersection of regions, exact, arcs kept.

Both edges are cut wherever they meet. For each part it is then known whether either region lies on its left
and on its right; the part bounds the answer when the answer lies on one of its sides only. The answer is
checked beside every part against the two regions themselves. Method: docs/theory/offset.md.
"""

from __future__ import annotations

from collections.abc import Callable

import numpy as np

from hatchwright.errors import GeometryError
from hatchwright.shapes.contacts import SAME_IN, contacts, cut
from hatchwright.shapes.pieces import Bools, Pieces, joined
from hatchwright.shapes.profile import Profile
from hatchwright.shapes.stitching import stitch

_PROBE_IN = 1e-6

_Rule = Callable[[Bools, Bools], Bools]


def union(first: Profile, second: Profile) -> Profile:
    """The region that lies in either of two regions.

    Raises:
        GeometryError: a profile crosses itself, or the answer failed its own check; `place` is where.
    """
    return _combined(first, second, np.logical_or)


def intersection(first: Profile, second: Profile) -> Profile:
    """The region that lies in both of two regions; raises as `union` does."""
    return _combined(first, second, np.logical_and)


def difference(first: Profile, second: Profile) -> Profile:
    """The region of the first that does not lie in the second; raises as `union` does."""
    return _combined(first, second, np.greater)


def _combined(first: Profile, second: Profile, rule: _Rule) -> Profile:
    a, b = first.checked().working_form(), second.checked().working_form()
    i, j, place = contacts(a, b)
    a_parts, b_parts = cut(a, i, place)[0], cut(b, j, place)[0]
    b_left, b_right = _sides(a_parts, b)
    a_left, a_right = _sides(b_parts, a)
    own_left, own_right = np.ones(a_parts.count, dtype=np.bool_), np.zeros(a_parts.count, dtype=np.bool_)
    other_left, other_right = np.ones(b_parts.count, dtype=np.bool_), np.zeros(b_parts.count, dtype=np.bool_)
    on_left = np.concatenate([rule(own_left, b_left), rule(a_left, other_left)])
    on_right = np.concatenate([rule(own_right, b_right), rule(a_right, other_right)])
    parts = joined([a_parts, b_parts])
    answer = Profile(
        stitch(joined([parts.taken(on_left & ~on_right), parts.taken(on_right & ~on_left).turned()])).loops
    )
    _refuse_wrong(answer.working_form(), a, b, parts, rule)
    return answer


def _sides(parts: Pieces, region: Pieces) -> tuple[Bools, Bools]:
    """Whether the region lies on the left and on the right of each part's middle, each of shape (n,)."""
    middle = parts.middle
    inside = region.inside(middle)
    if not region.count:
        return inside, inside
    apart, which = region.distance(middle)
    common = apart <= SAME_IN
    chord = parts.end - parts.start
    same_way = (chord.conj() * region.tangent_at(region.feet(middle, which), which)).real > 0.0
    return np.where(common, same_way, inside), np.where(common, ~same_way, inside)


def _refuse_wrong(answer: Pieces, a: Pieces, b: Pieces, parts: Pieces, rule: _Rule) -> None:
    chord = parts.end - parts.start
    aside = 1j * _PROBE_IN * chord / np.abs(chord)
    probes = np.concatenate([parts.middle + aside, parts.middle - aside])
    wrong = answer.inside(probes) != rule(a.inside(probes), b.inside(probes))
    for edge in (a, b):
        if edge.count:
            wrong &= edge.distance(probes)[0] > 0.1 * _PROBE_IN
    if wrong.any():
        z = probes[wrong.argmax()]
        raise GeometryError(
            "the joined profile failed its own check",
            place=(float(z.real), float(z.imag)),
            remedy="Simplify the profiles there: look for pieces that nearly coincide",
        )
