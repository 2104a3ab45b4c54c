"""A folder with the example jobs, a client that came through the door, and pages read as a browser reads them."""

from __future__ import annotations

import re
import shutil
from concurrent.futures import ThreadPoolExecutor
from html import unescape
from pathlib import Path

import pytest

from tests.patience import until, until_async

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


@pytest.fixture
def left_when(folder, client):
    """Ask for what takes long as the page does, through the server's own door, and leave once something is so."""
    from hatchwright.web.server import application

    cookies = "; ".join(f"{name}={morsel.value}" for name, morsel in client.cookies.items())
    scope = {
        "type": "http",
        "method": "GET",
        "headers": [(b"host", b"127.0.0.1"), (b"hx-request", b"true"), (b"cookie", cookies.encode())],
    }
    app, _ = application(folder)

    async def ask(address, is_time_to_leave) -> list:
        sent: list = []
        path, _, query = address.partition("?")
        messages = [{"type": "http.request", "body": b"", "more_body": False}]

        async def receive():
            if messages:
                return messages.pop()
            await until_async(is_time_to_leave)
            return {"type": "http.disconnect"}

        async def send(message):
            sent.append(message)

        await app({**scope, "path": path, "query_string": query.encode()}, receive, send)
        return sent

    return ask


def state_of(html: str) -> str:
    """Where a page of papers asks how far they are."""
    return unescape(re.search(r'data-from="([^"]+)"', html)[1])


def papers_of(client, address) -> str:
    """What the page of papers shows once they are made, or could not be."""
    state = state_of(client.get(address).content.decode())
    until(lambda: client.get(state).status_code == 200, "the papers")
    return client.get(state).content.decode()


def at_the_same_time(client, addresses, **how):
    """The answers to requests of one browser that come at once, each in a thread of its own as in the server."""
    with ThreadPoolExecutor(len(addresses)) as threads:
        return list(threads.map(lambda address: client.get(address, **how), addresses))
