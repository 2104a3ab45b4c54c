"""Combinations that cannot be on a flush patch: what it has none of, what it needs, and damage that lies elsewhere."""

from __future__ import annotations

from collections.abc import Iterator
from typing import Any

import numpy as np

from hatchwright.errors import Fault
from hatchwright.job.bay import Bay
from hatchwright.job.parts import Doubler
from hatchwright.job.patch import Patch, Split
from hatchwright.said import inch, said
from hatchwright.shapes.distance import distances
from hatchwright.shapes.profile import Loop, profile_of

Sections = dict[str, Any]


def patch_faults(sections: Sections) -> Iterator[Fault]:
    """Look for faults of a flush patch, and for rows that lean on one where there is none.

    Args:
        sections: those that could be read, as for `sound.impossible`.
    """
    patch: Patch | None = sections.get("patch")
    for index, row in enumerate(sections.get("rows") or ()):
        if row.lay != "offset":
            continue
        if row.edge == "plug" and patch is None and "patch" in sections:
            yield Fault.saying(f"rows.{index}.edge", "job.no_plug", row.edge)
        if row.edge == "doubler inner" and patch is not None:
            yield Fault.saying(f"rows.{index}.edge", "job.patch_inner_row", row.edge)
    if patch is not None:
        yield from _parts(sections)


def _parts(sections: Sections) -> Iterator[Fault]:
    """What a flush patch has none of, and what it cannot be without."""
    for other in ("cover", "mount"):
        if sections.get(other) is not None:
            yield Fault.saying(other, f"job.patch_{other}")
    aircraft = sections.get("aircraft")
    if aircraft and aircraft.both_sides:
        yield Fault("aircraft.both_sides", said("job.patch_both_sides"), remedy=said("job.write_false"))
    doubler: Doubler | None = sections.get("doubler")
    if doubler is None:
        if "doubler" in sections:
            yield Fault.saying("doubler", "job.patch_no_doubler")
        return
    if doubler.inner is not None:
        yield Fault.saying("doubler.inner", "job.patch_inner")
    if doubler.face == "outside":
        yield Fault.saying("doubler.face", "job.patch_outside", doubler.face)


def place_faults(patch: Patch, outer: Loop, bay: Bay | None) -> Iterator[Fault]:
    """Look whether the patch lies within its bay, and the damage and the split within the patch.

    Args:
        outer: outline of the doubler [in].
    """
    x_min, y_min, x_max, y_max = outer.bounds
    for axis, low, high in (("X", x_min, x_max), ("Y", y_min, y_max)):
        at = sorted(row.at_in for row in bay.rows if "XY"[row.axis] == axis) if bay else []
        if len(at) >= 2 and high - low > at[-1] - at[0]:
            given = said("job.opening_over_bay.given", size=inch(high - low), bay=inch(at[-1] - at[0]))
            yield Fault.saying("doubler.outer", "job.patch_over_bay", given, axis=axis)
    points = np.array([(point.at[0].inch, point.at[1].inch) for point in patch.extent])
    for index in np.flatnonzero(~distances(profile_of(outer), points).inside).tolist():
        place = ", ".join(at.text for at in patch.extent[index].at)
        yield Fault.saying(f"patch.extent.{index}.at", "job.damage_elsewhere", place)
    if patch.split and not _crosses(patch.split, outer):
        yield Fault.saying("patch.split.at", "job.split_elsewhere", patch.split.at.text)


def _crosses(split: Split, outer: Loop) -> bool:
    """Whether the strip leaves a piece of the doubler on each of its sides."""
    low_in, high_in = split.sides_in
    return outer.bounds[split.axis] < low_in and high_in < outer.bounds[split.axis + 2]
