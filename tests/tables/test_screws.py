"""Screws: threads, lengths, clearance drills, families and the torque of table 7-1."""

from __future__ import annotations

import pytest

from hatchwright.errors import TableError
from hatchwright.tables.screws import (
    SCREW_FAMILIES,
    clearance_drill,
    clearance_drills,
    screw_size,
    torque,
)
from hatchwright.workings import Grade


@pytest.mark.parametrize("number", [4, 6, 8, 10])
def test_numbered_sizes_follow_their_definition(number: int) -> None:
    """[ASME-B1.1]: major diameter .060 + .013 n, exact as tabulated (the formula from memory, unverified)."""
    thread = {4: "4-40", 6: "6-32", 8: "8-32", 10: "10-32"}[number]
    assert screw_size(thread).major_diameter_in == pytest.approx(0.060 + 0.013 * number, abs=1e-12)


def test_threads() -> None:
    for thread in ("4-40", "6-32", "8-32", "8-36", "10-24", "10-32", "1/4-20", "1/4-28"):
        size = screw_size(thread)
        assert size.thread == f"{size.size}-{size.threads_per_in:g}"
        assert size.one_thread_in == pytest.approx(1 / size.threads_per_in)
        assert (size.source.key, size.grade) == ("FED-STD-H28/2B", Grade.PUBLISHED)
    assert screw_size("#8-32") == screw_size("No. 8-32") == screw_size(" 8-32 ")
    assert screw_size("1/4-28").major_diameter_in == 0.25


@pytest.mark.parametrize(
    ("thread", "drill", "hole_in"),
    [("6-32", "27", 0.144), ("8-32", "18", 0.1695)],  # common practice, no source
)
def test_close_clearance(thread: str, drill: str, hole_in: float) -> None:
    found = clearance_drill(thread)
    assert (found.name, found.diameter_in, found.grade) == (drill, hole_in, Grade.PRACTICE)


@pytest.mark.parametrize(("fit", "drill", "hole_in"), [("close", "10", 0.1935), ("tight", "11", 0.191)])
def test_clearance_of_number_10(fit: str, drill: str, hole_in: float) -> None:
    """[TM-1-1520-240-BD], par. 2-6a: an AN3 hole in sheet is .191 to .197."""
    found = clearance_drill("10-32", fit=fit)
    assert (found.name, found.diameter_in, found.grade) == (drill, hole_in, Grade.PUBLISHED)
    assert 0.191 <= found.diameter_in <= 0.197


def test_fits_open_up() -> None:
    for thread in ("6-32", "8-32", "10-32"):
        drills = clearance_drills(thread)
        sizes = [
            drills[fit].diameter_in
            for fit in ("tight", "close", "general close", "general normal", "general loose")
        ]
        assert sizes == sorted(sizes)
        assert screw_size(thread).major_diameter_in < sizes[0]
    # [ASME-B18.2.8] as tabulated in an open-source CAD parts library
    assert clearance_drill("8-32", fit="general close").name == "15"
    assert clearance_drill("10-32", fit="general loose").name == "B"
    assert clearance_drill("1/4-28", fit="general normal").name == "9/32"


def test_no_drill_is_guessed() -> None:
    with pytest.raises(TableError, match="Listed by fit: general close, general normal, general loose"):
        clearance_drill("1/4-28")
    with pytest.raises(TableError, match=r"a 4 screw, close fit\. Listed by size: 6, 8, 10, 1/4"):
        clearance_drill("4-40")


@pytest.mark.parametrize(
    ("thread", "nut", "least", "greatest", "limit"),
    [  # [AC43.13-1B], table 7-1, page 7-9, in-lbf
        ("8-36", "tension", 12, 15, 20),
        ("8-36", "shear", 7, 9, 12),
        ("10-32", "tension", 20, 25, 40),
        ("10-32", "shear", 12, 15, 25),
        ("1/4-28", "tension", 50, 70, 100),
        ("1/4-28", "shear", 30, 40, 60),
        ("8-32", "tension", 12, 15, 20),
        ("8-32", "shear", 7, 9, 12),
        ("10-24", "tension", 20, 25, 35),
        ("10-24", "shear", 12, 15, 21),
        ("1/4-20", "tension", 40, 50, 75),
        ("1/4-20", "shear", 25, 30, 45),
    ],
)
def test_torque(thread: str, nut: str, least: float, greatest: float, limit: float) -> None:
    found = torque(thread, nut=nut)
    assert (found.least_in_lbf, found.greatest_in_lbf, found.limit_in_lbf) == (least, greatest, limit)
    assert (found.source.place, found.grade) == ("table 7-1, page 7-9", Grade.PUBLISHED)


def test_there_is_no_torque_for_number_6() -> None:
    with pytest.raises(
        TableError, match=r"no torque is listed for 6-32 with a tension nut.*8-36.*manufacturer's value"
    ):
        torque("6-32")


def test_families() -> None:
    families = {found.family: found for found in SCREW_FAMILIES.all()}
    assert families["AN509"].is_flush
    assert families["AN509"].is_structural
    assert not families["AN507"].is_structural
    assert not families["AN525"].is_flush
    assert {family for family, found in families.items() if found.grade is Grade.RESTATED} == {
        "AN509", "AN525", "MS27039",
    }  # fmt: skip


@pytest.mark.parametrize(
    ("size", "pitch_mm", "holes_mm"),
    [
        # fine, medium and coarse series of [ISO-273], coarse pitches of [ISO-261], as an open-source library has them
        ("M3", 0.5, (3.2, 3.4, 3.6)),
        ("M4", 0.7, (4.3, 4.5, 4.8)),
        ("M5", 0.8, (5.3, 5.5, 5.8)),
        ("M6", 1.0, (6.4, 6.6, 7.0)),
    ],
)
def test_metric_screws(size: str, pitch_mm: float, holes_mm: tuple[float, ...]) -> None:
    found = screw_size(size)
    assert found == screw_size(f"{size.lower()} x {pitch_mm:g}")
    assert (found.major_diameter_in * 25.4, found.one_thread_in * 25.4) == (
        pytest.approx(float(size[1:]), abs=1e-6),
        pytest.approx(pitch_mm, abs=1e-6),
    )
    fits = ("general close", "general normal", "general loose")
    drills = [clearance_drill(size, fit=fit) for fit in fits]
    assert [one.diameter_in * 25.4 for one in drills] == pytest.approx(holes_mm)
    assert [one.name for one in drills] == [f"{hole:.1f} mm" for hole in holes_mm]
    assert clearance_drill(size) == drills[0]


def test_a_metric_thread_that_is_not_listed_is_not_guessed() -> None:
    with pytest.raises(TableError):
        screw_size("M4x0.5")
    with pytest.raises(TableError):
        screw_size("M7")
