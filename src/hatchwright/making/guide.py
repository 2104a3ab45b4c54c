"""What the guide template of a job does for its holes, as the recipe asks it."""

from __future__ import annotations

import math
from itertools import combinations

from hatchwright.layout.layout import Hole, Layout
from hatchwright.making.making import Making
from hatchwright.making.pins.pin_layout import Pin, planned_pins
from hatchwright.making.template.part import drilled_through
from hatchwright.recipe.planned import Guide
from hatchwright.recipe.recipe import Recipe, recipe_of


def job_recipe(layout: Layout, making: Making | None) -> Recipe:
    """How a job is made, with its template where it has one."""
    return recipe_of(layout, guide_of(making) if making else None)


def guide_of(making: Making) -> Guide:
    """Which holes are drilled through the template, which of them locate it, and whether it is a window."""
    led = frozenset(one.hole.number for one in drilled_through(making) if "skin" in one.hole.stack)
    return Guide(making.is_window, led, frozenset(hole.number for hole in locating_pair(making)))


def first_pins(making: Making) -> list[Pin]:
    """The pins that hold the template in the first stage of the cut; none without a plan."""
    pins = planned_pins(making)
    return [pins.pins[index] for index in pins.plan.stages[0].pins] if pins and pins.plan else []


def locating_pair(making: Making) -> tuple[Hole, ...]:
    """The two pilot holes farthest apart, of those that hold in the first stage where there are two; else none."""
    numbers = {pin.hole for pin in first_pins(making)}
    through = [one.hole for one in drilled_through(making) if "skin" in one.hole.stack]
    of_plan = [hole for hole in through if hole.number in numbers]
    return max(
        combinations(of_plan if len(of_plan) > 1 else through, 2),
        key=lambda pair: math.dist(pair[0].place, pair[1].place),
        default=(),
    )
