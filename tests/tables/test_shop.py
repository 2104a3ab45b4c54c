"""A shop's own rows: accepted whole, shown as the shop's, winning over memory; or refused with file, line
and reason."""

from __future__ import annotations

from pathlib import Path

import pytest
from hypothesis import HealthCheck, given, settings
from hypothesis import strategies as st

from hatchwright.errors import TableError
from hatchwright.tables.allowables import allowables
from hatchwright.tables.countersink import countersink_minimum
from hatchwright.tables.drill_chain import drill_chain
from hatchwright.tables.limits import limit
from hatchwright.tables.materials import sheet
from hatchwright.tables.nutplates import CLIP_NUTS, NUTPLATE_EARS
from hatchwright.tables.rivet_shear import flush_rivet_strength, rivet_shear
from hatchwright.tables.rivets import hole_range
from hatchwright.tables.rivets_per_inch import rivets_per_inch
from hatchwright.tables.shop import load_shop_tables
from hatchwright.workings import Grade

HANDBOOK = 'LICENSED-HANDBOOK,"table 8.1.2(b)",2024,the shop\'s own'
SHEAR = "letters,condition,diameter_in,shear_lbf,source,place,edition,basis"
EARS = "kind,thread,arrangement,nearest_in,spacing_in,source,place,edition,basis"
CLIPS = "name,thread,reach_in,grip_min_in,grip_max_in,width_in,source,place,edition,basis"
LIMITS = "key,value,unit,note,source,place,edition,basis"
CHAINS = "diameter_in,preparation,method,step,operation,drill,note,source,place,edition,basis"


def _write(folder: Path, name: str, *lines: str) -> Path:
    (folder / f"{name}.csv").write_text("\n".join(lines) + "\n", encoding="utf-8")
    return folder


def test_an_empty_folder_is_no_fault(tmp_path: Path) -> None:
    (tmp_path / "README.txt").write_text("ours", encoding="utf-8")
    assert dict(load_shop_tables(tmp_path).rows) == {}


def test_a_row_wins_over_memory_and_is_shown_as_the_shops(tmp_path: Path) -> None:
    shop = load_shop_tables(_write(tmp_path, "rivet_shear", SHEAR, f"ad,2117-T3,.1875,863,{HANDBOOK}"))
    found = rivet_shear("AD", diameter_in=3 / 16, shop=shop)
    assert (found.value, found.grade) == (863.0, Grade.SHOP)
    assert (found.source.key, found.source.place) == ("LICENSED-HANDBOOK", "table 8.1.2(b)")
    assert rivet_shear("AD", diameter_in=3 / 16).grade is Grade.MEMORY
    assert rivet_shear("AD", diameter_in=1 / 4, shop=shop).grade is Grade.MEMORY


def test_what_only_the_shop_knows(tmp_path: Path) -> None:
    _write(
        tmp_path,
        "nutplate_ears",
        EARS,
        f"Miniature,6-32,each side,.25,.5,{HANDBOOK}",
        f"one-lug,8-32,one side,.3,.25,{HANDBOOK}",
    )
    _write(tmp_path, "clip_nuts", CLIPS, f"stores 12,8-32,.375,.025,.051,.50,{HANDBOOK}")
    shop = load_shop_tables(tmp_path)
    assert NUTPLATE_EARS.one(shop, kind="miniature", thread="6-32").offsets_in == (0.25, -0.25)
    assert NUTPLATE_EARS.one(shop, kind="one-lug", thread="8-32").offsets_in == (0.3, pytest.approx(0.55))
    nut = CLIP_NUTS.one(shop, name="stores 12")
    assert (nut.reach_in, nut.width_in, nut.grade) == (0.375, 0.5, Grade.SHOP)
    assert (nut.grip_min_in, nut.grip_max_in) == (0.025, 0.051)


def test_a_limit_from_memory_is_replaced(tmp_path: Path) -> None:
    shop = load_shop_tables(
        _write(tmp_path, "rule_limits", LIMITS, f"corner_radius_min_handbook,.5,in,,{HANDBOOK}")
    )
    assert limit("corner_radius_min_handbook", shop).grade is Grade.SHOP
    assert limit("edge_min_countersunk", shop) == limit("edge_min_countersunk")


