"""What tells this program from every other state of it: its own files, and the libraries that it stands on."""

from __future__ import annotations

import hashlib
import sys
from functools import cache
from importlib.metadata import distributions
from pathlib import Path

_PACKAGE = Path(__file__).parents[1]


@cache
def program_mark() -> str:
    """The same only for the same code, tables and words, Python and libraries."""
    mark = hashlib.sha256(sys.version.encode())
    for file in sorted(_PACKAGE.rglob("*")):
        if file.is_file() and "__pycache__" not in file.parts:
            mark.update(f"\0{file.relative_to(_PACKAGE)}\0".encode())
            mark.update(hashlib.sha256(file.read_bytes()).digest())
    for library in sorted({f"{one.name} {one.version}" for one in distributions()}):
        mark.update(f"\0{library}".encode())
    return mark.hexdigest()
