"""Where the store of a folder lies, and the way to it: SQLite beside the jobs, or a server by one setting.

A store is one database alias of Django; nothing here has a default, so that no two folders can be mixed up.
"""

from __future__ import annotations

import hashlib
import os
import sqlite3
import tomllib
from pathlib import Path
from threading import Lock
from typing import Any
from urllib.parse import unquote, urlsplit

from hatchwright.errors import RecordError

PLACE = "records"
"""The folder beside the jobs that holds the store."""
FILE = "records.sqlite3"
SETTING = "database.toml"
"""Names another database, ``database = "postgresql://USER@HOST:PORT/NAME"``; without it the store is that file."""

_WAL_IS_SOUND = (3, 51, 3)
"""Before it, SQLite could lose commits when a log was reset. Source: its page on WAL, read second-hand."""

PATIENCE_S = 10
"""How long a write waits for another program that is writing [s]."""

_entering = Lock()


def alias_of(folder: Path) -> str:
    """Make the store of a folder known to Django and give its name there; nothing is opened yet.

    Raises:
        RecordError: the setting can't be read.
    """
    _set_up()
    from django.db import connections

    where = _where(folder)
    alias = hashlib.sha256(f"{folder.resolve()}\0{where['NAME']}\0{where.get('HOST')}".encode()).hexdigest()[
        :20
    ]
    with _entering:
        if alias not in connections.databases:
            full = connections.configure_settings({"default": {}, alias: where})
            connections.databases[alias] = full[alias]
    return alias


def _set_up() -> None:
    import django
    from django.apps import apps

    if not apps.ready:
        os.environ.setdefault("DJANGO_SETTINGS_MODULE", "hatchwright.records.settings")
        django.setup()


def _where(folder: Path) -> dict[str, Any]:
    setting = folder / PLACE / SETTING
    if not setting.is_file():
        return _sqlite(folder / PLACE / FILE)
    try:
        address = tomllib.loads(setting.read_text(encoding="utf-8")).get("database", "")
        parts = urlsplit(address)
        port = parts.port
    except (OSError, ValueError):
        raise RecordError.saying("records.setting_unread", where=str(setting)) from None
    if parts.scheme != "postgresql" or not parts.path.strip("/"):
        raise RecordError.saying("records.setting_unread", where=str(setting))
    return {
        "ENGINE": "django.db.backends.postgresql",
        "NAME": unquote(parts.path.lstrip("/")),
        "USER": unquote(parts.username or ""),
        "PASSWORD": unquote(parts.password or ""),
        "HOST": unquote(parts.hostname or ""),
        "PORT": str(port or ""),
        "OPTIONS": {"connect_timeout": PATIENCE_S},
    }


def _sqlite(file: Path) -> dict[str, Any]:
    journal = "WAL" if sqlite3.sqlite_version_info >= _WAL_IS_SOUND else "DELETE"
    sync = "FULL" if journal == "WAL" else "EXTRA"
    return {
        "ENGINE": "django.db.backends.sqlite3",
        "NAME": str(file),
        "OPTIONS": {
            "timeout": PATIENCE_S,
            "transaction_mode": "IMMEDIATE",
            # Without recursive triggers an INSERT OR REPLACE would get past those that guard the chain.
            "init_command": f"PRAGMA journal_mode={journal};PRAGMA synchronous={sync};PRAGMA recursive_triggers=ON",
        },
    }
