"""The Navy's hand-tool manual: rivet guns, icebox rivets and sealants.

US Navy training manual NAVEDTRA 14315, table 4-1 (air pressure, approximate; the last line of the copy is cut off),
the page with table 3-1 (rivets kept cold) and chapter 5, page with figure 5-44 (MIL-S-8802). Page-by-page text copy.
"""

from __future__ import annotations

import pytest

from hatchwright.errors import TableError
from hatchwright.tables.instructions import instruction
from hatchwright.tables.rivet_guns import gun_pressure
from hatchwright.tables.sealants import sealant, sealant_class, sealing
from hatchwright.workings import Grade


@pytest.mark.parametrize(
    ("diameter_in", "pressure_psi", "grade"),
    [
        (3 / 32, 35, Grade.PUBLISHED),
        (1 / 8, 40, Grade.PUBLISHED),
        (5 / 32, 60, Grade.PUBLISHED),
        (3 / 16, 90, Grade.MEMORY),  # the line that was cut off
    ],
)
def test_air_pressure_of_rivet_guns(diameter_in: float, pressure_psi: float, grade: Grade) -> None:
    found = gun_pressure(diameter_in)
    assert (found.value, found.unit, found.grade) == (pressure_psi, "psi", grade)


def test_no_pressure_is_guessed_for_a_quarter_inch_rivet() -> None:
    with pytest.raises(TableError, match=r"1/4|\.25"):
        gun_pressure(0.25)


def test_icebox_rivets() -> None:
    """2017-T4 and 2024-T4 alike: 20 minutes after quenching, or at 32 F and below for 24 hours."""
    found = instruction("icebox_rivets")
    assert all(words in found.text for words in ("2017-T4 and 2024-T4", "20 minutes", "32 F", "24 hours"))
    assert found.grade is Grade.PUBLISHED


def test_classes_of_sealant() -> None:
    """A by brush, B by extrusion gun and spatula, C for faying surfaces."""
    assert [sealant_class(name).use for name in "ABC"] == [
        "brush",
        "extrusion gun and spatula",
        "faying surfaces",
    ]


def test_the_dash_number_is_the_application_time() -> None:
    """B-2: two hours to apply. The others by AMS-S-8802 as a forum restates it: C-8(20) and C-24(80) in brackets."""
    assert (sealant("B-2").to_drive_h, sealant("B-2").grade) == (2.0, Grade.PUBLISHED)
    assert (sealant("A-1/2").application_h, sealant("A-1/2").grade) == (0.5, Grade.RESTATED)
    slow = sealant("C-24(80)")
    assert (slow.application_h, slow.to_drive_h, slow.grade) == (24.0, 80.0, Grade.RESTATED)


def test_what_is_asked_of_every_sealed_joint() -> None:
    """Metal at 70 F or more, fillets 3 ft at a time; TO 1-1-700, par. 10.4: 1/4 in round a head; up to
    seven days to full cure, NAVAIR 01-1A-509-2 restated.
    """
    asked = sealing()
    of = (asked.metal_degf, asked.fillet_ft, asked.overcoat_in, asked.cure_h)
    assert [(one.value, one.unit) for one in of] == [
        (70.0, "deg F"),
        (3.0, "ft"),
        (0.25, "in"),
        (168.0, "h"),
    ]
    assert {one.grade for one in of[:3]} == {Grade.PUBLISHED}
    assert asked.cure_h.grade is Grade.RESTATED
    assert "Type IV" in asked.faying.text
