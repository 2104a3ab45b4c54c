"""A store of every schema that was ever released is opened by this program, with all that was said in it."""

from __future__ import annotations

import sqlite3
from contextlib import closing
from pathlib import Path

import pytest

from hatchwright.errors import RecordError
from hatchwright.records import guards, migrations
from hatchwright.records.database import FILE, PLACE
from hatchwright.records.kinds import Kind
from hatchwright.records.store import Store, sha256_of
from hatchwright.records.verify import verify
from tests.records.conftest import INSPECTOR, MECHANIC, NOW, PASS_PHRASE, keep_on
from tests.records.freeze_schema import HERE, PAPER

FROZEN = sorted(HERE.glob("*.sql"))


def left_by_an_earlier_program(file: Path, folder: Path, request: pytest.FixtureRequest) -> str:
    """Make the store that a file describes; gives its head."""
    *statements, last = file.read_text(encoding="utf-8").strip().split(";\n\n")
    if file.name.endswith(".postgresql.sql"):
        server = request.getfixturevalue("server")
        name = keep_on(server, folder)
        for statement in statements:
            server.ask(statement, name)
    else:
        (folder / PLACE).mkdir()
        with closing(sqlite3.connect(folder / PLACE / FILE)) as connection:
            connection.executescript(";\n".join(statements) + ";")
    return last.removeprefix("-- head ")


def test_every_schema_has_its_frozen_store_on_each_database():
    known = {path.stem for path in Path(migrations.__path__[0]).glob("0*.py")}
    frozen = {file.name.removesuffix(".sql") for file in FROZEN}
    assert frozen == {f"{name}.{database}" for name in known for database in ("sqlite", "postgresql")}


@pytest.mark.parametrize("file", FROZEN, ids=lambda file: file.stem)
def test_a_store_of_an_earlier_program_is_moved_forward(file, tmp_path, request):
    head = left_by_an_earlier_program(file, tmp_path, request)
    store = Store.opened(tmp_path)
    assert store.head() == head
    assert verify(store, printed=head).is_sound
    assert store.kept(sha256_of(PAPER)) == PAPER
    assert store.newest() == {"": (2, 2), "älder.toml": (4, 4)}
    assert [entry.said for entry in store.entries(kind=Kind.REVISION)] == [{"n": 1, "said": 'it\'s "so"'}]
    key = store.people()[MECHANIC].key.opened(PASS_PHRASE)  # whoever was named then signs now
    signed = store.add(Kind.SIGNED, "älder.toml", {}, author=MECHANIC, now=NOW.replace(year=2027), key=key)
    assert verify(store, printed=head).entries == signed.seq == 5


def test_a_store_of_a_newer_program_is_refused_and_left_as_it_is(store, folder):
    store.add(Kind.REVISION, "a.toml", {}, author=INSPECTOR, now=NOW)
    with store.connection.cursor() as cursor:
        cursor.execute(
            "INSERT INTO django_migrations (app, name, applied) VALUES ('records', '0099_more', '2030-01-01')"
        )
    for look in (Store.opened, Store.as_it_is):
        with pytest.raises(RecordError, match="newer version"):
            look(folder)
    assert store.last().seq == 1


def test_tables_are_made_all_or_not_at_all(folder, monkeypatch):
    with monkeypatch.context() as patch:
        patch.setattr(guards, "_statements", lambda connection: ["CREATE TABLE half (a int)", "no statement"])
        with pytest.raises(RecordError):
            Store.opened(folder)
    with pytest.raises(RecordError, match="no records yet"):
        Store.as_it_is(folder)
    assert verify(Store.opened(folder)).is_sound
