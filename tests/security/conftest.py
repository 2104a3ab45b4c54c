"""A server below its place, and a browser that came through the printed address."""

from __future__ import annotations

import shutil

import pytest

from security.browsing import HOST, Browser
from security.shop import Shop, name_everybody
from web.conftest import client, folder, outside_client  # noqa: F401

PLACE = "/p1ace-that_nobody-guesses"


@pytest.fixture
def served(folder):  # noqa: F811
    """The application below its place, and what its requests carry."""
    from hatchwright.web.server import application

    yield application(folder, hosts=[HOST], place=PLACE)
    application(folder)  # the cookies of other tests belong to no place


@pytest.fixture
def browser(served):
    """A browser that came through the printed address."""
    app, site = served
    shown = Browser(app)
    assert shown.ask(f"{PLACE}/enter/{site.tokens.issue()}").status == 302
    return shown


@pytest.fixture(scope="session")
def named(tmp_path_factory):
    """A folder with three people; opening and locking a key takes its time on purpose."""
    place = tmp_path_factory.mktemp("named") / "jobs"
    name_everybody(place)
    return place


@pytest.fixture
def shop(named, tmp_path, monkeypatch):
    """A shop server on a folder of its own."""
    from hatchwright.web.server import application

    monkeypatch.setenv("XDG_STATE_HOME", str(tmp_path / "state"))
    shutil.copytree(named, tmp_path / "jobs")
    yield Shop(tmp_path / "jobs")
    application(tmp_path / "jobs")  # the cookies of other tests are those of one person on one computer
