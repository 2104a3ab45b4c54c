"""What no file that a person writes comes near, refused before the text is taken apart: that would take for ever.

A TOML reader follows brackets by calling itself, joins a dotted key part by part, and takes a number of any length.
Here a text is looked through once, whatever stands in it.
"""

from __future__ import annotations

import re
from collections.abc import Iterable

from hatchwright.errors import Fault

DEEPEST = 24
"""Lists and sections within each other, and parts of a dotted key; a job has five [-]."""

LONGEST_NUMBER = 24
"""Digits of a number, which no size on an aircraft needs [-]."""

MOST_FAULTS = 100
"""So many faults are told of one file; who has mended them is told the next [-]."""

_QUOTED = re.compile(
    r'''#[^\n]*+|"""(?:[^"\\]|\\(?:.|\Z)|"(?!""))*+(?:"""|\Z)|\'\'\'(?:[^']|'(?!''))*+(?:\'\'\'|\Z)'''
    r"""|"(?:[^"\\\n]|\\.)*+"?|'[^'\n]*+'?""",
    re.DOTALL,
)
_BRACKET = re.compile(r"[\[\]{}]")
_LONG_KEY = re.compile(rf'(?<![\w".-])(?:[\w"-]++[ \t]*+\.[ \t]*+){{{DEEPEST}}}', re.ASCII)
_LONG_NUMBER = re.compile(rf"(?<![\w.])\d\w{{{LONGEST_NUMBER}}}", re.ASCII)


def beyond_reason(text: str) -> Fault | None:
    """What of a text is deeper or longer than anything that a person writes; None for every honest one."""
    bare = _QUOTED.sub(lambda found: "" if found[0].startswith("#") else '""', text)
    if _LONG_KEY.search(bare) or _depth(bare) > DEEPEST:
        return Fault.saying("file", "job.too_deep", most=DEEPEST)
    if number := _LONG_NUMBER.search(bare):
        return Fault.saying("file", "job.long_number", f"{number[0]}...", most=LONGEST_NUMBER)
    return None


def _depth(bare: str) -> int:
    """How deep the brackets of a text without its quoted texts go."""
    deepest = depth = 0
    for bracket in _BRACKET.findall(bare):
        depth = depth + 1 if bracket in "[{" else max(depth - 1, 0)
        deepest = max(deepest, depth)
    return deepest


def first_of(faults: Iterable[Fault]) -> tuple[Fault, ...]:
    """The first faults of a file, `MOST_FAULTS` at most, and one that says so where there are more."""
    found: list[Fault] = []
    for fault in faults:
        if len(found) == MOST_FAULTS:
            found.append(Fault.saying("file", "job.more_faults", most=MOST_FAULTS))
            break
        found.append(fault)
    return tuple(found)
