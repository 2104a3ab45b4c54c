"""An ordinary user, without a home or with one that only reads, in a folder that is somebody else's."""

from __future__ import annotations

import os
import shutil
import tempfile
from pathlib import Path

import pytest

from tests.conftest import EXAMPLES
from tests.security.browsing import HOST, Browser
from tests.security.commands import told_elsewhere
from tests.web.job_pages import Document

NOBODY = 54321
"""Number of a user whom no list of users names."""

BECOMES = f"""
import multiprocessing
import os
from tests.patience import until
from tests.security.commands import told
from tests.security.test_ordinary_user import CALLS, entered
here = os.getcwd()
os.chdir("as-root")
told(CALLS)
entered()
until(lambda: not multiprocessing.active_children(), "the end of what was begun as root")
os.chdir(here)
os.setgroups([])
os.setgid({NOBODY})
os.setuid({NOBODY})
"""
"""Loads all that is needed, for Python itself may lie in a home that others do not read; then becomes somebody else,
who may not end a process of root's."""

PAGE = """
for home in ("", here):  # none, and one that only reads
    if home:
        os.environ["HOME"] = home
    status, page = entered()
    assert status == 409, page
    assert "Permission denied" in page, page
"""

CALLS = [
    ["check", "OTHERS.toml"],
    ["template", "OTHERS.toml", "--out", "../own/papers"],
    ["template", "OTHERS.toml", "--out", "papers"],
    ["check", "closed.toml"],
    ["new", "mine.toml"],
]


def entered() -> tuple[int, str]:
    """The answer of the page to an entry into a job of the present folder."""
    from hatchwright.web.place import place_of
    from hatchwright.web.server import application

    place = place_of(8000)
    app, site = application(Path(), hosts=[HOST], place=place)
    shown = Browser(app)
    assert shown.ask(f"{place}/enter/{site.tokens.issue()}").status == 302
    assert "OTHERS" in shown.ask(f"{place}/").text
    page = shown.ask(f"{place}/job/OTHERS.toml/")
    form = {**Document(page.text).form, "serial": "1", "job.title": "taken over"}
    answer = shown.ask(f"{place}/job/OTHERS.toml/entries", form, hx_request="true")
    return answer.status, answer.text


@pytest.fixture
def place():
    """A folder that root owns and everybody reads, with a job in it; pytest's own are closed to others."""
    if os.name != "posix" or os.geteuid() != 0:
        pytest.skip("only root becomes somebody else; an ordinary user runs all tests as one")
    top = Path(tempfile.mkdtemp(prefix="others-"))
    top.chmod(0o755)
    (top / "own").mkdir()
    os.chown(top / "own", NOBODY, NOBODY)
    for made in (top / "here", top / "here" / "as-root"):
        made.mkdir()
        for name in ("OTHERS.toml", "closed.toml"):
            shutil.copy(EXAMPLES / "dogwood.toml", made / name)
        (made / "OTHERS.toml").chmod(0o644)
        (made / "closed.toml").chmod(0o600)
    yield top / "here"
    shutil.rmtree(top)


def seen(place: Path) -> dict[str, bytes]:
    return {path.name: path.read_bytes() for path in place.iterdir() if path.is_file()}


def test_what_may_be_read_is_shown_and_what_may_not_be_written_is_told(place):
    before = seen(place)
    begins = BECOMES + PAGE
    checked, written, unwritten, unread, not_begun = told_elsewhere(
        CALLS, begins=begins, cwd=place, without=("HOME", "XDG_STATE_HOME")
    )
    assert checked[0] == 1
    assert written[0] in (0, 1)
    assert list((place.parent / "own" / "papers").iterdir())
    for status, _, complaint in (unwritten, unread, not_begun):
        assert status == 2
        assert "Permission denied" in complaint or "is not readable" in complaint
        assert "Traceback" not in complaint
    assert seen(place) == before
