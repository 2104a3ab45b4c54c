"""The catalogue: whole sentences under symbolic ids, in gettext's PO files, one folder a language, one file a surface.

PO is an open standard that translators know. The files are read as they stand (there is nothing to compile and nothing
that can go stale): once a process each is cut into its entries, and an entry is read when it is first told
(`benchmarks/bench_words.py`).
"""

from __future__ import annotations

import ast
from collections.abc import Iterator, Mapping
from functools import lru_cache
from gettext import c2py
from pathlib import Path
from string import Formatter
from typing import TypeAlias

from msgspec import Struct

HOME = "en_US"
"""The language in which every id has an entry; another language holds only what differs, and falls back on it."""

_FOLDER = Path(__file__).parent

Piece: TypeAlias = tuple[str, str | None, str]
"""Text, the hole after it (None at the end), and how the hole is to be written."""


class Entry(Struct, frozen=True):
    """One sentence of one language.

    Args:
        id: symbolic.
        forms: its text; singular and plural forms where it has more than one.
        note: who reads it, where, how long it may be.
        file: name of the PO file.
        line: where it stands in that file, counted from 1.
    """

    id: str
    forms: tuple[str, ...]
    note: str
    file: str
    line: int


def languages() -> tuple[str, ...]:
    """Every language that there is, the one of the house first."""
    found = sorted(folder.name for folder in _FOLDER.iterdir() if (folder / "card.po").is_file())
    return (HOME, *(name for name in found if name != HOME))


def entries(language: str = HOME) -> Iterator[Entry]:
    """Every entry of one language, file by file; none for a language that there is not."""
    for file, text in _texts(language):
        yield from read_entries(text, file)


def _texts(language: str) -> Iterator[tuple[str, str]]:
    """Name and text of every file of one language."""
    folder = _FOLDER / language
    if not folder.is_dir():
        return
    for path in sorted(folder.iterdir(), key=lambda path: path.name):
        if path.name.endswith(".po"):
            yield path.name, path.read_text(encoding="utf-8")


def read_entries(text: str, file: str) -> Iterator[Entry]:
    """Read a PO file; the header, an entry with an empty id, included.

    Raises:
        ValueError: a line that is no PO, named with its file and number.
    """
    note: list[str] = []
    parts: dict[str, str] = {}
    key, start = "", 0
    for number, line in enumerate([*text.splitlines(), ""], start=1):
        if line.startswith('"'):
            if not key:
                raise ValueError(f"{file}:{number}: text without msgid or msgstr")
            parts[key] += _unquoted(line)
        elif line.startswith("msg"):
            key, _, rest = line.partition(" ")
            if key == "msgid":
                start = number
            parts[key] = _unquoted(rest)
        elif line.startswith("#"):
            note.append(line.lstrip("#. "))
        elif line.strip():
            raise ValueError(f"{file}:{number}: not a line of a PO file: {line[:60]!r}")
        elif parts:
            forms = tuple(form for name, form in parts.items() if name.startswith("msgstr"))
            yield Entry(parts["msgid"], forms, " ".join(note), file, start)
            note, parts, key = [], {}, ""


def _unquoted(text: str) -> str:
    """The text between its quotation marks; most have nothing to be escaped, which is five times as fast."""
    return ast.literal_eval(text) if "\\" in text else text.strip()[1:-1]


@lru_cache(maxsize=8)
def language(name: str) -> Mapping[str, tuple[str, str]]:
    """One language, with what it does not hold taken from `HOME`: id to the lines of its entry and the rule of its
    plurals."""
    written: dict[str, tuple[str, str]] = {}
    for one in dict.fromkeys((HOME, name)):
        rule = "n != 1"
        for file, text in _texts(one):
            for lines in text.split("\n\n"):
                _, is_entry, after = lines.partition('msgid "')
                id = after.partition('"')[0]
                if id:
                    written[id] = (lines, rule)
                elif is_entry:
                    header = next(read_entries(lines, file))
                    rule = _rule(header.forms[0]) or rule
    return written


def pieces(id: str, n: int | None = None, tongue: str = HOME) -> tuple[Piece, ...]:
    """The text of one entry, taken apart at its holes.

    Args:
        n: chooses between singular and plural, where the entry has both.
    Raises:
        KeyError: no entry has this id.
    """
    lines, rule = language(tongue)[id]
    forms = _forms(lines)
    return forms[0] if len(forms) == 1 or n is None else forms[_plural(rule)(n)]


@lru_cache(maxsize=16)
def names_under(prefix: str) -> tuple[str, ...]:
    """What stands behind a prefix in the ids of `HOME`, such as the headings of a paper."""
    return tuple(id.removeprefix(prefix) for id in language(HOME) if id.startswith(prefix))


def as_written(id: str) -> str:
    """The text of an entry of `HOME` with its holes, for a script that fills them itself.

    Raises:
        KeyError: no entry has this id.
    """
    return "".join(before if hole is None else f"{before}{{{hole}}}" for before, hole, _ in pieces(id))


def _rule(header: str) -> str:
    """The plural rule of a PO header, "" where it names none."""
    _, _, after = header.partition("plural=")
    return after.partition(";")[0].partition("\n")[0].strip()


_plural = lru_cache(maxsize=16)(c2py)


@lru_cache(maxsize=8192)
def _forms(lines: str) -> tuple[tuple[Piece, ...], ...]:
    """The forms of the entry that some lines hold, each taken apart at its holes."""
    entry = next(read_entries(lines, ""))
    return tuple(
        tuple((before, hole, spec or "") for before, hole, spec, _ in Formatter().parse(form))
        for form in entry.forms
    )
