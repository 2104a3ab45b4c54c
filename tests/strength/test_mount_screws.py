"""S901, S902: screws of a mounted part and the sheets under them.

A part of 7 lb, utility category, outside a lower skin whose X runs outboard and Y aft; its four No. 8 screws stand 5 by
1 in apart, its weight acts 3 in over them. By hand: forward 9 x 7 = 63 lbf along Y, 15.75 lbf of shear each and
63 x 3 x .5 / (4 x .25) = 94.5 lbf of tension, times the 1.15 of a fitting, [14CFR23], 23.625. Bearing: 2024-T3 clad,
121 ksi at 2 D, [MIL-HDBK-5J] table 3.2.3.0(e1), dry pins less a tenth.
"""

from __future__ import annotations

from pathlib import Path

import pytest

from hatchwright.finding import Finding
from hatchwright.layout.lay_out import lay_out
from hatchwright.strength.mount_screws import mount_screw_findings
from hatchwright.tables.shop import load_shop_tables
from hatchwright.tables.table import ShopTables
from rules.cases import CAUTION, PASS, RING, STOP, UNKNOWN, job_of
from told import advice_of, subject_of

FBRU_PSI = 121_000

MOUNT = {
    "kind": "camera",
    "base": ["6", "2"],
    "screw_size": "8-32",
    "screw_pattern": ["5", "1"],
    "weight": "7",
    "category": "utility",
    "where": "outside",
    "height": "3",
    "offset": ["0", "0"],
    "screw_shear": "900",
    "screw_tension": "1200",
}


@pytest.fixture
def shop(tmp_path: Path) -> ShopTables:
    """A shop that has confirmed the factor down, so that every load is of a figure that was seen."""
    heading = "category,direction,factor_ratio,source,place,edition,basis"
    row = "utility,down,6.6,OUR-CIRCULAR,seen on the page,1977,the shop's own"
    (tmp_path / "static_test_factors.csv").write_text(f"{heading}\n{row}\n", encoding="utf-8")
    return load_shop_tables(tmp_path)


def found(shop: ShopTables | None = None, **more: object) -> dict[str, Finding]:
    mount = {key: value for key, value in {**MOUNT, **more}.items() if value is not None}
    findings = mount_screw_findings(lay_out(job_of(RING, mount=mount), shop))
    return {finding.code: finding for finding in findings}


def test_a_part_with_everything_entered_passes(shop: ShopTables) -> None:
    screws, sheets = found(shop).values()
    assert (screws.code, screws.status, screws.value) == (
        "S901",
        PASS,
        pytest.approx(1.15 * (15.75 / 900 + 94.5 / 1200)),
    )
    assert "63 lbf forward" in subject_of(screws)
    # e = .5 is beyond 2 D of .164; both sheets count: .9 x 121,000 x .164 x (.032 + .040)
    assert (sheets.code, sheets.status) == ("S902", PASS)
    assert sheets.value == pytest.approx(1.15 * 15.75)
    assert sheets.limit == pytest.approx(0.9 * FBRU_PSI * 0.164 * 0.072)


def test_a_factor_from_memory_cautions() -> None:
    assert {one.status for one in found().values()} == {CAUTION}


@pytest.mark.parametrize(
    ("tension", "status"),
    [
        ("110.91", PASS),  # 1.15 (15.75 / 900 + 94.5 / T) = 1 at 110.907
        ("110.90", UNKNOWN),  # together more than the screw, neither alone
        ("108.68", UNKNOWN),
        ("108.67", STOP),  # 1.15 x 94.5 = 108.675 alone
    ],
)
def test_shear_and_tension_together(shop: ShopTables, tension: str, status: object) -> None:
    assert found(shop, screw_tension=tension)["S901"].status is status


@pytest.mark.parametrize(
    "missing", ["height", "offset", "screw_shear", "screw_tension", "screw_size", "screw_pattern"]
)
def test_what_is_missing_is_named(missing: str) -> None:
    (finding,) = found(**{missing: None}).values()
    assert finding.status is UNKNOWN
    assert finding.enter == (f"mount.{missing}",)


def test_in_the_cabin_of_a_later_aircraft_the_load_doubles(shop: ShopTables) -> None:
    """18 x 7 = 126 lbf forward: twice 1.15 x 94.5 alone is 217.35."""
    cabin = {"where": "cabin", "screw_tension": "200"}
    assert found(shop, **cabin, certification="23-36")["S901"].status is STOP
    assert found(shop, **cabin, certification="23-35")["S901"].status is PASS
    unsure = found(shop, **cabin)["S901"]
    assert unsure.status is UNKNOWN
    assert unsure.enter == ("mount.where", "mount.certification")
    assert "certification basis" in advice_of(unsure)


def test_short_at_both_ends_stops_whatever_the_certification(shop: ShopTables) -> None:
    assert found(shop, where="cabin", screw_tension="100")["S901"].status is STOP


def test_which_way_the_part_hangs_turns_its_pull(shop: ShopTables) -> None:
    """At no height 46.2 lbf down pull 11.55 lbf a screw out of a lower skin, and press on it from inside."""
    low = {"height": ".001", "screw_shear": "50000", "screw_tension": "13.2"}  # 1.15 x 11.55 = 13.28
    assert found(shop, **low)["S901"].status is STOP
    assert found(shop, **low, where="inside")["S901"].status is PASS
    assert found(shop, **low, where=None, certification="CAR 3")["S901"].status is STOP


def test_a_load_that_a_test_held_is_not_worked_out(shop: ShopTables) -> None:
    held = {"down": "46.2", "up": "21", "forward": "63", "side": "10.5"}
    assert found(shop, screw_tension="100", test=held) == {}
    assert found(shop, screw_tension="100", test={**held, "forward": "62.9"})["S901"].status is STOP


def test_drag_acts_at_its_own_height(shop: ShopTables) -> None:
    """1.5 x .000327 x 1 x 250^2 = 30.66 lbf aft, from memory, 10 in out: 30.66 x 10 x .5 / (4 x .25) = 153.3 lbf."""
    drag = {"kind": "antenna", "frontal_area": "1", "speed": "250"}
    (finding,) = found(shop, **drag).values()
    assert finding.enter == ("mount.drag_height",)
    judged = found(shop, **drag, drag_height="10", screw_tension="170")["S901"]
    assert judged.status is UNKNOWN  # from memory, so that it never stops
    assert judged.value == pytest.approx(1.15 * (30.656 / 4 / 900 + 153.28 / 170), rel=1e-4)
    assert "aft" in subject_of(judged)


def test_the_sheets_stop_where_they_are_crushed(shop: ShopTables) -> None:
    """200 lb, 9 x 200 = 1800 lbf forward, 6 in beside the screws: far over what both sheets carry."""
    heavy = {"weight": "200", "offset": ["6", "0"], "screw_shear": "50000", "screw_tension": "50000"}
    assert found(shop, **heavy)["S902"].status is STOP


def test_sheets_that_no_table_covers_are_not_shown(shop: ShopTables) -> None:
    """t/D of .016 under a quarter-inch screw is far under .18."""
    thin = {**RING, "skin": {**RING["skin"], "thickness": ".016"}, "doubler": None}
    job = job_of(
        {key: value for key, value in thin.items() if value}, mount={**MOUNT, "screw_size": "1/4-28"}
    )
    findings = mount_screw_findings(lay_out(job, shop))
    assert [(one.code, one.status) for one in findings] == [("S901", PASS), ("S902", UNKNOWN)]
