"""The triggers that refuse to change or delete what was said, in the words of each database."""

from __future__ import annotations

from typing import TYPE_CHECKING, Any

if TYPE_CHECKING:
    from django.db.backends.base.base import BaseDatabaseWrapper

_GUARDED = ("records_entry", "records_kept")
_POSTGRES_FUNCTION = """
CREATE OR REPLACE FUNCTION records_refuse() RETURNS trigger LANGUAGE plpgsql AS
$$ BEGIN RAISE EXCEPTION 'records are added to and never changed'; END $$"""

_SQLITE = {
    f"{table}_no_{what}": f"CREATE TRIGGER {table}_no_{what} BEFORE {what.upper()} ON {table} "
    "BEGIN SELECT RAISE(ABORT, 'records are added to and never changed'); END"
    for table in _GUARDED
    for what in ("update", "delete")
}
_SQLITE_ASKED = "SELECT name, sql FROM sqlite_master WHERE type = 'trigger'"
_STATEMENT_BITS = {"delete": 2 + 8, "update": 2 + 16, "truncate": 2 + 32}
"""What `pg_trigger.tgtype` says of a trigger before a statement. Source: [POSTGRES-TRIGGER], from memory."""
_POSTGRES = {
    f"{table}_no_{what}": f"CREATE TRIGGER {table}_no_{what} BEFORE {what.upper()} ON {table} "
    "FOR EACH STATEMENT EXECUTE FUNCTION records_refuse()"
    for table in _GUARDED
    for what in _STATEMENT_BITS
}
_POSTGRES_SEEN = {
    (f"{table}_no_{what}", table, bits, "O", "records_refuse")
    for table in _GUARDED
    for what, bits in _STATEMENT_BITS.items()
}
_POSTGRES_ASKED = """
SELECT t.tgname, c.relname, t.tgtype::int, t.tgenabled::text, p.proname FROM pg_trigger t
JOIN pg_class c ON c.oid = t.tgrelid JOIN pg_proc p ON p.oid = t.tgfoid
WHERE NOT t.tgisinternal AND c.relname ~ '^records_' AND pg_table_is_visible(c.oid)
UNION ALL SELECT r.rulename, c.relname, 0, r.ev_enabled::text, ''
FROM pg_rewrite r JOIN pg_class c ON c.oid = r.ev_class WHERE c.relname ~ '^records_' AND pg_table_is_visible(c.oid)"""

_POSTGRES_BODY = """
SELECT prosrc, current_setting('session_replication_role') FROM pg_proc WHERE proname = 'records_refuse'"""
"""Source of that setting: [POSTGRES-TRIGGER], from memory."""


def set_up(_apps: Any, schema_editor: Any) -> None:
    """Put the triggers in place, as a step of a migration."""
    for statement in _statements(schema_editor.connection):
        schema_editor.execute(statement)


def amiss(connection: BaseDatabaseWrapper) -> list[str]:
    """The triggers that are not there or not as they were made, and those that somebody else put there, as one of those
    may swallow what is added."""
    if connection.vendor == "sqlite":
        return sorted({name for name, _ in set(_asked(connection, _SQLITE_ASKED)) ^ set(_SQLITE.items())})
    names = {str(name) for name, *_ in set(_asked(connection, _POSTGRES_ASKED)) ^ _POSTGRES_SEEN}
    bodies = _asked(connection, _POSTGRES_BODY)
    if any(role != "origin" for _, role in bodies):  # the triggers are there and do nothing
        names.add("session_replication_role")
    is_ours = len(bodies) == 1 and f"${bodies[0][0]}$" in _POSTGRES_FUNCTION
    return sorted(names | (set() if is_ours else {"records_refuse"}))


def put_back(connection: BaseDatabaseWrapper) -> None:
    """Make all triggers as they were, and take away whatever else is there."""
    put_down(connection)
    with connection.cursor() as cursor:
        for statement in _statements(connection):
            cursor.execute(statement)


def put_down(connection: BaseDatabaseWrapper) -> None:
    """Take every trigger away, also what is not ours: only within a transaction that puts them back."""
    is_sqlite = connection.vendor == "sqlite"
    with connection.cursor() as cursor:
        for name, table, *more in _asked(connection, _SQLITE_ASKED if is_sqlite else _POSTGRES_ASKED):
            what = "RULE" if more and not more[0] else "TRIGGER"
            on = "" if is_sqlite else f" ON {connection.ops.quote_name(table)}"
            cursor.execute(f"DROP {what} {connection.ops.quote_name(name)}{on}")


def _asked(connection: BaseDatabaseWrapper, sql: str) -> list[tuple[Any, ...]]:
    with connection.cursor() as cursor:
        cursor.execute(sql)
        return [tuple(row) for row in cursor.fetchall()]


def _statements(connection: BaseDatabaseWrapper) -> list[str]:
    if connection.vendor == "sqlite":
        return list(_SQLITE.values())
    return [_POSTGRES_FUNCTION, *_POSTGRES.values()]
