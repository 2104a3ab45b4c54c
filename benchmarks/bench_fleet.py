"""A fleet of twelve aircraft, both sides: jobs made, a change of the pattern told and entered, the set printed in 60 s.

Wall time of a person who waits, with as many workers as the page takes.
"""

from __future__ import annotations

import os
import shutil
import tempfile
import time
from collections.abc import Callable
from datetime import UTC, datetime
from pathlib import Path
from typing import TypeVar

from hatchwright.search.task_workers import in_processes
from hatchwright.workflow.fleet_entries import new_fleet_text
from hatchwright.workflow.fleet_folder import FleetFolder
from hatchwright.workflow.fleet_lines import make_jobs
from hatchwright.workflow.fleet_pattern import give_pattern, pattern_changes
from hatchwright.workflow.fleet_print import fleet_print
from hatchwright.workflow.fleet_pull import fleet_pull
from hatchwright.workflow.job_folder import JobFolder, version_of

EXAMPLE = Path(__file__).parents[1] / "examples" / "alder.toml"
AIRCRAFT = 12
AIM_S = 60.0

Answer = TypeVar("Answer")


def told(what: str, do: Callable[[], Answer]) -> Answer:
    """Do it and print how long it took."""
    begun_s = time.perf_counter()
    answer = do()
    print(f"{what}: {time.perf_counter() - begun_s:.2f} s")
    return answer


def main() -> None:
    """Measure and print."""
    with tempfile.TemporaryDirectory() as place:
        folder = Path(place)
        shutil.copy(EXAMPLE, folder)
        fleets, jobs = FleetFolder(folder), JobFolder(folder)
        rows = "".join(f"N{100 + at}HW\t{at:04d}\n" for at in range(AIRCRAFT))
        text = new_fleet_text("Fleet", EXAMPLE.name, rows)
        name = fleets.new("Fleet", text)
        made = told("jobs made", lambda: make_jobs(fleets, jobs, name, version_of(text)))
        pattern = folder / EXAMPLE.name
        pattern.write_text(pattern.read_text().replace('pitch = ".62"', 'pitch = ".60"', 1))
        seen = told("change told", lambda: pattern_changes(fleets, jobs, name))
        told("change entered", lambda: give_pattern(fleets, jobs, name, seen))
        stamp = datetime.now(UTC)
        told("pull list", lambda: fleet_pull(fleets, jobs, name, stamp=stamp))
        workers = in_processes(max(1, min(4, os.cpu_count() or 1)))
        files = told("set printed", lambda: fleet_print(fleets, jobs, name, stamp=stamp, do=workers))
        size_mb = len(files[0].content) / 1e6
        print(
            f"{len(made)} jobs, {len(seen.asking)} changed, {len(files)} files, {size_mb:.1f} MB; aim {AIM_S:.0f} s"
        )


if __name__ == "__main__":
    main()
