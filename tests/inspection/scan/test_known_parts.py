"""Known parts, rendered as scans: what is measured of them lies where it says that it lies.

The statistic can fail in both ways: readings that are off by half as much again as stated, and intervals eight times as
wide as they need to be, are found (the last test). Fractiles of the chi-squared and the binomial distribution: SciPy,
an outside library. 200 scans are measured by `studies/scan_errors.py`.
"""

from __future__ import annotations

from collections import defaultdict

import numpy as np
import pytest
from scipy.stats import binom, chi2

from hatchwright.errors import ScanError
from hatchwright.inspection.scan.cut_pose import cut_pose
from hatchwright.inspection.scan.scan import cut_offset, measure_scan
from tests.scans.asking import asked_of, measured
from tests.scans.judged import Off, case_of, errors_of, offset_error, paired, pose_errors

SCANS = (
    ("square", 900_500, False),
    ("disc", 900_501, True),
    ("opening", 900_502, True),
    ("pinned", 900_503, False),
    ("ring", 900_504, False),
    ("square", 900_505, True),
)
RARE = 0.002
"""How often a sound budget may be called unsound; the seeds are fixed, so that it is never again than once."""


def all_errors() -> list[list[Off]]:
    """The errors of each scan."""
    scans = [measured(*each) for each in SCANS]
    return [
        [
            *errors_of(scan, case),
            *offset_error(scan, case.part, cut_offset),
            *pose_errors(scan, case, cut_pose),
        ]
        for case, scan in scans
    ]


def sound(scans: list[list[Off]], kinds: tuple[str, ...]) -> bool:
    """Whether errors are as large as stated: their mean square over the stated one, counted once a scan and kind, for
    the readings of one scan share its scale, lies where chi-squared has it all but never not."""
    shares = [
        np.mean([(2.0 * each.error / each.expanded) ** 2 for each in of_kind])
        for scan in scans
        for kind in kinds
        if (of_kind := [each for each in scan if each.kind.split()[-1] == kind])
    ]
    low, high = chi2.ppf([RARE / 2.0, 1.0 - RARE / 2.0], len(shares))
    return bool(low <= sum(shares) <= high)


@pytest.mark.parametrize(
    "kinds",
    [
        ("width", "height"),
        ("radius",),
        ("diameter",),
        ("center",),
        ("place",),
        ("offset",),
        ("shift", "turn"),
    ],
    ids=lambda kinds: kinds[0],
)
def test_errors_are_as_large_as_stated(kinds):
    assert sound(all_errors(), kinds)


def test_most_intervals_hold_what_is_true():
    """Counted once a scan and kind, for the readings of one scan share its scale: one in twenty may lie outside."""
    groups = defaultdict(list)
    for number, scan in enumerate(all_errors()):
        for each in scan:
            groups[number, each.kind].append(each.error / each.expanded)
    outside = [np.sqrt(np.mean(np.square(shares))) > 1.0 for shares in groups.values()]
    assert len(outside) > 30
    assert sum(outside) <= binom.ppf(1.0 - RARE, len(outside), 0.05)
    assert max(abs(share) for shares in groups.values() for share in shares) < 2.5


def test_every_hole_and_every_bite_is_found():
    for case, scan in (measured(*each) for each in SCANS):
        found = sorted(at for _, at in paired(scan.holes, case))
        assert found == list(range(len(case.part.centers))), case.part
        assert len(scan.holes) == len(found)
        if case.part.bites:
            assert scan.opening.scallops.bites == case.part.bites
            assert scan.opening.scallops.advance_in == pytest.approx(case.part.advance, rel=0.01)
            assert scan.opening.scallops.height_in == pytest.approx(case.part.scallop, abs=0.0005)


def test_a_nibbled_edge_that_nobody_announced_is_not_measured_as_a_smooth_one():
    """Its mean line is neither the root line nor what a caliper touches: .003 off in width, and stated as .003."""
    case, _ = measured("pinned", 900_503, False)
    with pytest.raises(ScanError) as refused:
        measure_scan(case.content, asked_of(case, advance_in=None))
    assert refused.value.what.id == "scan.scalloped"


