"""The tools that a job takes, by group, with what else is counted into it and out again."""

from __future__ import annotations

from collections.abc import Iterator
from typing import Literal

from msgspec import Struct

from hatchwright.job.finish import Finish
from hatchwright.layout.layout import Layout
from hatchwright.recipe.recipe import Recipe
from hatchwright.recipe.tools import Tool
from hatchwright.said import Said, inch, said

Group = Literal["drills", "dies", "riveting", "holding", "measuring", "hand", "consumables", "cut_out"]

_GROUPS: dict[Group, tuple[str, ...]] = {
    "drills": ("drill", "step_drill", "drill_stop"),
    "dies": ("dimple", "countersink", "deburr"),
    "riveting": ("gun", "set", "bar", "squeezer", "head_gauge"),
    "holding": ("temporary", "clamps", "pin_screws", "waste_screws"),
    "measuring": (
        "caliper",
        "tape_measure",
        "radius_gauge",
        "feeler",
        "straightedge",
        "glass",
        "torque",
        "bond_meter",
    ),
    "consumables": ("scrap", "tape", "plugs", "tray", "primer", "sealant", "penetrant"),
}
"""Tools by what they are for; any other is a hand tool."""

_ORDER: tuple[Group, ...] = (
    "drills",
    "dies",
    "riveting",
    "holding",
    "measuring",
    "hand",
    "consumables",
    "cut_out",
)

_BY_HAND = ("clamps", "pin_screws", "waste_screws", "file", "scrap", "tape", "plugs", "tray")
"""Of these nobody knows beforehand how many it takes: the number is written in when they are counted in."""


class CountedLine(Struct, frozen=True):
    """What is counted in and out.

    Args:
        count: None where the number is written in by hand.
        greatest_in: of a temporary fastener in a hole too large for it, what it is meant for; else None [in].
    """

    group: Group
    name: Said
    count: int | None
    greatest_in: float | None = None

    @property
    def told(self) -> Said:
        """Its name, with what is to be minded of it."""
        if self.greatest_in is None:
            return self.name
        return said("lists.tool.loose", tool=self.name, greatest=inch(self.greatest_in))


def tool_list(layout: Layout, recipe: Recipe) -> tuple[CountedLine, ...]:
    """Everything that is counted in and out: each tool of the recipe, what the finish uses up, and what is cut out."""
    lines = (*map(_line, recipe.tools), *_finish(layout.job.finish), *_cut_out())
    return tuple(sorted(lines, key=lambda one: _ORDER.index(one.group)))


def _line(tool: Tool) -> CountedLine:
    what = tool.name.id.removeprefix("tools.")
    group: Group = next((name for name, tools in _GROUPS.items() if what in tools), "hand")
    return CountedLine(group, tool.name, None if what in _BY_HAND else tool.count, tool.loose_over_in)


def _finish(finish: Finish) -> Iterator[CountedLine]:
    """The shop's own primer, treatment and sealant, by name."""
    sealant = " ".join(filter(None, (finish.sealant, finish.dash)))
    for what, name in (("treatment", finish.treatment), ("primer", finish.primer), ("sealant", sealant)):
        if name:
            yield CountedLine("consumables", said(f"lists.finish.{what}", name=name), None)


def _cut_out() -> Iterator[CountedLine]:
    """What the work takes out of the skin is counted too: the cutout, and every loose piece."""
    yield CountedLine("cut_out", said("lists.cutout"), 1)
    yield CountedLine("cut_out", said("lists.slugs"), None)
