"""Offers: the first ring of an aim that passes the last check, with what binds it and what enters it."""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import dataclass, field

from msgspec.structs import replace

from hatchwright.layout.layout import Layout
from hatchwright.layout.mass import rivet_masses, sheet_masses
from hatchwright.search.proposal.best_first import Found, Tally
from hatchwright.search.proposal.binding import bindings
from hatchwright.search.proposal.entering import Sized, candidate_of
from hatchwright.search.proposal.laid import neighbors_in, points_of_row
from hatchwright.search.proposal.last_check import Entered, LastCheck, Refused
from hatchwright.search.proposal.problem import Problem
from hatchwright.search.proposal.sizes import Grown
from hatchwright.search.proposal.strength_asked import Lacking, StrengthAsked
from hatchwright.search.proposal.values import Aim, Offer, OfferedRow

MOST_JUDGED = 24
"""Rings of one aim that are judged by every rule, at some hundredths of a second each: where none of so many passes, no
more are asked, and that is told [-]."""


@dataclass
class Offering:
    """The offers of one job, with what is worked out once.

    Args:
        judging: told before each ring that is judged by every rule.
        refused: rings that did not pass, in the order in which they were asked.
        is_cut: whether rings were left unjudged after so many.
    """

    layout: Layout
    strength: StrengthAsked
    tally: Tally
    judging: Callable[[], object]
    check: LastCheck = field(init=False)
    refused: list[Refused] = field(default_factory=list)
    is_cut: bool = False

    def __post_init__(self) -> None:
        self.check = LastCheck(self.layout)

    @property
    def is_of_kind(self) -> bool:
        """Whether rings were judged and each was refused for its rivet or its sheet, whatever the opening."""
        return bool(self.refused) and all(one.of_kind for one in self.refused)

    def first(self, problem: Problem, grown: Grown, aim: Aim) -> Offer | None:
        """The best of an aim at one size of opening that passes the last check; None where none does."""
        left = MOST_JUDGED
        while True:
            raised: Problem | None = None
            refused: set[int] = set()
            for found in problem.in_order(aim, self.tally, refused):
                if left <= 0:
                    self.is_cut = True
                    return None
                left -= 1
                self.judging()
                self.tally.judged += 1
                sized = Sized(problem.shape, grown, problem.place(found))
                answer = self.check.ask(candidate_of(self.layout, problem.families[found.of], found, sized))
                if isinstance(answer, Entered):
                    short = self._short(problem, found, answer)
                    if short is None:
                        return self._offer(problem, found, sized, aim, answer)
                    raised = raised_by(problem, found, short)
                    if raised is not None:
                        break
                else:
                    self.refused.append(answer)
                    if answer.of_kind:
                        refused.add(found.of)
                    if len(refused) == len(problem.asked):
                        break
            if raised is None:
                return None
            problem = raised

    def _short(self, problem: Problem, found: Found, answer: Entered) -> Lacking | None:
        """What a ring lacks in strength, by hand methods first, then by finite elements."""
        ring_in = found.ring.width * problem.step_in
        for whole in (False, True):
            short = self.strength.lacking(answer.layout, ring_in, whole=whole)
            if short is not None:
                return short
        return None

    def _offer(self, problem: Problem, found: Found, sized: Sized, aim: Aim, answer: Entered) -> Offer:
        layout, shape, step_in = answer.layout, problem.shape, problem.step_in
        rows = tuple(
            OfferedRow(
                name=entered.name,
                distance_in=row.distance_in,
                per_side=row.per_side,
                is_staggered=row.is_staggered,
                pitches_in=_pitches_in(problem, found, number),
            )
            for number, (row, entered) in enumerate(zip(found.ring.rows, layout.job.rows, strict=True))
        )
        doubler = layout.part("doubler")
        assert doubler is not None  # it was entered with one
        x_min, y_min, x_max, y_max = doubler.edges[1].loop.bounds
        open_ = (*(one for one in answer.findings if one.status.rank), *self.strength.open)
        return Offer(
            aims=(aim,),
            shape="circle" if shape.is_round else "rounded rectangle",
            width_in=shape.width_in,
            height_in=shape.height_in,
            radius_in=shape.radius_in,
            center_in=layout.center_in,
            shift_in=sized.shift_in,
            ring_in=found.ring.width * step_in,
            gauge_in=doubler.thickness_in,
            rivet=problem.families[found.of].kind.limits.rivet,
            rows=rows,
            fasteners=len(layout.holes),
            mass_lb=ring_mass_lb(layout),
            clear_in=(x_max - x_min, y_max - y_min),
            binds=bindings(problem, found.of, found.ring, sized.shift_in, layout),
            entries=answer.candidate.entries,
            parts=answer.candidate.parts,
            departs=answer.departs,
            findings=tuple(sorted(open_, key=lambda one: one.status.severity)),
            told=answer.candidate.what,
        )


def raised_by(problem: Problem, found: Found, short: Lacking) -> Problem | None:
    """The same with the least number of rivets or the least ring that strength asks for, for that rivet and sheet; None
    where that asks for nothing more, so that only this ring is left out."""
    one = problem.asked[found.of]
    limits = one.kind.limits
    x, y = (max(pair) for pair in zip(limits.needed, short.needed, strict=True))
    single_in, double_in = (max(pair) for pair in zip(one.least_in, short.least_in, strict=True))
    own_in = (single_in, double_in)[len(found.ring.rows) - 1]
    if (x, y) == limits.needed and own_in <= found.ring.width * problem.step_in:
        return None
    kind = replace(one.kind, limits=replace(limits, needed=(x, y)))
    asked = list(problem.asked)
    asked[found.of] = replace(one, kind=kind, least_in=(single_in, double_in))
    return replace(problem, asked=tuple(asked))


def ring_mass_lb(layout: Layout) -> float:
    """Mass of the doubler, cut out, with the rivets of its rows, by the program's own sums [lb]."""
    sheets = sum(one.mass_lb for one in sheet_masses(layout) if one.name == "doubler")
    thickness = {part.name: part.thickness_in for part in layout.parts}
    weighed = 0.0
    for fastener, stack in {(hole.fastener, hole.stack) for hole in layout.holes_of("rivet")}:
        count = sum(hole.fastener == fastener and hole.stack == stack for hole in layout.holes_of("rivet"))
        grip_in = sum(thickness[name] for name in stack)
        weighed += sum(one.mass_lb for one in rivet_masses(fastener, count, grip_in, layout))
    return sheets + weighed


def _pitches_in(problem: Problem, found: Found, number: int) -> tuple[float, float]:
    """Shortest distance of neighbors on the side toward X, and toward Y; once on a circle [in]."""
    row = found.ring.rows[number]
    apart = neighbors_in(points_of_row(problem.shape, row))
    if not row.y_bays:
        return float(apart.min()), float(apart.min())
    return float(apart[: row.y_bays].min()), float(apart[row.y_bays : row.y_bays + row.x_bays].min())
