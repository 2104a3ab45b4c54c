"""`make setup` in any folder: what it says, what it makes, and that it notices when the folder was moved or copied, for
what is installed in it points to its old place."""

from __future__ import annotations

import re
import shutil
import subprocess
import sys
from importlib.machinery import SourceFileLoader
from importlib.util import module_from_spec, spec_from_loader
from pathlib import Path

import pytest

from tests.patience import PATIENCE_S

ROOT = Path(__file__).parents[2]

pytestmark = pytest.mark.skipif(not shutil.which("make"), reason="make is not installed")


def called(*arguments: str) -> subprocess.CompletedProcess[str]:
    """`make`, called from elsewhere; the installer is a script of the shell."""
    call = ["make", "--no-print-directory", "PYTHON=sh", *arguments]
    return subprocess.run(call, capture_output=True, text=True, timeout=PATIENCE_S, cwd="/")


def made(root: Path, *targets: str) -> str:
    """What `make` says of a checkout."""
    done = called("-C", str(root), *targets)
    assert done.returncode == 0, done.stderr
    return done.stdout


@pytest.fixture
def root(tmp_path):
    """A checkout that is as good as set up: its installer only says what it would install, and where."""
    place = tmp_path / "größe, nr 1 (the first)" / "hatch wright's"
    (place / "tools").mkdir(parents=True)
    (place / ".venv" / "bin").mkdir(parents=True)
    for name in ("Makefile", "pyproject.toml", "requirements.lock", "requirements-dev.lock"):
        shutil.copy(ROOT / name, place)
    installer = place / "tools" / "install"
    installer.write_text('echo "installed $2 in $PWD"\n')
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


def test_another_python_is_set_up_anew(root):
    python = root / ".venv" / "bin" / "python"
    python.unlink()
    python.symlink_to(sys.executable)
    assert "installed" in made(root, "setup")
    assert "installed" not in made(root, "setup")


def test_nothing_is_made_beside_the_checkout_nor_where_it_is_called_from(root, tmp_path):
    assert list(root.parent.iterdir()) == [root]
    stray = tmp_path / "stray"
    stray.mkdir()
    done = called("-C", str(stray), "-f", str(root / "Makefile"), "setup")
    assert done.returncode != 0
    assert "make -C FOLDER" in done.stderr
    assert not list(stray.iterdir())


def test_the_examples_are_copied_once_and_the_page_is_opened(root):
    """With a page that only says which job it was given."""
    (root / "examples").mkdir()
    (root / "examples" / "juniper.toml").write_text("new")
    (root / "jobs").mkdir()
    (root / "jobs" / "juniper.toml").write_text("worked on")
    (root / "examples" / "alder.toml").write_text("new")
    python = root / ".venv" / "bin" / "python"
    python.write_text('#!/bin/sh\nprintf "%s|" "$@"\n')
    python.chmod(0o755)
    assert "-m|hatchwright|run|jobs/juniper.toml|" in made(root, "run")
    assert [(root / "jobs" / name).read_text() for name in ("alder.toml", "juniper.toml")] == [
        "new",
        "worked on",
    ]
    elsewhere = root.parent / "my jobs"
    assert f"run|{elsewhere}/juniper.toml|" in made(root, "run", f"JOBS={elsewhere}")


def test_what_runs_begins_with_the_set_up(root):
    moved = root.rename(root.with_name("another place"))
    for target, lock in [("run", "requirements.lock"), ("test", "requirements-dev.lock")]:
        assert f"tools/install .venv/bin/python {lock}" in made(moved, "--dry-run", target)


def test_no_target_calls_a_script_whose_first_line_names_the_old_place():
    commands = (ROOT / "Makefile").read_text(encoding="utf-8")
    assert set(re.findall(r"\bbin/(\w+)", commands.replace("/bin/bash", ""))) == {"python"}
    assert "-m hatchwright run" in commands


@pytest.fixture
def installer():
    """The program `tools/install`, to be called in parts."""
    loader = SourceFileLoader("install", str(ROOT / "tools" / "install"))
    module = module_from_spec(spec_from_loader("install", loader))
    with pytest.MonkeyPatch.context() as patch:
        patch.setattr(sys, "dont_write_bytecode", True)
        loader.exec_module(module)
        patch.setattr(module.time, "sleep", lambda seconds: None)
        yield module


