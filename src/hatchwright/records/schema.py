"""The tables of a store are made, and moved forward from those of an earlier program, by one program at a time."""

from __future__ import annotations

import pkgutil
from collections.abc import Iterator
from contextlib import contextmanager
from typing import TYPE_CHECKING

from hatchwright.errors import RecordError

if TYPE_CHECKING:
    from django.db.backends.base.base import BaseDatabaseWrapper

_ADVISORY = 0x48_41_54_43
"""The number under which a server lets one writer at a time into the store."""


@contextmanager
def alone(connection: BaseDatabaseWrapper) -> Iterator[None]:
    """One writer at a time, all or nothing, on disk at the end."""
    from django.db import transaction

    with transaction.atomic(using=connection.alias):
        if connection.vendor == "postgresql":
            with connection.cursor() as cursor:
                cursor.execute("SELECT pg_advisory_xact_lock(%s)", [_ADVISORY])
        yield


def move_forward(connection: BaseDatabaseWrapper, where: str) -> None:
    """Bring the tables to the present schema, all of them or none.

    Raises:
        RecordError: they are of a newer program.
    """
    if not _is_behind(connection, where):
        return
    from django.db.migrations.executor import MigrationExecutor

    with alone(connection):
        if _is_behind(connection, where):  # or another program has been here meanwhile
            executor = MigrationExecutor(connection)
            executor.migrate(executor.loader.graph.leaf_nodes("records"))


def is_made(connection: BaseDatabaseWrapper, where: str) -> bool:
    """Whether the tables are there, of this or an earlier schema.

    Raises:
        RecordError: they are of a newer program.
    """
    return bool(_applied(connection, where))


def _is_behind(connection: BaseDatabaseWrapper, where: str) -> bool:
    return _applied(connection, where) != _known()


def _applied(connection: BaseDatabaseWrapper, where: str) -> set[str]:
    from django.db.migrations.recorder import MigrationRecorder

    applied = {name for app, name in MigrationRecorder(connection).applied_migrations() if app == "records"}
    if applied - _known():
        raise RecordError.saying("records.newer_program", where=where)
    return applied


def _known() -> set[str]:
    from hatchwright.records import migrations

    return {module.name for module in pkgutil.iter_modules(migrations.__path__)}
