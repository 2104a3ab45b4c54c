"""Time of a command from start to end, as a ratio to a bare start with the libraries that every command needs.

Processor time, least of several runs that take turns, all compiled before the first: an installed program is. Seconds
are printed for information; only the ratios mean anything from one machine to another. The bare start is taken as it
is, and with one thread for linear algebra, as the commands run: how long a pool of threads takes to start depends on
what else the machine does.
"""

from __future__ import annotations

import os
import resource
import subprocess
import sys
import tempfile
from pathlib import Path

ALDER = Path(__file__).parents[1] / "examples" / "alder.toml"
_RUNS = 9
_THREADS = "OPENBLAS_NUM_THREADS"
_LIBRARIES = ("-c", "import numpy, pydantic")
_A_MODEL = ("-c", "import numpy, pydantic, click; type('M', (pydantic.BaseModel,), {})")
_COMMANDS = {
    "NumPy and pydantic": (_LIBRARIES, ""),
    "the same, one thread": (_LIBRARIES, "1"),
    "with click and one empty model": (_A_MODEL, "1"),
    "--help": (("-m", "hatchwright", "--help"), ""),
    "check, no loads": (("-m", "hatchwright", "check", str(ALDER)), ""),
}
AIM = 2.0
"""What a check may cost of the bare start [-]."""


def processor_seconds(call: tuple[str, ...], threads: str, compiled: str) -> float:
    """Processor time of one run in a process of its own [s].

    Args:
        threads: for linear algebra, "" for what the library takes by itself.
        compiled: folder of what was compiled.
    """
    given = {**os.environ, "PYTHONPYCACHEPREFIX": compiled, _THREADS: threads}
    kept = {name: value for name, value in given.items() if value and name != "PYTHONDONTWRITEBYTECODE"}
    begun = resource.getrusage(resource.RUSAGE_CHILDREN)
    subprocess.run([sys.executable, *call], stdout=subprocess.DEVNULL, check=False, env=kept)
    ended = resource.getrusage(resource.RUSAGE_CHILDREN)
    return ended.ru_utime + ended.ru_stime - begun.ru_utime - begun.ru_stime


def main() -> None:
    """Print each start beside the bare one."""
    with tempfile.TemporaryDirectory() as compiled:
        rounds = [
            {name: processor_seconds(*how, compiled) for name, how in _COMMANDS.items()}
            for _ in range(1 + _RUNS)
        ]
    least = {name: min(one[name] for one in rounds[1:]) for name in _COMMANDS}
    bare = next(iter(least.values()))
    for name, taken in least.items():
        print(f"{name:32s}{taken:7.3f} s  ratio {taken / bare:5.2f}")
    print(f"aim for a check: ratio {AIM:.1f} at most")


if __name__ == "__main__":
    main()
