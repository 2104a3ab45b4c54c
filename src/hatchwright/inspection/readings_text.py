"""The text of a file of readings: what is no text, or text in other letters, is told as what it is, never guessed."""

from __future__ import annotations

from codecs import BOM_UTF16_BE, BOM_UTF16_LE
from pathlib import Path

from hatchwright.errors import Fault, JobError
from hatchwright.said import said

LARGEST_BYTES = 16_000_000
"""Longer than any table that is told row by row why it is too long; nothing larger is read [bytes]."""

_SIGNS = (
    (b"\x89PNG", "picture"),
    (b"\xff\xd8\xff", "picture"),
    (b"GIF8", "picture"),
    (b"BM", "picture"),
    (b"II*\0", "picture"),
    (b"MM\0*", "picture"),
    (b"RIFF", "picture"),
    (b"%PDF", "pdf"),
    (b"PK\x03\x04", "packed"),
    (b"PK\x05\x06", "packed"),
    (b"\x1f\x8b", "packed"),
    (b"BZh", "packed"),
    (b"7z\xbc\xaf", "packed"),
    (b"\xfd7zXZ", "packed"),
    (b"\xd0\xcf\x11\xe0", "workbook"),
)
"""How files begin that are no table, whatever they are named, and what they are."""


def readings_text(path: Path) -> str:
    """Read the text of a table of readings; nothing that is packed is ever unpacked.

    Raises:
        JobError: it is missing, too large, a picture, packed, a workbook, or in letters that can't be told; where one
            letter is, its row is the fault's line.
    """
    try:
        if path.is_dir():
            raise JobError.about("file", "readings.is_folder", str(path))
        if path.stat().st_size > LARGEST_BYTES:
            raise JobError.about("file", "readings.too_large", str(path), most=LARGEST_BYTES // 1_000_000)
        raw = path.read_bytes()
    except OSError as error:
        raise JobError.about("file", "readings.unread", str(path), why=error.strerror or "") from None
    try:
        return text_of(raw)
    except JobError as error:
        raise JobError(error.faults, where=path.name) from None


def kind_of(raw: bytes) -> str:
    """What a file is that is no text, by how it begins: a kind `readings.is.<kind>`; "" where it may be text."""
    kind = next((kind for sign, kind in _SIGNS if raw.startswith(sign)), "")
    return "" if kind == "picture" and raw.isascii() and b"\0" not in raw else kind


def text_of(raw: bytes) -> str:
    """The text of a table that came as bytes; JobError as of `readings_text`."""
    if kind := kind_of(raw):
        raise JobError.about("file", "readings.no_text", what=said(f"readings.is.{kind}"))
    form = "utf-16" if raw.startswith((BOM_UTF16_LE, BOM_UTF16_BE)) else "utf-8-sig"
    try:
        text = raw.decode(form)
    except UnicodeDecodeError as error:
        raise JobError((_at(raw, error.start),)) from None
    if "\0" in text:
        raise JobError.about("file", "readings.no_text", what=said("readings.is.unknown"))
    return text


_SHOWN = 24
"""So much of the row is shown before a letter that can't be told [characters]."""


def _at(raw: bytes, place: int) -> Fault:
    """The letter of another alphabet, by its row, and what stands before it there."""
    before = raw[:place]
    begun = before.rpartition(b"\n")[2].decode("utf-8", "replace")
    row, column = before.count(b"\n") + 1, len(begun) + 1
    shown = f"{begun[-_SHOWN:]}?"
    return Fault.saying(
        "", "readings.other_letters", shown, line=row, code=f"{raw[place]:02X}", column=column
    )
