"""What strength asks of a ring beyond the rules: margins no less than were chosen, by hand methods, then by elements.

Where a margin is short by a form that is known it is told as a least number of rivets or a least ring, so that no ring
of the same rivet and sheet under it is tried again. Method: docs/theory/proposal.md, eq. 15 and 16.
"""

from __future__ import annotations

from collections.abc import Callable, Iterable, Mapping
from dataclasses import dataclass, field

from msgspec import Struct

from hatchwright.finding import Finding
from hatchwright.judged import FLOAT_NOISE
from hatchwright.layout.cut_side import CutSide
from hatchwright.layout.layout import Layout
from hatchwright.register import find

_LAID = frozenset(("doubler", "edges", "rows"))

Ranks = Mapping[str, int]


class Lacking(Struct, frozen=True):
    """By what a ring lacks strength.

    Args:
        codes: of what is short.
        needed: rivets that a side toward X, and toward Y, asks for; 0 where that is not what lacks [-].
        least_in: ring of one row, and of two, that the doubler's sections ask for; 0 where that is not what lacks [in].
    """

    codes: tuple[str, ...]
    needed: tuple[int, int] = (0, 0)
    least_in: tuple[float, float] = (0.0, 0.0)


@dataclass
class StrengthAsked:
    """The strength of a job as it is, against which that of rings is held.

    Args:
        margin: that every margin must have [-].
        solving: told before finite elements are run.
        open: what is open in the strength of the ring that was asked last.
    """

    layout: Layout
    margin: float
    solving: Callable[[], object]
    open: tuple[Finding, ...] = ()
    _before: dict[bool, Ranks] = field(default_factory=dict)

    @property
    def is_asked(self) -> bool:
        """Whether loads are entered."""
        return self.layout.job.loads.basis != "none"

    def lacking(self, changed: Layout, ring_in: float, *, whole: bool) -> Lacking | None:
        """What a changed job lacks, None where it holds.

        Args:
            ring_in: width of its ring [in].
            whole: whether finite elements are run, which take seconds.
        """
        if not self.is_asked:
            return None
        from hatchwright.search.strength_answer import answer_of  # many modules, for jobs with loads alone
        from hatchwright.strength.margin import Margin
        from hatchwright.strength.report import WHOLE, strength_findings

        if whole:
            self.solving()
        if whole not in self._before:
            report = answer_of(self.layout, WHOLE if whole else None).report
            self._before[whole] = _ranks((one.code, one.status.rank) for one in strength_findings(report))
        report = answer_of(changed, WHOLE if whole else None).report
        self.open = tuple(one for one in strength_findings(report) if one.status.rank)
        before = self._before[whole]

        def is_short(margin: Margin) -> bool:
            if margin.ratio is None or not _is_laid(margin.code):
                return margin.status.rank > before.get(margin.code, 0)
            return margin.ratio < self.margin - FLOAT_NOISE

        short = tuple(margin for margin in report.margins if is_short(margin))
        others = (one for one in (*report.gate, *report.findings) if one.status.holds_back)
        codes = {one.code for one in others if one.status.rank > before.get(one.code, 0)}
        codes |= {margin.code for margin in short}
        if not codes:
            return None
        return Lacking(tuple(sorted(codes)), *self._least(changed, short, ring_in))

    def _least(
        self, changed: Layout, short: Iterable[object], ring_in: float
    ) -> tuple[tuple[int, int], tuple[float, float]]:
        """Rivets and ring that the closed forms ask for, for what is short."""
        from hatchwright.strength.checks.rivets import S201, rivets_for_load
        from hatchwright.strength.checks.sheets import S302, S303, S308
        from hatchwright.strength.doubler_section import doubler_section
        from hatchwright.strength.margin import Margin
        from hatchwright.strength.rivet_joint import rivet_joints
        from hatchwright.strength.site import site_of

        needed, least_in = [0, 0], [0.0, 0.0]
        site = site_of(changed, changed.shop)
        strongest = max(
            (one.ultimate for one in rivet_joints(site).values() if one.ultimate),
            key=lambda one: one.value,
            default=None,
        )
        for margin in short:
            if not isinstance(margin, Margin) or margin.applied is None or margin.allowable is None:
                continue
            asked = margin.applied.value * (1.0 + self.margin)
            if margin.code == S201 and strongest is not None:
                side = _side_of(site.sides, margin.holes)
                if side is not None:
                    count = round(rivets_for_load(load_lbf=asked, one=strongest).value)
                    needed[side.axis] = max(needed[side.axis], count)
            elif margin.code in (S302, S303, S308) and margin.allowable.value > 0.0:
                axis = dict(margin.subject.values).get("axis")
                section = doubler_section(site, 1 if axis == "Y" else 0)
                holes_in, rows = sum(section.known_in), len(changed.rows())
                missing_in = (section.width_in - holes_in) * (asked / margin.allowable.value - 1.0) / 2.0
                # A row less cuts so many holes less, one in each of the section's legs.
                one_row_in = ring_in + missing_in - holes_in * (rows - 1) / rows / 2.0
                least_in = [
                    max(pair) for pair in zip(least_in, (one_row_in, ring_in + missing_in), strict=True)
                ]
        return (needed[0], needed[1]), (least_in[0], least_in[1])


def _is_laid(code: str) -> bool:
    """Whether it asks about rows or doubler, which a ring lays; what asks about cover, members or skin alone no ring
    mends."""
    entry = find(code)
    return entry is not None and not _LAID.isdisjoint(entry.reads) and "cover" not in entry.reads


def _side_of(sides: Iterable[CutSide], holes: Iterable[int]) -> CutSide | None:
    """The side whose rivets a margin names."""
    named = set(holes)
    return next((side for side in sides if named <= {hole.number for hole in side.rivets}), None)


def _ranks(found: Iterable[tuple[str, int]]) -> Ranks:
    ranks: dict[str, int] = {}
    for code, rank in found:
        ranks[code] = max(ranks.get(code, 0), rank)
    return ranks
