"""Everything that rules, making and the screws of a mount answer to one layout, entered or tried."""

from __future__ import annotations

from hatchwright.errors import GeometryError
from hatchwright.finding import Finding
from hatchwright.layout.layout import Layout
from hatchwright.making.making import Making, making_of
from hatchwright.making.making_findings import making_findings
from hatchwright.rules.check import check


def answers_of(layout: Layout) -> tuple[tuple[Finding, ...], Making | None]:
    """Judge a layout by every rule, by its making and by the screws of what is mounted: the findings in the order of
    their code, and what follows from cutter and template, None without."""
    made, making = answers_of_making(layout)
    return (*check(layout), *made, *answers_of_mount(layout)), making


def answers_of_mount(layout: Layout) -> tuple[Finding, ...]:
    """Judge the screws of what is mounted alone; nothing where nothing is."""
    if layout.job.mount is None:
        return ()
    from hatchwright.strength.mount_screws import mount_screw_findings  # ten modules that few jobs need

    return mount_screw_findings(layout)


def answers_of_making(layout: Layout) -> tuple[tuple[Finding, ...], Making | None]:
    """Judge the making of a layout alone, which takes twice as long as all rules."""
    try:
        making = making_of(layout)
    except GeometryError:
        making = None  # making_findings says why
    return (*making_findings(layout, making), *_answers_of_scatter(layout, making)), making


def _answers_of_scatter(layout: Layout, making: Making | None) -> tuple[Finding, ...]:
    """Judge the shop's scatter; nothing where none is entered."""
    if layout.job.scatter is None:
        return ()
    from hatchwright.search.risk.scatter_findings import scatter_findings  # eight modules that few jobs need

    return scatter_findings(layout, making)
