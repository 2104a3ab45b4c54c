"""Slips of the pen that make a job's text unreadable, told as a mechanic would be told of them: all at once."""

from __future__ import annotations

import re
import tomllib
from collections.abc import Iterator
from datetime import date
from itertools import islice

from hatchwright.errors import Fault
from hatchwright.job.bounds import MOST_FAULTS, first_of
from hatchwright.job.entry import MEANT
from hatchwright.job.lines import entry_lines, keys_in_order
from hatchwright.said import said

_NAME = re.compile(r"([A-Za-z0-9_-]++)\s*+(=?+)\s*+(.*+)", re.DOTALL)
_LONGEST_TOLD = 200
_DAY = re.compile(r"(?<![\w\"'-])\d{4}-\d{2}-\d{2}(?![\w\"'-])", re.ASCII)
_CURLY = "“”„‟″‘’"
_LAST_LINE = re.compile(r"\(at line (\d+), column \d+\)")


def slips(text: str, error: str) -> tuple[Fault, ...]:
    """Say what is wrong with a text that is not TOML.

    Returns:
        tuple: each line that cannot be read, and each key that stands twice; else what the reader said.
    """
    keys = tuple(keys_in_order(text))
    unreadable = _unreadable(text, {line: key for key, line in keys})
    found = [*islice(unreadable, MOST_FAULTS + 1), *islice(_repeated(keys), MOST_FAULTS + 1)]
    if found:
        return first_of(sorted(found, key=lambda fault: fault.line or 0))
    named = _LAST_LINE.search(error)
    return (
        Fault(
            "file",
            said("job.no_toml", why=f"{error[:1].lower()}{_LAST_LINE.sub('', error[1:]).strip()}"),
            remedy=said("job.unclosed"),
            line=int(named[1]) if named else None,
        ),
    )


def _unreadable(text: str, fields: dict[int, str]) -> Iterator[Fault]:
    for number, line in entry_lines(text):
        if not _is_entry(line):
            told = line.strip()[:_LONGEST_TOLD]
            parts = _NAME.fullmatch(told)
            name, equals, value = parts.groups() if parts else ("", "", told)
            if not equals:
                field = fields.get(number, name or "file")
                yield Fault.saying(field, "job.no_entry", told[:60], line=number)
            else:
                yield _slip(fields.get(number, name), name, value.partition(" #")[0].rstrip(), number)


def _is_entry(line: str) -> bool:
    try:
        tomllib.loads(line)
    except ValueError:
        return False
    return True


def _slip(field: str, name: str, value: str, line: int) -> Fault:
    given = value[:60]
    if not value or (value.startswith("#") and not re.match(r"#\d", value)):
        return Fault.saying(field, "job.no_value", given, line=line)
    if day := next((one for one in _DAY.findall(value) if not _is_day(one)), None):
        return Fault.saying(field, "job.day_not_there", day, line=line)
    if value.lower() in MEANT:
        remedy = said("job.write_plain", name=name, value=MEANT[value.lower()])
        return Fault(field, said("job.yes_no"), given, remedy, line)
    if value[0] in _CURLY:
        plain = value.strip(_CURLY)
        return Fault(field, said("job.curly"), given, said("job.write_quoted", name=name, value=plain), line)
    if "\\" in value:
        return Fault.saying(field, "job.backslash", given, line=line)
    if value.startswith("["):
        return Fault.saying(field, "job.list_quotes", given, line=line)
    if value[0] in "\"'":
        return Fault.saying(field, "job.quotes_short", given, line=line, name=name)
    return Fault(field, said("job.unquoted"), given, said("job.write_quoted", name=name, value=value), line)


def _is_day(text: str) -> bool:
    try:
        date.fromisoformat(text)
    except ValueError:
        return False
    return True


def _repeated(keys: tuple[tuple[str, int], ...]) -> Iterator[Fault]:
    first: dict[str, int] = {}
    for key, line in keys:
        if key in first:
            yield Fault(key, said("job.twice", line=first[key]), "", said("job.twice.do"), line)
        first.setdefault(key, line)
