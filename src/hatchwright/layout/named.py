"""A size, a tool, a nut, a head and an error, as sentences name them."""

from __future__ import annotations

from hatchwright.errors import HatchwrightError
from hatchwright.job.cutter import Cutter, HandTool
from hatchwright.job.fasteners import SCREW_HEADS, Screws, cover_nuts
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


def nut_named(screws: Screws) -> Said:
    """The nut of a cover, with its thread."""
    if screws.nut not in cover_nuts():
        return said("hardware.unlisted_nut", name=screws.nut, size=screws.size)
    return said(f"hardware.{screws.nut.replace(' ', '_').replace('-', '_')}", size=screws.size)


def nuts_named(nut: str) -> Said:
    """A kind of nut that the program knows, several of them."""
    return said(f"nut.{nut.replace(' ', '_').replace('-', '_')}")


def head_named(screws: Screws) -> Said:
    """The head of a cover's screws."""
    if screws.head not in SCREW_HEADS:
        return said("card.head_of_screw.unlisted", name=screws.head)
    return said(f"card.head_of_screw.{screws.head.replace(' ', '_')}")


def why(error: HatchwrightError) -> tuple[Said, ...]:
    """What is wrong and what to do next, a sentence each."""
    what, remedy = said("making.sentence", words=error.what), error.remedy
    if not remedy:
        return (what,)
    return (what, remedy if isinstance(remedy, Said) else said("making.sentence", words=remedy))
