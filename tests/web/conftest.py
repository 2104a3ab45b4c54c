"""A folder with the example jobs, a client that came through the door, and pages read as a browser reads them."""

from __future__ import annotations

import re
import shutil
from pathlib import Path

import pytest

from tests.patience import until

EXAMPLES = Path(__file__).parents[2] / "examples"


@pytest.fixture
def folder(tmp_path: Path, monkeypatch: pytest.MonkeyPatch, tmp_path_factory: pytest.TempPathFactory) -> Path:
    """Both examples, in a folder of their own; what is judged for the list is kept for all tests of a process."""
    monkeypatch.setenv("XDG_STATE_HOME", str(tmp_path / "state"))
    place = tmp_path / "jobs"
    place.mkdir()
    for name in ("alder.toml", "dogwood.toml"):
        shutil.copy(EXAMPLES / name, place)
    return place


@pytest.fixture
def outside_client(folder: Path):
    """A client that has not come through the door."""
    from hatchwright.web.server import application

    _, site = application(folder)
    from django.conf import settings

    settings.ALLOWED_HOSTS = ["127.0.0.1"]
    return client_of(site)


def client_of(site, **how):
    """A client whose requests come to one server, as its own browser's do."""
    from django.test import Client

    from hatchwright.web.site import SITE

    return Client(SERVER_NAME="127.0.0.1", **{SITE: site}, **how)


def site_behind(client):
    """The server's value that the requests of a client carry."""
    from hatchwright.web.site import SITE

    return client.defaults[SITE]


def listed(client) -> str:
    """The list of jobs once nothing of it is lacking any more."""
    found = []

    def is_judged() -> bool:
        found[:] = [client.get("/").content.decode()]
        return re.search(r'data-lacks="\w', found[0]) is None

    until(is_judged, "the last line of the list")
    return found[0]


@pytest.fixture
def client(outside_client):
    """A client that has come through the printed address."""
    answer = outside_client.get(f"/enter/{site_behind(outside_client).tokens.issue()}")
    assert answer.status_code == 302
    return outside_client
