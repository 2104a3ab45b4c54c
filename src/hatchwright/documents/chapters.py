"""Pieces of the chapters of a paper that is kept: sections, tables, figures, as `templates/chapter.typ` sets them."""

from __future__ import annotations

from collections.abc import Iterable, Sequence
from typing import Any

from hatchwright.said import Value
from hatchwright.units import Unit
from hatchwright.words.tell import tell

Block = dict[str, Any]
"""One piece of a chapter, known by its first key."""


def section(title: Value) -> Block:
    """A heading, and a bookmark of the file."""
    return {"section": tell(title)}


def text(lines: Iterable[Value], unit: Unit) -> Block:
    """Sentences, each a paragraph."""
    return {"text": [tell(line, unit) for line in lines]}


def box(words: str) -> Block:
    """What must be resolved first."""
    return {"box": words}


def figure(number: int, caption: Value, unit: Unit) -> Block:
    """A picture of the chapter by its number, with its caption."""
    return {"figure": number, "caption": tell(caption, unit)}


def table(
    heads: Sequence[Value], rows: Iterable[Sequence[str]], unit: Unit, *, widths: Sequence[float] = ()
) -> Block:
    """A table with a header row.

    Args:
        widths: shares of the width of each column, as wide as its words when not given.
    """
    told = [tell(head, unit) for head in heads]
    return {"table": [told, [list(row) for row in rows]], "widths": list(widths)}
