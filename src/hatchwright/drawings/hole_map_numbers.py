"""The numbers of a hole map: which holes are numbered, and which are drilled and riveted first."""

from __future__ import annotations

from collections.abc import Iterable, Iterator

from msgspec import Struct

from hatchwright.finding import Finding
from hatchwright.judged import Status
from hatchwright.layout.layout import Layout
from hatchwright.recipe.recipe import Recipe
from hatchwright.recipe.riveting import rivet_orders
from hatchwright.recipe.task import TaskName

_EVERY = 5
_FEW = 2
_SIDES = 4
_OWN_NUMBERS = "base_screw"
_DRILLED_FIRST: tuple[TaskName, ...] = ("lay_on", "locate")


class FirstHoles(Struct, frozen=True):
    """Holes that come first, in their order.

    Args:
        drilled: holes that locate template or doubler, drilled before all others that are still to be drilled.
        riveted: the first rivet of each side, in the order in which the sides take turns.
    """

    drilled: tuple[int, ...] = ()
    riveted: tuple[int, ...] = ()

    def marks(self) -> dict[int, str]:
        """What stands behind the number of each of them, such as ``D1`` or ``R3``."""
        marks: dict[int, list[str]] = {}
        for letter, numbers in (("D", self.drilled), ("R", self.riveted)):
            for place, number in enumerate(numbers, start=1):
                marks.setdefault(number, []).append(f"{letter}{place}")
        return {number: "-".join(found) for number, found in marks.items()}


def first_holes(layout: Layout, recipe: Recipe | None) -> FirstHoles:
    """The holes of a job that its recipe drills and rivets first; none where no recipe is given."""
    if recipe is None:
        return FirstHoles()
    there = {hole.number for hole in layout.holes if hole.is_drilled}
    drilled = dict.fromkeys(
        number
        for task in recipe.tasks
        if task.name in _DRILLED_FIRST
        for made in task.made
        for number in made.numbers
        if number not in there
    )
    riveted = (number for order in rivet_orders(layout) for number in order.first[:_SIDES])
    return FirstHoles(tuple(drilled), tuple(riveted) if recipe.task("rivet") else ())


def numbered_holes(
    layout: Layout, findings: Iterable[Finding] = (), recipe: Recipe | None = None
) -> frozenset[int]:
    """The holes that a map at less than full size numbers: every fifth, the ends of each row, and those that a step or
    a finding names, of a run of numbers its ends."""
    every = {hole.number for hole in layout.holes if hole.number % _EVERY == 0}
    ends = {number for holes in layout.rows().values() for number in (holes[0].number, holes[-1].number)}
    named = {number for numbers in _named(findings, recipe) for number in _told_singly(numbers)}
    known = {hole.number for hole in layout.holes}
    return frozenset((every | ends | named) & known)


def _named(findings: Iterable[Finding], recipe: Recipe | None) -> Iterator[Iterable[int]]:
    """The holes that each finding and each step names."""
    yield from (finding.holes for finding in findings if finding.status is not Status.PASS)
    for task in recipe.tasks if recipe else ():
        yield from (made.numbers for made in task.made)
        yield from (fitted.numbers for fitted in task.fitted if fitted.what != _OWN_NUMBERS)


def _told_singly(numbers: Iterable[int]) -> Iterator[int]:
    """Of holes that are named together the ends of their runs, as a sentence names them; of a few all."""
    in_order = sorted(numbers)
    if len(in_order) <= _FEW:
        yield from in_order
        return
    held = set(in_order)
    yield from (number for number in in_order if number - 1 not in held or number + 1 not in held)
