"""Schema numbers of job files: files of any earlier number stay readable, and are written in the present one.

A step rewrites the text and not its data, so that comments, order and lines stay.
"""

from __future__ import annotations

import re
from collections.abc import Callable, Mapping
from typing import Any, TypeGuard

from hatchwright.errors import Fault, JobError
from hatchwright.job.as_typed import raw_data, standing_at
from hatchwright.job.lines import line_of_each_key
from hatchwright.said import Said, said
from hatchwright.words.tell import tell

SCHEMA = 2
"""The schema that this program writes."""

_TEXT = r'"""(?:[^\\]|\\.)*?"""|\'\'\'.*?\'\'\'|"(?:[^"\\\n]|\\.)*"|\'[^\'\n]*\''
_PIECE = re.compile(
    rf"(?P<comment>\#[^\n]*)|(?P<text>{_TEXT})|(?P<key>[\w-]+)(?P<equals>\s*=\s*(?P<value>{_TEXT})?)?",
    re.DOTALL | re.ASCII,
)
"""What a TOML text is made of, as far as names and texts go; a bare word that is not a number is always a key."""

_QUOTED_KEY = re.compile(r"\s*[=.]")
_NUMBER = re.compile(r"[+\w]+", re.ASCII)

_US_KEYS = {"centre": "center", "pressurised": "pressurized"}


def _us_spelling(text: str) -> str:
    """From schema 1 to 2: two keys, and the side of a job on the center line, in US spelling."""

    def renamed(piece: re.Match[str]) -> str:
        if piece["comment"]:
            return piece[0]
        if quoted := piece["text"]:
            is_key = _QUOTED_KEY.match(text, piece.end()) is not None
            return f'"{_US_KEYS[quoted[1:-1]]}"' if is_key and quoted[1:-1] in _US_KEYS else quoted
        after = piece["equals"] or ""
        if piece["key"] == "side" and (piece["value"] or "")[1:-1] == "centre":
            after = after.replace("centre", "center")
        return _US_KEYS.get(piece["key"], piece["key"]) + after

    return _PIECE.sub(renamed, text)


_DEPTH = re.compile(r"bay\.keep_outs\.\d+\.depth")


def _depths_marked(text: str) -> str:
    """From schema 1 to 2: each depth behind bears a note, on its own line, that it is to be verified.

    Schema 1 called it the distance behind the skin, and one rule took it from the inner face and two from the outer.
    The number is kept and counts from the outer face: of the two meanings the one that leaves no more room.
    """
    lines = text.splitlines(keepends=True)
    for key, number in line_of_each_key(text).items():
        if _DEPTH.fullmatch(key):
            line = lines[number - 1]
            bare = line.rstrip("\r\n")
            lines[number - 1] = f"{bare}  # {tell(said('job.older_depth'))}{line[len(bare) :]}"
    return "".join(lines)


def older_depths(text: str) -> Said | None:
    """What is to be said of the depths behind in a file of schema 1, sound or not; None where there is none."""
    try:
        data = raw_data(text)
    except JobError:
        return None
    behind = standing_at(data, "bay.keep_outs") if data.get("schema") == 1 else None
    given = [one for one in behind if "depth" in one] if isinstance(behind, list) else []
    return said("job.older_depths", n=len(given)) if given else None


_STEPS: dict[int, Callable[[str], str]] = {1: lambda text: _us_spelling(_depths_marked(text))}
"""From a schema number to the step that makes the next one of it; a step never changes once released."""


def up_to_date(text: str) -> str:
    """A job's text in the present schema.

    Args:
        text: of a job file of any schema, sound or not.
    Returns:
        str: line by line the same, with the names of today; as it came when it is not of an earlier schema.
    """
    try:
        number = raw_data(text).get("schema")
    except JobError:
        return text
    if not _is_number(number) or not 1 <= number < SCHEMA:
        return text
    for step in range(number, SCHEMA):
        text = _STEPS[step](text)
    return _numbered(text)


def _numbered(text: str) -> str:
    """The same text with the present schema number; its key stands before any section."""
    for piece in _PIECE.finditer(text):
        if (piece["key"] or (piece["text"] or "")[1:-1]) == "schema":
            return text[: piece.end()] + _NUMBER.sub(str(SCHEMA), text[piece.end() :], count=1)
    return text


def refusal(data: Mapping[str, Any]) -> Fault | None:
    """Why the schema number of a job file that was brought up to date will not do; None when it will."""
    number = data.get("schema")
    if not _is_number(number) or number < 1:
        return Fault.saying("schema", "job.no_schema", str(number or ""), schema=SCHEMA)
    if number > SCHEMA:
        remedy = said("job.newer.do", schema=SCHEMA)
        return Fault("schema", said("job.newer"), given=str(number), remedy=remedy)
    return None


def _is_number(number: object) -> TypeGuard[int]:
    return isinstance(number, int) and not isinstance(number, bool)
