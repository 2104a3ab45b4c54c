"""A folder with the example jobs, a client that came through the door, and pages read as a browser reads them."""

from __future__ import annotations

import shutil
from pathlib import Path

import pytest

EXAMPLES = Path(__file__).parents[2] / "examples"


@pytest.fixture
def folder(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> Path:
    """Both examples, in a folder of their own."""
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

    application(folder)
    from django.conf import settings
    from django.test import Client

    settings.ALLOWED_HOSTS = ["127.0.0.1"]
    return Client(SERVER_NAME="127.0.0.1")


@pytest.fixture
def client(outside_client):
    """A client that has come through the printed address."""
    from hatchwright.web.door import TOKENS

    answer = outside_client.get(f"/enter/{TOKENS.issue()}")
    assert answer.status_code == 302
    return outside_client
