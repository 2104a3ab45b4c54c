"""On which line of a TOML text each key stands, so that a fault can name it."""

from __future__ import annotations

import re
from collections.abc import Iterator

_HEADER = re.compile(r"\s*+(\[\[?)([^\[\]]++)\]\]?\s*+(?:#.*)?")
_NAME = r"""\s*+(?:[A-Za-z0-9_-]++|"[^"]*+"|'[^']*+')\s*+"""
_KEY = re.compile(rf"({_NAME}(?:\.{_NAME})*+)=")
"""What they have matched they never give back: a line costs as much as it is long, whatever stands in it."""


LONGEST_KEY = 400
"""A longer key is told by its beginning; no key of any file comes near it [characters]."""


def _names(dotted: str) -> list[str]:
    return [part.strip().strip("\"'") for part in dotted[:LONGEST_KEY].split(".")]


def _place(path: list[str], counts: dict[str, int]) -> list[str]:
    """Put the running number behind every name that is an array of tables."""
    out: list[str] = []
    for name in path:
        out.append(name)
        if (key := ".".join(out)) in counts:
            out.append(str(counts[key]))
    return out


def line_of_each_key(text: str) -> dict[str, int]:
    """Find the line of every table and key.

    Returns:
        dict: dotted path such as ``rows.0.pitch`` to its line, counted from 1.

    >>> line_of_each_key('a = 1\\n[[rows]]\\npitch = 2')
    {'a': 1, 'rows': 2, 'rows.0': 2, 'rows.0.pitch': 3}
    """
    lines: dict[str, int] = {}
    for key, number in keys_in_order(text):
        lines.setdefault(key, number)
        parent, _, last = key.rpartition(".")
        if last == "0":
            lines.setdefault(parent, number)
    return lines


def keys_in_order(text: str) -> Iterator[tuple[str, int]]:
    """Go through tables and keys as they stand, also those that stand twice.

    Yields:
        tuple: dotted path such as ``rows.0.pitch``, and its line.
    """
    counts: dict[str, int] = {}
    table: list[str] = []
    for number, line, begins_here, _ in _scanned(text):
        if begins_here and (header := _HEADER.fullmatch(line)):
            names = _names(header[2])
            if header[1] == "[[":
                key = ".".join([*_place(names[:-1], counts), names[-1]])
                counts[key] = counts.get(key, -1) + 1
            table = _place(names, counts)
            yield ".".join(table), number
        elif begins_here and (key_found := _KEY.match(line)):
            yield ".".join([*table, *_names(key_found[1])]), number


def entry_lines(text: str) -> Iterator[tuple[int, str]]:
    """Go through the lines that should be an entry by themselves: no header, no part of a longer list or text.

    Yields:
        tuple: number of the line, counted from 1, and the line.
    """
    for number, line, begins_here, ends_here in _scanned(text):
        is_blank = not line.strip() or line.lstrip().startswith("#")
        if begins_here and ends_here and not is_blank and not _HEADER.fullmatch(line):
            yield number, line


def _scanned(text: str) -> Iterator[tuple[int, str, bool, bool]]:
    """Every line with its number, and whether it begins and whether it ends outside of any list or longer text."""
    depth, quoted = 0, ""
    for number, line in enumerate(text.splitlines(), start=1):
        begins_here = depth == 0 and not quoted
        depth, quoted = _scan(line, depth, quoted)
        yield number, line, begins_here, depth == 0 and not quoted


def _scan(line: str, depth: int, quoted: str) -> tuple[int, str]:
    """Follow brackets and multi-line strings to the end of the line."""
    at = 0
    while at < len(line):
        if quoted:
            end = line.find(quoted, at)
            if end < 0:
                return depth, quoted if len(quoted) == 3 else ""
            at, quoted = end + len(quoted), ""
            continue
        mark = line[at]
        if mark == "#":
            break
        if mark in "\"'":
            quoted = line[at : at + 3] if line[at : at + 3] == mark * 3 else mark
            at += len(quoted)
            continue
        depth += (mark in "[{") - (mark in "]}")
        at += 1
    return max(depth, 0), quoted if len(quoted) == 3 else ""