def test_it_says_first_what_it_does(installer, root):
    """The fixture `root` has been set up by the Makefile."""
    environment = root / ".venv"
    assert (
        installer.first_words(environment, environment / "bin" / "python")
        == "Fetching what is new or missing."
    )
    moved = root.rename(root.with_name("another place")) / ".venv"
    assert "was moved" in installer.first_words(moved, moved / "bin" / "python")
    (moved / "place").unlink()
    assert "needs, once" in installer.first_words(moved, moved / "bin" / "python")


@pytest.fixture
def pip(tmp_path):
    """A Python whose pip only says what it is given to say, and ends as it is told to."""

    def saying(lines: str, status: int = 0) -> str:
        python = tmp_path / "python"
        python.write_text(f"#!/bin/sh\ncat <<'END'\n{lines}\nEND\nexit {status}\n")
        python.chmod(0o755)
        return str(python)

    return saying


@pytest.fixture
def lock(tmp_path):
    path = tmp_path / "requirements.lock"
    path.write_text(
        "".join(f"{name}==1.0 \\\n    --hash=sha256:0\n" for name in ("click", "colorama", "numpy"))
    )
    return str(path)


PIP_SAYS = """\
Ignoring colorama: markers 'sys_platform == "win32"' don't match your environment
Collecting click==1.0 (from -r requirements.lock (line 1))
  Downloading click-1.0-py3-none-any.whl (98 kB)
Processing /wheels/numpy-1.0-cp311-cp311-linux.whl (from -r requirements.lock (line 5))
Installing collected packages: click, numpy"""


def test_it_tells_how_far_it_is_in_plain_lines(installer, pip, lock, capsys):
    assert installer.fetched(pip(PIP_SAYS), lock, installer.Progress()) is None
    assert capsys.readouterr().out.splitlines() == [
        "  1 of 2: click",
        "  2 of 2: numpy",
        "  putting 2 packages in place",
    ]


def test_on_a_terminal_it_tells_so_on_one_line_that_moves(installer, pip, lock, capsys, monkeypatch):
    monkeypatch.setattr(installer.sys.stdout, "isatty", lambda: True)
    progress = installer.Progress()
    assert installer.fetched(pip(PIP_SAYS), lock, progress) is None
    progress.end()
    told = capsys.readouterr().out
    assert "\n" not in told
    assert re.search(r"\r\S*  1 of 2: click \(\d+ s\)\r", told)


@pytest.mark.parametrize(
    ("lines", "words"),
    [
        ("WARNING: Retrying (Retry(total=4)) after connection broken\nERROR: No matching", "needs a network"),
        ("ERROR: [Errno 28] No space left on device", "No space left on device"),
    ],
)
def test_what_can_not_be_fetched_is_told_with_its_reason(installer, pip, lock, lines, words):
    assert words in " ".join(installer.fetched(pip(lines, 1), lock, installer.Progress()))


def test_python3_venv_is_named_where_it_is_missing_and_nowhere_else(installer, tmp_path, monkeypatch):
    no_folder = tmp_path / "a file"
    no_folder.touch()
    what, _ = installer.new_environment(no_folder / ".venv", installer.Progress())
    assert "Not a directory" in what
    assert "python3-venv" not in what
    monkeypatch.setitem(sys.modules, "ensurepip", None)
    _, to_do = installer.new_environment(tmp_path / ".venv", installer.Progress())
    assert "apt install python3-venv" in to_do
    assert not (tmp_path / ".venv").exists()


def test_an_older_python_is_told_what_is_needed(installer, monkeypatch, capsys):
    monkeypatch.setattr(installer, "LEAST", (99, 0))
    assert installer.main(".venv/bin/python", "requirements.lock", ".") == 1
    assert "PYTHON=python3.12" in capsys.readouterr().err


def test_the_program_is_compiled_where_it_lies(installer, tmp_path, monkeypatch):
    """Or each start compiles it anew wherever Python was told to write nothing, for a third of the start's time."""
    monkeypatch.delenv("PYTHONPYCACHEPREFIX", raising=False)
    real = installer.followed
    monkeypatch.setattr(installer, "followed", lambda call, _: iter([0]) if "pip" in call else real(call, _))
    (tmp_path / "src").mkdir()
    (tmp_path / "src" / "one.py").write_text("ONE = 1\n", encoding="utf-8")
    assert installer.installed(sys.executable, str(tmp_path), installer.Progress()) is None
    assert list((tmp_path / "src" / "__pycache__").glob("one.*.pyc"))
