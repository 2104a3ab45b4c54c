"""On which line of a TOML text each key stands, so that a fault can name it."""

from __future__ import annotations

import re

_HEADER = re.compile(r"^\s*(\[\[?)\s*([^\[\]]+?)\s*\]\]?\s*(?:#.*)?$")
_KEY = re.compile(
    r"""^\s*((?:[A-Za-z0-9_-]+|"[^"]*"|'[^']*')(?:\s*\.\s*(?:[A-Za-z0-9_-]+|"[^"]*"|'[^']*'))*)\s*="""
)


def _names(dotted: str) -> list[str]:
    return [part.strip().strip("\"'") for part in dotted.split(".")]


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

    Args:
        text: a TOML document.
    Returns:
        dict: dotted path such as ``rows.0.pitch`` to its line, counted from 1.

    >>> line_of_each_key('a = 1\\n[[rows]]\\npitch = 2')
    {'a': 1, 'rows': 2, 'rows.0': 2, 'rows.0.pitch': 3}
    """
    lines: dict[str, int] = {}
    counts: dict[str, int] = {}
    table: list[str] = []
    depth = 0
    quoted = ""
    for number, line in enumerate(text.splitlines(), start=1):
        at_top = depth == 0 and not quoted
        if at_top and (header := _HEADER.match(line)):
            names = _names(header[2])
            if header[1] == "[[":
                parent = _place(names[:-1], counts)
                key = ".".join([*parent, names[-1]])
                lines.setdefault(key, number)
                counts[key] = counts.get(key, -1) + 1
            table = _place(names, counts)
            lines.setdefault(".".join(table), number)
            continue
        if at_top and (key_found := _KEY.match(line)):
            lines.setdefault(".".join([*table, *_names(key_found[1])]), number)
        depth, quoted = _scan(line, depth, quoted)
    return lines


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
