"""A mistyped command gets a guess, and the shell completes what is begun, by click's own protocol."""

from __future__ import annotations

import subprocess
import sys

import pytest

from hatchwright.cli.main import _COMMANDS


@pytest.mark.parametrize(
    ("typed", "said"),
    [
        (["chek", "wing.toml"], "There is no command chek. Did you mean check?"),
        (["Fastener"], "Did you mean fasteners?"),
        (["wing.toml"], "hatchwright check wing.toml"),
        (["xyzzy"], "There is no command xyzzy. Pick one"),
        (["check", "--jsn", "wing.toml"], "--json"),
        (["--hepl"], "Did you mean '--help'?"),
    ],
)
def test_what_was_mistyped_is_told_with_a_guess(shell, typed, said):
    status, out, err = shell(*typed)
    assert (status, out) == (2, "")
    assert said in err


def completed(shell, monkeypatch, words: str) -> list[str]:
    """What the shell is offered for the last word."""
    monkeypatch.setenv("_HATCHWRIGHT_COMPLETE", "bash_complete")
    monkeypatch.setenv("COMP_WORDS", f"hatchwright {words}")
    monkeypatch.setenv("COMP_CWORD", str(words.count(" ") + 1))
    status, out, _ = shell()
    assert status == 0
    return out.splitlines()


@pytest.mark.parametrize(
    ("words", "offered"),
    [
        ("", [f"plain,{name}" for name in _COMMANDS]),
        ("te", ["plain,template"]),
        ("check --js", ["plain,--json"]),
        ("papers --paper a", ["plain,a4"]),
        ("check win", ["file,win"]),
    ],
)
def test_the_tab_key_is_offered_what_may_follow(shell, monkeypatch, words, offered):
    """As click's documentation has it, shell completion: the kind of each offer, and the offer."""
    assert completed(shell, monkeypatch, words) == offered


def test_completion_of_a_command_loads_none():
    code = "import sys; from hatchwright.cli.main import hatchwright as group; import click\n"
    code += "group.shell_complete(click.Context(group), ''); print(*sys.modules)"
    told = subprocess.run([sys.executable, "-c", code], capture_output=True, text=True, check=True).stdout
    assert "hatchwright.cli.frame" in told.split()
    assert not {f"hatchwright.cli.{name}" for name in _COMMANDS} & set(told.split())


@pytest.mark.parametrize("name", ["bash", "zsh", "fish"])
def test_the_help_tells_the_line_that_turns_completion_on(shell, monkeypatch, name):
    _, out, _ = shell("--help")
    (line,) = (line.split(maxsplit=1) for line in out.splitlines() if f"={name}_source" in line)
    assert line[0] == f"{name}:"
    assert f"_HATCHWRIGHT_COMPLETE={name}_source hatchwright" in line[1]
    monkeypatch.setenv("_HATCHWRIGHT_COMPLETE", f"{name}_source")
    if name != "bash":  # which click asks for its version
        status, out, _ = shell()
        assert status == 0
        assert f"_HATCHWRIGHT_COMPLETE={name}_complete" in out
