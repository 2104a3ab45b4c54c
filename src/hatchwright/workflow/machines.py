"""The machines that a folder of jobs knows: machine files in its folder ``machines``."""

from __future__ import annotations

from pathlib import Path

from hatchwright.errors import Fault, JobError
from hatchwright.job.machine import Machine
from hatchwright.said import said

MACHINES = "machines"
"""Folder beside the jobs that holds the machine files."""


def machines_in(folder: Path) -> tuple[str, ...]:
    """File names of the machines in alphabetical order; whether each can be read is told when it is used."""
    return tuple(sorted(path.name for path in (folder / MACHINES).glob("*.toml") if path.is_file()))


def machine_named(folder: Path, name: str) -> Machine:
    """Read one of the machine files; JobError where there is none, or it is refused."""
    if name not in machines_in(folder):
        raise JobError((Fault("machine", said("error.no_machine"), name[:80], said("error.pick")),))
    return Machine.load(folder / MACHINES / name)
