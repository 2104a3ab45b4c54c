"""Days as a calendar file that any calendar program reads. Source: [RFC5545], from memory; read back by the tests."""

from __future__ import annotations

from collections.abc import Iterable
from datetime import UTC, date, datetime

from msgspec import Struct

_LONGEST_LINE = 75
"""Octets in a line without its end. Source: [RFC5545], 3.1, from memory."""


class Event(Struct, frozen=True):
    """Something on a day.

    Args:
        uid: the same for the same thing in every file that is made, so that a calendar takes the later one over.
    """

    uid: str
    day: date
    summary: str
    description: str


def calendar_bytes(events: Iterable[Event], *, now: datetime, name: str) -> bytes:
    """The file.

    Args:
        now: when it is made, with its zone.
        name: of the calendar.
    """
    lines = [
        "BEGIN:VCALENDAR",
        "VERSION:2.0",
        "PRODID:-//hatchwright//due//EN",
        "CALSCALE:GREGORIAN",
        f"NAME:{_escaped(name)}",
    ]
    stamp = now.astimezone(UTC).strftime("%Y%m%dT%H%M%SZ")
    for event in events:
        lines += [
            "BEGIN:VEVENT",
            f"UID:{_escaped(event.uid)}",
            f"DTSTAMP:{stamp}",
            f"DTSTART;VALUE=DATE:{event.day:%Y%m%d}",
            f"SUMMARY:{_escaped(event.summary)}",
            f"DESCRIPTION:{_escaped(event.description)}",
            "TRANSP:TRANSPARENT",
            "END:VEVENT",
        ]
    return "".join(f"{part}\r\n" for line in (*lines, "END:VCALENDAR") for part in _folded(line)).encode()


def _escaped(text: str) -> str:
    """Text as the value of a line. Source: [RFC5545], 3.3.11, from memory."""
    for mark, instead in (("\\", "\\\\"), (";", "\\;"), (",", "\\,"), ("\r\n", "\\n"), ("\n", "\\n")):
        text = text.replace(mark, instead)
    return "".join(letter for letter in text if letter.isprintable())


def _folded(line: str) -> list[str]:
    """A line in parts of at most 75 octets, each after the first behind a blank; no letter is cut in two."""
    parts, part, octets = [], "", 0
    for letter in line:
        size = len(letter.encode())
        if octets + size > _LONGEST_LINE:
            parts.append(part)
            part, octets = " ", 1
        part, octets = part + letter, octets + size
    return [*parts, part]
