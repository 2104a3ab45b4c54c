"""The lists of a side: what is ordered, cut and counted, on paper (read with PDFium) and as a table (read with csv).

Counts are taken from the hole table by hand. Part numbers: diameter in 32nds and length in 16ths, [FAA-CT-8080-8D]
exhibit 1; two rivets of 3/32 to a nutplate, [BUILDER-LOGS], seen only restated. What a list of tools that is counted
must hold: acceptance point 16 of the trade's list: it is complete only while nothing is unticked.
"""

from __future__ import annotations

import csv
import io
import re
from collections import Counter
from datetime import UTC, datetime

import pypdfium2
import pypdfium2.raw as pdfium
import pytest
from msgspec.structs import replace

from hatchwright.documents.csv_table import csv_from
from hatchwright.documents.lists import Lists, lists_csv, lists_of, lists_part
from hatchwright.documents.parts_list import PartLine, parts_list
from hatchwright.documents.typst_pdf import pdf_from
from hatchwright.drawings.writers import Paper
from hatchwright.job.file import edited, load_job, read_job
from hatchwright.layout.lay_out import lay_out
from hatchwright.making.guide import job_recipe
from hatchwright.making.making import making_of
from hatchwright.said import said
from hatchwright.tables.shop import load_shop_tables
from hatchwright.words.tell import tell
from hatchwright.workflow.new_job import NEW_JOBS, Start, starting_text
from tests.conftest import EXAMPLES

STAMP = datetime(2026, 3, 1, 10, tzinfo=UTC)
EVERY = ("alder", "birch", "cypress", "dogwood", "elder", "finch", "heron", "juniper")
HOSTILE = "=1+1 \u202eright to left <b>#emph[x]</b> \U0001f600 \x07 " + "W" * 60


def of_job(job, shop=None) -> Lists:
    layout = lay_out(job, shop)
    return lists_of(layout, making_of(layout))


def table_of(lists):
    content = lists_csv(lists, date="today", verdict=said("lists.nothing"))
    return list(csv.DictReader(io.StringIO(content.decode("utf-8"), newline="")))


def pdf_of(lists, *, stop="", paper=Paper.LETTER):
    part = lists_part(lists, date="2026-03-01 10:00 UTC", stop=stop)
    return pdf_from(part, title="LISTS", paper=paper, stamp=STAMP)


def text_of(content):
    with pypdfium2.PdfDocument(content) as pdf:
        return "\n".join(page.get_textpage().get_text_range() for page in pdf)


def boxes_in(content):
    """Sizes of the ruled rectangles of all pages [in]."""
    found = Counter()
    with pypdfium2.PdfDocument(content) as pdf:
        for page in pdf:
            for one in page.get_objects(filter=[pdfium.FPDF_PAGEOBJ_PATH], max_depth=8):
                left, bottom, right, top = one.get_bounds()
                found[round((right - left) / 72.0, 1), round((top - bottom) / 72.0, 1)] += 1
    return found


@pytest.fixture(scope="module", params=EVERY)
def listed(request):
    return of_job(load_job(EXAMPLES / f"{request.param}.toml"))


def test_the_table_adds_up_to_the_hole_table(listed):
    holes, rows = listed.layout.holes, table_of(listed)

    def needed(item):
        return sum(int(row["Need"]) for row in rows if row["Item"] == item)

    rivets = Counter(hole.fastener for hole in holes if hole.kind == "rivet")
    screws = sum(hole.kind == "screw" for hole in holes)
    assert needed("Rivet") == sum(rivets.values())
    assert needed("Cover screw") == needed("Nut") == screws
    for fastener, count in rivets.items():
        of_kind = [row for row in rows if row["Item"] == "Rivet" and row["Part number"].startswith(fastener)]
        assert sum(int(row["Need"]) for row in of_kind) == count
    cover = listed.layout.job.cover
    has_nutplates = cover is not None and cover.screws is not None and "nutplate" in cover.screws.nut
    assert needed("Nutplate rivet") == (2 * screws if has_nutplates else 0)
    numbers = sorted(number for line in listed.hardware for number in line.holes)
    assert numbers == sorted(hole.number for hole in holes)


def test_a_rivet_is_ordered_by_its_public_number(listed):
    """Two groups of figures: 32nds of an inch across and 16ths long, one to two diameters longer than the grip; a
    flush one is measured over all."""
    thickness = {part.name: part.thickness_in for part in listed.layout.parts}
    by_number = {hole.number: hole for hole in listed.layout.holes}
    found = [line for line in listed.hardware if tell(line.item) == "Rivet"]
    assert found or listed.layout.holes_of("rivet") == ()
    for line in found:
        read = re.fullmatch(r"MS20(470|426)AD(\d+)-(\d+(?:\.5)?)", line.number)
        across_in, length_in = int(read[2]) / 32.0, float(read[3]) / 16.0
        for number in line.holes:
            grip_in = sum(thickness[name] for name in by_number[number].stack)
            assert by_number[number].diameter_in == pytest.approx(across_in)
            assert grip_in + across_in <= length_in <= grip_in + 2.0 * across_in


