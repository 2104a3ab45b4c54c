"""The lists of one side on paper and as a table: hardware, sheet blanks, and tools that are counted in and out."""

from __future__ import annotations

from collections.abc import Iterator
from typing import Any

from msgspec import Struct

from hatchwright.documents.blanks_list import BlankLine, blanks_list
from hatchwright.documents.csv_table import Cell, csv_from
from hatchwright.documents.paper_head import paper_head
from hatchwright.documents.parts_list import PartLine, parts_list
from hatchwright.documents.tool_list import CountedLine, tool_list
from hatchwright.documents.typst_pdf import Part
from hatchwright.drawings.page_frame import side_word
from hatchwright.layout.layout import Layout
from hatchwright.making.guide import job_recipe
from hatchwright.making.making import Making
from hatchwright.said import Amount, Said, Value, inch, said
from hatchwright.units import MM_PER_IN, Unit
from hatchwright.words.of_job import in_words_of
from hatchwright.words.tell import tell

COLUMNS = (
    "list",
    "item",
    "number",
    "description",
    "thickness",
    "along_x",
    "along_y",
    "grain",
    "need",
    "spare",
    "order",
    "price",
)
"""Columns of the table, `lists.column.<name>` of the catalog."""


class Lists(Struct, frozen=True):
    """What one side of a job takes."""

    layout: Layout
    hardware: tuple[PartLine, ...]
    blanks: tuple[BlankLine, ...]
    counted: tuple[CountedLine, ...]

    def told(self, what: Value) -> str:
        """In the words and the unit of the job."""
        job = self.layout.job
        return tell(in_words_of(job.kind, what), job.unit)


def lists_of(layout: Layout, making: Making | None) -> Lists:
    """Gather the lists of one side of a job."""
    recipe = job_recipe(layout, making)
    return Lists(layout, parts_list(layout), blanks_list(layout, making), tool_list(layout, recipe))


def lists_part(lists: Lists, *, date: str, stop: str) -> Part:
    """The lists as a paper.

    Args:
        date: when they were made, and of which answers.
        stop: what holds work back; "" where nothing does.
    """
    head = paper_head(lists.layout.job, said("lists.heading.title"), date=date)
    return Part("lists", {"head": head, "stop": stop, **lists_on_paper(lists), **count_sheet_words()})


def lists_on_paper(lists: Lists) -> dict[str, Any]:
    """Every line of the lists, and what stands under their headings."""
    told, none = lists.told, said("lists.not_known")
    headings = {
        "hardware": ("item", "number", "description", "need", "spare", "order", "price")
        if lists.hardware
        else (),
        "blanks": ("blanks", "part", "sheet", "along_x", "along_y", "grain", "price") if lists.blanks else (),
        "counted": ("counted", "tool", "count", "in", "out"),
    }
    names = dict.fromkeys(("hardware", *(name for of in headings.values() for name in of)))
    return {
        "words": {name: told(said(f"lists.heading.{name}")) for name in names},
        "hardware": [
            [
                *(told(one.item), one.number or told(none), told(one.description)),
                *map(str, (one.count, one.spares, one.order)),
            ]
            for one in lists.hardware
        ],
        "blanks": [
            [
                *(told(one.part), told(one.sheet)),
                *(told(inch(size_in) if size_in is not None else none) for size_in in one.size_in),
                told(one.grain),
            ]
            for one in lists.blanks
        ],
        "nothing": "" if lists.hardware else told(said("lists.nothing")),
        "spares": told(_spares(lists.layout)) if lists.hardware else "",
        "allowance": told(_allowance(lists.layout)) if lists.blanks else "",
        "counted": [[told(one.told), "" if one.count is None else str(one.count)] for one in lists.counted],
    }


def count_sheet_words() -> dict[str, str]:
    """How things are counted in and out, when that is complete, and who signs."""
    return {
        name: tell(said(f"lists.count.{name}")) for name in ("how", "complete", "in_by", "out_by", "second")
    }


def lists_csv(lists: Lists, *, date: str, verdict: Said) -> bytes:
    """The same lists as a table; a shop fills its column of prices. Each row says whose it is and on what it rests.

    Args:
        date: when they were made, and of which answers.
        verdict: of this side.
    Raises:
        ExportError: it did not read back as it was written.
    """
    job, told = lists.layout.job, lists.told
    whose = {"job": job.title, "side": side_word(job), "made": date, "verdict": told(verdict)}
    headings = (told(said(f"lists.column.{name}", unit=job.unit)) for name in (*COLUMNS, *whose))
    return csv_from(tuple(headings), ((*row, *whose.values()) for row in csv_rows(lists)))


def csv_rows(lists: Lists) -> Iterator[tuple[Cell, ...]]:
    """A row for each line, in the order of the paper."""
    told, unit = lists.told, lists.layout.job.unit
    hardware, blanks, tools = (told(said(f"lists.of.{name}")) for name in ("hardware", "blanks", "tools"))
    for part in lists.hardware:
        named = told(part.item), part.number or told(said("lists.not_known")), told(part.description)
        yield hardware, *named, None, None, None, "", part.count, part.spares, part.order, None
    for blank in lists.blanks:
        sizes = (plain_length(size_in, unit) for size_in in (blank.thickness_in, *blank.size_in))
        yield blanks, told(blank.part), "", told(blank.sheet), *sizes, told(blank.grain), 1, 0, 1, None
    for tool in lists.counted:
        yield tools, told(tool.told), "", "", None, None, None, "", tool.count, None, None, None


def plain_length(value_in: float | None, unit: Unit) -> float | None:
    """A length as programs read it, in thousandths or hundredths of the unit."""
    if value_in is None:
        return None
    return round(value_in, 4) if unit == "in" else round(value_in * MM_PER_IN, 3)


def _spares(layout: Layout) -> Said:
    share, least = layout.limit("spares_share"), layout.limit("spares_least")
    percent, count = Amount(100.0 * share.value, ""), Amount(least.value, "")
    return said("lists.spares", share=percent, least=count, grade=share.grade)


def _allowance(layout: Layout) -> Said:
    allowance = layout.limit("blank_allowance")
    return said("lists.blanks.allowance", allowance=inch(allowance.value), grade=allowance.grade)
