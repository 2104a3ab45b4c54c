"""The triggers that refuse to change or delete what was said, in the words of each database."""

from __future__ import annotations

from typing import TYPE_CHECKING, Any

if TYPE_CHECKING:
    from django.db.backends.base.base import BaseDatabaseWrapper

_TABLES = ("records_entry", "records_kept")
_POSTGRES_FUNCTION = """
CREATE OR REPLACE FUNCTION records_refuse() RETURNS trigger LANGUAGE plpgsql AS
$$ BEGIN RAISE EXCEPTION 'records are added to and never changed'; END $$"""

_SQLITE = {
    f"{table}_no_{what}": f"CREATE TRIGGER {table}_no_{what} BEFORE {what.upper()} ON {table} "
    "BEGIN SELECT RAISE(ABORT, 'records are added to and never changed'); END"
    for table in _TABLES
    for what in ("update", "delete")
}
_POSTGRES = {
    f"{table}_no_{what}": f"CREATE TRIGGER {table}_no_{what} BEFORE {what.upper()} ON {table} "
    "FOR EACH STATEMENT EXECUTE FUNCTION records_refuse()"
    for table in _TABLES
    for what in ("update", "delete", "truncate")
}


def set_up(_apps: Any, schema_editor: Any) -> None:
    """Put the triggers in place, as a step of a migration."""
    is_sqlite = schema_editor.connection.vendor == "sqlite"
    for statement in _SQLITE.values() if is_sqlite else (_POSTGRES_FUNCTION, *_POSTGRES.values()):
        schema_editor.execute(statement)


def missing(connection: BaseDatabaseWrapper) -> list[str]:
    """The triggers that are not there, or not as they were made."""
    with connection.cursor() as cursor:
        if connection.vendor == "sqlite":
            cursor.execute("SELECT name, sql FROM sqlite_master WHERE type = 'trigger'")
            there = dict(cursor.fetchall())
            return sorted(name for name, sql in _SQLITE.items() if there.get(name) != sql)
        cursor.execute("SELECT tgname FROM pg_trigger WHERE tgenabled <> 'D' AND NOT tgisinternal")
        names = {name for (name,) in cursor.fetchall()}
        cursor.execute("SELECT prosrc FROM pg_proc WHERE proname = 'records_refuse'")
        bodies = [body for (body,) in cursor.fetchall()]
    is_sound = len(bodies) == 1 and bodies[0] in _POSTGRES_FUNCTION
    return sorted(name for name in _POSTGRES if name not in names or not is_sound)
