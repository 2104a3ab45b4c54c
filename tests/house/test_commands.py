"""Every command of the command line stands in the README."""

from __future__ import annotations

from pathlib import Path

from hatchwright.cli.main import _COMMANDS

README = (Path(__file__).parents[2] / "README.md").read_text(encoding="utf-8")


def test_every_command_is_in_the_readme():
    missing = [
        name for name in _COMMANDS if f"hatchwright {name}" not in README and f"`{name} " not in README
    ]
    assert not missing
