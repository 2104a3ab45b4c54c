"""What one rivet carries: shear in thin sheet, bearing by edge distance, flush heads, tear-out."""

from __future__ import annotations

import math

import pytest

from hatchwright.errors import TableError
from hatchwright.strength.bearing import bearing_strength, bearing_stress, tear_out_strength
from hatchwright.strength.rivet_joint import rivet_joint, shear_strength, thin_sheet_factor
from hatchwright.strength.site import site_of
from hatchwright.tables.allowables import allowables
from hatchwright.tables.materials import sheet
from hatchwright.tables.rivet_part import parse_rivet
from hatchwright.tables.table import Row, ShopTables
from hatchwright.words.tell import tell
from hatchwright.workings import Grade, Source
from tests.strength.jobs import RESTORE, SQUARE, layout_of

CLAD = allowables(sheet("2024", "T3", True), thickness_in=0.032)


@pytest.mark.parametrize(
    ("diameter_in", "thickness_in", "printed"),
    [
        (0.0625, 0.016, 0.964),
        (0.09375, 0.020, 0.933),
        (0.09375, 0.025, 0.970),
        (0.125, 0.025, 0.920),
        (0.125, 0.032, 0.964),
        (0.125, 0.040, 0.995),
        (0.15625, 0.040, 0.964),
        (0.1875, 0.050, 0.970),
        (0.25, 0.063, 0.961),
    ],
)
def test_thin_sheet_factor(diameter_in: float, thickness_in: float, printed: float) -> None:
    """MIL-HDBK-5 table 8.1.2.1(b), entries from memory, unverified; rounded to three figures."""
    assert thin_sheet_factor(diameter_in=diameter_in, thickness_in=thickness_in).value == pytest.approx(
        printed, abs=6e-4
    )


def test_thick_sheet_takes_nothing_off_and_rests_on_no_memory() -> None:
    found = thin_sheet_factor(diameter_in=0.125, thickness_in=0.042)
    assert (found.value, found.grade) == (1.0, Grade.PUBLISHED)
    assert thin_sheet_factor(diameter_in=0.125, thickness_in=0.040).grade is Grade.MEMORY


def test_shear_of_an_ad4_in_032_sheet() -> None:
    """388 lb x 0.9638, the handbook's value as a builder note of 1995 quotes it."""
    found = shear_strength(parse_rivet("MS20470AD4"), thickness_in=0.032)
    assert found.value == pytest.approx(388 * 0.96375, rel=1e-6)


def test_shear_of_a_metric_rivet_is_the_stress_of_its_alloy_on_its_shank() -> None:
    """30 ksi on 3.2 mm, so near to the 388 lb of the 1/8 rivet on its .1285 hole; [MIL-HDBK-5J] table 8.1.2(b)."""
    found = shear_strength(parse_rivet("3.2 mm universal 2117"), thickness_in=0.063)
    assert found.value == pytest.approx(30_000 * math.pi / 4 * (3.2 / 25.4) ** 2)
    assert 0.95 < found.value / 388 < 1.0


@pytest.mark.parametrize(
    ("edge_ratio", "psi"), [(1.5, 97_000), (1.75, 109_000), (2.0, 121_000), (2.5, 121_000), (4.0, 121_000)]
)
def test_bearing_runs_straight_from_one_and_a_half_to_two_diameters(edge_ratio: float, psi: float) -> None:
    """[MIL-HDBK-5J] 1.4.7.1 and table 3.2.3.0(e1)."""
    assert bearing_stress(CLAD, edge_ratio=edge_ratio).value == pytest.approx(psi)


def test_bearing_of_an_ad4_on_032_clad() -> None:
    """121 ksi x .032 x .1285 = 497.6 lb, a tenth off for wet pins = 447.8 lb; yield 82 ksi."""
    found = bearing_strength(
        CLAD, sheet="skin", thickness_in=0.032, hole_in=0.1285, diameter_in=0.125, edge_in=0.25
    )
    assert found.value == pytest.approx(447.8, abs=0.1)
    at_yield = bearing_strength(
        CLAD, sheet="skin", thickness_in=0.032, hole_in=0.1285, diameter_in=0.125, edge_in=0.25, at_yield=True
    )
    assert at_yield.value == pytest.approx(0.9 * 82_000 * 0.032 * 0.1285)


def test_bearing_outside_what_is_published() -> None:
    with pytest.raises(TableError, match=r"edge distance is 1\.49D"):
        bearing_stress(CLAD, edge_ratio=1.49)
    with pytest.raises(TableError, match=r"under 0\.18D of the fastener"):
        bearing_strength(
            CLAD, sheet="skin", thickness_in=0.032, hole_in=0.191, diameter_in=0.1875, edge_in=0.5
        )


def test_sheet_thicker_than_half_a_diameter_earns_nothing_more() -> None:
    thick = allowables(sheet("2024", "T3", True), thickness_in=0.125)
    one, two = (
        bearing_strength(
            thick, sheet="skin", thickness_in=t, hole_in=0.1285, diameter_in=0.125, edge_in=0.25
        ).value
        for t in (0.0625, 0.125)
    )
    assert one == two


