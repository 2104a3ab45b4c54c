"""Time of a command from start to end, as a ratio to a bare start with the libraries that every command needs.

User time of the processor, least of several runs that take turns. Seconds are printed for information; only the ratios
mean anything from one machine to another.
"""

from __future__ import annotations

import resource
import subprocess
import sys
from pathlib import Path

ALDER = Path(__file__).parents[1] / "examples" / "alder.toml"
_RUNS = 5
_BARE = ("-c", "import click, numpy, pydantic")
_COMMANDS = {
    "click, NumPy and pydantic": _BARE,
    "--help": ("-m", "hatchwright", "--help"),
    "check, no loads": ("-m", "hatchwright", "check", str(ALDER)),
}


def user_seconds(call: tuple[str, ...]) -> float:
    """User time of one run in a process of its own [s]."""
    begun = resource.getrusage(resource.RUSAGE_CHILDREN).ru_utime
    subprocess.run([sys.executable, *call], stdout=subprocess.DEVNULL, check=False)
    return resource.getrusage(resource.RUSAGE_CHILDREN).ru_utime - begun


def main() -> None:
    """Print each start beside the bare one."""
    rounds = [{name: user_seconds(call) for name, call in _COMMANDS.items()} for _ in range(_RUNS)]
    least = {name: min(one[name] for one in rounds) for name in _COMMANDS}
    bare = next(iter(least.values()))
    for name, taken in least.items():
        print(f"{name:28s}{taken:7.3f} s  ratio {taken / bare:5.2f}")


if __name__ == "__main__":
    main()
