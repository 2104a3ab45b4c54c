"""Machine screws for covers: threads, lengths as they are written, clearance drills, families, torque."""

from __future__ import annotations

import re
from dataclasses import dataclass, replace

from hatchwright.errors import EntryError, TableError
from hatchwright.tables.catalog import AC43_TABLE_7_1, SCREW_CLEARANCE_DRILLS, SCREW_FAMILIES, SCREW_SIZES
from hatchwright.tables.drills import Drill, drill
from hatchwright.tables.table import ShopTables
from hatchwright.units import parse_length
from hatchwright.workings import Grade, Source

_LONGEST_TEXT = 40


@dataclass(frozen=True, slots=True)
class ScrewSize:
    """One thread.

    Args:
        thread: such as "8-32".
        size: number or fraction before the dash, such as "8".
        major_diameter_in: outside diameter of the thread [in].
        threads_per_in: threads in an inch [1/in].
        source: where it stands.
        grade: how far it is to be trusted.
    """

    thread: str
    size: str
    major_diameter_in: float
    threads_per_in: float
    source: Source
    grade: Grade

    @property
    def one_thread_in(self) -> float:
        """Length of one thread, the least that shall stand past the nut [in]."""
        return 1.0 / self.threads_per_in


@dataclass(frozen=True, slots=True)
class Screw:
    """A screw as it is written, such as "8-32 x 1/2": its thread and its length [in]."""

    size: ScrewSize
    length_in: float
    text: str


@dataclass(frozen=True, slots=True)
class ScrewFamily:
    """A family of screws: its head, and whether it is meant for structure."""

    family: str
    head: str
    is_flush: bool
    is_structural: bool
    source: Source
    grade: Grade


@dataclass(frozen=True, slots=True)
class Torque:
    """Tightening torque without the friction drag of a self-locking nut, which is measured and added.

    Args:
        least_in_lbf: from [in-lbf].
        greatest_in_lbf: to [in-lbf].
        limit_in_lbf: the most that is ever allowed [in-lbf].
        source: where it stands.
        grade: how far it is to be trusted.
    """

    least_in_lbf: float
    greatest_in_lbf: float
    limit_in_lbf: float
    source: Source
    grade: Grade


def screw_size(thread: str, shop: ShopTables | None = None) -> ScrewSize:
    """The thread of a screw.

    Args:
        thread: such as "8-32", "#8-32" or "1/4-28".
        shop: a shop's own rows, when there are any.
    Returns:
        ScrewSize: diameter and threads per inch.
    Raises:
        TableError: there is no such thread in the tables.

    >>> screw_size("8-32").major_diameter_in
    0.164
    """
    wanted = re.sub(r"^(#|no\.?\s*)", "", thread.strip(), flags=re.IGNORECASE)
    rows = SCREW_SIZES.rows(shop)
    for row in rows:
        if row.text("thread") == wanted:
            return ScrewSize(
                thread=wanted,
                size=row.text("size"),
                major_diameter_in=row.number("major_diameter_in"),
                threads_per_in=row.number("threads_per_in"),
                source=row.source,
                grade=row.grade,
            )
    raise TableError(
        f"there is no thread '{thread[:_LONGEST_TEXT]}' in the tables",
        where="screw sizes",
        remedy=f"Known threads: {', '.join(row.text('thread') for row in rows)}",
    )


def parse_screw(text: str, shop: ShopTables | None = None) -> Screw:
    """Read a screw as it is written.

    Args:
        text: thread and length, such as "8-32 x 1/2".
        shop: a shop's own rows, when there are any.
    Returns:
        Screw: thread and length.
    Raises:
        EntryError: the text is not a thread and a length.
        TableError: there is no such thread in the tables.

    >>> parse_screw("8-32 x 1/2").length_in
    0.5
    """
    parts = re.split(r"\s*[xX×]\s*", text.strip()) if len(text) <= _LONGEST_TEXT else ()
    if len(parts) != 2:
        raise EntryError(
            "this is not a screw",
            where=repr(text[:_LONGEST_TEXT]),
            remedy="Write thread x length, as 8-32 x 1/2",
        )
    return Screw(screw_size(parts[0], shop), parse_length(parts[1]).inch, text)


def clearance_drill(thread: str, *, fit: str = "close", shop: ShopTables | None = None) -> Drill:
    """The drill for a screw's clearance hole.

    Args:
        thread: such as "8-32".
        fit: "close" (sheet-metal practice), "tight", or "general close", "general normal", "general loose".
        shop: a shop's own rows, when there are any.
    Returns:
        Drill: with the source and grade of the pairing of screw and drill.
    Raises:
        TableError: no drill of that fit is listed for the screw.

    >>> clearance_drill("8-32").name
    '18'
    """
    drills = clearance_drills(thread, shop)
    if fit not in drills:
        raise TableError(
            f"no '{fit}' clearance drill is listed for {thread}",
            where="screw clearance drills",
            remedy=f"Listed for it: {', '.join(drills) or 'none'}",
        )
    return drills[fit]


def clearance_drills(thread: str, shop: ShopTables | None = None) -> dict[str, Drill]:
    """All clearance drills listed for a screw, by fit, side by side.

    Args:
        thread: such as "8-32".
        shop: a shop's own rows, when there are any.
    Returns:
        dict[str, Drill]: drill by fit; empty when none is listed.
    Raises:
        TableError: there is no such thread in the tables.
    """
    size = screw_size(thread, shop).size
    return {
        row.text("fit"): replace(drill(row.text("drill")), source=row.source, grade=row.grade)
        for row in SCREW_CLEARANCE_DRILLS.rows(shop)
        if row.text("size") == size
    }


def screw_families(shop: ShopTables | None = None) -> dict[str, ScrewFamily]:
    """All families of screws by part number.

    Args:
        shop: a shop's own rows, when there are any.
    Returns:
        dict[str, ScrewFamily]: by the number before the dash.
    """
    return {
        row.text("family"): ScrewFamily(
            family=row.text("family"),
            head=row.text("head"),
            is_flush=row.text("flush") == "yes",
            is_structural=row.text("structural") == "yes",
            source=row.source,
            grade=row.grade,
        )
        for row in SCREW_FAMILIES.rows(shop)
    }


def torque(thread: str, *, nut: str = "tension", shop: ShopTables | None = None) -> Torque:
    """Tightening torque when the maker gives none.

    Args:
        thread: such as "8-32".
        nut: "tension" or "shear".
        shop: a shop's own rows, when there are any.
    Returns:
        Torque: range and limit, clean dry threads of steel.
    Raises:
        TableError: the table has no such thread; it begins at No. 8, so it has none for No. 6.
    Source: [AC43.13-1B], table 7-1, page 7-9; drag to be added, par. 7-40c and d.

    >>> torque("8-32").greatest_in_lbf
    15.0
    """
    rows = AC43_TABLE_7_1.rows(shop)
    for row in rows:
        if (row.text("thread"), row.text("nut")) == (thread.strip().removeprefix("#"), nut):
            return Torque(
                row.number("torque_min_in_lbf"),
                row.number("torque_max_in_lbf"),
                row.number("torque_limit_in_lbf"),
                row.source,
                row.grade,
            )
    threads = ", ".join(dict.fromkeys(row.text("thread") for row in rows))
    raise TableError(
        f"there is no torque for {thread} with a {nut} nut",
        where="table 7-1",
        remedy=f"It has {threads} with tension or shear nuts; for others take the maker's value",
    )