def test_tear_out() -> None:
    """2 x 37 ksi x .032 x (.25 - .0625) = 444 lb, the simple form."""
    found = tear_out_strength(CLAD, sheet="skin", thickness_in=0.032, hole_in=0.125, edge_in=0.25)
    assert found.value == pytest.approx(444.0)
    assert tear_out_strength(CLAD, sheet="skin", thickness_in=0.032, hole_in=0.125, edge_in=0.05).value == 0.0


def test_the_lowest_of_shear_and_bearing_governs() -> None:
    site = site_of(layout_of(RESTORE))
    found = rivet_joint(site, site.sides[0].rivets[0])
    assert found.ultimate is not None
    assert found.ultimate.value == pytest.approx(373.9, abs=0.1)
    assert tell(found.ultimate.working[-1].note) == "P shear governs."
    assert found.at_yield is not None
    assert found.at_yield.value == pytest.approx(303.5, abs=0.1)


def test_yield_is_the_lowest_of_bearing_yield_and_shear() -> None:
    """P1: in .071 on .071 bearing yield is over 600 lb, shear 388; in .032 bearing yield governs whatever K is."""
    thick = SQUARE.replace('".032"', '".071"').replace('".040"', '".071"')
    found = site_of(layout_of(RESTORE, base=thick))
    joint = rivet_joint(found, found.sides[0].rivets[0])
    assert joint.at_yield is not None
    assert joint.at_yield.value == pytest.approx(388.0)
    assert tell(joint.at_yield.working[-1].note) == "P shear governs."
    thin = site_of(layout_of(RESTORE))
    at_yield = rivet_joint(thin, thin.sides[0].rivets[0]).at_yield
    assert at_yield is not None
    assert at_yield.best is not None
    assert at_yield.best.value == pytest.approx(at_yield.value)
    assert at_yield.best.grade is not Grade.MEMORY


def test_shear_in_thin_sheet_lies_between_what_is_remembered_and_the_whole() -> None:
    """F6: 373.9 to 388 lb in .032; where K is 1 by what is published there is one figure."""
    found = shear_strength(parse_rivet("MS20470AD4"), thickness_in=0.032)
    assert found.best is not None
    assert (found.value, found.best.value) == (pytest.approx(373.9, abs=0.1), 388.0)
    assert (found.grade.may_stop, found.best.grade.may_stop) == (False, True)
    assert shear_strength(parse_rivet("MS20470AD4"), thickness_in=0.063).best is None


FLUSH = SQUARE.replace("MS20470AD4", "MS20426AD4")


def confirmed(strength: str, load_lbf: float) -> Row:
    cells = {
        "preparation": "dimpled",
        "property": strength,
        "diameter_in": "0.125",
        "thickness_in": "0.032",
        "load_lbf": str(load_lbf),
        "source": "SHOP",
        "place": "handbook copy",
        "edition": "ours",
        "basis": "the shop's own",
    }
    return Row(cells, 2, Source("SHOP"), Grade.SHOP)


def prepared(how: str) -> str:
    return FLUSH.replace('rivet = "MS20426AD4"', f'rivet = "MS20426AD4"\npreparation = "{how}"')


@pytest.mark.parametrize(
    "base", [FLUSH, *map(prepared, ("dimple", "countersink", "dimple over countersink"))]
)
def test_flush_values_from_memory_never_feed_a_claim(base: str) -> None:
    site = site_of(layout_of(RESTORE, base=base))
    found = rivet_joint(site, site.sides[0].rivets[0])
    assert found.ultimate is None
    assert found.at_yield is None
    assert found.refusal


def test_flush_values_that_the_shop_confirms_do() -> None:
    shop = ShopTables({"flush_rivet_strength": (confirmed("ultimate", 413.0), confirmed("yield", 300.0))})
    site = site_of(layout_of(RESTORE, base=prepared("dimple")), shop)
    found = rivet_joint(site, site.sides[0].rivets[0])
    assert found.ultimate is not None
    assert (found.ultimate.value, found.ultimate.grade) == (413.0, Grade.SHOP)


def test_a_reduced_head_never_borrows_the_strength_of_a_full_one() -> None:
    reduced = prepared("countersink").replace("MS20426AD4", "NAS1097AD4")
    for named, is_known in (("countersunk", False), ("countersunk, reduced head", True)):
        rows = tuple(confirmed(kind, 250.0) for kind in ("ultimate", "yield"))
        rows = tuple(
            Row({**one.cells, "preparation": named}, one.line, one.source, one.grade) for one in rows
        )
        site = site_of(layout_of(RESTORE, base=reduced), ShopTables({"flush_rivet_strength": rows}))
        found = rivet_joint(site, site.sides[0].rivets[0])
        assert (found.ultimate is not None) is is_known
        assert is_known or "reduced head" in tell(found.refusal[0])
