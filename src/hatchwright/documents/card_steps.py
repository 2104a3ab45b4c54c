"""The steps of the work card: every task of the recipe, in its order, and the tools that they take."""

from __future__ import annotations

from collections.abc import Iterator

from hatchwright.documents.closing_steps import CLOSING
from hatchwright.documents.cutting_steps import CUTTING
from hatchwright.documents.hole_steps import HOLES
from hatchwright.documents.laying_steps import LAYING
from hatchwright.documents.mount_steps import MOUNT
from hatchwright.documents.nutplate_steps import NUTPLATES_ON
from hatchwright.documents.part_steps import PARTS
from hatchwright.documents.plain_hole_steps import PLAIN_HOLE
from hatchwright.documents.rivet_steps import RIVETS
from hatchwright.documents.step import Step, Work
from hatchwright.recipe.recipe import Recipe
from hatchwright.said import Said, said

_TELLERS = {**CUTTING, **LAYING, **PARTS, **HOLES, **NUTPLATES_ON, **RIVETS, **MOUNT, **PLAIN_HOLE, **CLOSING}


def card_steps(work: Work) -> tuple[Step, ...]:
    """Tell every task of a recipe as a step."""
    return tuple(_TELLERS[task.name](task, work) for task in work.recipe.tasks)


def tools_said(recipe: Recipe) -> Iterator[Said]:
    """Every tool that a step takes, once, with how many where it takes more than one."""
    for one in recipe.tools:
        yield one.name if one.count == 1 else said("tools.several", count=one.count, tool=one.name)
