"""Nutplates: families, threads, and where the rivet holes of their ears lie."""

from __future__ import annotations

from dataclasses import dataclass

from hatchwright.errors import TableError
from hatchwright.tables.catalog import NUTPLATE_EARS, NUTPLATE_FAMILIES, NUTPLATE_THREADS
from hatchwright.tables.table import ShopTables
from hatchwright.workings import Grade, Source


@dataclass(frozen=True, slots=True)
class NutplateFamily:
    """One family of nutplates: the kind of its ears, and whether the nut floats."""

    family: str
    kind: str
    is_floating: bool
    note: str
    source: Source
    grade: Grade


@dataclass(frozen=True, slots=True)
class EarHoles:
    """Where a nutplate is riveted.

    Args:
        offsets_in: distances of the ear holes from the screw hole, along the nutplate, with their sign [in].
        source: where they stand.
        grade: how far they are to be trusted.
    """

    offsets_in: tuple[float, float]
    source: Source
    grade: Grade


def nutplate_families(shop: ShopTables | None = None) -> dict[str, NutplateFamily]:
    """All families by part number.

    Args:
        shop: a shop's own rows, when there are any.
    Returns:
        dict[str, NutplateFamily]: by the number before the suffix.
    """
    return {
        row.text("family"): NutplateFamily(
            family=row.text("family"),
            kind=row.text("kind"),
            is_floating=row.text("floating") == "yes",
            note=row.text("note"),
            source=row.source,
            grade=row.grade,
        )
        for row in NUTPLATE_FAMILIES.rows(shop)
    }


def nutplate_part(family: str, thread: str, shop: ShopTables | None = None) -> str:
    """Part number of a nutplate.

    Args:
        family: such as "MS21047".
        thread: such as "8-32".
        shop: a shop's own rows, when there are any.
    Returns:
        str: such as "MS21047L08".
    Raises:
        TableError: the family or the thread is not listed.

    >>> nutplate_part("MS21047", "6-32")
    'MS21047L06'
    """
    families = nutplate_families(shop)
    suffixes = {row.text("thread"): row.text("suffix") for row in NUTPLATE_THREADS.rows(shop)}
    if family not in families:
        raise TableError(
            f"there is no nutplate family '{family}'",
            where="nutplates",
            remedy=f"Listed: {', '.join(families)}",
        )
    if thread not in suffixes:
        raise TableError(
            f"there is no nutplate for thread '{thread}'",
            where="nutplates",
            remedy=f"Listed: {', '.join(suffixes)}",
        )
    return f"{family}{suffixes[thread]}"


def ear_holes(kind: str, thread: str, shop: ShopTables | None = None) -> EarHoles:
    """Where the rivet holes of a nutplate's ears lie.

    Args:
        kind: "two-lug", "one-lug" or "miniature".
        thread: such as "8-32".
        shop: a shop's own rows, when there are any; they win over the figures from memory.
    Returns:
        EarHoles: both distances from the screw hole.
    Raises:
        TableError: the ears of that nutplate are not known; they stand on the standard's drawing.

    >>> ear_holes("two-lug", "8-32").offsets_in
    (0.344, -0.344)
    """
    rows = NUTPLATE_EARS.rows(shop)
    for row in rows:
        if (row.text("kind"), row.text("thread")) == (kind, thread):
            nearest_in, spacing_in = row.number("nearest_in"), row.number("spacing_in")
            far_in = (
                nearest_in + spacing_in if row.text("arrangement") == "one side" else nearest_in - spacing_in
            )
            return EarHoles((nearest_in, far_in), row.source, row.grade)
    there = ", ".join(f"{row.text('kind')} {row.text('thread')}" for row in rows)
    raise TableError(
        f"the ear holes of a {kind} nutplate {thread} are not known",
        where="nutplates",
        remedy=f"Take them from the standard's drawing into the shop's own nutplate_ears.csv; known: {there}",
    )
