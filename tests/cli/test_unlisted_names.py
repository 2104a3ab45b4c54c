"""Every command answers a job that names a sheet, a rivet or a screw that no table lists, and none guesses a number.

The names are made up. Common practice, no source.
"""

from __future__ import annotations

import json
import re
from pathlib import Path
from xml.etree import ElementTree

import ezdxf
import pypdfium2
import pytest

from tests.conftest import EXAMPLES

pytestmark = pytest.mark.usefixtures("strength_once")

MACHINE = EXAMPLES / "machines" / "machine.toml"
NAMES = {
    "sheets": ('alloy = "2024"', 'alloy = "9999"'),
    "rivets": ('rivet = "MS20470AD4"', 'rivet = "CR9999"'),
    "a row": ('rivet = "MS20470AD4"', 'rivet = "CR9999"', 1),
    "screws": ('size = "8-32"', 'size = "77-99"'),
    "short screws": ('size = "8-32"', 'size = "M7"'),
    "nutplate rivet": ("MS20426AD3", "CR9999"),
    "screw head": ('head = "100 degree flush"', 'head = "82 degree flush"'),
    "nut": ('nut = "100-degree two-lug nutplate"', 'nut = "zorb nutplate"'),
}


@pytest.fixture(params=NAMES)
def job(request, tmp_path, alder_text) -> Path:
    """Alder with names of one kind that no table lists, and with loads."""
    old, new, *count = NAMES[request.param]
    assert old in alder_text
    path = tmp_path / "unlisted.toml"
    path.write_text(alder_text.replace(old, new, *count) + '\n[loads]\nbasis = "restore"\n', encoding="utf-8")
    return path


def numbers_only(text: str) -> object:
    """Read JSON; what is no number is no JSON."""

    def refuse(constant: str) -> None:
        raise ValueError(constant)

    return json.loads(text, parse_constant=refuse)


@pytest.mark.parametrize(
    "command",
    [
        ("check",),
        ("check", "--json"),
        ("fasteners",),
        ("fasteners", "--json"),
        ("pins", "--json"),
        ("trial",),
        ("strength", "--hand-only", "--json"),
    ],
    ids=" ".join,
)
def test_a_command_answers(shell, job, command):
    name, *options = command
    status, out, err = shell(name, job, *options)
    assert status in (0, 1), err
    if "--json" in options:
        assert numbers_only(out)
    if name == "check":
        assert "isn't in the tables" in out


def test_the_machine_gets_no_hole_of_an_unlisted_rivet(shell, tmp_path, alder_text):
    path = tmp_path / "unlisted.toml"
    path.write_text(alder_text.replace("MS20470AD4", "CR9999", 1), encoding="utf-8")
    status, out, _ = shell("toolpath", path, "--machine", MACHINE, "--out", tmp_path / "shop", "--json")
    assert status in (0, 1)
    assert numbers_only(out)
    drilled = {
        int(number)
        for one in tmp_path.rglob("*.ngc")
        for number in re.findall(r"rivet (\d+)", one.read_text())
    }
    assert not drilled & set(range(1, 10))


def test_papers_say_not_known_and_draw_the_center_alone(shell, tmp_path, alder_text):
    drawn = alder_text[: alder_text.index("# What was really made")].replace("MS20470AD4", "CR9999", 1)
    path = tmp_path / "unlisted.toml"
    path.write_text(drawn, encoding="utf-8")
    status, _, err = shell("papers", path, "--only", "layout", "--out", tmp_path / "papers")
    assert (status, err) == (1, "")
    layout = tmp_path / "papers" / "unlisted_LAYOUT_LEFT_IN.dxf"
    model = ezdxf.readfile(layout).modelspace()
    assert len(model) > 100
    told = " ".join(one.dxf.text for one in model.query("TEXT"))
    assert "CR9999" in told
    assert "SIZE AND DRILLS NOT KNOWN" in told
    holes = [one for one in model.query("CIRCLE") if one.dxf.layer.startswith("DRILL")]
    assert len(holes) > 60
    assert len({(round(one.dxf.center.x, 4), round(one.dxf.center.y, 4)) for one in holes}) == len(holes)


def test_a_name_in_two_rows_is_told_once_on_card_and_command(shell, tmp_path, alder_text):
    """One line a cause: what waits for the rivet is behind the line that names it, and nothing is still to enter."""
    path = tmp_path / "unlisted.toml"
    path.write_text(alder_text.replace("MS20470AD4", "ZORB4", 2), encoding="utf-8")
    status, out, _ = shell("check", path, "--more")
    assert status == 1
    assert out.count("ZORB4") == 1
    assert "rows." not in out
    _, out, _ = shell("check", path, "--json")
    answers = json.loads(out)
    assert not [one for one in answers["verdict"]["to_enter"] if one["entry"].startswith("rows.")]
    waiting = {one["code"] for one in answers["findings"] if "ZORB4" in json.dumps(one)}
    assert {"R101", "R201", "R501", "R931"} <= waiting
    assert shell("papers", path, "--only", "card", "--out", tmp_path / "papers")[0] == 1
    with pypdfium2.PdfDocument(tmp_path / "papers" / "unlisted_CARRY_CARD_LEFT_LETTER.pdf") as pdf:
        card = " ".join(page.get_textpage().get_text_range() for page in pdf)
    assert card.count("isn't in the tables") == 1
    assert "Rivet part number" not in card


def test_papers_name_no_drill_for_a_head_and_no_nutplate_of_unknown_shape(shell, tmp_path, alder_text):
    path = tmp_path / "unlisted.toml"
    text = alder_text.replace('head = "100 degree flush"', 'head = "82 degree flush"')
    path.write_text(text.replace('nut = "100-degree two-lug nutplate"', 'nut = "zorb nut"'), encoding="utf-8")
    assert shell("papers", path, "--only", "card,layout", "--out", tmp_path / "papers")[0] == 1
    with pypdfium2.PdfDocument(tmp_path / "papers" / "unlisted_CARRY_CARD_LEFT_LETTER.pdf") as pdf:
        card = " ".join(" ".join(page.get_textpage().get_text_range() for page in pdf).split())
    drawing = ElementTree.parse(tmp_path / "papers" / "unlisted_LAYOUT_LEFT_IN.svg")
    layout = " ".join("".join(drawing.getroot().itertext()).split())
    screws = [line[:80] for line in layout.split("SCREW 8-32")[1:]]
    assert screws
    assert all("DRILLS NOT KNOWN" in line and "#" not in line for line in screws)
    assert not [line for line in card.split("8-32: ")[1:] if "#" in line[:60]]
    assert "Drill NOT KNOWN, no. 101 to 116: don't drill." in card
    assert "82 degree flush (NOT KNOWN)" in card
    assert "zorb nut" in card
    assert "for the nutplates" not in card
