"""Programs with workers that are in the middle of a calculation that does not end; each says so on its output.

Called as ``python -m tests.security.long_work KIND ...``, where workers find the functions of this module too.
"""

from __future__ import annotations

import os
import sys
import threading

from hatchwright.cli import main as command
from hatchwright.search.sweep_work import SweepRow, Task
from hatchwright.search.task_workers import in_processes
from hatchwright.web import __main__ as page
from hatchwright.web.worker import Worker
from hatchwright.workflow import job_folder, sweep_folder
from hatchwright.workflow.job_folder import JobFolder


def say_begun() -> None:
    """Say so at once and in one piece, which `print` does not where output is unbuffered and workers share it."""
    os.write(1, b"begun\n")


def calculate(*_: object) -> None:
    """Say that it has begun, and never end."""
    say_begun()
    while True:
        sum(range(1000))


def first_task_alone(task: Task) -> list[SweepRow]:
    """Answer for rows of six rivets; the others take for ever."""
    if dict(task.variants[0])["rows.count"] != "6":
        calculate()
    return [SweepRow(variant, rivets=6) for variant in task.variants]


class Folder(JobFolder):
    """A folder of which one job takes for ever to read."""

    def read(self, name: str) -> str:
        """The text of a job, unless it is that one."""
        if name == "long.toml":
            say_begun()
            threading.Event().wait()
        return super().read(name)


def main() -> None:
    """Begin what is named first."""
    kind, *more = sys.argv[1:]
    if kind == "pool":
        list(in_processes(2)(calculate, range(2)))
    elif kind == "page":
        Worker("long", is_kept=True).ask(calculate)
    elif kind == "served":
        job_folder.JobFolder = Folder
        sys.argv[1:] = more
        sys.exit(page.main())
    else:
        sweep_folder.do_task = first_task_alone
        sys.argv[1:] = [kind, *more]
        command.main()


if __name__ == "__main__":
    from tests.security import long_work  # so that workers find its functions under this name

    long_work.main()
