"""What a database refuses, in our words."""

from __future__ import annotations

from collections.abc import Iterator
from contextlib import contextmanager
from typing import TYPE_CHECKING

from hatchwright.errors import RecordError
from hatchwright.said import said

if TYPE_CHECKING:
    from django.db.backends.base.base import BaseDatabaseWrapper

_SAID = {
    "busy": ("records.busy", "records.busy.do"),
    "full": ("records.full", "records.full.do"),
    "readonly": ("records.read_only", "records.read_only.do"),
    "damaged": ("records.damaged", "records.damaged.do"),
    "gone": ("records.lost_touch", "records.lost_touch.do"),
    "": ("records.refused", "records.refused.do"),
}
"""What is said of each cause."""

_SQLITE = {
    "SQLITE_BUSY": "busy", "SQLITE_LOCKED": "busy", "SQLITE_FULL": "full", "SQLITE_READONLY": "readonly",
    "SQLITE_CORRUPT": "damaged", "SQLITE_NOTADB": "damaged",
}  # fmt: skip
"""Names of the result codes of SQLite; extended ones begin so. Source: [SQLITE-RESULT], from memory."""

_SERVER = {
    "55P03": "busy", "53": "full", "25006": "readonly", "XX001": "damaged", "XX002": "damaged", "08": "gone",
    "57P": "gone",
}  # fmt: skip
"""SQLSTATE codes and the beginnings of their classes. Source: [POSTGRES-CODES], from memory."""


@contextmanager
def told(where: str, connection: BaseDatabaseWrapper | None = None) -> Iterator[None]:
    """RecordError for what a database refuses; a connection that failed is not used again."""
    from django.core.exceptions import ImproperlyConfigured
    from django.db import DatabaseError, InterfaceError

    try:
        yield
    except ImproperlyConfigured as error:
        raise RecordError.saying("records.no_driver", where=where) from error
    except UnicodeDecodeError as error:  # from a damaged file, which the driver reads as letters
        raise RecordError.saying("records.damaged", where=where, why=_first_line(error)) from error
    except (DatabaseError, InterfaceError, OSError) as error:
        if connection is not None and not connection.in_atomic_block:
            connection.close()
        what, do = _SAID[_cause(error)]
        raise RecordError(said(what, why=_first_line(error)), where=where, remedy=said(do)) from error


def _cause(error: Exception) -> str:
    cause = error.__cause__
    name, state = getattr(cause, "sqlite_errorname", None) or "", getattr(cause, "sqlstate", None)
    if state is None and "psycopg" in type(cause).__module__:
        return "gone"
    known = _SQLITE if name else _SERVER
    return next((of for start, of in known.items() if (name or state or "").startswith(start)), "")


def _first_line(error: Exception) -> str:
    return next(iter(str(error).strip().splitlines()), type(error).__name__)
