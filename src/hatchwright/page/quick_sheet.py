"""What the page shows of a quick answer: its boxes with echoes and faults, and the answer as soon as there is one."""

from __future__ import annotations

from collections.abc import Mapping

from msgspec import Struct

from hatchwright.errors import Fault, JobError
from hatchwright.job.job_fields import JobField
from hatchwright.page.entry_sheet import Box
from hatchwright.page.lay_out_sheet import echo_of
from hatchwright.said import Said
from hatchwright.tables.table import ShopTables
from hatchwright.units import Unit
from hatchwright.workflow.quick.answer import Answer, Quick
from hatchwright.workflow.quick.book import entries_of, work_out

_LENGTHS = ("length", "coordinate", "diameter")


class QuickSheet(Struct, frozen=True):
    """One question as it stands.

    Args:
        boxes: its entries, those that it needs first.
        answer: None while something is missing or wrong.
        to_enter: labels of what is still missing; none where something is wrong.
    """

    one: Quick
    unit: Unit
    boxes: tuple[Box, ...]
    answer: Answer | None
    to_enter: tuple[str, ...]

    @property
    def said(self) -> dict[str, tuple[str, tuple[Fault, ...]]]:
        """What stands beside each box: its echo, or its faults."""
        return {box.path: (box.echo, box.faults) for box in self.boxes}

    @property
    def is_faulty(self) -> bool:
        """Whether anything that was entered is wrong."""
        return any(box.faults for box in self.boxes)


def quick_sheet(
    one: Quick, typed: Mapping[str, str], *, unit: Unit = "in", shop: ShopTables | None = None
) -> QuickSheet:
    """Fill in what was typed, and answer.

    Args:
        typed: what stands in each box, by its name; names that are no box's are left out.
        unit: of bare lengths.
    """
    fields = sorted(entries_of(one), key=lambda field: not field.required)
    held = {field.name: typed.get(field.name, "") for field in fields}
    answer, faults = None, tuple[Fault, ...]()
    try:
        answer = work_out(one, held, unit=unit, shop=shop)
    except JobError as error:
        faults = error.faults
    missing = {fault.field for fault in faults if _is_missing(fault)}
    by_box: dict[str, list[Fault]] = {}
    for fault in faults:
        if not _is_missing(fault):
            by_box.setdefault(fault.field.partition(".")[0], []).append(fault)
    boxes = tuple(_box(field, held[field.name], unit, by_box.get(field.name, ())) for field in fields)
    to_enter = tuple(field.label for field in fields if field.name in missing)
    return QuickSheet(one, unit, boxes, answer, to_enter)


def _is_missing(fault: Fault) -> bool:
    return isinstance(fault.what, Said) and fault.what.id == "job.missing"


def _box(field: JobField, value: str, unit: Unit, faults: list[Fault] | tuple[Fault, ...]) -> Box:
    return Box(
        path=field.name,
        label=field.label,
        help=field.help,
        kind=field.kind,
        value=value,
        required=field.required,
        choices=field.choices,
        echo=echo_of(value, field.kind, unit) if field.kind in _LENGTHS else "",
        faults=tuple(faults),
    )
