"""A server below its place, and a browser that came through the printed address."""

from __future__ import annotations

import pytest

from security.browsing import HOST, Browser
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
