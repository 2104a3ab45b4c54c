"""A language that writes 1,5 changes no number: neither on the terminal nor in a file."""

from __future__ import annotations

import shutil
import subprocess
from datetime import UTC, datetime

import pytest

from hatchwright.cli import template
from tests.conftest import EXAMPLES
from tests.security.commands import told, told_elsewhere

STAMP = datetime(2026, 1, 2, 15, 4, tzinfo=UTC)
SETS = """
import locale
locale.setlocale(locale.LC_ALL, "")
assert locale.localeconv()["decimal_point"] == ",", locale.localeconv()
assert locale.str(1.5) == "1,5"
from hatchwright.cli import template
from tests.security.test_locale import STAMP
template.now = lambda: STAMP
"""
"""What the libraries that write files are told, too: Python alone takes only the letters from the environment."""


@pytest.fixture(scope="module")
def german(tmp_path_factory):
    """The environment of a machine on which German is installed."""
    place = tmp_path_factory.mktemp("locales")
    name = "de_DE.UTF-8"
    if shutil.which("localedef"):
        call = ["localedef", "-i", "de_DE", "-f", "UTF-8", str(place / name)]
        subprocess.run(call, capture_output=True, check=False)
    if not (place / name / "LC_NUMERIC").exists():
        pytest.skip(
            "localedef makes no de_DE here: install Debian's locales to see that a comma changes nothing"
        )
    return {"LOCPATH": str(place), "LC_ALL": name, "LANGUAGE": "de"}


def test_numbers_keep_their_point(german, tmp_path, monkeypatch):
    monkeypatch.setattr(template, "now", lambda: STAMP)
    answers, files = {}, {}
    for name in ("plain", "german"):
        (tmp_path / name).mkdir()
        calls = [
            ["check", str(EXAMPLES / "dogwood.toml"), "--json"],
            ["check", str(EXAMPLES / "dogwood.toml")],
            ["template", str(EXAMPLES / "juniper.toml"), "--printable", "--out", "."],
        ]
        if name == "plain":
            monkeypatch.chdir(tmp_path / name)
            answers[name] = told(calls)
        else:
            answers[name] = told_elsewhere(calls, begins=SETS, env=german, cwd=tmp_path / name)
        files[name] = {path.name: path.read_bytes() for path in (tmp_path / name).iterdir()}
    assert answers["german"] == answers["plain"]
    assert files["german"].keys() == files["plain"].keys()
    assert {name.rpartition(".")[2] for name in files["plain"]} == {"svg", "dxf", "3mf", "pdf"}
    for name, content in files["plain"].items():
        assert files["german"][name] == content, name
