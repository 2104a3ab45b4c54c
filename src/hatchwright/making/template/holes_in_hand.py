"""The holes of a template in hand against those of the template that a job needs, hole by hole."""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np

from hatchwright.making.template.key import holes_laid
from hatchwright.making.template.part import PartHole, TemplatePart
from hatchwright.shapes.pieces import Complexes

PAIRED_IN = 0.5
"""A hole of the job and one in hand that lie farther apart are two holes, not one off its place [in]. Own choice."""


@dataclass(frozen=True, slots=True)
class HoleInHand:
    """A hole of the job, of the template in hand, or of both.

    Args:
        off_in: how far the two lie apart, the edges laid on each other; 0 where there is one only [in].
    """

    wanted: PartHole | None
    made: PartHole | None
    off_in: float

    def is_same(self, same_in: float) -> bool:
        """Whether place and size agree but for that much [in]."""
        if self.wanted is None or self.made is None:
            return False
        return max(self.off_in, abs(self.made.diameter_in - self.wanted.diameter_in)) < same_in


def holes_in_hand(template: TemplatePart, job: TemplatePart) -> tuple[HoleInHand, ...]:
    """Pair the pilot holes of a template in hand with those that a job needs.

    Returns:
        tuple: every hole of the job in its order, then what is left in hand; of ways to lay the template that its
            edges do not tell apart, the one in which the holes lie nearest.
    """
    ways = [_paired(template.pilots, laid, job.pilots) for laid in holes_laid(template, job)]
    return min(
        ways, key=lambda pairs: (sum(one.made is None for one in pairs), sum(one.off_in for one in pairs))
    )


def _paired(
    made: tuple[PartHole, ...], laid: Complexes, wanted: tuple[PartHole, ...]
) -> tuple[HoleInHand, ...]:
    """The nearest two first, each hole once."""
    places = np.array([complex(*hole.center) for hole in wanted], dtype=np.complex128)
    apart = np.abs(places[:, None] - laid[None, :])
    of_wanted: dict[int, int] = {}
    for flat in np.argsort(apart, axis=None, kind="stable").tolist():
        one, other = divmod(flat, len(made))
        if apart[one, other] > PAIRED_IN:
            break
        if one not in of_wanted and other not in of_wanted.values():
            of_wanted[one] = other
    pairs = [
        HoleInHand(hole, made[of_wanted[k]], float(apart[k, of_wanted[k]]))
        if k in of_wanted
        else HoleInHand(hole, None, 0.0)
        for k, hole in enumerate(wanted)
    ]
    left = set(range(len(made))) - set(of_wanted.values())
    return (*pairs, *(HoleInHand(None, made[k], 0.0) for k in sorted(left)))
