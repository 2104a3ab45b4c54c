"""The list of 1,000 jobs: from the request to its whole answer, 100 ms or less is the aim.

Processor time of the server, least of several runs; what is judged once is put in its place beforehand, for that takes
its own time beside the page. Ratios are to reading the same files in the same run.
"""

from __future__ import annotations

import os
import tempfile
import time
from collections.abc import Callable
from pathlib import Path

from hatchwright.job.file import edited, load_job_text
from hatchwright.page.job_line import JobLine, job_line
from hatchwright.page.screen import Asked

EXAMPLE = Path(__file__).parents[1] / "examples" / "alder.toml"
JOBS = 1000
AIM_MS = 100.0
PLAIN = "the files, read"
_RUNS = 7


def least_ms(do: Callable[[], object]) -> float:
    """Processor time of a call [ms]."""
    runs = []
    for _ in range(_RUNS):
        begun = time.process_time()
        do()
        runs.append(1e3 * (time.process_time() - begun))
    return min(runs)


def list_times(folder: Path) -> dict[str, float]:
    """Times of the list and of reading its files [ms]; says how large the page is."""
    from django.test import Client

    from hatchwright.web.server import application
    from hatchwright.web.site import SITE, Site

    _, site = application(folder)
    client = Client(SERVER_NAME="127.0.0.1", **{SITE: site})
    client.get(f"/enter/{site.tokens.issue()}")
    line = job_line(Asked(load_job_text(EXAMPLE), EXAMPLE.parent, EXAMPLE.name))

    def wait_for_ever(asked: Asked, with_strength: bool) -> JobLine:
        time.sleep(1e6)
        return line

    def shown(judge: Callable[[Asked, bool], JobLine]) -> Site:
        fresh = Site(site.jobs)
        fresh.job_list.judge = judge
        return fresh

    def page(of: Site) -> bytes:
        client.defaults[SITE] = of
        return client.get("/").content

    unknown = shown(wait_for_ever)
    print(f"the page of {JOBS} jobs: {len(page(unknown)) / 1e6:.2f} MB while nothing is judged", end=", ")
    times = {
        PLAIN: least_ms(lambda: [file.read_bytes() for file in folder.iterdir()]),
        "the list, nothing judged yet": least_ms(lambda: page(unknown)),
    }
    known = shown(lambda asked, with_strength: line)
    while b'data-lacks="all"' in (whole := page(known)):
        time.sleep(0.2)
    print(f"{len(whole) / 1e6:.2f} MB with all points")
    times["the list, known from an earlier start"] = least_ms(lambda: page(shown(wait_for_ever)))
    times["the list, visited again"] = least_ms(lambda: page(known))
    return times


def main() -> None:
    """Measure and print."""
    with tempfile.TemporaryDirectory() as place:
        os.environ |= {"XDG_CACHE_HOME": f"{place}/cache", "XDG_STATE_HOME": f"{place}/state"}
        folder = Path(place) / "jobs"
        folder.mkdir()
        text = load_job_text(EXAMPLE)
        for number in range(JOBS):
            (folder / f"job-{number:04d}.toml").write_text(edited(text, {"revision": f"{number}"}), "utf-8")
        times = list_times(folder)
        for name, took in times.items():
            print(
                f"  {name}: {took:.0f} ms of the processor, ratio {took / times[PLAIN]:.1f}, aim {AIM_MS:.0f} ms"
            )


if __name__ == "__main__":
    main()
