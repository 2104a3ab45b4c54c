"""S309: legs of the doubler that no rivet holds to the skin beside the opening."""

from __future__ import annotations

from collections.abc import Iterator

from hatchwright.finding import Finding
from hatchwright.ground import practice
from hatchwright.judged import Status
from hatchwright.remedy import ASK
from hatchwright.said import inch, said
from hatchwright.strength.comparison import strength_code, told
from hatchwright.strength.drawn_load import middle_of_cut
from hatchwright.strength.load_case import Case
from hatchwright.strength.site import Site

S309 = strength_code("S309", "rows", "doubler", "opening", theory="net_section")

_HELD = practice("a doubler is riveted all round its opening")


def leg_findings(site: Site, cases: tuple[Case, ...]) -> Iterator[Finding]:
    """Legs that lie along a load with no rivet through skin and doubler beside the opening.

    In tension such a leg is a strap held at its ends, which cautions; pressed, or sheared with the skin, it can move by
    itself, and no margin here shows that it doesn't.

    Yields:
        Finding: S309 for each such leg.
    Method: docs/theory/net_section.md.
    """
    doubler, opening = site.doubler, site.layout.opening
    if doubler is None or not any(edge.name == "doubler inner edge" for edge in doubler.part.edges):
        return
    rivets = [hole for hole in site.layout.holes_of("rivet") if len(hole.stack) > 1 and hole.is_fitted]
    for axis in (0, 1):
        loaded = [case for case in cases if case.along(axis).value or case.q.value]
        if not loaded:
            continue
        is_moved = any(case.along(axis).value < 0.0 or case.q.value for case in loaded)
        low_in, high_in = opening.bounds[axis], opening.bounds[axis + 2]
        middle_in = middle_of_cut(site, axis)
        for above in (False, True):
            along_in = [hole.place[axis] for hole in rivets if (hole.place[1 - axis] > middle_in) == above]
            if any(low_in <= at_in <= high_in for at_in in along_in):
                continue
            before_in = max((at_in for at_in in along_in if at_in < low_in), default=low_in)
            beyond_in = min((at_in for at_in in along_in if at_in > high_in), default=high_in)
            subject = said(
                "S309.subject",
                leg=f"{'YX'[axis]}{'+' if above else '-'}",
                axis="XY"[axis],
                length=inch(beyond_in - before_in),
            )
            yield told(
                S309, Status.UNKNOWN if is_moved else Status.CAUTION, subject, _HELD, said("S309.rivets"), ASK
            )
