"""Time of the papers of one job as a ratio to judging it, and whether memory grows from job to job.

Processor time, one thread; seconds are printed for information, only the ratios mean anything from one machine to
another. `python benchmarks/bench_papers.py 200` makes the papers of so many jobs and tells memory as it goes.
"""

from __future__ import annotations

import gc
import resource
import sys
import time
from collections.abc import Callable
from datetime import UTC, datetime
from pathlib import Path

from hatchwright.job.file import load_job
from hatchwright.workflow.examine import examine
from hatchwright.workflow.paper_kinds import NAMES, PAPERS, Made
from hatchwright.workflow.papers import papers

EXAMPLES = Path(__file__).parents[1] / "examples"
STAMP = datetime(2026, 3, 1, 10, tzinfo=UTC)
_JOBS = ("cypress", "dogwood", "birch", "elder")
_TOLD_EVERY = 20
_RUNS = 3


def processor_seconds(make: Callable[[], object]) -> float:
    """Least processor time of several runs [s]."""
    taken = []
    for _ in range(_RUNS):
        begun = time.process_time()
        make()
        taken.append(time.process_time() - begun)
    return min(taken)


def main(jobs: int) -> None:
    """Print the cost of each paper beside that of judging, then the memory after each few jobs."""
    alder = load_job(EXAMPLES / "alder.toml")
    judging = processor_seconds(lambda: [one.verdict for one in examine(alder).sides])
    print(f"{'judging both sides':28s}{judging:7.3f} s")
    usual = [paper.name for paper in PAPERS if not isinstance(paper, Made) or paper.is_usual]
    for name in (*NAMES, "all usual"):
        only = usual if name == "all usual" else (name,)
        taken = processor_seconds(
            lambda only=only: papers(examine(alder), stamp=STAMP, only=only, in_one=True)
        )
        print(f"{name:28s}{taken:7.3f} s  ratio {taken / judging:6.2f}")
    loaded = [load_job(EXAMPLES / f"{name}.toml") for name in _JOBS]
    for number in range(1, jobs + 1):
        job = loaded[number % len(loaded)].model_copy(update={"title": f"Job {number}"})
        papers(examine(job), stamp=STAMP, in_one=True)
        if number % _TOLD_EVERY == 0:
            gc.collect()
            most_mb = resource.getrusage(resource.RUSAGE_SELF).ru_maxrss / 1e3
            print(f"{number:4d} jobs: {len(gc.get_objects())} objects, {most_mb:.0f} MB at most")


if __name__ == "__main__":
    main(int(sys.argv[1]) if len(sys.argv) > 1 else _TOLD_EVERY)