def test_a_shop_chain_is_not_mixed_with_ours(tmp_path: Path) -> None:
    _write(
        tmp_path, "drill_chains", CHAINS,
        f".25,plain,direct,1,pilot,30,,{HANDBOOK}",
        f".25,plain,direct,2,final,f,,{HANDBOOK}",
    )  # fmt: skip
    steps = drill_chain(0.25, shop=load_shop_tables(tmp_path))
    assert [str(step.drill) for step in steps] == ["#30", "F"]


def test_new_kinds_of_sheet(tmp_path: Path) -> None:
    heading = (
        "alloy,temper,clad,specification,statistical_basis,thickness_min_in,thickness_max_in,ftu_l_psi,ftu_lt_psi,"
        "fty_l_psi,fty_lt_psi,fcy_l_psi,fcy_lt_psi,fsu_psi,fbru_15_psi,fbru_20_psi,fbry_15_psi,fbry_20_psi,e_psi,"
        "e_secondary_psi,ec_psi,ec_secondary_psi,g_psi,poisson_ratio,source,place,edition,basis"
    )
    row = "2219,T62,no,,A,.020,.249,54000,54000,36000,36000,38000,38000,31000,85000,108000,58000,72000"
    row += ",10500000,,10800000,,4000000,.33"
    _write(tmp_path, "sheet_allowables", heading, f"{row},{HANDBOOK}")
    _write(
        tmp_path,
        "densities",
        "alloy,use,density_lb_per_in3,source,place,edition,basis",
        f"2219,handbook,.102,{HANDBOOK}",
    )
    shop = load_shop_tables(tmp_path)
    material = sheet("2219", "T62", False, shop)
    assert material.density.value == 0.102
    found = allowables(material, thickness_in=0.040, shop=shop)
    assert (found.ftu_psi, found.grade) == (54_000, Grade.SHOP)


def test_published_rows_stay_ours(tmp_path: Path) -> None:
    """The same value is let through and changes nothing; another value is refused."""
    heading = "thickness_in,fastener,diameter_in,rivets_per_in,note,source,place,edition,basis"
    _write(tmp_path, "ac43_13_1b_table_4_10", heading, f".032,rivet,.125,4.9,,{HANDBOOK}")
    shop = load_shop_tables(tmp_path)
    assert rivets_per_inch("4-10", thickness_in=0.032, diameter_in=0.125, shop=shop).grade is Grade.PUBLISHED
    _write(tmp_path, "ac43_13_1b_table_4_10", heading, f".032,rivet,.125,5.0,,{HANDBOOK}")
    with pytest.raises(
        TableError,
        match=r"ac43_13_1b_table_4_10\.csv, line 2, rivets_per_in: this differs from the published 4\.9",
    ):
        load_shop_tables(tmp_path)


def test_a_shop_default_does_not_push_a_published_one_aside(tmp_path: Path) -> None:
    heading = "diameter_in,document,use,thickness_in,note,source,place,edition,basis"
    _write(
        tmp_path,
        "countersink_thresholds",
        heading,
        f".09375,our book,default,.032,,{HANDBOOK}",
        f".25,our book,default,.110,,{HANDBOOK}",
    )
    shop = load_shop_tables(tmp_path)
    assert countersink_minimum(3 / 32, shop).value == 0.040
    assert countersink_minimum(1 / 4, shop).value == 0.110