def test_the_frame_tells_how_it_was_scanned():
    for case, scan in (measured(*each) for each in SCANS):
        assert scan.window == case.part.window
        assert scan.card in (7, None)  # the picture may end within the mark of the number
        # a bow of .003 leans by up to 2 x .003 over a frame 4.7 long, and the bars are typed with u .002
        assert np.array(scan.dpi) == pytest.approx(300.0 / np.array(case.setup.scale), rel=0.0025)
        assert scan.turned_deg == pytest.approx(np.degrees(case.setup.card_turn), abs=0.1)
    assert sum(measured(*each)[1].card == 7 for each in SCANS) >= 3


def test_a_lens_states_more_for_what_it_sees_the_wall_of():
    """The wall of .032 sheet is seen by t x/H at each side of an opening, nothing of it by a contact sensor."""
    case, by_contact = measured("ring", 900_504, False)
    by_lens = measure_scan(case.content, asked_of(case, scanner="lens"))
    wide, narrow = (scan.opening.shape.width.expanded_in for scan in (by_lens, by_contact))
    assert wide > narrow + 0.0005


def test_an_outline_of_any_shape_lies_within_the_tolerance_asked_for():
    case = case_of("D", 900_506)
    scan = measure_scan(case.content, asked_of(case, shape="any", tolerance_in=0.003))
    assert scan.outline.shape is None
    assert len(curves(scan.outline.profile)) == 4  # the round, the flat, and both corners
    points = np.vstack([along(*each) for each in pieces(scan.outline.profile)])
    turn = case.setup.part_turn
    shift = np.dot(case.setup.part_at, [1, 1j]) * np.exp(-1j * case.setup.card_turn)
    there = (points @ [1, 1j] - shift) * np.exp(-1j * turn)
    assert np.abs(case.part.metal(there.real, there.imag)).max() <= 0.003 + 0.002


def pieces(profile) -> list[tuple[complex, complex, float]]:
    """Both ends and the bulge of each piece of a closed polyline."""
    ends = [complex(x, y) for x, y, _ in profile]
    return [(ends[i], ends[(i + 1) % len(ends)], bulge) for i, (_, _, bulge) in enumerate(profile)]


def curves(profile) -> list[tuple[complex, float]]:
    """Middle and radius of each arc, zero of each line; the parts of one arc are one."""
    found: list[tuple[complex, float]] = []
    for start, end, bulge in pieces(profile):
        hub = hub_of(start, end, bulge) if bulge else 0j
        curve = (hub, abs(start - hub) if bulge else 0.0)
        if not any(abs(hub - other) + abs(curve[1] - radius) < 0.01 for other, radius in found):
            found.append(curve)
    return found


def hub_of(start: complex, end: complex, bulge: float) -> complex:
    """Middle of an arc: the end lies on its start turned about it."""
    return start + (end - start) / (1.0 - np.exp(4j * np.arctan(bulge)))


def along(start: complex, end: complex, bulge: float) -> np.ndarray:
    """Points of an arc by its bulge, the tangent of a quarter of what it turns, shape (50, 2); left if positive."""
    share = np.linspace(0.0, 1.0, 50)
    if abs(bulge) < 1e-9:
        z = start + (end - start) * share
    else:
        hub = hub_of(start, end, bulge)
        z = hub + (start - hub) * np.exp(4j * np.arctan(bulge) * share)
    return np.column_stack([z.real, z.imag])


@pytest.mark.parametrize(
    "kinds", [("width", "height"), ("diameter",), ("center",), ("place",), ("radius",)], ids=lambda k: k[0]
)
def test_the_statistic_finds_readings_that_are_off_and_intervals_that_are_idle(kinds):
    scans = all_errors()
    off = [[Off(e.kind, e.error + 1.5 * e.expanded, e.expanded) for e in scan] for scan in scans]
    idle = [[Off(e.kind, e.error, 8.0 * e.expanded) for e in scan] for scan in scans]
    assert not sound(off, kinds)
    assert not sound(idle, kinds)
