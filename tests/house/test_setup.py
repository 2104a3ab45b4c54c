"""`make setup` notices that the folder was moved or copied: what is installed in it points to its old place."""

from __future__ import annotations

import re
import shutil
import subprocess
from pathlib import Path

import pytest

from tests.patience import PATIENCE_S

ROOT = Path(__file__).parents[2]

pytestmark = pytest.mark.skipif(not shutil.which("make"), reason="make is not installed")


def made(root: Path, *targets: str) -> str:
    """What `make` says, called from elsewhere."""
    call = ["make", "--no-print-directory", "-C", str(root), *targets]
    done = subprocess.run(call, capture_output=True, text=True, timeout=PATIENCE_S, cwd="/")
    assert done.returncode == 0, done.stderr
    return done.stdout


@pytest.fixture
def root(tmp_path):
    """A checkout that is as good as set up: its installer only says what it would install, and where."""
    place = tmp_path / "first place"
    (place / "tools").mkdir(parents=True)
    (place / ".venv" / "bin").mkdir(parents=True)
    for name in ("Makefile", "pyproject.toml", "requirements.lock", "requirements-dev.lock"):
        shutil.copy(ROOT / name, place)
    installer = place / "tools" / "install"
    installer.write_text('#!/bin/sh\necho "installed $2 in $PWD"\n')
    installer.chmod(0o755)
    (place / ".venv" / "bin" / "python").touch()
    made(place, "setup", "setup-dev")
    return place


@pytest.mark.parametrize("target", ["setup", "setup-dev"])
def test_a_folder_that_stays_is_set_up_once_and_one_that_was_moved_anew(root, target):
    assert "installed" not in made(root, target)
    moved = root.rename(root.with_name("another place"))
    assert re.search(r"installed requirements\S* in .*another place", made(moved, target))
    assert "installed" not in made(moved, target)


def test_a_copy_is_set_up_anew_and_the_first_one_is_left_alone(root):
    copy = root.with_name("a copy")
    shutil.copytree(root, copy)
    assert "a copy" in made(copy, "setup")
    assert "installed" not in made(root, "setup", "setup-dev")


def test_what_runs_begins_with_the_set_up(root):
    moved = root.rename(root.with_name("another place"))
    for target, lock in [("run", "requirements.lock"), ("test", "requirements-dev.lock")]:
        assert f"tools/install .venv/bin/python {lock}" in made(moved, "--dry-run", target)


def test_no_target_calls_a_script_whose_first_line_names_the_old_place():
    commands = (ROOT / "Makefile").read_text(encoding="utf-8")
    assert set(re.findall(r"bin/(\w+)", commands.replace("/bin/bash", ""))) == {"python"}
    assert "-m hatchwright run" in commands
