"""What a database refuses, in our words."""

from __future__ import annotations

from collections.abc import Iterator
from contextlib import contextmanager
from typing import TYPE_CHECKING

from hatchwright.errors import RecordError

if TYPE_CHECKING:
    from django.db.backends.base.base import BaseDatabaseWrapper

_SQLITE = (
    ("SQLITE_BUSY", "records.busy"),
    ("SQLITE_LOCKED", "records.busy"),
    ("SQLITE_FULL", "records.full"),
    ("SQLITE_READONLY", "records.read_only"),
    ("SQLITE_CORRUPT", "records.damaged"),
    ("SQLITE_NOTADB", "records.damaged"),
)
"""Names of the result codes of SQLite, extended ones begin so. Source: [SQLITE-RESULT], from memory."""

_SERVER = (
    ("55P03", "records.busy"),
    ("53", "records.full"),
    ("25006", "records.read_only"),
    ("XX001", "records.damaged"),
    ("XX002", "records.damaged"),
    ("08", "records.lost_touch"),
    ("57P", "records.lost_touch"),
)
"""SQLSTATE classes and codes. Source: [POSTGRES-CODES], from memory."""


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
        raise RecordError.saying(_id(error), where=where, why=_first_line(error)) from error


def _id(error: Exception) -> str:
    cause = error.__cause__
    name, state = getattr(cause, "sqlite_errorname", None) or "", getattr(cause, "sqlstate", None)
    if state is None and "psycopg" in type(cause).__module__:
        return "records.lost_touch"
    known = _SQLITE if name else _SERVER
    return next((id for start, id in known if (name or state or "").startswith(start)), "records.refused")


def _first_line(error: Exception) -> str:
    return next(iter(str(error).strip().splitlines()), type(error).__name__)
