"""Names of a job that no table lists: its sheets, rivets and screws, each with the entry that names it.

A job is laid out with them. What needs their values is not shown, and all else is judged as ever.
"""

from __future__ import annotations

from collections.abc import Callable, Iterable, Iterator
from functools import partial

from msgspec import Struct

from hatchwright.errors import HatchwrightError
from hatchwright.job.as_made import NO_RIVET
from hatchwright.job.job import Job
from hatchwright.job.skin import Sheet
from hatchwright.layout.layout import Hole, PartName
from hatchwright.said import Said, said
from hatchwright.tables.materials import sheet
from hatchwright.tables.rivet_part import parse_rivet
from hatchwright.tables.screws import screw_size
from hatchwright.tables.table import ShopTables

NAMED_BY = "R931"
"""The code that names what no table lists; what waits for a name is told in its line."""

_Name = tuple[str, Said, Callable[[], object]]
"""The entry that holds a name, the name with what is not known for lack of it, and what looks it up."""


class Unlisted(Struct, frozen=True):
    """One name that no table lists.

    Args:
        entry: of the job that holds it, such as ``rows.0.rivet``.
        what: the name, and what is not known for lack of it.
        refused: what its look-up says, by which an answer that failed for it is told from others.
        remedy: what the tables list, and what to do.
    """

    entry: str
    what: Said
    refused: Said | str
    remedy: Said | str


def what_of(hole: Hole) -> Said | None:
    """The name of a hole's fastener, and that its size is not known; None where a table lists it."""
    return said(f"unlisted.{hole.kind}", name=hole.fastener) if hole.nominal_in is None else None


def unlisted_names(job: Job, shop: ShopTables | None = None) -> tuple[Unlisted, ...]:
    """Every name of a job that neither the tables nor the shop's own list, in the order of the job."""
    found = []
    for entry, what, look_up in _names(job, shop):
        try:
            look_up()
        except HatchwrightError as error:
            found.append(Unlisted(entry, what, error.what, error.remedy))
    return tuple(found)


def names_behind(error: HatchwrightError, names: Iterable[Unlisted]) -> list[Unlisted]:
    """Those of the names for which something could not be answered; none where it fails for another reason."""
    return [name for name in names if error.what in (name.what, name.refused)]


def _names(job: Job, shop: ShopTables | None) -> Iterator[_Name]:
    yield from _sheet("skin", job.skin, shop)
    yield from _sheet("doubler", job.doubler, shop)
    for index, row in enumerate(job.rows):
        yield f"rows.{index}.rivet", said("unlisted.rivet", name=row.rivet), partial(parse_rivet, row.rivet)
    for index, one in enumerate(job.as_made.fitted if job.as_made else ()):
        if one.rivet != NO_RIVET:
            at, name = f"as_made.fitted.{index}.rivet", said("unlisted.rivet", name=one.rivet)
            yield at, name, partial(parse_rivet, one.rivet)
    for index, stray in enumerate(job.as_made.strays if job.as_made else ()):
        if stray.filled:
            at, name = f"as_made.strays.{index}.filled", said("unlisted.rivet", name=stray.filled)
            yield at, name, partial(parse_rivet, stray.filled)
    yield from _sheet("cover", job.cover, shop)
    if screws := job.cover.screws if job.cover else None:
        of, size, rivet = "cover.screws", screws.size, screws.nut_rivet
        yield f"{of}.size", said("unlisted.screw", name=size), partial(screw_size, size, shop)
        if rivet:
            yield f"{of}.nut_rivet", said("unlisted.nut_rivet", name=rivet), partial(parse_rivet, rivet)
        yield f"{of}.head", said("unlisted.screw_head", name=screws.head), lambda: screws.known_head
        yield f"{of}.nut", said("unlisted.nut", name=screws.nut), lambda: screws.known_nut
    if job.patch:
        yield from _sheet("plug", job.patch.plug, shop, entry="patch.plug")
    if job.mount and (size := job.mount.screw_size):
        yield "mount.screw_size", said("unlisted.mount_screw", name=size), partial(screw_size, size, shop)


def _sheet(part: PartName, one: Sheet | None, shop: ShopTables | None, entry: str = "") -> Iterator[_Name]:
    if one is not None:
        kind = said("sheet.clad" if one.clad else "sheet.bare", alloy=one.alloy, temper=one.temper)
        what = said("unlisted.sheet", part=said(f"part.{part}"), name=kind)
        yield f"{entry or part}.alloy", what, partial(sheet, one.alloy, one.temper, one.clad, shop)
