"""Whether a template can only be laid as it should be: no turn, no flip, and not on the other side of the aircraft.

A window's plate has a corner cut off, a plug a key hole; `template_part` makes them. Here they are put to the test:
the part is laid in every wrong way, and the farthest that its edge or its key comes off its place is what a person
can see. Method: docs/theory/key.md.
"""

from __future__ import annotations

import math

import numpy as np
from msgspec import Struct

from hatchwright.judged import FLOAT_NOISE
from hatchwright.making.template.part import KEY_HOLE, PartHole, TemplatePart
from hatchwright.shapes.pieces import Complexes, Floats, complex_of, points_of

SEEN_IN = 0.125
"""An edge or a mark that lies this far off its place is seen to be wrong [in]. Common practice, no source."""

_QUARTER_TURN = np.array([[0.0, -1.0], [1.0, 0.0]])
_FACE_UP = tuple(np.linalg.matrix_power(_QUARTER_TURN, turns) for turns in range(4))
_OVER = np.array([[-1.0, 0.0], [0.0, 1.0]])

PAIRED_IN = 0.5
"""A hole of the job and one in hand that lie farther apart are two holes, not one off its place [in]. Own choice."""


def shows_in(part: TemplatePart) -> float:
    """How far a template comes off its place at least, whichever wrong way it is laid on its own job: over
    three turns face up and four face down [in]."""
    wrong = (*_FACE_UP[1:], *(way @ _OVER for way in _FACE_UP))
    return min(_off_in(part, part, way) for way in wrong)


def misfit_in(template: TemplatePart, job: TemplatePart) -> float:
    """How far a template lies off the place of the template of a job, laid face up in the way that suits it
    best [in]."""
    return min(_off_in(template, job, way) for way in _FACE_UP)


def _off_in(template: TemplatePart, job: TemplatePart, way: Floats) -> float:
    """The farthest that an edge or the key of a template lies off, its middle laid on the middle of the other [in]."""
    edge, place = template.material.working_form(), job.material.working_form()
    from_middle, to_middle = _middle(template), _middle(job)
    laid = _laid(np.concatenate([edge.start, edge.middle]), way, from_middle, to_middle)
    back = _laid(np.concatenate([place.start, place.middle]), way.T, to_middle, from_middle)
    off = max(float(place.distance(laid)[0].max()), float(edge.distance(back)[0].max()))
    key, mark = _key(template), _key(job)
    if key is None or mark is None:
        return off if key is mark else math.inf
    return max(off, float(abs(_laid(np.array([key]), way, from_middle, to_middle)[0] - mark)))


def _laid(points: Complexes, way: Floats, from_middle: complex, to_middle: complex) -> Complexes:
    return complex_of(points_of(points - from_middle) @ way.T) + to_middle


def _middle(part: TemplatePart) -> complex:
    x_min, y_min, x_max, y_max = part.material.bounds
    return complex((x_min + x_max) / 2.0, (y_min + y_max) / 2.0)


def _centers(holes: tuple[PartHole, ...]) -> Complexes:
    return np.array([complex(*hole.center) for hole in holes], dtype=np.complex128)


def _key(part: TemplatePart) -> complex | None:
    return next((complex(*hole.center) for hole in part.holes if hole.name == KEY_HOLE), None)


class HoleInHand(Struct, frozen=True):
    """A hole of the job, of the template in hand, or of both, and how far the two lie apart, the edges laid
    on each other; 0 where there is one only [in]."""

    wanted: PartHole | None
    made: PartHole | None
    off_in: float

    def is_same(self, same_in: float) -> bool:
        """Whether place and size agree but for that much [in]."""
        if self.wanted is None or self.made is None:
            return False
        return max(self.off_in, abs(self.made.diameter_in - self.wanted.diameter_in)) < same_in


def holes_in_hand(template: TemplatePart, job: TemplatePart) -> tuple[HoleInHand, ...]:
    """Pair the pilot holes of a template in hand with those that a job needs: every hole of the job in its
    order, then what is left in hand.

    Of ways to lay the template that its edges do not tell apart, it is the one in which the holes lie
    nearest."""
    off_in = [_off_in(template, job, way) for way in _FACE_UP]
    suiting = (w for w, off in zip(_FACE_UP, off_in, strict=True) if off <= min(off_in) + FLOAT_NOISE)
    return min(
        (_paired(template, job, way) for way in suiting),
        key=lambda pairs: (sum(one.made is None for one in pairs), sum(one.off_in for one in pairs)),
    )


def _paired(template: TemplatePart, job: TemplatePart, way: Floats) -> tuple[HoleInHand, ...]:
    """The nearest two first, each hole once, the template laid in one way."""
    made, wanted = template.pilots, job.pilots
    laid = _laid(_centers(made), way, _middle(template), _middle(job))
    apart = np.abs(_centers(wanted)[:, None] - laid[None, :])
    of_wanted: dict[int, int] = {}
    for flat in np.argsort(apart, axis=None, kind="stable").tolist():
        one, other = divmod(flat, len(made))
        if apart[one, other] > PAIRED_IN:
            break
        if one not in of_wanted and other not in of_wanted.values():
            of_wanted[one] = other
    pairs = [HoleInHand(hole, None, 0.0) for hole in wanted]
    for one, other in of_wanted.items():
        pairs[one] = HoleInHand(wanted[one], made[other], float(apart[one, other]))
    left = set(range(len(made))) - set(of_wanted.values())
    return (*pairs, *(HoleInHand(None, made[k], 0.0) for k in sorted(left)))
