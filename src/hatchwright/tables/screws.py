"""Machine screws for covers: threads, lengths as they are written, clearance drills, families, torque."""

from __future__ import annotations

import re
from typing import Annotated, Literal

from msgspec.structs import replace

from hatchwright.tables.columns import Heading
from hatchwright.tables.countersink import FLUSH_SLOPE
from hatchwright.tables.drills import Drill, drill
from hatchwright.tables.table import Record, ShopTables, Table


class ScrewSize(Record, frozen=True):
    """One thread.

    Args:
        size: number or fraction before the dash, such as "8", or what stands before the pitch, such as "M4".
    """

    thread: str
    size: str
    major_diameter_in: float
    threads_per_in: float

    @property
    def is_metric(self) -> bool:
        """Whether it is sized in millimeters."""
        return self.size.startswith("M")

    @property
    def one_thread_in(self) -> float:
        """Length of one thread, the least that shall stand past the nut [in]."""
        return 1.0 / self.threads_per_in


class _Clearance(Record, frozen=True):
    size: str
    fit: Literal["tight", "close", "general close", "general normal", "general loose"]
    drill: str

    @property
    def paired(self) -> Drill:
        """The drill, with the source and grade of the pairing of screw and drill."""
        return replace(drill(self.drill), source=self.source, grade=self.grade)


class ScrewFamily(Record, frozen=True):
    """A family of screws: its head, and whether it is meant for structure."""

    family: str
    head: str
    is_flush: bool
    is_structural: bool


class FlushHead(Record, frozen=True):
    """The 100 degree head of one size of screw.

    Args:
        head_min_in, head_max_in: least and greatest diameter across it [in].
        height_in: of the cone that the greatest one ends [in].
    """

    size: str
    head_min_in: float
    head_max_in: float
    height_in: float

    def cone_in(self, hole_in: float) -> float:
        """How deep the smallest head stands in a countersunk hole of that diameter, from its rim down [in]."""
        return (self.head_min_in - hole_in) / 2.0 / FLUSH_SLOPE


class Torque(Record, frozen=True):
    """Tightening torque without the friction drag of a self-locking nut, which is measured and added.

    Args:
        thread, nut: the thread, and whether the nut is a tension or a shear nut.
        least_in_lbf, greatest_in_lbf: from and to [in-lbf].
        limit_in_lbf: the most that is ever allowed [in-lbf].
    """

    thread: str
    nut: Literal["tension", "shear"]
    least_in_lbf: Annotated[float, Heading("torque_min_in_lbf")]
    greatest_in_lbf: Annotated[float, Heading("torque_max_in_lbf")]
    limit_in_lbf: Annotated[float, Heading("torque_limit_in_lbf")]


_METRIC = re.compile(r"m(?P<size>\d+(\.\d+)?)(\s*x\s*(?P<pitch>\d+(\.\d+)?))?", re.ASCII | re.IGNORECASE)

SCREW_SIZES = Table(ScrewSize, "screw_sizes")

SCREW_CLEARANCE_DRILLS = Table(_Clearance, "screw_clearance_drills", named_by=2, asks=("size", "fit"))

SCREW_FLUSH_HEADS = Table(FlushHead, "screw_flush_heads", asks=("size",))

SCREW_FAMILIES = Table(ScrewFamily, "screw_families")

AC43_TABLE_7_1 = Table(
    Torque, "ac43_13_1b_table_7_1", named_by=2, title="table 7-1", otherwise=True, asks=("thread", "nut")
)


def screw_size(thread: str, shop: ShopTables | None = None) -> ScrewSize:
    """The thread of a screw, such as "8-32", "#8-32", "1/4-28" or "M4", which is that of the coarse pitch.

    Raises:
        TableError: there is no such thread in the tables.

    >>> screw_size("8-32").major_diameter_in
    0.164
    """
    if metric := _METRIC.fullmatch(thread.strip()):
        size, pitch = f"M{metric['size']}", metric["pitch"]
        return SCREW_SIZES.one(shop, **({"thread": f"{size}x{pitch}"} if pitch else {"size": size}))
    return SCREW_SIZES.one(shop, thread=re.sub(r"^(#|no\.?\s*)", "", thread.strip(), flags=re.IGNORECASE))


def clearance_drill(thread: str, *, fit: str = "close", shop: ShopTables | None = None) -> Drill:
    """The drill for a screw's clearance hole, with the source and grade of the pairing of screw and drill.

    Args:
        fit: "close" (sheet-metal practice), "tight", or "general close", "general normal", "general loose".
    Raises:
        TableError: no drill of that fit is listed for the screw.

    >>> clearance_drill("8-32").name
    '18'
    """
    return SCREW_CLEARANCE_DRILLS.one(shop, size=screw_size(thread, shop).size, fit=fit).paired


def clearance_drills(thread: str, shop: ShopTables | None = None) -> dict[str, Drill]:
    """All clearance drills listed for a screw, by fit, side by side; empty when none is listed.

    Raises:
        TableError: there is no such thread in the tables.
    """
    rows = SCREW_CLEARANCE_DRILLS.all(shop, size=screw_size(thread, shop).size)
    return {row.fit: row.paired for row in rows}


def torque(thread: str, *, nut: str = "tension", shop: ShopTables | None = None) -> Torque:
    """Tightening torque when the manufacturer gives none: clean dry threads of steel.

    Args:
        nut: "tension" or "shear".
    Raises:
        TableError: the table has no such thread; it begins at No. 8, so it has none for No. 6.
    Source: [AC43.13-1B], table 7-1, page 7-9; drag to be added, par. 7-40c and d.

    >>> torque("8-32").greatest_in_lbf
    15.0
    """
    return AC43_TABLE_7_1.one(shop, thread=thread.strip().removeprefix("#"), nut=nut)