def test_a_nutplate_has_its_number_where_family_and_dash_are_known(listed):
    for line in listed.hardware:
        if tell(line.item) == "Nut":
            screws = listed.layout.job.cover.screws
            known = (screws.nut, screws.size) == ("two-lug nutplate", "8-32")
            assert line.number == ("MS21047L08" if known else "")
            assert ("from memory" in tell(line.description)) == known


def test_spares_are_a_tenth_and_at_least_five(listed):
    for line in listed.hardware:
        if line.spares:
            assert line.spares == max(5, -(-line.count // 10))
            assert line.order == line.count + line.spares
        else:
            assert tell(line.item) in ("Mounted part", "Grommet edging")


def test_the_shops_own_rule_of_spares_is_kept(tmp_path):
    (tmp_path / "rule_limits.csv").write_text(
        "key,value,unit,note,source,place,edition,basis\n"
        "spares_share,0.25,of the count,,STORE,bin,now,the shop's own\n"
        "spares_least,2,pieces,,STORE,bin,now,the shop's own\n",
        encoding="utf-8",
    )
    lists = of_job(load_job(EXAMPLES / "alder.toml"), load_shop_tables(tmp_path))
    found = {tell(line.item): line.spares for line in lists.hardware}
    assert found == {"Rivet": 16, "Cover screw": 4, "Nut": 4, "Nutplate rivet": 8}
    assert "25 percent, at least 2 [the shop's own]" in " ".join(text_of(pdf_of(lists)).split())


def test_a_blank_is_a_quarter_larger_on_each_side():
    """The doubler of ALDER is 7.00 x 6.00; its cover 5.00 x 4.00 less .030 all round; .25 on each side more."""
    lists = of_job(load_job(EXAMPLES / "alder.toml"))
    sizes = {tell(one.part): one.size_in for one in lists.blanks}
    assert sizes["doubler"] == pytest.approx((7.5, 6.5))
    assert sizes["cover"] == pytest.approx((5.44, 4.44))
    rows = {row["Item"]: row for row in table_of(lists) if row["List"] == "Sheet blanks"}
    assert (rows["doubler"]["Along X (in)"], rows["doubler"]["Gauge (in)"]) == ("7.5", "0.04")
    assert rows["doubler"]["Description"] == "2024-T3 CLAD .040"


def test_the_doubler_of_a_curved_skin_is_cut_flat_with_its_grain_round_the_curve():
    """CYPRESS: radius 14.0136 by chord and rise, the middle of the doubler over the outer face .997074; 5.00 wide."""
    blank = of_job(load_job(EXAMPLES / "cypress.toml")).blanks[0]
    assert blank.size_in[1] == pytest.approx(5.00 * 0.997074 + 0.5, abs=1e-4)
    assert tell(blank.grain) == "along Y"


def test_what_is_counted_is_every_tool_of_the_recipe_and_what_is_cut_out(listed):
    making = making_of(listed.layout)
    recipe = job_recipe(listed.layout, making)
    names = [line.name for line in listed.counted]
    assert len(names) == len(set(names))
    assert {one.name for one in recipe.tools} <= set(names)
    assert said("lists.cutout") in names
    for one in recipe.tools:
        (line,) = (line for line in listed.counted if line.name == one.name)
        assert line.count in (one.count, None)
        if one.name.id in ("tools.temporary", "tools.drill"):
            assert line.count == one.count


def test_each_line_has_a_box_in_and_a_box_out_and_the_sheet_is_complete_only_when_all_are_ticked(listed):
    content = pdf_of(listed)
    boxes = sum(
        many for (wide, high), many in boxes_in(content).items() if wide == 0.4 and high in (0.3, 0.4)
    )
    assert boxes == 2 * len(listed.counted)
    text = " ".join(text_of(content).split())
    assert "COMPLETE ONLY WHEN EVERY LINE IS TICKED IN AND OUT" in text
    assert "complete" not in text.replace("COMPLETE ONLY", "").lower()


@pytest.mark.parametrize("paper", [Paper.LETTER, Paper.A4])
def test_the_lists_are_one_sheet(listed, paper):
    stop = "DO NOT CUT, DRILL OR RIVET: 2 STOP, 1 NOT SHOWN. R101. SEE THE WORK CARD."
    content = pdf_of(listed, stop=stop, paper=paper)
    assert len(pypdfium2.PdfDocument(content)) == 1
    assert stop in " ".join(text_of(content).split())


def test_a_metric_job_tells_millimeters_alone():
    job = load_job(EXAMPLES / "alder.toml").model_copy(update={"units": "mm"})
    lists = of_job(job)
    said_of_it = text_of(pdf_of(lists)) + lists_csv(lists, date="", verdict=said("lists.nothing")).decode()
    left = re.sub(r"\(\d+\.\d+ in\)|8-32 x 1/2|\b\d/\d+\b", "", said_of_it)
    assert not re.search(r"\d in\b", left), left
    assert "190.5" in said_of_it  # 7.5 in
    assert "Along X (mm)" in said_of_it


@pytest.mark.parametrize("kind", NEW_JOBS)
def test_every_kind_of_job_has_its_lists(kind):
    lists = of_job(read_job(starting_text(Start(kind))))
    assert pdf_of(lists).startswith(b"%PDF-")
    holes = lists.layout.holes
    counted = sum(int(row["Need"]) for row in table_of(lists) if row["Item"] in ("Rivet", "Cover screw"))
    assert counted == len(holes)


def test_a_job_without_rivets_screws_doubler_and_template_orders_nothing():
    text = starting_text(Start("plain-hole"))
    job = read_job(text).model_copy(
        update={
            "doubler": None,
            "rows": (),
            "cover": None,
            "plain_hole": None,
            "template": None,
            "cutter": None,
        }
    )
    lists = of_job(job)
    assert (lists.hardware, lists.blanks) == ((), ())
    assert "Nothing to order." in text_of(pdf_of(lists))
    assert table_of(lists)


def test_what_no_table_lists_reads_not_known():
    text = (EXAMPLES / "alder.toml").read_text(encoding="utf-8")
    job = read_job(
        edited(text, {"rows.0.rivet": "XYZ-77", "cover.screws.size": "5-44", "cover.screws.nut": "odd nut"})
    )
    rows = [row for row in table_of(of_job(job)) if row["List"] == "Hardware"]
    (odd,) = (row for row in rows if "XYZ-77" in row["Description"])
    assert odd["Part number"] == "NOT KNOWN"
    assert "length NOT KNOWN" in odd["Description"]
    assert {row["Part number"] for row in rows if row["Item"] in ("Cover screw", "Nut")} == {"NOT KNOWN"}


def test_hostile_words_stay_words_in_table_and_paper():
    text = (EXAMPLES / "alder.toml").read_text(encoding="utf-8")
    job = read_job(edited(text, {"rows.0.rivet": "=HYPERLINK(1)", "template.material": "@cmd|' /C calc'!A0"}))
    job = job.model_copy(update={"title": HOSTILE})
    lists = of_job(job)
    content = pdf_of(lists)
    assert "=HYPERLINK(1)" in "".join(text_of(content).split())
    for row in table_of(lists):
        for cell in row.values():
            assert not cell.lstrip().startswith(("=", "+", "-", "@")), cell
            assert cell.isprintable()
        assert row["Job"].startswith("'=1+1")


@pytest.mark.parametrize("cell", ["=1+1", "+1", "-1", "@SUM(A1)", "\t=1+1", " =1", "\r=1", "\n@x"])
def test_no_cell_acts_as_a_formula(cell):
    (_, (read,)) = csv.reader(io.StringIO(csv_from(("a",), [(cell,)]).decode(), newline=""))
    assert read.startswith("'")
    assert read.lstrip("' ") == cell.strip()


def test_a_table_is_utf_8_with_a_decimal_point_and_keeps_every_cell():
    rows = [("Ünïcode, comma", 0.5), ('a "quote"', None), ("x" * 5000, 12)]
    content = csv_from(("Näme", "Number"), rows)
    read = list(csv.reader(io.StringIO(content.decode("utf-8"), newline="")))
    assert read == [["Näme", "Number"], ["Ünïcode, comma", "0.5"], ['a "quote"', ""], ["x" * 5000, "12"]]


def test_ten_thousand_parts_are_listed():
    lists = of_job(load_job(EXAMPLES / "dogwood.toml"))
    many = tuple(
        PartLine(n, 5, said("lists.rivet"), f"MS20470AD4-{n}", f"kind {n}") for n in range(1, 10_001)
    )
    lists = replace(lists, hardware=many)
    rows = [row for row in table_of(lists) if row["List"] == "Hardware"]
    assert [int(row["Need"]) for row in rows] == list(range(1, 10_001))
    text = text_of(pdf_of(lists))
    assert all(f"MS20470AD4-{n}" in text for n in (1, 5000, 10_000))


def test_the_same_job_makes_the_same_bytes():
    job = load_job(EXAMPLES / "alder.toml")
    one, other = of_job(job), of_job(job)
    assert pdf_of(one) == pdf_of(other)
    assert lists_csv(one, date="", verdict=said("lists.nothing")) == lists_csv(
        other, date="", verdict=said("lists.nothing")
    )


def test_a_rivet_that_replaces_another_is_ordered_as_it_is():
    """What was fitted oversize on the aircraft is another part."""
    text = (EXAMPLES / "alder.toml").read_text(encoding="utf-8")
    fitted = '\n[[as_made.fitted]]\nholes = [1, 2]\nrivet = "MS20470AD5"\n'
    found = Counter()
    for line in parts_list(lay_out(read_job(text + fitted))):
        found[line.number.partition("-")[0]] += line.count if tell(line.item) == "Rivet" else 0
    assert found["MS20470AD5"] == 2
    assert found["MS20470AD4"] == 62