@pytest.mark.parametrize(
    ("name", "lines", "match"),
    [
        ("rivet_sheer", [SHEAR], r"rivet_sheer\.csv: no table has that name.*rivet_shear"),
        ("drills", ["drill,kind"], r"drills\.csv: the shop can't add rows to this table"),
        ("rivet_shear", [], r"rivet_shear\.csv, line 1: the headings must be letters,condition"),
        (
            "rivet_shear",
            ["letters,condition,diameter_mm,shear_lbf,source,place,edition,basis"],
            r"line 1: .*missing: diameter_in; not of this table: diameter_mm",
        ),
        ("rivet_shear", [SHEAR.replace(",", ";")], r"line 1: the headings must be"),
        ("rivet_shear", [SHEAR, "AD,2117-T3,.15625,597,,p,2024,the shop's own"], r"line 2, source: this is empty"),
        ("rivet_shear", [SHEAR, "AD,2117-T3,.15625,597,BOOK,,2024,the shop's own"], r"line 2, place: this is empty"),
        ("rivet_shear", [SHEAR, "AD,2117-T3,.15625,597,BOOK,p,2024,published"], r"line 2, basis: a shop can't"),
        ("rivet_shear", [SHEAR, "AD,2117-T3,.15625,597,BOOK,p,2024,sure"], r"line 2, basis: 'sure' is not a basis"),
        ("rivet_shear", [SHEAR, "AD,2117-T3,.15625,597,BOOK"], r"line 2: the row has 5 cells, the table has 8"),
        ("rivet_shear", [SHEAR, f"AD,2117-T3,3.97,597,{HANDBOOK}"], r"line 2, diameter_in: .*outside .*3\.97"),
        ("rivet_shear", [SHEAR, f"AD,2117-T3,.15625,2655,{HANDBOOK}"], r"line 2, shear_lbf: .*more than 3 times"),
        ("rivet_shear", [SHEAR, f'AD,2117-T3,.15625,"597,0",{HANDBOOK}'], r"line 2, shear_lbf: .* not a number in lbf"),
        ("rivet_shear", [SHEAR, f"AD,2117-T3,.15625,nan,{HANDBOOK}"], r"line 2, shear_lbf: this is not a number"),
        ("rivet_shear", [SHEAR, f"AD,2117-T3,.15625,,{HANDBOOK}"], r"line 2, shear_lbf: this is empty"),
        (
            "rivet_shear",
            [SHEAR, f"AD,2117-T3,.15625,597,{HANDBOOK}", f"AD,2117-T3,.1875,590,{HANDBOOK}"],
            r"line 3, shear_lbf: this must rise along diameter_in, but goes 597 at \.15625, then 590 at \.1875",
        ),
        (
            "rivet_shear",
            [SHEAR, f"AD,2117-T3,.15625,597,{HANDBOOK}", f"ad,2117-t3,0.15625,598,{HANDBOOK}"],
            r"line 3, letters, condition, diameter_in: this repeats line 2",
        ),
        ("rule_limits", [LIMITS, f"edge_min_typo,2,D,,{HANDBOOK}"], r"line 2, key: no rule uses this"),
        ("rule_limits", [LIMITS, f"corner_radius_min_handbook,.6,mm,,{HANDBOOK}"], r"line 2, unit: .* which is in"),
        ("rule_limits", [LIMITS, f"edge_min_countersunk,two,D,,{HANDBOOK}"], r"line 2, value: .* not a number in D"),
        (
            "nutplate_ears",
            [EARS, f"triple,8-32,each side,.3,.6,{HANDBOOK}"],
            r"line 2, kind: the table doesn't know this word.*two-lug",
        ),
        ("drill_chains", [CHAINS, f".25,plain,direct,1,pilot,99,,{HANDBOOK}"], r"line 2, drill: there is no drill"),
        (
            "ac43_13_1b_table_4_9",
            [
                "thickness_in,fastener,diameter_in,rivets_per_in,note,source,place,edition,basis",
                f".072,rivet,.125,9.0,,{HANDBOOK}",
            ],
            r"line 2, rivets_per_in: this must rise along thickness_in, but goes 12\.3 at 0\.064, then 9\.0 at \.072",
        ),
    ],
)  # fmt: skip
def test_a_file_is_refused_with_line_and_reason(
    tmp_path: Path, name: str, lines: list[str], match: str
) -> None:
    with pytest.raises(TableError, match=match) as caught:
        load_shop_tables(_write(tmp_path, name, *lines))
    assert "Nothing in the folder is used" in str(caught.value)


def test_one_bad_file_refuses_the_good_one_too_and_all_faults_are_listed(tmp_path: Path) -> None:
    _write(tmp_path, "rivet_shear", SHEAR, f"AD,2117-T3,.15625,597,{HANDBOOK}")
    _write(
        tmp_path, "clip_nuts", CLIPS, f"a,8-32,.375,.025,x,.5,{HANDBOOK}", f"b,8-32,.375,y,.051,.5,{HANDBOOK}"
    )
    with pytest.raises(TableError) as caught:
        load_shop_tables(tmp_path)
    assert "clip_nuts.csv, line 2, grip_max_in" in str(caught.value)
    assert "clip_nuts.csv, line 3, grip_min_in" in str(caught.value)


