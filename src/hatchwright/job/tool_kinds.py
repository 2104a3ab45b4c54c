"""What each kind of cutter and hand tool is, as rows of `tool_kinds.csv`.

Code asks what a kind is and never which kind it is: a tool that bites, turns or needs a hole to start in behaves so
whatever it is called. A row that leaves one of these questions open is refused when the program starts, so that a new
kind is never taken for another.
"""

from __future__ import annotations

import csv
from collections.abc import Mapping
from io import StringIO
from pathlib import Path
from types import MappingProxyType
from typing import Any

from msgspec import Struct

from hatchwright.tables.columns import columns_of

MEASURED = "measured"
"""Thickness of a kind whose thickest sheet each shop measures on its own tool."""


class ToolKind(Struct, frozen=True):
    """One kind.

    Args:
        kind: its name, as a job or a shelf writes it.
        guided: whether a template guides it; by hand along a line otherwise.
        bites: whether it cuts in bites, with ridges between them that depend on its advance.
        spindle_turns: whether a turning spindle decides which way round it is led.
        sets_in_anywhere: whether it may be lifted out and set in again anywhere in its cut.
        starter: whether it starts in a hole that has to be measured; one as wide as its cut does otherwise.
        round_holes: whether it makes round holes of fixed diameters and nothing else.
        thickness: `MEASURED`, or the key of the published limit that holds where none was measured.
    """

    kind: str
    guided: bool
    bites: bool
    spindle_turns: bool
    sets_in_anywhere: bool
    starter: bool
    round_holes: bool
    thickness: str


def read_kinds(text: str) -> Mapping[str, ToolKind]:
    """Read the table of kinds.

    Returns:
        Mapping: by name, in the order of the file.
    Raises:
        ValueError: a kind is there twice, or a cell of its row is empty or answers something else; names both.
    """
    columns = columns_of(ToolKind)
    reader = csv.DictReader(StringIO(text), strict=True)
    if reader.fieldnames != list(columns):
        raise ValueError(f"the columns must be {', '.join(columns)}")
    kinds: dict[str, ToolKind] = {}
    for row in reader:
        name = row["kind"]
        if None in row or not name or name in kinds:
            raise ValueError(f"kind of tool '{name}': not one row of its own")
        for at, column in columns.items():
            if not row[at]:
                raise ValueError(f"kind of tool '{name}' is not described in full: {at} is empty")
            if column.words and row[at] not in column.words:
                raise ValueError(f"kind of tool '{name}': {at} is yes or no, not '{row[at]}'")
        told: dict[str, Any] = {at: column.read(row[at]) for at, column in columns.items()}
        kinds[name] = ToolKind(**told)
    return MappingProxyType(kinds)


KINDS = read_kinds(Path(__file__).with_name("tool_kinds.csv").read_text(encoding="utf-8"))
"""Every kind by its name."""

GUIDED = tuple(one.kind for one in KINDS.values() if one.guided)
"""Names of the cutters that a template guides."""

BY_HAND = tuple(one.kind for one in KINDS.values() if not one.guided)
"""Names of the tools that follow a line or make a round hole."""
