"""Combinations that cannot be on a plain hole: what it has none of, and a ring that is not there."""

from __future__ import annotations

from collections.abc import Iterator
from typing import Any

from hatchwright.errors import Fault
from hatchwright.job.plain_hole import PlainHole


def plain_hole_faults(sections: dict[str, Any]) -> Iterator[Fault]:
    """Look for faults of a plain hole.

    Args:
        sections: those that could be read, as for `sound.impossible`.
    """
    hole: PlainHole | None = sections.get("plain_hole")
    if hole is None:
        return
    for other in ("cover", "mount", "patch"):
        if sections.get(other) is not None:
            yield Fault.saying(other, f"job.plain_hole.{other}")
    if hole.edge == "ring" and sections.get("doubler", hole) is None:
        yield Fault.saying("plain_hole.edge", "job.plain_hole.no_ring", hole.edge)
    if hole.wires is False and hole.wire_distance is not None:
        yield Fault.saying("plain_hole.wire_distance", "job.plain_hole.no_wire", hole.wire_distance.text)
