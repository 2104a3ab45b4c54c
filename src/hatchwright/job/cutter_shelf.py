"""The shop's own cutters and hand tools, kept in a file beside the jobs with what was measured of each."""

from collections.abc import Iterator
from typing import Literal

from pydantic import Field

from hatchwright.errors import Fault
from hatchwright.job.cutter import Cutter, HandTool
from hatchwright.job.entered_file import EnteredFile
from hatchwright.said import said


class CutterShelf(EnteredFile):
    """All cutters and hand tools of a shop, each with a name of its own."""

    MANUAL = said("fault.manual_cutters")

    units: Literal["in", "mm"] = "in"
    cutters: tuple[Cutter, ...] = Field(default=(), max_length=200)
    hand_tools: tuple[HandTool, ...] = Field(default=(), max_length=200)

    @property
    def tools(self) -> tuple[Cutter | HandTool, ...]:
        """Cutters first, then hand tools."""
        return (*self.cutters, *self.hand_tools)

    def impossible(self) -> Iterator[Fault]:
        """Tools without a name of their own."""
        seen: set[str] = set()
        for kind, tools in (("cutters", self.cutters), ("hand_tools", self.hand_tools)):
            for number, tool in enumerate(tools):
                field = f"{kind}.{number}.name"
                if not tool.name:
                    yield Fault.saying(field, "job.tool_nameless")
                elif tool.name in seen:
                    yield Fault(field, said("job.tool_twice"), given=tool.name, remedy=said("job.name_each"))
                seen.add(tool.name)
