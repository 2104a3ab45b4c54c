"""The one look-up and the one refusal: what is found, in which order, and what is said when nothing is."""

from __future__ import annotations

import csv
import math
from pathlib import Path

import pytest

import hatchwright.tables
from hatchwright.errors import TableError
from hatchwright.tables.allowables import SHEET_ALLOWABLES
from hatchwright.tables.bends import AC43_TABLE_4_6
from hatchwright.tables.catalog import TABLES
from hatchwright.tables.columns import unit_of
from hatchwright.tables.materials import SHEET_STOCK, density, sheet
from hatchwright.tables.nutplates import CLIP_NUTS
from hatchwright.tables.rivets import RIVET_DIAMETERS
from hatchwright.tables.row import CITATION, Row
from hatchwright.tables.screws import AC43_TABLE_7_1
from hatchwright.tables.shop import load_shop_tables
from hatchwright.tables.table import ShopTables, Table
from hatchwright.workings import Grade, Source

FOLDER = Path(hatchwright.tables.__file__).parent


@pytest.mark.parametrize("table", TABLES, ids=lambda table: table.name)
def test_the_fields_of_a_record_are_the_headings_of_its_file(table: Table) -> None:
    with (FOLDER / f"{table.name}.csv").open(encoding="utf-8", newline="") as file:
        headings = next(csv.reader(file))
    assert [column.heading for column in table.columns.values()] == headings[: -len(CITATION)]
    assert tuple(headings[: table.named_by]) == table.key


@pytest.mark.parametrize("table", TABLES, ids=lambda table: table.name)
def test_a_number_has_a_unit_and_words_have_none(table: Table) -> None:
    for column in table.columns.values():
        assert (column.kind is float) == (bool(unit_of(column.heading)) or column.heading == "value")


@pytest.mark.parametrize("table", TABLES, ids=lambda table: table.name)
def test_every_row_with_all_its_numbers_is_a_record_that_says_where_it_stands(table: Table) -> None:
    empty = {column.heading for column in table.columns.values() if column.is_needed}
    rows = [row for row in table.rows() if all(row.cells[heading] for heading in empty)]
    records = table.all()
    assert (
        len(records) == len(rows) >= len(table.rows()) - 2
    )  # two rows of the handbook give part of the properties
    for row, record in zip(rows, records, strict=True):
        assert (record.source, record.grade, record.edition) == (row.source, row.grade, row.cells["edition"])
        for name, column in table.columns.items():
            cell, held = row.cells[column.heading], getattr(record, name)
            if column.kind is float:
                assert held == (float(cell) if cell else None)
            else:
                assert held == (cell == "yes" if column.kind is bool else cell)


def test_one_finds_a_row_however_it_is_written() -> None:
    found = AC43_TABLE_7_1.one(thread=" 1/4-28 ", nut="SHEAR")  # [AC43.13-1B], table 7-1, page 7-9
    assert (found.least_in_lbf, found.greatest_in_lbf, found.limit_in_lbf) == (30.0, 40.0, 60.0)
    assert RIVET_DIAMETERS.one(diameter_in=0.156).diameter_in == 5 / 32
    assert AC43_TABLE_7_1.one(thread="8-32", nut=None) == AC43_TABLE_7_1.some(thread="8-32")[0]


def test_a_number_with_its_unit() -> None:
    assert str(RIVET_DIAMETERS.one(diameter_in=0.125).cited("diameter_in")).startswith(
        "0.125 in [FAA-CT-8080-8D"
    )
    assert AC43_TABLE_7_1.one(thread="8-32", nut="shear").cited("limit_in_lbf", "dry").unit == "in-lbf"


@pytest.mark.parametrize(
    ("wanted", "said"),
    [
        (
            {"thread": "6-32", "nut": "tension"},
            "table 7-1: no torque is listed for 6-32 with a tension nut. Listed by thread: "
            "8-36, 10-32, 1/4-28, 8-32, 10-24, 1/4-20. For others use the manufacturer's value",
        ),
        (
            {"thread": "8-32", "nut": "wing"},
            "table 7-1: no torque is listed for 8-32 with a wing nut. Listed by nut: tension, shear. "
            "For others use the manufacturer's value",
        ),
        (
            {"nut": "wing"},
            "table 7-1: no torque is listed for nut wing. Listed by nut: tension, shear. "
            "For others use the manufacturer's value",
        ),
    ],
)
def test_a_refusal_lists_what_there_is_for_the_first_thing_that_is_not(wanted: dict, said: str) -> None:
    with pytest.raises(TableError) as caught:
        AC43_TABLE_7_1.one(**wanted)
    assert str(caught.value) == said
    assert AC43_TABLE_7_1.all(**wanted) == ()


