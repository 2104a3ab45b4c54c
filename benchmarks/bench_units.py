"""How fast lengths are read: 100 000 a second is the aim, and what share of a plain float() that is."""

from __future__ import annotations

import timeit

from hatchwright.tables.drills import drill_sizes
from hatchwright.units import parse_length

TEXTS = ("1 3/8", "1-3/8", "3/32", ".032", "1.375 in", "35 mm", "0,8 mm", "#30", "-30", "F")


def main() -> None:
    """Print parses a second, and the cost against float() on the same machine in the same run."""
    drills = drill_sizes()

    def read() -> None:
        for text in TEXTS:
            parse_length(text, drills=drills)

    def plain() -> None:
        for _ in TEXTS:
            float("1.375")

    rounds = 5_000
    best = min(timeit.repeat(read, number=rounds, repeat=5)) / (rounds * len(TEXTS))
    base = min(timeit.repeat(plain, number=rounds, repeat=5)) / (rounds * len(TEXTS))
    print(f"{1.0 / best:,.0f} lengths a second; {best / base:.0f} times a plain float()")


if __name__ == "__main__":
    main()
