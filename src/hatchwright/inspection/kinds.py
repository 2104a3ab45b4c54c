"""A table of readings whose rows say what they are: each begins with a word of the trade."""

from __future__ import annotations

import re
from collections.abc import Mapping
from typing import Literal, TypeAlias, get_args

from hatchwright.errors import Fault, JobError
from hatchwright.job.bounds import first_of
from hatchwright.number import MOST_HOLES
from hatchwright.said import Listed

Kind: TypeAlias = Literal[
    "hole", "diameter", "edge", "corner", "thickness", "head", "countersink", "dimple", "stray"
]
"""What a row may be a reading of."""

KINDS: tuple[Kind, ...] = get_args(Kind)

_WORDS: Mapping[str, Kind] = {
    **{word: word for word in KINDS},
    "holes": "hole",
    "dia": "diameter",
    "size": "diameter",
    "thick": "thickness",
    "csk": "countersink",
}
_HEADS = frozenset(("what", "kind", "reading"))
"""How the column of these words may be headed itself."""

_MOST_LINES = 2 * len(KINDS) * MOST_HOLES
"""More than any job takes of all kinds together [lines]."""

_LONGEST_SHOWN = 60
_AROUND = " \"'"
_MARK = re.compile(r"[\t;,]")
_WORD = re.compile(r"\s*[\"']?(?P<cell>[^\W\d_]+)[\"']?(?=\s|$)")


def by_kind(text: str) -> dict[Kind, str]:
    """The rows of each kind without the word that begins them, every row on its own line still.

    A table in which no row begins with such a word is one of holes.

    Raises:
        JobError: rows begin with some such words, and others with words that are none, each by its line.
    """
    if text.count("\n") > _MOST_LINES:
        return {"hole": text}  # refused with the number of its rows by who reads it
    lines = text.splitlines()
    parted = [_parted(line) for line in lines]
    if not any(kind and _has_figures(rest) for kind, _, rest in parted):
        return {"hole": text}
    if faults := first_of(
        Fault.saying("", "readings.no_kind", cell[:_LONGEST_SHOWN], line=at, kinds=Listed(KINDS, ","))
        for at, (kind, cell, rest) in enumerate(parted, start=1)
        if not kind and cell and not _has_figures(cell) and _has_figures(rest)
    ):
        raise JobError(faults)
    found: dict[Kind, list[str]] = {}
    for at, (kind, cell, rest) in enumerate(parted):
        if cell.lower() in _HEADS or not lines[at].strip():
            continue
        if (kind or "hole") not in found:
            found[kind or "hole"] = [""] * len(lines)
        found[kind or "hole"][at] = rest if kind else lines[at]
    return {kind: "\n".join(own) for kind, own in found.items()}


def _parted(line: str) -> tuple[Kind | None, str, str]:
    """The kind that a line begins with, None for none, its first cell, and what follows."""
    mark = _MARK.search(line)
    end = mark.start() if mark else len(line)
    cell = line[:end].strip(_AROUND)
    if kind := _kind(cell):
        return kind, cell, line[end + 1 :]
    if (word := _WORD.match(line)) and (kind := _kind(word["cell"])):
        return kind, word["cell"], line[word.end() :]
    return None, cell, line


def _kind(cell: str) -> Kind | None:
    """What the words of a cell name, by the first that is known: a shop head is a head, a stray hole is stray."""
    words = cell.lower().split()
    if not all(word.isalpha() for word in words):
        return None
    return next((_WORDS[word] for word in words if word in _WORDS), None)


def _has_figures(rest: str) -> bool:
    return any(mark.isdigit() for mark in rest)
