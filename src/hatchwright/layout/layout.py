"""The derived geometry of a job, as frozen values: parts with their edges, and every hole with its stack."""

from __future__ import annotations

from dataclasses import dataclass
from typing import Literal

from hatchwright.job.frame import Frame
from hatchwright.job.job import Job
from hatchwright.shapes.profile import Loop, Profile
from hatchwright.tables.cited import Cited
from hatchwright.tables.limits import limit
from hatchwright.tables.table import ShopTables

PartName = Literal["skin", "doubler", "cover"]
HoleKind = Literal["rivet", "screw"]


@dataclass(frozen=True, slots=True)
class Edge:
    """One edge of one part.

    Args:
        name: in the trade's words, such as "opening edge".
        loop: the edge itself, counter-clockwise [in].
        metal_inside: whether the part's metal lies inside the loop.
        uncertainty_in: of the measured edge, 0 for a drawn one [in].
    """

    name: str
    loop: Loop
    metal_inside: bool
    uncertainty_in: float = 0.0


@dataclass(frozen=True, slots=True)
class Part:
    """One sheet of the stack.

    Args:
        name: skin, doubler or cover.
    """

    name: PartName
    thickness_in: float
    alloy: str
    temper: str
    clad: bool
    edges: tuple[Edge, ...]


@dataclass(frozen=True, slots=True)
class Hole:
    """One hole of the job.

    Args:
        number: stable number.
        row: name of its row.
        kind: rivet or screw.
        x_in: center [in].
        y_in: center [in].
        fastener: part number without the length, or the thread of a screw.
        diameter_in: nominal diameter of the fastener, not of the hole [in].
        stack: the parts it goes through, from outside.
        is_made: whether the place was measured on the aircraft.
        uncertainty_in: of the measured place, 0 for a drawn one [in].
        hole_in: measured hole diameter, None when it was not measured [in].
        drawn_in: where a measured hole was drawn, None when the place above is the drawn one [in].
    """

    number: int
    row: str
    kind: HoleKind
    x_in: float
    y_in: float
    fastener: str
    diameter_in: float
    stack: tuple[PartName, ...]
    is_made: bool = False
    uncertainty_in: float = 0.0
    hole_in: float | None = None
    drawn_in: tuple[float, float] | None = None


@dataclass(frozen=True, slots=True)
class Layout:
    """All that is derived from a job once.

    Args:
        frame: its frame, laid on the page.
        center_in: center of the opening [in].
        wanted: the finished opening as drawn [in].
        opening: the opening as it stands: as filed when measured, else as drawn [in].
        rough_cut: the line to cut to before filing, None without a cutter [in].
        parts: skin, doubler and cover, those that there are.
        holes: every hole in the order of its number.
        shop: a shop's own rows of the tables, by which the job is judged and made; None without.
    """

    job: Job
    frame: Frame
    center_in: tuple[float, float]
    wanted: Loop
    opening: Loop
    rough_cut: Profile | None
    parts: tuple[Part, ...]
    holes: tuple[Hole, ...]
    shop: ShopTables | None = None

    def limit(self, key: str) -> Cited:
        """One limit of the tables, the shop's own where it has one; see `tables.limits.limit`."""
        return limit(key, self.shop)

    def part(self, name: PartName) -> Part | None:
        """The part of that name, or None when the job has none."""
        return next((part for part in self.parts if part.name == name), None)

    def holes_of(self, kind: HoleKind) -> tuple[Hole, ...]:
        """All rivets or all screws."""
        return tuple(hole for hole in self.holes if hole.kind == kind)

    def rows(self) -> dict[str, tuple[Hole, ...]]:
        """Row name to its holes, in the order in which they are laid."""
        rows: dict[str, list[Hole]] = {}
        for hole in self.holes:
            rows.setdefault(hole.row, []).append(hole)
        return {name: tuple(holes) for name, holes in rows.items()}
