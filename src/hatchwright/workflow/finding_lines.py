"""A finding in lines of a terminal: its answer with the value, then what to do."""

from __future__ import annotations

from collections.abc import Iterator

from hatchwright.finding import Finding
from hatchwright.making.answer import told
from hatchwright.units import Unit


def finding_lines(finding: Finding, unit: Unit) -> Iterator[str]:
    """Write a finding for a person.

    Yields:
        str: such as ``STOP  T106  holes of .2500 in ...``, then the advice, indented.
    """
    yield f"{finding.status.word}  {finding.code}  {told(finding, unit)}"
    if finding.advice:
        yield f"    {finding.advice}"
