"""S309: legs of the doubler beside the opening that no rivet holds to the skin."""

from __future__ import annotations

from collections.abc import Iterator

import numpy as np

from hatchwright.finding import Finding
from hatchwright.judged import Status
from hatchwright.layout.cut_side import TIE_IN, CutSide
from hatchwright.layout.layout import points_of
from hatchwright.remedy import ASK
from hatchwright.said import said
from hatchwright.strength.comparison import strength_code, told
from hatchwright.strength.family import Family
from hatchwright.strength.site import Site
from hatchwright.strength.worked import STATICS, inputs, work_out

S309 = strength_code("S309", "rows", "doubler", "opening", theory="net_section")


def leg_findings(site: Site) -> Iterator[Family[Finding]]:
    """Legs that are held at their ends only.

    Yields:
        Family: S309 for each side beside which no rivet is there within the length of the opening.
    Method: docs/theory/net_section.md.
    """
    if site.doubler is not None:
        yield Family("doubler", lambda: (_loose(side) for side in site.sides if not _is_held(side)))


def _is_held(side: CutSide) -> bool:
    """Whether a rivet is there beyond this edge of the opening and within its length."""
    holes = [hole for hole in side.ahead if hole.is_fitted and "doubler" in hole.stack]
    along_in, (low_in, high_in) = points_of(holes) @ (-side.way[1], side.way[0]), side.span_in
    return bool(np.any((along_in > low_in + TIE_IN) & (along_in < high_in - TIE_IN)))


def _loose(side: CutSide) -> Finding:
    length = work_out(side.cut_in, "leg [in]", *inputs("in", opening=side.cut_in), by=STATICS)
    return told(
        S309, Status.CAUTION, said("S309.subject", side=side.name), length, said("S309.add"), ASK, unit="in"
    )
