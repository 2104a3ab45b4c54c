"""The shop's machine that makes templates: its room, its tools, and what lies in the way on its table.

Every size and rate is a fact of the shop, from its own machine and its own trials; nothing here is a rated value of
a maker.
"""

from collections import Counter
from collections.abc import Iterator
from typing import Annotated, Literal, TypeVar

from pydantic import Field

from hatchwright.errors import Fault
from hatchwright.job.entered_file import EnteredFile
from hatchwright.job.entry import (
    AngleDeg,
    Coordinate,
    Count,
    Diameter,
    Entered,
    NotNegative,
    Positive,
    SpindleSpeed,
    TabSize,
)
from hatchwright.said import inch

CLEAR_IN = 0.125
"""Room kept between the tool and a clamp, to the side and above [in]. Common practice, no source."""

_STEEPEST_DEG = 45.0


class MachineTool(Entered):
    """What the machine must know of any tool."""

    number: Count
    diameter: Diameter
    reach: Positive
    spindle: SpindleSpeed
    plunge: Positive


class EndMill(MachineTool):
    """A tool that cuts edges; it drills only the key hole of a plug, which is as wide as itself."""

    kind: Literal["end mill"]
    feed: Positive
    pass_depth: Positive


class Drill(MachineTool):
    """A tool that only drills."""

    kind: Literal["drill"]
    peck: Positive


class Engraver(MachineTool):
    """A pointed tool that engraves lines and letters; without one the template is marked by hand."""

    kind: Literal["engraver"]
    feed: Positive
    depth: Positive


Tool = EndMill | Drill | Engraver
_Tool = TypeVar("_Tool", EndMill, Drill, Engraver)


class Clamp(Entered):
    """A clamp on the table, or anything else that the tool must not meet."""

    name: str = Field(default="", max_length=80)
    x_from: Coordinate
    x_to: Coordinate
    y_from: Coordinate
    y_to: Coordinate
    height: NotNegative


class Tabs(Entered):
    """Bridges of metal or plastic that hold what is cut free until they are cut by hand."""

    count: Count
    width: TabSize
    height: TabSize


class Machine(EnteredFile):
    """A machine of the shop with a blank on its table."""

    MANUAL = "docs/machine-file.md"

    name: str = Field(default="", max_length=80)
    units: Literal["in", "mm"]
    travel: tuple[Positive, Positive, Positive]
    blank_at: tuple[NotNegative, NotNegative]
    spoil_board: Positive
    cut_below: NotNegative
    safe_height: Positive
    approach: Positive
    ramp: AngleDeg
    tabs: Tabs
    tools: tuple[Annotated[Tool, Field(discriminator="kind")], ...] = Field(min_length=1, max_length=99)
    clamps: tuple[Clamp, ...] = Field(default=(), max_length=99)

    @property
    def engraver(self) -> Engraver | None:
        """The first engraver, None when there is none."""
        return self.tool(Engraver)

    def tool(self, kind: type[_Tool], diameter_in: float | None = None) -> _Tool | None:
        """The first tool of a kind, None when there is none.

        Args:
            diameter_in: the only one that will do, None for any [in].
        """
        fitting = (tool for tool in self.tools if isinstance(tool, kind))
        return next(
            (tool for tool in fitting if diameter_in is None or abs(tool.diameter.inch - diameter_in) < 1e-6),
            None,
        )

    def impossible(self) -> Iterator[Fault]:
        """What cannot be together."""
        if self.cut_below.exact_in >= self.spoil_board.exact_in:
            yield Fault.saying("cut_below", "job.spoil_board", self.cut_below.text)
        if self.approach.exact_in > self.safe_height.exact_in:
            yield Fault.saying("approach", "job.approach", self.approach.text)
        if not 0.0 < self.ramp <= _STEEPEST_DEG:
            yield Fault.saying("ramp", "job.ramp", f"{self.ramp:g}", most=f"{_STEEPEST_DEG:g}")
        numbers = Counter(tool.number for tool in self.tools)
        for index, tool in enumerate(self.tools):
            if numbers[tool.number] > 1:
                yield Fault.saying(f"tools.{index}.number", "job.tool_number_twice", str(tool.number))
        for index, clamp in enumerate(self.clamps):
            if clamp.x_to.exact_in <= clamp.x_from.exact_in or clamp.y_to.exact_in <= clamp.y_from.exact_in:
                yield Fault.saying(f"clamps.{index}", "job.clamp")
            if self.safe_height.inch < clamp.height.inch + CLEAR_IN:
                yield Fault.saying(
                    "safe_height",
                    "job.safe_height",
                    self.safe_height.text,
                    least=inch(CLEAR_IN),
                    clamp=clamp.name or str(index + 1),
                )
