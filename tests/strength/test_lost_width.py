"""What holes take out of a section, the cones of countersunk heads with them."""

from __future__ import annotations

import math

import pytest

from hatchwright.errors import TableError
from hatchwright.layout.layout import HoleKind, PartName
from hatchwright.strength.lost_width import lost_width_in
from hatchwright.strength.net_section import row_efficiency
from hatchwright.strength.report import strength_report
from hatchwright.strength.site import Site, site_of
from tests.strength.jobs import ANSWERED, COVER, RESTORE, SQUARE, layout_of, running

FLUSH = SQUARE.replace("MS20470AD4", "MS20426AD4").replace('".032"', '".050"')


def prepared(how: str, base: str = FLUSH) -> str:
    return base.replace('rivet = "MS20426AD4"', f'rivet = "MS20426AD4"\npreparation = "{how}"')


def site(base: str) -> Site:
    return site_of(layout_of(RESTORE, base=base))


def lost(base: str, sheet: PartName = "skin", kind: HoleKind = "rivet") -> float:
    found = site(base)
    hole = next(one for one in found.layout.holes if one.kind == kind and sheet in one.stack)
    return lost_width_in(found, hole, sheet)


def slices(width_in: float, hole_in: float, thickness_in: float, above_in: float = 0.0) -> float:
    """The same by adding up ten thousand slices of a 100 degree cone."""
    n = 10_000
    depths = (above_in + (k + 0.5) * thickness_in / n for k in range(n))
    slope = math.tan(math.radians(50.0))
    return sum(max(hole_in, width_in - 2.0 * slope * z) for z in depths) / n


def test_a_countersunk_row_keeps_less() -> None:
    """P13 of the review, an estimate: .050, AD4, pitch .55: .77 to .70. It takes the middle of the head, .225; the
    greatest, .229, leaves .689."""
    hole_in = lost(prepared("countersink"))
    assert row_efficiency(pitch_in=0.55, hole_in=0.1285).value == pytest.approx(0.77, abs=0.005)
    assert row_efficiency(pitch_in=0.55, hole_in=hole_in).value == pytest.approx(0.689, abs=0.001)
    assert 1.0 - slices(0.225, 0.1285, 0.050) / 0.55 == pytest.approx(0.70, abs=0.005)


def test_the_cone_stops_where_the_head_does() -> None:
    """The head is .042 deep: of the doubler under .050 it takes nothing, of one under .032 a little."""
    assert lost(prepared("countersink"), "doubler") == pytest.approx(0.1285)
    thin = prepared("countersink", FLUSH.replace('".050"', '".032"'))
    assert lost(thin) == pytest.approx(slices(0.229, 0.1285, 0.032), rel=1e-4)
    assert lost(thin, "doubler") == pytest.approx(slices(0.229, 0.1285, 0.040, 0.032), rel=1e-4)


def test_a_dimple_takes_its_hole_and_widens_the_countersink_under_it() -> None:
    """By the nested cone, .728 x .050 wider."""
    assert lost(prepared("dimple")) == pytest.approx(0.1285)
    over = prepared("dimple over countersink")
    assert lost(over) == pytest.approx(0.1285)
    assert lost(over, "doubler") == pytest.approx(slices(0.229 + 0.728 * 0.050, 0.1285, 0.040), rel=1e-4)


def test_a_head_not_said_how_it_is_taken_counts_as_countersunk() -> None:
    assert lost(FLUSH) == pytest.approx(lost(prepared("countersink")))


def test_a_head_in_no_table_is_refused() -> None:
    with pytest.raises(TableError):
        lost(prepared("countersink").replace("MS20426AD4", "NAS1097AD4"))


def test_flush_screws_take_their_cone_out_of_the_cover() -> None:
    """Size 8, head .312 at most; a pan head takes its hole alone."""
    flush = SQUARE + COVER.replace('"pan"', '"100 degree flush"\npreparation = "countersink"')
    hole_in = lost(SQUARE + COVER, "cover", "screw")
    assert lost(flush, "cover", "screw") == pytest.approx(slices(0.312, hole_in, 0.032), rel=1e-4)


def test_the_first_row_of_skin_counts_the_cone() -> None:
    """S301: 59 ksi x .050 on the pitch of the row, less what its countersunk holes take."""
    pulled = ANSWERED + running({"nx": 500.0})
    allowed = {}
    for how in ("countersink", "dimple"):
        found = strength_report(layout_of(pulled, base=prepared(how)), elements=None)
        margin = next(one for one in found.margins if one.code == "S301" and one.level == "ultimate")
        assert margin.allowable is not None
        allowed[how] = margin.allowable
    pitch_in = next(one.value for one in allowed["dimple"].working[-2].values if one.symbol == "p")
    ftu_psi = allowed["dimple"].value / (0.050 * (1.0 - 0.1285 / pitch_in))
    taken_in = slices(0.229, 0.1285, 0.050)
    assert allowed["countersink"].value == pytest.approx(
        ftu_psi * 0.050 * (1.0 - taken_in / pitch_in), rel=1e-4
    )