@pytest.mark.parametrize(
    "content", [b"\xff\xfe\x00a", b"a\x00b,c", b'"open', b"\xef\xbb\xbf", b"x" * 1_000_001]
)
def test_a_file_that_is_no_table(tmp_path: Path, content: bytes) -> None:
    (tmp_path / "rivet_shear.csv").write_bytes(content)
    with pytest.raises(TableError, match=r"rivet_shear\.csv") as caught:
        load_shop_tables(tmp_path)
    assert len(str(caught.value)) < 700


def test_a_byte_order_mark_is_no_fault(tmp_path: Path) -> None:
    text = f"\ufeff{SHEAR}\r\nAD,2117-T3,.15625,597,{HANDBOOK}\r\n"
    (tmp_path / "rivet_shear.csv").write_text(text, encoding="utf-8", newline="")
    assert rivet_shear("AD", diameter_in=5 / 32, shop=load_shop_tables(tmp_path)).value == 597


def test_a_missing_folder(tmp_path: Path) -> None:
    with pytest.raises(TableError, match="can't be read"):
        load_shop_tables(tmp_path / "none")


def test_a_confirmed_flush_strength_may_be_used_for_strength(tmp_path: Path) -> None:
    heading = "preparation,property,diameter_in,thickness_in,load_lbf,source,place,edition,basis"
    shop = load_shop_tables(
        _write(tmp_path, "flush_rivet_strength", heading, f"dimpled,ultimate,.09375,.016,186,{HANDBOOK}")
    )
    found = flush_rivet_strength("dimpled", diameter_in=3 / 32, thickness_in=0.016, shop=shop)
    assert found.grade is Grade.SHOP


def test_hole_range_of_a_shop(tmp_path: Path) -> None:
    heading = "diameter_in,hole_min_in,hole_max_in,source,place,edition,basis"
    shop = load_shop_tables(_write(tmp_path, "rivet_hole_ranges", heading, f".125,.1285,.132,{HANDBOOK}"))
    assert (hole_range(0.125, shop).greatest_in, hole_range(0.125, shop).grade) == (0.132, Grade.SHOP)


@pytest.mark.property
@settings(
    deadline=None,
    suppress_health_check=[HealthCheck.function_scoped_fixture, HealthCheck.too_slow],
    max_examples=150,
)
@given(st.integers(0, 1), st.integers(0, 7), st.text(max_size=12))
def test_any_cell_may_be_spoilt_without_a_crash(tmp_path: Path, line: int, column: int, text: str) -> None:
    """Whatever stands in one cell: either a table error that names the file, or sound rows graded the shop's own."""
    rows = [SHEAR.split(","), ["AD", "2117-T3", ".15625", "597", "BOOK", "p", "2024", "the shop's own"]]
    rows[line][column] = text
    (tmp_path / "rivet_shear.csv").write_text(
        "\n".join(map(",".join, rows)), encoding="utf-8", errors="replace"
    )
    try:
        shop = load_shop_tables(tmp_path)
    except TableError as error:
        assert "rivet_shear.csv" in str(error)
    else:
        for row in shop.rows["rivet_shear"]:
            assert row.grade is Grade.SHOP
            assert 0.01 <= row.number("diameter_in") <= 1.0
            assert row.number("shear_lbf") > 0.0


def test_what_cannot_be_opened_is_named(tmp_path: Path) -> None:
    (tmp_path / "clip_nuts.csv").mkdir()
    (tmp_path / "rivet_shear.csv").symlink_to(tmp_path / "gone.csv")
    with pytest.raises(
        TableError, match=r"clip_nuts\.csv: the file can't be read.*rivet_shear\.csv: the file can't"
    ):
        load_shop_tables(tmp_path)


def test_two_files_of_one_name(tmp_path: Path) -> None:
    _write(tmp_path, "clip_nuts", CLIPS, f"a,8-32,.375,.025,.051,.5,{HANDBOOK}")
    (tmp_path / "clip_nuts.CSV").write_bytes((tmp_path / "clip_nuts.csv").read_bytes())
    if len(list(tmp_path.iterdir())) < 2:
        pytest.skip("this file system does not tell large from small letters")
    with pytest.raises(TableError, match="two files of that name"):
        load_shop_tables(tmp_path)
