"""The legs of the walk round a bay, in the order in which its readings are taken, each with what is filled in there."""

from __future__ import annotations

from collections.abc import Iterator

from msgspec import Struct
from msgspec.structs import replace

from hatchwright.metrology.quadrilateral import LENGTHS
from hatchwright.page.entry_sheet import Box, EntrySheet, Section
from hatchwright.said import said
from hatchwright.words.tell import tell

SITE = "site"

_LEGS: tuple[tuple[str, tuple[str, ...], tuple[str, ...]], ...] = (
    ("bay", ("mandate.bay_x", "mandate.bay_y"), ()),
    ("sketch", ("site.u", "site.seen_from", "site.up", "site.right"), ()),
    ("corners", (), ("site.corners",)),
    ("rows", (), ("site.rows", "site.flanges")),
    ("behind", (), ("site.hazards", "site.existing")),
    ("skin", ("site.thickness_u",), ("site.thickness", "site.curvature")),
    ("center", ("site.gap",), ("site.routes",)),
    ("borescope", (), ("site.borescope",)),
    ("tapes", (), ("site.tapes",)),
)
"""Legs of the walk: each by its name, its boxes, and its sections and lists, by their paths."""

_OTHER_BOXES = ("mandate.bay_x", "mandate.bay_y")
"""Boxes on the page that are none of the survey's: what the data say of the bay, to be set beside it."""


def is_on_page(path: str) -> bool:
    """Whether an entry of the job stands on the page of its survey."""
    return path.partition(".")[0] == SITE or path in _OTHER_BOXES


class Leg(Struct, frozen=True):
    """One leg of the walk round the bay, with what is filled in there."""

    name: str
    title: str
    boxes: tuple[Box, ...]
    parts: tuple[Section, ...]


def legs_of(sheet: EntrySheet) -> Iterator[Leg]:
    """Each leg with its boxes as they stand; the names of rows and edges are offered where one is asked for."""
    lines = [line for name in ("rows", "flanges") for line in sheet.sections[f"{SITE}.{name}"].parts]
    names = tuple(line.boxes[0].value for line in lines if line.boxes and line.boxes[0].value)
    for name, boxes, parts in _LEGS:
        title = tell(said(f"page_site.leg.{name}"))
        within = tuple(_offering(sheet.sections[part], names) for part in parts)
        yield Leg(name, title, tuple(sheet.boxes[box] for box in boxes), within)


def _offering(part: Section, names: tuple[str, ...]) -> Section:
    """The same with the landmarks offered where the name of one is asked for, and all six lengths of the corners at
    hand: an empty one is still to be taped."""

    def offered(box: Box) -> Box:
        asks = box.kind == "words" and box.path.rpartition(".")[2] in ("x_from", "y_from", "0")
        return replace(box, choices=names) if asks else box

    if part.path == f"{SITE}.corners":
        return replace(part, in_line=tuple(LENGTHS))
    if part.path not in (f"{SITE}.routes", f"{SITE}.tapes"):
        return part
    return replace(
        part, parts=tuple(replace(line, boxes=tuple(map(offered, line.boxes))) for line in part.parts)
    )
