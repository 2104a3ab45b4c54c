"""Two writers at a time are killed at a random moment, again and again; prints what was acknowledged to them.

`python -m tests.records.killing FOLDER ROUNDS SEED`, its own program, so that it may fork: a writer acknowledges an
entry over a pipe when `Store.add` has returned, and gets SIGKILL from a timer that is set after some acknowledgments.
"""

from __future__ import annotations

import os
import random
import signal
import sys
from datetime import UTC, datetime
from pathlib import Path

from hatchwright.records.database import FILE, PLACE
from hatchwright.records.kinds import Kind
from hatchwright.records.store import Store, sha256_of

WRITERS = 2
NOW = datetime(2026, 3, 9, 14, 5, tzinfo=UTC)
MOST_ACKNOWLEDGED, LONGEST_S = 6, 0.012
"""After so many the timer is set, to so long at most: some of the writings. Own choice, no source."""


def write(folder: Path, name: str, pipe: int, noise: random.Random) -> None:
    """Add entries, with a paper each, until killed."""
    store = Store.opened(folder)
    while True:
        paper = noise.randbytes(noise.randrange(1, 20_000))
        entry = store.add(
            Kind.REVISION,
            name,
            {"sha256": sha256_of(paper)},
            author=name,
            now=NOW,
            kept={sha256_of(paper): paper},
        )
        os.write(pipe, f"{entry.seq} {entry.hash}\n".encode())


def kill_once(folder: Path, noise: random.Random) -> bytes:
    """Start writers, kill them all, and give what they acknowledged."""
    reading, writing = os.pipe()
    writers = []
    for number in range(WRITERS):
        seed = noise.random()
        child = os.fork()
        if not child:
            try:
                write(folder, f"{number}.toml", writing, random.Random(seed))
            finally:
                os._exit(1)
        writers.append(child)
    os.close(writing)

    def kill(_signal: int, _frame: object) -> None:
        for writer in writers:
            os.kill(writer, signal.SIGKILL)

    signal.signal(signal.SIGALRM, kill)
    until, delay = noise.randrange(1, MOST_ACKNOWLEDGED + 1), noise.uniform(1e-6, LONGEST_S)
    acknowledged, is_set = b"", False
    while some := os.read(reading, 1 << 16):
        acknowledged += some
        if not is_set and acknowledged.count(b"\n") >= until:
            is_set = True
            signal.setitimer(signal.ITIMER_REAL, delay)
    os.close(reading)
    ends = [os.waitpid(writer, 0)[1] for writer in writers]
    assert ends == [signal.SIGKILL] * WRITERS, ends  # or a writer had ended by itself
    return acknowledged


def main() -> None:
    """Kill as often as asked; the last line counts the journals that a writer left behind unfinished."""
    folder, rounds, noise = Path(sys.argv[1]), int(sys.argv[2]), random.Random(int(sys.argv[3]))
    begun = Store.opened(folder)  # all that a writer needs is loaded once; its connection is its own
    begun.close()
    journal, left = folder / PLACE / f"{FILE}-journal", 0
    for _ in range(rounds):
        sys.stdout.write(kill_once(folder, noise).decode())
        left += journal.exists() and journal.stat().st_size > 0
    print(f"left {left}")


if __name__ == "__main__":
    main()
