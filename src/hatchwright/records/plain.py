"""A whole store as plain files that a person reads without this program, and back again with the same heads.

``chain.jsonl`` holds every entry as it was hashed, one a line; ``index.txt`` the same as a list; ``records`` a folder
for each job and fleet with its history as text and the papers and files that were kept with it.
"""

from __future__ import annotations

import json
import re
from collections.abc import Iterator
from pathlib import Path
from typing import Any

import msgspec

from hatchwright.errors import RecordError
from hatchwright.records.disk import disk_told
from hatchwright.records.entry import Entered
from hatchwright.records.kinds import Kind
from hatchwright.records.manifest import Manifest
from hatchwright.records.store import Store
from hatchwright.said import Said, said
from hatchwright.words.tell import tell

CHAIN, INDEX, HISTORY = "chain.jsonl", "index.txt", "history.txt"
RECORDS, OF_THE_SHOP, UNNAMED = "records", "shop", "not-named"
_THE_FILE = "file"
_LONGEST_NAME = 80
_SUFFIXES = (
    (b"%PDF-", ".pdf"),
    (b"\x89PNG\r\n", ".png"),
    (b"\xff\xd8\xff", ".jpg"),
    (b"PK\x03\x04", ".zip"),
    (b"<svg", ".svg"),
    (b"{", ".json"),
)
"""How files of a kind begin. Source: their own standards, from memory; only a name hangs on it."""


def write_plain(store: Store, folder: Path) -> list[str]:
    """Write all entries of a store and all bytes that are kept.

    Args:
        folder: an empty one.
    Returns:
        list[str]: the files, as paths below the folder.
    Raises:
        RecordError: the store can't be read or the folder can't be written.
    """
    with disk_told(folder):
        written = list(_chain(store, folder))
        seen: set[str] = set()
        places: set[str] = set()
        for about in sorted(store.newest()):
            place = f"{RECORDS}/{_free(_safe(about) or OF_THE_SHOP, places)}"
            written += _subject(store, about, folder, place, seen)
        for sha256, content in store.all_kept():
            if sha256 not in seen:
                written.append(_put(folder, f"{RECORDS}/{UNNAMED}/{sha256}{_suffix(content)}", content))
    return written


def entries_in(folder: Path) -> Iterator[Entered]:
    """The entries of an export as they stand there, sound or not.

    Raises:
        RecordError: a line is no entry.
    """
    decoder = msgspec.json.Decoder(Entered)
    with disk_told(folder), (folder / CHAIN).open("rb") as lines:
        for number, line in enumerate(lines, 1):
            try:
                yield decoder.decode(line)
            except (msgspec.MsgspecError, ValueError):
                raise RecordError.saying("backup.no_entry", where=str(folder / CHAIN), line=number) from None


def kept_in(folder: Path, manifest: Manifest) -> Iterator[tuple[str, bytes]]:
    """The kept bytes of an export, each once, under the SHA-256 that its manifest gives."""
    seen: set[str] = set()
    for held in manifest.files:
        is_kept = held.path.startswith(f"{RECORDS}/") and not held.path.endswith(f"/{HISTORY}")
        if is_kept and held.sha256 not in seen:
            seen.add(held.sha256)
            with disk_told(folder):
                yield held.sha256, (folder / held.path).read_bytes()


def _chain(store: Store, folder: Path) -> Iterator[str]:
    """Every entry as it was hashed, and the list of them."""
    encoder = msgspec.json.Encoder()
    with (
        (folder / CHAIN).open("wb") as chain,
        (folder / INDEX).open("w", encoding="utf-8", newline="\n") as index,
    ):
        index.write(tell(said("plain.index")) + "\n\n")
        for entry in store.entries():
            chain.write(encoder.encode(entry) + b"\n")
            mark = tell(said("plain.signed" if entry.is_signed else "plain.not_signed"))
            row = (
                f"{entry.seq:>7}",
                entry.at,
                entry.head,
                f"{entry.kind:<10}",
                f"{mark:<8}",
                entry.about or OF_THE_SHOP,
            )
            index.write("  ".join((*row, entry.author)).rstrip() + "\n")
    yield from (CHAIN, INDEX)


