"""A file that a person wrote: read as text, and written so that it can be read again."""

from __future__ import annotations

import os
import tempfile
from codecs import BOM_UTF8
from pathlib import Path

from hatchwright.errors import Fault, JobError
from hatchwright.said import Said, said

LARGEST_FILE_BYTES = 1_000_000

HALF_WRITTEN = ".half-written."
"""What the name of a file begins with while it is being written; one that stays behind is a dead program's."""


def load_text(path: Path) -> str:
    """Read the text of a file.

    Raises:
        JobError: it is missing, too large, or not text.
    """

    def refuse(what: Said, remedy: Said) -> JobError:
        return JobError((Fault("file", what, given=str(path), remedy=remedy),), where=path.name)

    try:
        if path.is_dir():
            raise refuse(said("job.is_folder"), said("job.is_folder.do"))
        if path.stat().st_size > LARGEST_FILE_BYTES:
            raise refuse(said("job.too_large"), said("job.too_large.do"))
        raw = path.read_bytes()
    except FileNotFoundError:
        raise refuse(said("job.no_file"), said("job.no_file.do")) from None
    except OSError as error:
        raise refuse(said("job.unread", why=error.strerror or ""), said("job.unread.do")) from None
    text = text_in(raw)
    if text is None:
        raise refuse(said("job.no_text"), said("job.no_text.do"))
    return text


def text_in(raw: bytes) -> str | None:
    """The text that bytes hold, None where they hold none."""
    try:
        text = raw.decode("utf-8-sig")
    except UnicodeDecodeError:
        return None
    return None if "\0" in text else text


def save_text(path: Path, text: str) -> None:
    """Write a text so that either the old or the new one is on disk, never half of one.

    The mark with which some editors begin a file stays when the file there begins with it, and a symbolic link stays
    one: the file that it names is written.

    Raises:
        JobError: the text could not be read again, the file has a second name that would keep the old text, or the
            folder cannot be written. Nothing was changed then.
    """
    raw = text.encode("utf-8", "surrogatepass")
    if len(raw) + len(BOM_UTF8) > LARGEST_FILE_BYTES:
        raise JobError.about("file", "job.would_be_too_large", most=LARGEST_FILE_BYTES // 1000)
    if text_in(raw) != text:
        raise JobError.about("file", "job.would_be_no_text")
    try:
        if path.is_file() and path.stat().st_nlink > 1:
            raise JobError.about("file", "job.second_name", str(path))
        save_bytes(path, (BOM_UTF8 if _begins_with_mark(path) else b"") + raw)
    except OSError as error:
        raise JobError.about("file", "job.unwritten", str(path), why=error.strerror or "") from None


def save_bytes(path: Path, raw: bytes) -> None:
    """The same for bytes as they are; a second name of the file keeps what it held.

    Raises:
        OSError: the folder cannot be written.
    """
    real = path.resolve()
    handle, temporary = tempfile.mkstemp(dir=real.parent, prefix=HALF_WRITTEN)
    try:
        with os.fdopen(handle, "wb") as out:
            out.write(raw)
            out.flush()
            os.fsync(out.fileno())
        os.chmod(temporary, real.stat().st_mode & 0o777 if real.exists() else 0o644)
        os.replace(temporary, real)
    except BaseException:
        Path(temporary).unlink(missing_ok=True)
        raise


def _begins_with_mark(path: Path) -> bool:
    try:
        with path.open("rb") as there:
            return there.read(len(BOM_UTF8)) == BOM_UTF8
    except FileNotFoundError:
        return False


def ended_alike(text: str, like: str) -> str:
    """A text with the line ends of another, where all of that one's are alike.

    >>> ended_alike("a = 1\\n", like="a = 0\\r\\nb = 0\\r\\n")
    'a = 1\\r\\n'
    """
    ends = like.count("\n")
    if not ends or like.count("\r\n") not in (0, ends):
        return text
    bare = text.replace("\r\n", "\n")
    return bare.replace("\n", "\r\n") if "\r\n" in like else bare
