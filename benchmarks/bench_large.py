"""Check and papers of jobs with hundreds to thousands of holes: 2 s and 30 s at 2,000, growing no worse than n log n.

Processor time of whole commands. The growth is the exponent of the number of holes between the smallest job and the
largest, taken off the time of a start; n log n is 1.1 over this span.
"""

from __future__ import annotations

import math
import resource
import subprocess
import sys
import tempfile
from pathlib import Path

from large_job import large_job

from hatchwright.workflow.open_job import open_job

SIZES = ((230, 4), (480, 5), (980, 7), (1850, 10))
"""Rivets asked for, and rows: the papers of the largest are about a hundred sheets."""
AIMS_S = {"check": 2.0, "papers": 30.0}


def processor_seconds(*call: str | Path) -> float:
    """Processor time of one command in a process of its own [s]."""
    begun = resource.getrusage(resource.RUSAGE_CHILDREN)
    whole = [sys.executable, "-m", "hatchwright", *map(str, call)]
    subprocess.run(whole, stdout=subprocess.DEVNULL, stderr=subprocess.DEVNULL, check=False)
    ended = resource.getrusage(resource.RUSAGE_CHILDREN)
    return ended.ru_utime + ended.ru_stime - begun.ru_utime - begun.ru_stime


def main() -> None:
    """Measure and print."""
    start_s = min(processor_seconds("--help") for _ in range(3))
    rows: list[tuple[int, dict[str, float]]] = []
    with tempfile.TemporaryDirectory() as folder:
        for rivets, lines in SIZES:
            path = Path(folder) / f"large{rivets}.toml"
            path.write_text(large_job(rivets, rows=lines), encoding="utf-8")
            holes = len(open_job(path).holes)
            papers = ("papers", path, "--paper", "11x17", "--out", path.with_suffix(""))
            times = {"check": processor_seconds("check", path), "papers": processor_seconds(*papers)}
            rows.append((holes, times))
            print(f"{holes:5d} holes a side  " + "  ".join(f"{name} {s:6.2f} s" for name, s in times.items()))
    (few, first), (many, last) = rows[0], rows[-1]
    for name, aim_s in AIMS_S.items():
        growth = math.log((last[name] - start_s) / (first[name] - start_s)) / math.log(many / few)
        print(
            f"{name}: aim {aim_s:.0f} s at 2,000 holes; time grows as the holes to the power of {growth:.2f}"
        )


if __name__ == "__main__":
    main()
