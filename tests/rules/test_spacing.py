"""R201, R202, R204, R212, R213: spacing of rivets along and between rows, and to screws.

Limits: 3 D single, 4 D double and 3 D triple rows, [AC43.13-1B] par. 4-57 and fig. 4-5, seen only restated; 3 D any
row, [NAVEDTRA-14018] ch. 13; row spacing 2.5 D, [TM-10-5410-229-13P] par. 5-6, or 2 D, fig. 4-5, from memory; 3 D of
the larger to screws, common practice, no source.
"""

from __future__ import annotations

import pytest

from hatchwright.layout.lay_out import lay_out
from rules.cases import (
    CAUTION,
    FLUSH,
    PASS,
    PLAIN,
    RING,
    STOP,
    UNKNOWN,
    Case,
    along_y,
    cases,
    job_of,
    judged,
    rivets,
    typed,
)

NAVY = [{"rule": "R202", "reading": "Navy manual, any row", "reason": "as the rows beside it"}]
FIGURE = [{"rule": "R204", "reading": "circular's figure", "reason": "as the rows beside it"}]


def pair(apart: float) -> dict:
    return {"rows": [rivets((2.3, 0.0), (2.3, apart))]}


def rows(*, pitch: float = 0.5, spacing: float = 0.32, count: int = 2, **more) -> dict:
    """Staggered rows side by side."""
    laid = [
        along_y(2.3 + spacing * k, pitch=pitch, start=-0.8 + pitch / 2 * (k % 2), name=f"row {k}")
        for k in range(count)
    ]
    return {"rows": laid, **more}


def made_pair(apart: str) -> dict:
    return {**pair(0.5), "as_made": {"uncertainty": ".005", "holes": [[1, "2.3", "0"], [2, "2.3", apart]]}}


CASES = (
    # 1/8 rivets: 3 D = .375
    Case("R201", PASS, PLAIN, pair(0.375), limit=0.375),
    Case("R201", STOP, PLAIN, pair(0.374), said=".001 short"),
    Case("R201", PASS, PLAIN, made_pair(".380")),
    Case("R201", UNKNOWN, PLAIN, made_pair(".3799"), said="can't be shown to pass"),
    Case("R201", STOP, PLAIN, made_pair(".3699")),
    # double row: 4 D = .500; between 3 D and 4 D the documents differ
    Case("R202", PASS, RING, rows(pitch=0.5), limit=0.5),
    Case("R202", CAUTION, RING, rows(pitch=0.499), said="References differ"),
    Case("R202", CAUTION, RING, rows(pitch=0.375)),
    Case("R202", STOP, RING, rows(pitch=0.374)),
    Case("R202", PASS, RING, rows(pitch=0.375, choices=NAVY), limit=0.375, said="Chosen: NAVEDTRA 14018"),
    Case("R202", STOP, RING, rows(pitch=0.374, choices=NAVY)),
    # triple row: 3 D = .375
    Case("R213", PASS, RING, rows(pitch=0.375, count=3), limit=0.375),
    Case("R213", STOP, RING, rows(pitch=0.374, count=3)),
    # row spacing: 2.5 D = .3125, or 2 D = .250 when the figure is chosen, which is from memory
    Case("R204", PASS, RING, rows(spacing=0.3125), limit=0.3125),
    Case("R204", STOP, RING, rows(spacing=0.312), said=".001 short"),
    Case("R204", CAUTION, RING, rows(spacing=0.25, choices=FIGURE), said="confirm it"),
    Case("R204", STOP, RING, rows(spacing=0.249, choices=FIGURE)),
    Case(
        "R204",
        UNKNOWN,
        RING,
        rows(
            spacing=0.3145,
            as_made={
                "uncertainty": ".005",
                "holes": [[k + 1, "2.3", repr(-0.8 + 0.5 * k)] for k in range(4)],
            },
        ),
    ),
)

CASES += (
    # No. 10 screws: 3 x .190 = .570 to a rivet; the screws lie on X = 1.58875
    Case("R212", PASS, FLUSH, {"rows": [rivets((2.3, 0.73))]}, limit=0.57),
    Case("R212", CAUTION, FLUSH, {"rows": [rivets((2.1, 0.73))]}),
)


def measured(*holes: tuple[int, float, float]) -> dict:
    return {
        "as_made": {"uncertainty": ".005", "holes": [[n, typed(x), typed(y)] for n, x, y in holes]},
    }


CASES += (
    # a drawn neighbor at its limit does not hide a measured one that lies within its u of .005
    Case("R202", PASS, RING, {**rows(pitch=0.5), **measured((1, 2.3, -0.805))}),
    Case("R202", CAUTION, RING, {**rows(pitch=0.5), **measured((1, 2.3, -0.802))}, said="can't be shown"),
    Case("R213", PASS, RING, {**rows(pitch=0.375, count=3), **measured((1, 2.3, -0.805))}),
    Case("R213", UNKNOWN, RING, {**rows(pitch=0.375, count=3), **measured((1, 2.3, -0.802))}, value=0.377),
    Case("R204", PASS, RING, {**rows(spacing=0.313), **measured((1, 2.2905, -0.8))}),
    Case("R204", UNKNOWN, RING, {**rows(spacing=0.313), **measured((1, 2.291, -0.8))}),
    Case("R204", UNKNOWN, RING, {**rows(spacing=0.313), **measured((1, 2.297, -0.8))}, said="can't be"),
    Case("R204", STOP, RING, {**rows(spacing=0.312), **measured((1, 2.297, -0.8))}, value=0.312),
)


@cases(*CASES)
def test_spacing(case):
    case.holds()


def test_screws_and_rivets_exactly_three_diameters_apart_pass():
    screw = next(hole for hole in lay_out(job_of(FLUSH)).holes if hole.kind == "screw")
    for apart, status in ((0.57, PASS), (0.569, CAUTION)):
        (found,) = judged("R212", FLUSH, {"rows": [rivets((screw.x_in + apart, screw.y_in))]})
        assert found.value == pytest.approx(apart)
        assert found.status is status


def test_rows_far_apart_are_no_double_row():
    # 12 diameters = 1.5 in is as far as neighboring rows are looked for
    assert judged("R202", RING, rows(spacing=1.51)) == []
    assert judged("R204", RING, rows(spacing=1.51)) == []


def test_a_single_row_is_not_judged_as_a_double_one():
    assert judged("R202", PLAIN, pair(0.4)) == []


def test_holes_in_two_rows_are_held_apart_as_those_of_one():
    found = judged("R201", RING, {"rows": [rivets((2.3, 0.0), name="a"), rivets((2.5, 0.3), name="b")]})
    assert [f.status for f in found] == [STOP]
    assert found[0].value == pytest.approx((0.2**2 + 0.3**2) ** 0.5)
