"""What a wish has on the shelf, held to what is stocked: a sheet of no gauge is a slip of the pen."""

from __future__ import annotations

from hatchwright.errors import Fault, JobError
from hatchwright.layout.layout import Layout
from hatchwright.said import Listed, inch, said
from hatchwright.tables.materials import sheet_stock
from hatchwright.tables.table import SAME_SIZE_IN


def refuse_no_gauge(layout: Layout) -> None:
    """Refuse sheets on the shelf that are neither a stock gauge nor one of the shop's own.

    In an inch job only: no metric stock is listed.

    Raises:
        JobError: with each of them, and the gauges next to it.
    """
    if layout.job.unit == "mm":
        return
    stock = [one.value for one in sheet_stock(layout.shop)]
    faults = []
    for index, sheet in enumerate(layout.job.wish.sheets):
        if min(abs(sheet.inch - gauge) for gauge in stock) < SAME_SIZE_IN:
            continue
        near = sorted(sorted(stock, key=lambda gauge: abs(gauge - sheet.inch))[:2])
        do = said("error.no_gauge.do", near=Listed(tuple(inch(gauge) for gauge in near), "or"))
        faults.append(Fault(f"wish.sheets.{index}", said("error.no_gauge"), sheet.text, do))
    if faults:
        raise JobError(tuple(faults))
