"""A size, a tool and an error, as sentences of a finding name them."""

from __future__ import annotations

from hatchwright.errors import HatchwrightError
from hatchwright.job.cutter import Cutter, HandTool
from hatchwright.said import Said, inch, said


def size(size_in: tuple[float, float]) -> Said:
    """A width and a height [in]."""
    return said("making.size", width=inch(size_in[0]), height=inch(size_in[1]))


def tool_named(tool: Cutter | HandTool) -> Said:
    """A tool by its kind, with its own name where it has one."""
    kind = kind_named(tool.kind)
    return said("tool.named", kind=kind, name=tool.name) if tool.name else kind


def kind_named(kind: str) -> Said:
    """A kind of tool."""
    return said(f"tool.{kind.replace(' ', '_').replace('-', '_')}")


def why(error: HatchwrightError) -> tuple[Said, ...]:
    """What is wrong and what to do next, a sentence each."""
    what, remedy = said("making.sentence", words=error.what), error.remedy
    if not remedy:
        return (what,)
    return (what, remedy if isinstance(remedy, Said) else said("making.sentence", words=remedy))
