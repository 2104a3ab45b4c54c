"""The steps of the work: every task of the recipe, in its order, at length and as carried, and the tools they take."""

from __future__ import annotations

from collections.abc import Iterator

from msgspec.structs import replace

from hatchwright.documents.carry_bench import CARRIED_BENCH
from hatchwright.documents.carry_closing import CARRIED_CLOSING
from hatchwright.documents.carry_cutting import CARRIED_CUTTING
from hatchwright.documents.carry_holes import CARRIED_HOLES
from hatchwright.documents.carry_mount import CARRIED_MOUNT
from hatchwright.documents.carry_parts import CARRIED_PARTS
from hatchwright.documents.carry_rivets import CARRIED_RIVETS
from hatchwright.documents.closing_steps import CLOSING
from hatchwright.documents.cutting_steps import CUTTING
from hatchwright.documents.hole_steps import HOLES
from hatchwright.documents.laying_steps import LAYING
from hatchwright.documents.mount_steps import MOUNT
from hatchwright.documents.nutplate_steps import NUTPLATES_ON
from hatchwright.documents.part_steps import PARTS
from hatchwright.documents.plain_hole_steps import PLAIN_HOLE
from hatchwright.documents.rivet_steps import RIVETS
from hatchwright.documents.step import Carried, Step, Work
from hatchwright.recipe.task import TaskName

_TELLERS = {**CUTTING, **LAYING, **PARTS, **HOLES, **NUTPLATES_ON, **RIVETS, **MOUNT, **PLAIN_HOLE, **CLOSING}
_CARRIERS = {
    **CARRIED_BENCH,
    **CARRIED_CUTTING,
    **CARRIED_HOLES,
    **CARRIED_PARTS,
    **CARRIED_RIVETS,
    **CARRIED_MOUNT,
    **CARRIED_CLOSING,
}
_ONE_GO: tuple[frozenset[TaskName], ...] = (
    frozenset({"measure_cut", "make_template", "trial"}),
    frozenset({"file", "measure_opening"}),
    frozenset({"bring_in", "locate"}),
    frozenset({"to_size", "apart"}),
    frozenset({"prepare", "ream"}),
)
"""Tasks that are one go for whoever does them: each such run is carried as one step."""


def card_steps(work: Work) -> tuple[Step, ...]:
    """Tell every task of a recipe as a step."""
    return tuple(
        replace(_TELLERS[task.name](task, work), carried=_CARRIERS[task.name](task, work))
        for task in work.recipe.tasks
    )


def carried_steps(work: Work) -> Iterator[tuple[int, int, tuple[Carried, ...]]]:
    """The steps as they are carried, those that are one go together, with the first and the last of their numbers in
    `card_steps`."""
    first, goes, name = 1, list[Carried](), ""
    for number, task in enumerate(work.recipe.tasks, start=1):
        one = _CARRIERS[task.name](task, work)
        if goes and not any({name, task.name} <= together for together in _ONE_GO):
            yield first, number - 1, tuple(goes)
            first, goes = number, []
        goes.append(one)
        name = task.name
    yield first, len(work.recipe.tasks), tuple(goes)


def step_number(first: int, last: int) -> list[str]:
    """The number of a carried step as it stands beside it, that of several in two lines."""
    return [str(first)] if first == last else [f"{first}-", str(last)]
