"""R707: screws of a mounted base and what lies behind them.

An eighth of an inch to structure and lines beside: [TM-1-1520-240-BD], web patches; the same room for a screw's end is
common practice, no source.
"""

from __future__ import annotations

import pytest

from rules.cases import PASS, RING, STOP, UNKNOWN, Case, cases, judged

MOUNT = {"kind": "other", "base": ["3", "3"], "screw_size": "8-32", "screw_pattern": ["2", "2"]}


def based(depth: str | None, reach: str | None = None, x: str = "1", **more: object) -> dict:
    """The base about X 0 Y 0 with its screws at 1 and 1, and something behind the two at X = 1."""
    mount = {**MOUNT, **({"screw_reach": reach} if reach else {})}
    there = {"name": "bundle", "x_from": x, "x_to": x, **more, **({"depth": depth} if depth else {})}
    return {"mount": mount, "bay.keep_outs": [there]}


CASES = (
    Case("R707", PASS, RING, {"mount": MOUNT}, said="nothing entered behind"),
    Case("R707", PASS, RING, based("1.2", x="2"), said="nothing entered behind"),
    Case("R707", UNKNOWN, RING, based("1.2"), said="Measure how far screw and nut reach"),
    Case("R707", PASS, RING, based("1.2", ".4"), value=0.8, limit=0.125),
    Case("R707", PASS, RING, based(".525", ".4"), value=0.125),
    Case(
        "R707", STOP, RING, based(".524", ".4"), value=0.124, said="between a screw and what is behind: .125"
    ),
    Case("R707", STOP, RING, based(".3", ".4")),
    Case("R707", UNKNOWN, RING, based(".7", ".4", moves=True)),
)


@cases(*CASES)
def test_base_screws(case):
    case.holds()


@pytest.mark.parametrize("job", [RING, {**RING, "mount": {"kind": "other", "base": ["3", "3"]}}])
def test_without_base_screws_nothing_is_asked(job):
    assert judged("R707", job) == []
