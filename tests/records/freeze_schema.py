"""Write down a store as this program makes it, once for each schema that is released; its file is never made again.

`python -m tests.records.freeze_schema`: `schemas/<newest migration>.<database>.sql`, by which `test_schemas.py` makes a
store as that program left it, and moves it forward.
"""

from __future__ import annotations

import tempfile
from collections.abc import Iterator
from pathlib import Path

from django.db.backends.base.base import BaseDatabaseWrapper

from hatchwright.records.database import alias_of
from hatchwright.records.keys import new_key
from hatchwright.records.kinds import Kind
from hatchwright.records.people import Role
from hatchwright.records.store import Store, sha256_of
from tests.records.conftest import INSPECTOR, MECHANIC, PASS_PHRASE, Shop, keep_on
from tests.records.servers import bin_folder, running

HERE = Path(__file__).parent / "schemas"
TABLES = {
    "django_migrations": "app, name, applied",
    "records_entry": "seq, prev, kind, about, body, author, at, key, hash, signature",
    "records_kept": "sha256, content",
    "records_newest": "about, seq, signed_seq",
}
PAPER = b"%PDF-1.7 \x00\xff a card"


def frozen(folder: Path) -> Iterator[str]:
    """The statements that make a store with some entries."""
    statements: list[str] = []

    def noted(execute, sql, params, many, context):
        if sql.split()[0] in ("CREATE", "ALTER"):
            statements.append(sql if params is None else sql % tuple(f"'{one}'" for one in params))
        return execute(sql, params, many, context)

    from django.db import connections

    with connections[alias_of(folder)].execute_wrapper(noted):
        store = Store.opened(folder)
    locked = {name: new_key(PASS_PHRASE) for name in (MECHANIC, INSPECTOR)}
    shop = Shop(store, {name: (lock, lock.opened(PASS_PHRASE)) for name, lock in locked.items()})
    shop.names(INSPECTOR, Role.INSPECTOR, INSPECTOR)
    shop.names(MECHANIC, Role.MECHANIC, INSPECTOR)
    kept = {sha256_of(PAPER): PAPER}
    shop.says(Kind.REVISION, "älder.toml", {"n": 1, "said": 'it\'s "so"'}, signs=False)
    shop.says(Kind.SIGNED, "älder.toml", {"papers": [{"sha256": sha256_of(PAPER)}]}, kept=kept)
    guards = [one for one in statements if "TRIGGER" in one]
    yield from (one for one in statements if one not in guards)
    for table, columns in TABLES.items():
        with store.connection.cursor() as cursor:
            cursor.execute(f"SELECT {columns} FROM {table}")
            for row in cursor.fetchall():
                values = ", ".join(literal(one, store.connection) for one in row)
                yield f"INSERT INTO {table} ({columns}) VALUES ({values})"
    yield from guards
    yield f"-- head {store.head()}"
    store.close()


def literal(value: object, connection: BaseDatabaseWrapper) -> str:
    """A value as it stands in a statement."""
    if isinstance(value, bytes | memoryview):
        digits = bytes(value).hex()
        return f"X'{digits}'" if connection.vendor == "sqlite" else f"'\\x{digits}'"
    return str(value) if isinstance(value, int) else "'" + str(value).replace("'", "''") + "'"


def main() -> None:
    """Write both files, where there are none yet."""
    from hatchwright.records.schema import _known

    newest = max(_known())
    programs = bin_folder()
    assert programs is not None
    with tempfile.TemporaryDirectory() as place, running(programs) as server:
        for database in ("sqlite", "postgresql"):
            file = HERE / f"{newest}.{database}.sql"
            if file.exists():
                continue
            folder = Path(place) / database
            folder.mkdir()
            if database == "postgresql":
                keep_on(server, folder)
            file.write_text(";\n\n".join(frozen(folder)) + "\n", encoding="utf-8")


if __name__ == "__main__":
    main()
