"""Where the store of a folder lies, and the way to it: SQLite beside the jobs, or a server by one setting.

A store is one database alias of Django; nothing here has a default, so that no two folders can be mixed up.
"""

from __future__ import annotations

import hashlib
import math
import os
import sqlite3
import tomllib
from pathlib import Path
from threading import Lock
from typing import TYPE_CHECKING, Any
from urllib.parse import unquote, urlsplit

from hatchwright.errors import RecordError
from hatchwright.records.refused import told

if TYPE_CHECKING:
    from django.db.backends.base.base import BaseDatabaseWrapper

PLACE = "records"
"""The folder beside the jobs that holds the store."""
FILE = "records.sqlite3"
SETTING = "database.toml"
"""Names another database, ``database = "postgresql://USER@HOST:PORT/NAME"``; without it the store is that file."""
BEGUN = "begun.txt"
"""There since the first entry, on a server too: without it a store that got lost would be followed by a new one."""

_WAL_IS_SOUND = (3, 51, 3)
"""Before it, SQLite could lose commits when a log was reset. Source: its page on WAL, read second-hand."""

PATIENCE_S = 10.0
"""How long a write waits for another program that is writing [s]."""

_SERVER_OPTIONS = (
    "-c synchronous_commit=on -c default_transaction_isolation=read\\ committed -c client_encoding=UTF8"
)
"""However the server is set: on disk when it is said to be, and who has waited sees what the one before wrote."""

_SETTINGS = "hatchwright.web.settings"
"""Named and not imported: the framework has one set of settings in a process, whether store or page comes first."""

_entering = Lock()


def is_there(folder: Path) -> bool:
    """Whether a folder has a store, had one, or says where one is to be; nothing is opened."""
    return any((folder / PLACE / name).is_file() for name in (FILE, SETTING, BEGUN))


def is_lost(folder: Path) -> bool:
    """Whether a folder had a store, and neither its file nor a setting is there any more."""
    place = folder / PLACE
    return (place / BEGUN).is_file() and not any((place / name).is_file() for name in (FILE, SETTING))


def alias_of(folder: Path) -> str:
    """Make the store of a folder known to Django and give its name there; nothing is opened yet.

    Raises:
        RecordError: the setting can't be read.
    """
    setting = folder / PLACE / SETTING
    return _entered(_server(setting) if setting.is_file() else _sqlite(folder / PLACE / FILE))


def alias_of_file(file: Path) -> str:
    """The same for a store in one file, wherever that lies."""
    return _entered(_sqlite(file))


def refuse_careless_server(connection: BaseDatabaseWrapper, where: str) -> None:
    """RecordError where a server may lose what it said was written, or can't hold every letter."""
    if connection.vendor != "postgresql":
        return
    with connection.cursor() as cursor:
        cursor.execute("SELECT current_setting('fsync'), current_setting('server_encoding')")
        fsync, encoding = cursor.fetchone()
    if fsync != "on" or encoding != "UTF8":
        raise RecordError.saying("records.careless_server", where=where, fsync=fsync, encoding=encoding)


def _entered(where: dict[str, Any]) -> str:
    _set_up()
    from django.db import connections

    alias = hashlib.sha256(repr(sorted(where.items())).encode()).hexdigest()[:20]
    with _entering:
        if alias not in connections.databases:
            full = connections.configure_settings({"default": {}, alias: where})
            connections.databases[alias] = full[alias]
    with told(str(where["NAME"])):
        connections[alias]  # its driver may not be there
    return alias


def _set_up() -> None:
    import django
    from django.apps import apps

    if not apps.ready:
        os.environ["DJANGO_SETTINGS_MODULE"] = _SETTINGS
        django.setup()


def _server(setting: Path) -> dict[str, Any]:
    try:
        address = tomllib.loads(setting.read_text(encoding="utf-8")).get("database")
        parts = urlsplit(address if isinstance(address, str) else "")
        port = parts.port
    except (OSError, ValueError):
        raise RecordError.saying("records.setting_unread", where=str(setting)) from None
    name = unquote(parts.path.lstrip("/"))
    if parts.scheme not in ("postgresql", "postgres") or not name or parts.query:
        raise RecordError.saying("records.setting_unread", where=str(setting))
    return {
        "ENGINE": "django.db.backends.postgresql",
        "NAME": name,
        "USER": unquote(parts.username or ""),
        "PASSWORD": unquote(parts.password or ""),
        "HOST": unquote(parts.hostname or ""),
        "PORT": str(port or ""),
        "OPTIONS": {
            "connect_timeout": math.ceil(PATIENCE_S),
            "options": f"{_SERVER_OPTIONS} -c lock_timeout={PATIENCE_S}s",
        },
    }


def _sqlite(file: Path) -> dict[str, Any]:
    journal = "WAL" if sqlite3.sqlite_version_info >= _WAL_IS_SOUND else "DELETE"
    sync = "FULL" if journal == "WAL" else "EXTRA"
    return {
        "ENGINE": "django.db.backends.sqlite3",
        "NAME": str(file.resolve()),
        "OPTIONS": {
            "timeout": PATIENCE_S,
            "transaction_mode": "IMMEDIATE",
            # Without recursive triggers an INSERT OR REPLACE would get past those that guard the chain; without foreign
            # keys, of which there are none, the tables can be made in one transaction.
            "init_command": f"PRAGMA journal_mode={journal};PRAGMA synchronous={sync};"
            "PRAGMA recursive_triggers=ON;PRAGMA foreign_keys=OFF",
        },
    }
