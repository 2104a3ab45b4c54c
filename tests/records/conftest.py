"""A folder of jobs with a store on each database, and people who sign."""

from __future__ import annotations

import os
from collections.abc import Callable, Iterator
from datetime import UTC, datetime, timedelta
from pathlib import Path

import pytest

from hatchwright.records.database import PLACE, SETTING
from hatchwright.records.keys import LockedKey, SigningKey, new_key
from hatchwright.records.kinds import Kind
from hatchwright.records.people import Person, Role
from hatchwright.records.store import Store
from tests.records.servers import Server, bin_folder, running
from tests.records.worked import worked_in

NOW = datetime(2026, 3, 9, 14, 5, tzinfo=UTC)
PASS_PHRASE = "rivet gauge hangar nine"
MECHANIC, INSPECTOR = "A. Mechanic", "B. Inspector"


@pytest.fixture(scope="session")
def server() -> Iterator[Server]:
    """One server for all tests of a process."""
    programs = bin_folder()
    if programs is None:
        assert os.environ.get("CI") != "true", "PostgreSQL is missing: in CI that is a failure"
        pytest.skip("PostgreSQL is missing")
    with running(programs) as server:
        yield server


def keep_on(server: Server, folder: Path) -> str:
    """Have the records of a folder kept by a server, in a database of its own; gives its name."""
    name = server.new_database()
    (folder / PLACE).mkdir()
    (folder / PLACE / SETTING).write_text(f'database = "{server.address(name)}"\n')
    return name


@pytest.fixture(params=("sqlite", "postgresql"))
def kind_of_database(request: pytest.FixtureRequest) -> str:
    """Each test that needs a store runs on both."""
    return request.param


@pytest.fixture
def new_folder(kind_of_database: str, tmp_path: Path, request: pytest.FixtureRequest) -> Callable[[], Path]:
    """Makes folders of jobs, each with a database of its own that nothing is in yet."""
    made: list[Path] = []

    def one() -> Path:
        folder = tmp_path / f"jobs-{len(made)}"
        made.append(folder)
        folder.mkdir()
        if kind_of_database == "postgresql":
            keep_on(request.getfixturevalue("server"), folder)
        return folder

    return one


@pytest.fixture
def folder(new_folder: Callable[[], Path]) -> Path:
    """A folder of jobs."""
    return new_folder()


@pytest.fixture
def store(folder: Path) -> Iterator[Store]:
    """Its store, without an entry."""
    store = Store.opened(folder)
    yield store
    store.close()


@pytest.fixture(scope="session")
def keys() -> dict[str, tuple[LockedKey, SigningKey]]:
    """Two keys, made once: locking one takes its time on purpose."""
    made = {}
    for name in (MECHANIC, INSPECTOR):
        locked = new_key(PASS_PHRASE)
        made[name] = (locked, locked.opened(PASS_PHRASE))
    return made


class Shop:
    """People who record and sign into a store, a minute after each other."""

    def __init__(self, store: Store, keys: dict[str, tuple[LockedKey, SigningKey]]) -> None:
        self.store, self.keys, self.now = store, keys, NOW

    def says(self, kind: Kind, about: str, body: dict, author: str = MECHANIC, *, signs: bool = True, **more):
        """One more entry."""
        self.now += timedelta(minutes=1)
        key = self.keys[author][1] if signs else None
        return self.store.add(kind, about, body, author=author, now=self.now, key=key, **more)

    def names(
        self, name: str, role: Role | None, by: str, key_of: str = "", certificate: str = "3141592 A&P"
    ):
        """One more person, or one named anew."""
        person = Person(name, role, certificate, self.keys[key_of or name][0])
        return self.says(Kind.PERSON, "", person.as_body(), by)


@pytest.fixture
def shop(store: Store, keys: dict[str, tuple[LockedKey, SigningKey]]) -> Shop:
    """A store where an inspector has named himself and a mechanic."""
    shop = Shop(store, keys)
    shop.names(INSPECTOR, Role.INSPECTOR, INSPECTOR)
    shop.names(MECHANIC, Role.MECHANIC, INSPECTOR)
    return shop


@pytest.fixture
def worked(shop: Shop, alder_text: str) -> Path:
    """The folder of that shop, with jobs that were worked on, recorded and signed."""
    return worked_in(shop, alder_text)
