"""`hatchwright pull`, run as a person runs it: what several jobs take, added up from each job's own table."""

from __future__ import annotations

import csv
import io
import shutil
from collections import Counter

import pypdfium2
import pytest
from msgspec.structs import replace

from hatchwright.documents.lists import lists_of
from hatchwright.documents.pull_list import PulledJob, pull_list
from hatchwright.job.file import load_job
from hatchwright.layout.lay_out import lay_out
from hatchwright.page.fill_in import with_unit
from hatchwright.said import said
from tests.conftest import EXAMPLES

JOBS = ("alder", "birch", "heron")


def pulled(shell, folder, *names):
    status, out, err = shell("pull", *(EXAMPLES / f"{name}.toml" for name in names), "--out", folder)
    assert (status, err) == (0, "")
    assert [line.rpartition("/")[2] for line in out.splitlines()[:2]] == [
        "PULL_LIST_LETTER.pdf",
        "PULL_LIST.csv",
    ]
    text = (folder / "PULL_LIST.csv").read_text(encoding="utf-8")
    return list(csv.DictReader(io.StringIO(text, newline="")))


def test_alike_parts_of_all_sides_are_added_up(shell, tmp_path):
    rows = pulled(shell, tmp_path, *JOBS)
    rivets, screws = 0, 0
    for name in JOBS:
        layout = lay_out(load_job(EXAMPLES / f"{name}.toml"))
        sides = 2 if layout.job.aircraft.both_sides else 1
        kinds = Counter(hole.kind for hole in layout.holes)
        rivets, screws = rivets + sides * kinds["rivet"], screws + sides * kinds["screw"]
    needed = Counter()
    for row in rows:
        needed[row["Item"]] += int(row["Need"] or 0) if row["List"] == "Hardware" else 0
    assert (needed["Rivet"], needed["Cover screw"]) == (rivets, screws)
    (common,) = (row for row in rows if row["Part number"] == "MS20470AD4-4")
    assert int(common["Need"]) == rivets
    assert int(common["Spare"]) == max(5, -(-rivets // 10))  # of all together, not five for each job
    assert common["Jobs"].startswith("alder LEFT 64; alder RIGHT 64; birch RIGHT 72")


def test_tools_are_those_of_one_job_at_a_time(shell, tmp_path):
    """30 for ALDER and 36 for HERON of the same temporary fastener: the store gives out 36."""
    rows = pulled(shell, tmp_path, "alder", "heron")
    (copper,) = (row for row in rows if row["Item"].startswith("temporary fastener .125"))
    assert copper["Need"] == "36"


def test_the_paper_says_which_jobs_and_that_none_is_judged(shell, tmp_path):
    pulled(shell, tmp_path, *JOBS)
    with pypdfium2.PdfDocument(tmp_path / "PULL_LIST_LETTER.pdf") as pdf:
        text = " ".join(" ".join(page.get_textpage().get_text_range() for page in pdf).split())
    for words in ("5 SIDES", "alder LEFT", "heron LEFT", "No job is judged here", "MS20470AD4-4"):
        assert words in text


def test_a_job_that_is_named_twice_counts_twice(shell, tmp_path):
    rows = pulled(shell, tmp_path, "birch", "birch")
    assert int(next(row["Need"] for row in rows if row["Item"] == "Rivet")) == 144


def test_of_many_jobs_the_paper_counts_the_rest_and_the_table_names_all(shell, tmp_path):
    rows = pulled(shell, tmp_path, *["birch"] * 30)
    (rivet,) = (row for row in rows if row["Item"] == "Rivet")
    assert rivet["Jobs"].split("; ") == ["birch RIGHT 72"] * 30
    with pypdfium2.PdfDocument(tmp_path / "PULL_LIST_LETTER.pdf") as pdf:
        text = " ".join(" ".join(page.get_textpage().get_text_range() for page in pdf).split())
    assert "and 18 more, all in the table" in text


def test_one_refused_job_refuses_the_list_and_says_which(shell, tmp_path):
    bad = tmp_path / "bad.toml"
    bad.write_text(
        (EXAMPLES / "birch.toml").read_text(encoding="utf-8").replace('width = "', 'width = "x', 1)
    )
    status, out, err = shell("pull", EXAMPLES / "alder.toml", bad, "--out", tmp_path / "shop")
    assert (status, out) == (2, "")
    assert "bad.toml" in err
    assert not (tmp_path / "shop").exists()


def test_no_job_is_refused(shell, tmp_path):
    status, _, err = shell("pull", "--out", tmp_path)
    assert status == 2
    assert "JOB" in err


def test_a_file_name_that_begins_a_formula_stays_text(shell, tmp_path):
    odd = tmp_path / "=cmd.toml"
    shutil.copy(EXAMPLES / "birch.toml", odd)
    status, _, _ = shell("pull", odd, "--out", tmp_path / "shop")
    assert status == 0
    text = (tmp_path / "shop" / "PULL_LIST.csv").read_text(encoding="utf-8")
    cells = [cell for row in csv.reader(io.StringIO(text, newline="")) for cell in row]
    assert any(cell.startswith("'=cmd") for cell in cells)
    assert not any(cell.lstrip().startswith(("=", "+", "-", "@")) for cell in cells)


@pytest.mark.parametrize("paper", ["letter", "a4"])
def test_jobs_in_two_units_are_listed_in_that_of_the_first(shell, tmp_path, paper):
    metric = tmp_path / "metric.toml"
    text = (EXAMPLES / "birch.toml").read_text(encoding="utf-8")
    metric.write_text(with_unit(text, "mm"), encoding="utf-8")
    status, _, err = shell("pull", EXAMPLES / "birch.toml", metric, "--out", tmp_path / "s", "--paper", paper)
    assert status == 0, err
    text = (tmp_path / "s" / "PULL_LIST.csv").read_text(encoding="utf-8")
    rows = list(csv.DictReader(io.StringIO(text, newline="")))
    (doubler,) = (row for row in rows if row["Item"] == "doubler")
    assert (doubler["Along X (in)"], doubler["Need"]) == (
        "6.3",
        "2",
    )  # the same blank, whatever its job is in


def test_a_fleet_file_stands_for_all_its_jobs_less_the_stock(shell, tmp_path):
    for name in ("alder", "birch"):
        shutil.copy(EXAMPLES / f"{name}.toml", tmp_path)
    alone = pulled(shell, tmp_path / "alone", "birch")
    rivet = next(row for row in alone if row["Part number"].startswith("MS20470"))
    fleet = tmp_path / "wing.fleet"
    fleet.write_text(
        'schema = 1\ntitle = "Wing"\n'
        f'[[stock]]\nnumber = "{rivet["Part number"].lower()}"\ncount = 7\n'
        '[[aircraft]]\nregistration = "N101HW"\nserial = "1"\n'
        '[[aircraft.lines]]\nside = "left"\njob = "birch.toml"\n'
    )
    status, _, err = shell("pull", fleet, "--out", tmp_path / "out")
    assert (status, err) == (0, "")
    text = (tmp_path / "out" / "wing_PULL_LIST.csv").read_text(encoding="utf-8")
    (row,) = (
        one for one in csv.DictReader(io.StringIO(text, newline=""))
        if one["Part number"] == rivet["Part number"]
    )  # fmt: skip
    assert (row["Order"], row["On hand"]) == (rivet["Order"], "7")
    assert int(row["To get"]) == int(rivet["Order"]) - 7
    status, _, err = shell("pull", fleet, EXAMPLES / "birch.toml", "--out", tmp_path / "two")
    assert status == 2
    assert "stands for all its jobs" in err
    assert not (tmp_path / "two").exists()


def test_stock_of_one_number_is_given_out_once_though_two_lines_take_it():
    lists = lists_of(lay_out(load_job(EXAMPLES / "birch.toml")), None)
    rivet = next(one for one in lists.hardware if (one.number or "").startswith("MS20470"))
    nutplate = replace(rivet, item=said("pull.title"))  # another item of the same part number
    both = PulledJob("birch", replace(lists, hardware=(rivet, nutplate)))
    ordered = rivet.count + rivet.spares
    found = pull_list([both], on_hand={rivet.number: ordered + 5}).hardware
    assert sum(one.order for one in found) == 2 * ordered
    assert sum(one.to_get for one in found) == 2 * ordered - (ordered + 5)
