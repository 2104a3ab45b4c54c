"""A tool as findings name it: its kind, and the name by which the shop keeps it."""

from __future__ import annotations

from hatchwright.job.cutter import Cutter, HandTool
from hatchwright.said import Said, said


def tool_named(tool: Cutter | HandTool) -> Said:
    """A tool by its kind, with its own name where it has one."""
    kind = kind_named(tool.kind)
    return said("tool.named", kind=kind, name=tool.name) if tool.name else kind


def kind_named(kind: str) -> Said:
    """A kind of tool."""
    return said(f"tool.{kind.replace(' ', '_').replace('-', '_')}")
