"""What to do about what was made wrong: for each deviation the ways out that pass when they are applied to the job and
the whole job is judged again, with what each does to its neighbors, the metal and the weight."""

from __future__ import annotations

from collections.abc import Iterable, Iterator
from itertools import islice

from msgspec import Struct

from hatchwright.errors import HatchwrightError
from hatchwright.finding import Finding
from hatchwright.job.departures import Subject
from hatchwright.job.other_side import MirroredJob
from hatchwright.layout.layout import Layout
from hatchwright.layout.survey import survey
from hatchwright.progress import Progress, unheard
from hatchwright.recipe.recipe import recipe_of
from hatchwright.remedy import Change, Remedy
from hatchwright.said import Said, said
from hatchwright.search.candidate import Candidate, concern_of
from hatchwright.search.changes import candidates, data_asked
from hatchwright.search.no_worse import PIECES
from hatchwright.search.remedy import MOST_JUDGED, MOST_OF_A_KIND, MOST_SINGLY, Strength, asked_of, remedy_of
from hatchwright.search.strength_held import StrengthHeld
from hatchwright.search.trial import Passed, Target, Trial, target_of
from hatchwright.search.way_effects import Effects, effects_of
from hatchwright.verdict import Line

LEAVE = said("rescue.leave")
"""The last way out of every deviation."""

MOST_TRIED = 120
"""Changes that are tried for one deviation, at some 10 milliseconds each [-]."""
_MOST_PASSING = 3
"""Changes of one kind that pass the rules and are then asked for recipe and strength, the smallest first [-]."""


class WayOut(Struct, frozen=True):
    """One way out of a deviation.

    Args:
        kind: of the change.
        findings: those of the line that pass by it.
        remedy: what is entered, and the sentence that tells it.
        effects: what it does to everything else.
        strength: how far that was tried, where the job names loads.
        departs: in what the job departs with it from what was mandated or given.
    """

    kind: Change
    findings: tuple[Finding, ...]
    remedy: Remedy
    effects: Effects
    strength: Strength
    departs: tuple[Subject, ...]


class Deviation(Struct, frozen=True):
    """One cause that does not pass of what is made, and its ways out; to leave it to the design approval holder is
    always one more, the last.

    Args:
        tried: how many changes were tried [-].
        left_out: whether there were more than are tried.
        asks: what to look up so that more can be tried; none of it is a way out yet.
    """

    line: Line
    ways: tuple[WayOut, ...]
    tried: int
    left_out: bool = False
    asks: tuple[Said, ...] = ()


def deviations(layout: Layout, lines: Iterable[Line], hole: int | None = None) -> tuple[Line, ...]:
    """The causes that do not pass of what was measured: a drilled hole, a filed edge.

    Args:
        lines: those of a verdict.
        hole: the one that is asked about, None for all.
    """
    drilled = {one.number for one in layout.holes if one.is_drilled or not one.is_fitted}
    missing = any(not one.is_fitted for one in layout.holes)
    edges = {edge.name for part in layout.parts for edge in part.edges if edge.uncertainty_in > 0.0}

    def is_made(finding: Finding) -> bool:
        if finding.unit in PIECES:
            return missing
        return bool(
            not drilled.isdisjoint(finding.holes)
            or finding.cause in edges
            or (finding.judged.uncertainty > 0.0 and not finding.holes)
        )

    asked = (line for line in lines if line.acknowledged is None and any(map(is_made, line.findings)))
    return tuple(line for line in asked if hole is None or hole in line.holes)


def rescue(
    layout: Layout,
    judged: Iterable[Finding],
    lines: Iterable[Line],
    hole: int | None = None,
    *,
    hand_only: bool = False,
    progress: Progress = unheard,
) -> tuple[Deviation, ...]:
    """The ways out of each deviation of a job, the gravest first; of one hole where that is asked.

    Args:
        judged: every answer of rules, making and mount.
        lines: of the verdict.
        hand_only: whether strength is tried by hand methods alone: finite elements take seconds for each change that
            passes all else.
        progress: told before each deviation how many are done, and where finite elements are run.
    """
    asked, found = deviations(layout, lines, hole), list[Deviation]()

    def tell(id: str) -> None:
        progress(len(found) / len(asked), said(id, done=len(found), all=len(asked)))

    held = StrengthHeld(layout, hand_only, lambda: tell("progress.rescue_elements"))
    work = _Work(layout, judged, held)
    for line in asked:
        tell("progress.rescue")
        found.append(work.ways(line))
    return tuple(found)


class _Work:
    """The changes of one job on trial, with what is worked out once: strength and recipe as they are."""

    def __init__(self, layout: Layout, judged: Iterable[Finding], held: StrengthHeld) -> None:
        self.layout, self.held = layout, held
        self.trial = Trial(layout, tuple(judged))
        of_one = len(layout.holes) + len(survey(layout).near)
        self.most = min(MOST_TRIED, MOST_JUDGED // max(1, of_one))
        self._lacks: frozenset[object] | None = None

    def ways(self, line: Line) -> Deviation:
        """The first change of each kind that passes everything."""
        if isinstance(self.layout.job, MirroredJob):
            return Deviation(line, (), 0)  # nothing of the mirrored side was made
        ways, tried, most_in_all = list[WayOut](), 0, len(line.findings) > MOST_SINGLY
        asks, offered = dict[Said, None](), list[Candidate]()
        for asked in asked_of(line):
            target = target_of(self.layout, self.trial.judged, asked.findings)
            concern = concern_of(self.layout, asked.findings)
            asks |= dict.fromkeys(data_asked(asked.changes, concern)) if not asks else {}
            for kind in asked.changes:
                some = islice(candidates(kind, concern), min(MOST_OF_A_KIND, self.most - tried))
                found, count = self._first(some, target)
                tried += count
                if found is not None and found.candidate not in offered:
                    offered.append(found.candidate)
                    effects = effects_of(self.layout, self.trial.judged, found)
                    remedy = remedy_of(found, self.held.tried)
                    ways.append(WayOut(kind, asked.findings, remedy, effects, self.held.tried, found.departs))
        return Deviation(line, tuple(ways), tried, most_in_all or tried >= self.most, tuple(asks))

    def _first(self, some: Iterable[Candidate], target: Target) -> tuple[Passed | None, int]:
        passing = 0
        count = 0
        for candidate in some:
            count += 1
            found = self.trial.passed(candidate, target)
            if found is None:
                continue
            if self._holds(found.layout):
                return found, count
            passing += 1
            if passing >= _MOST_PASSING:
                break
        return None, count

    def _holds(self, changed: Layout) -> bool:
        """Whether recipe and strength lack nothing, and fail nothing, that they do not as the job is."""
        if self._lacks is None:
            self._lacks = frozenset(lacks(self.layout))
        try:
            return self._lacks.issuperset(lacks(changed)) and self.held.holds(changed)
        except HatchwrightError:
            return False


def lacks(layout: Layout) -> Iterator[object]:
    """What the recipe of a job lacks: a drill that no table has, a size that is not known."""
    return (lack for kind in recipe_of(layout).kinds for layer in kind.layers for lack in layer.lacks)
