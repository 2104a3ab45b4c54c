"""A rendered scan, handed to what measures it as a user would."""

from __future__ import annotations

from functools import cache
from typing import Any

import numpy as np

from hatchwright.inspection.scan.scan import Asked, Scan, measure_scan
from tests.scans.card import card
from tests.scans.judged import Case, case_of
from tests.scans.scanner import bar_lengths, scan_of
from tests.scans.setup import Setup, any_setup
from tests.scans.shapes import Values
from tests.scans.truths import PARTS, Part

SQUARE_SEED = 920_000


def asked_of(case: Case, **more: Any) -> Asked:
    """What the user says of a scan: bars by caliper, scanner, thickness, advance of the bites."""
    told: dict[str, Any] = {
        "bars_in": case.bars,
        "scanner": "contact" if case.setup.lens_height is None else "lens",
        "thickness_in": case.part.thickness,
        "advance_in": case.part.advance,
    }
    return Asked(**(told | more))


@cache
def measured(name: str, seed: int, lens: bool = False) -> tuple[Case, Scan]:
    """One of the known parts, scanned and measured."""
    case = case_of(name, seed, lens=lens)
    return case, measure_scan(case.content, asked_of(case))


class Sheet:
    """One part in its frame and how it is scanned; both may be changed before the picture is made."""

    def __init__(self, name: str = "square", seed: int = SQUARE_SEED) -> None:
        self.rng = np.random.default_rng(seed)
        self.part: Part | None = PARTS[name](self.rng)
        self.card = card(self.part.window)
        self.setup: Setup = any_setup(self.rng).but(jpeg=None)

    def levels(self, **changes: Any) -> Values:
        return scan_of(self.part, self.card, self.setup.but(**changes), np.random.default_rng(SQUARE_SEED))

    def asked(self, **more: Any) -> Asked:
        told: dict[str, Any] = {"bars_in": bar_lengths(self.card, self.setup), "scanner": "contact"}
        return Asked(**(told | more))


@cache
def square_levels() -> Values:
    """The picture that most tests of files begin from."""
    levels = Sheet().levels()
    levels.setflags(write=False)
    return levels