def _subject(store: Store, about: str, folder: Path, place: str, seen: set[str]) -> Iterator[str]:
    """The history of one job or fleet, and what was kept with it."""
    names: dict[str, str] = {}
    used: set[str] = set()
    (folder / place).mkdir(parents=True)
    with (folder / place / HISTORY).open("w", encoding="utf-8", newline="\n") as history:
        history.write(tell(said("plain.history", about=about or OF_THE_SHOP)) + "\n")
        for entry in store.entries(about=about):
            try:
                body = entry.said
            except (ValueError, RecursionError):
                body = {}
            for sha256, name in _named(body):
                if sha256 in names:
                    continue
                content = next((held for _, held in store.kept_of([sha256])), None)
                if content is None:
                    continue
                seen.add(sha256)
                names[sha256] = _free(_file_name(entry, name, content), used)
                yield _put(folder, f"{place}/{names[sha256]}", content)
            history.write(_told(entry, body, names))
    yield f"{place}/{HISTORY}"


def _told(entry: Entered, body: Any, names: dict[str, str]) -> str:
    """One entry as a person reads it: who said it when, and all that it says."""
    id = "plain.entry_signed" if entry.is_signed else "plain.entry"
    lines = [
        "",
        tell(
            said(
                id,
                seq=entry.seq,
                at=entry.at,
                who=entry.author or "-",
                kind=_kind(entry.kind),
                head=entry.head,
            )
        ),
    ]
    for sha256, _ in _named(body):
        file = names.get(sha256)
        lines.append(tell(said("plain.file", file=file) if file else said("plain.file_gone", which=sha256)))
    text = json.dumps(body, ensure_ascii=False, indent=2) if body else entry.body
    return "\n".join(lines) + f"\n{text}\n"


def _kind(kind: str) -> Said | str:
    """What sort of entry it is, in words; one that this program doesn't know as it stands."""
    return said(f"plain.kind.{kind}") if kind in set(Kind) else kind


def _named(value: Any, under: str = "") -> Iterator[tuple[str, str]]:
    """Each SHA-256 that a body names, with the name that stands beside it, or the key that it stands under."""
    if isinstance(value, dict):
        name = next(
            (value[key] for key in ("name", "file", "path") if isinstance(value.get(key), str)), under
        )
        for key, held in value.items():
            if key == "sha256" and isinstance(held, str):
                yield held, name
            else:
                yield from _named(held, key)
    elif isinstance(value, list):
        for held in value:
            yield from _named(held, under)


def _file_name(entry: Entered, name: str, content: bytes) -> str:
    """After its number and its own name; what stands under `file` is the job or fleet itself."""
    own = entry.about if name == _THE_FILE else name
    stem = f"{entry.seq:06d}-{_safe(own) or UNNAMED}"
    return stem if "." in stem[-6:] else f"{stem}{_suffix(content)}"


def _suffix(content: bytes) -> str:
    other = ".bin" if b"\0" in content else ".txt"
    return next((suffix for start, suffix in _SUFFIXES if content.startswith(start)), other)


def _safe(name: str) -> str:
    """A name that every system takes, "" where nothing of it is left."""
    clean = re.sub(r"[^A-Za-z0-9._-]+", "-", name).strip(".-")
    return clean if len(clean) <= _LONGEST_NAME else clean[:40] + clean[-40:]


def _free(name: str, used: set[str]) -> str:
    """The same name, or with a number where it is taken; capitals make no difference on some systems."""
    free, number = name, 2
    while free.casefold() in used:
        stem, dot, suffix = name.rpartition(".")
        free = f"{stem}-{number}.{suffix}" if dot else f"{name}-{number}"
        number += 1
    used.add(free.casefold())
    return free


def _put(folder: Path, path: str, content: bytes) -> str:
    (folder / path).parent.mkdir(parents=True, exist_ok=True)
    (folder / path).write_bytes(content)
    return path