def test_a_refusal_stays_short() -> None:
    with pytest.raises(TableError) as caught:
        CLIP_NUTS.one(name="x" * 5000)
    assert len(str(caught.value)) < 200
    assert "Nothing is listed. Measure it" in str(caught.value)


def test_the_row_at_a_number_or_next_above_it() -> None:
    at_least = SHEET_STOCK.at_least
    assert at_least("thickness_in", 0.032).thickness_in == 0.032
    assert at_least("thickness_in", 0.032, above=True).thickness_in == 0.040
    assert at_least("thickness_in", 0.033).thickness_in == 0.040
    assert at_least("thickness_in", 0.001).thickness_in == 0.016
    for thickness_in, more in [
        (0.001, {"within": True}),
        (0.126, {}),
        (0.125, {"above": True}),
        (math.nan, {}),
    ]:
        with pytest.raises(TableError, match=r"Listed by thickness: \.016 to \.125 in"):
            at_least("thickness_in", thickness_in, **more)


def test_the_other_fields_are_looked_up_first() -> None:
    found = AC43_TABLE_4_6.at_least("thickness_in", 0.033, within=True, alloy="2024", temper="T3")
    assert (found.thickness_in, found.least_ratio) == (0.064, 3.0)  # [AC43.13-1B], table 4-6, page 4-14
    with pytest.raises(TableError, match=r"alloy 2024, temper T9\. Listed by temper: O, T3, T6"):
        AC43_TABLE_4_6.at_least("thickness_in", 0.033, alloy="2024", temper="T9")


OURS = "OUR-HANDBOOK,page 12,2024,the shop's own"


def shop_of(folder: Path, table: Table, *rows: str) -> ShopTables:
    lines = [",".join(table.headings), *(f"{row},{OURS}" for row in rows)]
    (folder / f"{table.name}.csv").write_text("\n".join(lines) + "\n", encoding="utf-8")
    return load_shop_tables(folder)


def test_a_shops_row_comes_first_and_only_where_the_shop_is_named(tmp_path: Path) -> None:
    shop = shop_of(tmp_path, CLIP_NUTS, "short,8-32,0.3,0.03,0.06,0.5")
    assert [nut.name for nut in CLIP_NUTS.all(shop)] == ["short"]
    assert (CLIP_NUTS.one(shop, name="SHORT").grade, CLIP_NUTS.all()) == (Grade.SHOP, ())


def test_an_alloy_of_the_shop_without_a_density_is_a_sheet_all_the_same(tmp_path: Path) -> None:
    strengths = "60000,59000,44000,39000,36000,42000,37000,97000,121000,68000,82000"
    shop = shop_of(tmp_path, SHEET_ALLOWABLES, f"2029,T8,yes,,A,0.010,0.062,{strengths},1e7,,1e7,,,0.33")
    assert str(sheet("2029", "T8", True, shop)) == "2029-T8 clad"
    for weigh in (lambda: sheet("2029", "T8", True, shop).density, lambda: density("2029", shop)):
        with pytest.raises(
            TableError, match=r"no density is listed for 2029, handbook\. Listed by alloy: 2024, "
        ):
            weigh()


@pytest.mark.parametrize("missing", ["fcy_l_psi", "fbry_20_psi", "fsu_psi"])
def test_a_row_that_lacks_one_strength_is_no_record_and_no_crash(missing: str) -> None:
    (whole,) = [
        row
        for row in SHEET_ALLOWABLES.rows()
        if row.cells["alloy"] == "5052" and row.cells["temper"] == "H32"
    ]
    cells = dict(whole.cells) | {"alloy": "5053", missing: ""}
    shop = ShopTables({"sheet_allowables": (Row(cells, 2, Source("OUR-HANDBOOK"), Grade.SHOP),)})
    assert SHEET_ALLOWABLES.all(shop, alloy="5053") == ()
    with pytest.raises(
        TableError, match=r"no sheet strength is listed for 5053-H32 bare.*every property filled in"
    ):
        sheet("5053", "H32", False, shop)
