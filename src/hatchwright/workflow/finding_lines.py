"""A finding in lines of a terminal: its answer with the value, then what to do."""

from __future__ import annotations

from collections.abc import Iterator

from hatchwright.finding import Finding
from hatchwright.units import Unit
from hatchwright.words.findings import advice_text, told_text
from hatchwright.words.tell import tell


def finding_lines(finding: Finding, unit: Unit) -> Iterator[str]:
    """Write a finding for a person, such as ``STOP  T106  holes of .2500 in ...``, then the advice,
    indented."""
    yield f"{tell(finding.status)}  {finding.code}  {told_text(finding, unit)}"
    if advice := advice_text(finding, unit):
        yield f"    {advice}"
