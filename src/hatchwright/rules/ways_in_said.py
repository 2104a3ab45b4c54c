"""What is said of the ways in of a doubler that does not go through flat."""

from __future__ import annotations

import math
from collections.abc import Iterator

from hatchwright.layout.way_in import WayIn
from hatchwright.said import Amount, Said, inch, said

_STRESS_PSI = 100.0


def ways_said(way: WayIn) -> Iterator[Said]:
    """Each way that was looked at, the one that is preferred first; what can't be is said too."""
    if way.is_proved:
        yield said("way_in.not_whole")
    if way.is_rolled:
        yield said("way_in.rolled")
    if way.bowed is not None:
        most = Amount(math.floor(way.bowed.most_psi / _STRESS_PSI) * _STRESS_PSI, "psi")
        stress = stress_said(way.bowed.stress_psi)
        if way.can_bow:
            yield said("way_in.bow", chord=inch(way.bowed.bow.chord_in), stress=stress, most=most)
            yield said("way_in.scrap_first")
        else:
            yield said("way_in.bow_yields", stress=stress, most=most)


def stress_said(stress_psi: float) -> Amount:
    """A stress, rounded up."""
    return Amount(math.ceil(stress_psi / _STRESS_PSI) * _STRESS_PSI, "psi")
