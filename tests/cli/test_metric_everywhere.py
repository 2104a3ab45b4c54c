"""A metric job says no inch, pound, or psi, in any command and on any paper, unless it is asked for or is a name."""

from __future__ import annotations

import csv
import io
import json
import re
import zipfile
from fractions import Fraction
from pathlib import Path

import ezdxf
import pypdfium2
import pytest

from hatchwright.page.fill_in import with_unit
from tests.cli.test_cutters_command import SHELF
from tests.conftest import EXAMPLES

INCHES = re.compile(
    r"""
    (?<![A-Z#])\d\ ?in\b(?!\s+(?:a|an|the|order)\b)  # a figure and its mark; not a phrase that begins after a number
    | \d\ ?IN\b(?!\ [a-z])                        # the same in lettering; not "MS20470AD4 IN skin"
    | \b[iI]nch(?:es)?\b | \bINCH(?:ES)?\b
    | \b(?:psi|ksi|lbf?|lbs|LBF?|PSI)\b | \bin-lb
    | \d"                                         # a mark of inches after a figure
    | (?<![\w#/.])\.\d                            # inches as they are written: no zero before the point
    """,
    re.VERBOSE,
)

NAMES = (
    (r"12,500 lb\b", "the weight that a rule of the authority names: its own words"),
    (r'"[\d.]+"', "a readings file is TOML, where what is typed stands between these marks"),
)
"""What is left out before inches are looked for, and why each."""

AS_PUBLISHED = (
    (
        r"(?m)^.*\[[A-Z0-9][\w .-]*, .*; .*\]$",
        "they are asked of a rule, not of a job: a published limit stands with its source, as published",
    ),
    (r"(?m)^ +(?:Passes|Fails|At the limit): .*$", "and the worked examples of the rule beside it"),
)
"""What is left out of `rules` and `explain` alone, and why; a working of a job is told in its unit."""


def inches_in(text: str, names: tuple[tuple[str, str], ...] = NAMES) -> list[str]:
    """Each with what stands around it."""
    for name, _ in names:
        text = re.sub(name, "", text)
    return [text[max(0, found.start() - 60) : found.end() + 20] for found in INCHES.finditer(text)]


def in_mm(found: re.Match[str]) -> str:
    """The same length, exactly, with no unit beside it: 1 in = 25.4 mm, [NIST SP 811], appendix B.8."""
    whole = sum(map(Fraction, found[1].split()), Fraction())
    return f'"{float(whole * Fraction(254, 10)):.5f}'.rstrip("0").rstrip(".") + '"'


BARE = re.compile(r'"(-?[\d./ ]+) in"')


def metric(name: str) -> str:
    """An example with its lengths in millimeters, and loads; one side only."""
    text = BARE.sub(in_mm, with_unit((EXAMPLES / f"{name}.toml").read_text(encoding="utf-8"), "mm"))
    text = text.replace("both_sides = true", "both_sides = false")
    return f'{text}\n[loads]\nbasis = "restore"\n'


def metric_file(text: str) -> str:
    """A machine or a shelf in millimeters; an angle stays what it is."""
    lines = (
        line if line.startswith("ramp") else re.sub(r'"(\d*[./]?\d+|\d+\.\d+)"', in_mm, line)
        for line in text.splitlines()
    )
    return "\n".join(lines).replace('units = "in"', 'units = "mm"')


COMMANDS = {
    "alder": (
        ("check", "JOB", "--all", "--more"),
        ("check", "JOB", "--json"),
        ("fasteners", "JOB", "--json"),
        ("strength", "JOB", "--hand-only", "--json"),
        ("template", "JOB", "--json", "--out", "OUT"),
        ("pins", "JOB", "--json", "--out", "OUT"),
        ("toolpath", "JOB", "--machine", "MACHINE", "--json", "--out", "OUT"),
        ("fasteners", "JOB"),
        ("strength", "JOB", "--all", "--hand-only", "--out", "OUT"),
        ("template", "JOB", "--printable", "--out", "OUT"),
        ("trial", "JOB"),
        ("trial", "JOB", "--out", "OUT"),
        ("pins", "JOB", "--out", "OUT"),
        ("toolpath", "JOB", "--machine", "MACHINE", "--out", "OUT"),
        ("papers", "JOB", "--out", "OUT"),
        ("explain", "R101"),
        ("rules",),
    ),
    "cypress": (
        ("check", "JOB", "--more"),
        ("check", "JOB", "--json"),
        ("cutters", "JOB", "SHELF"),
        ("cutters", "JOB", "SHELF", "--json"),
        ("fasteners", "JOB"),
        ("strength", "JOB", "--all", "--out", "OUT"),
        ("papers", "JOB", "--out", "OUT"),
        ("sweep", "JOB", "--vary", "doubler.thickness=0.6:0.7", "--no-buckling", "--processes", "1", "--out", "OUT"),
        ("sweep", "JOB", "--vary", "doubler.thickness=0.001:0.002", "--out", "OUT"),
    ),
}  # fmt: skip
"""Every command that answers about a job, each on one of two: one with a cutter, one on a curved skin."""

REFUSED = ("sweep", "JOB", "--vary", "doubler.thickness=0.001:0.002", "--out", "OUT")


@pytest.fixture(scope="module")
def told(shell, tmp_path_factory, strength_once):
    """What each command printed, its status before it, and the folder of all that they made."""
    folder, printed = tmp_path_factory.mktemp("metric"), {}
    places = {name: folder / name for name in ("MACHINE", "SHELF")}
    places["MACHINE"].write_text(
        metric_file((EXAMPLES / "machines" / "machine.toml").read_text(encoding="utf-8")), encoding="utf-8"
    )
    shelf = SHELF.replace("schema = 1\n", 'schema = 1\nunits = "in"\n')
    places["SHELF"].write_text(metric_file(shelf), encoding="utf-8")
    with pytest.MonkeyPatch.context() as patch:
        patch.setenv("COLUMNS", "400")
        for name, commands in COMMANDS.items():
            places["JOB"] = folder / f"{name}.toml"
            places["JOB"].write_text(metric(name), encoding="utf-8")
            for number, command in enumerate(commands):
                places["OUT"] = folder / "made" / name / f"{number}"
                status, out, err = shell(*(places.get(word, word) for word in command))
                printed[name, command] = status, out + err
    return printed, folder / "made"


def sentences_of(data: object, key: str = "") -> str:
    """What a person would read in data for programs: keys keep their unit inside, and so does the unit of a number."""
    if isinstance(data, dict):
        return "\n".join(sentences_of(value, name) for name, value in data.items())
    if isinstance(data, list):
        return "\n".join(sentences_of(value, key) for value in data)
    return data if isinstance(data, str) and key != "unit" else ""


def words_of(path: Path) -> str:
    """All that a person reads in a file, by outside readers."""
    match path.suffix:
        case ".pdf":
            with pypdfium2.PdfDocument(path) as pdf:
                return "\n".join(page.get_textpage().get_text_range() for page in pdf)
        case ".dxf":
            space = ezdxf.readfile(path).modelspace()
            return "\n".join(one.dxf.text for one in space.query("TEXT"))
        case ".svg":
            return "\n".join(re.findall(r">([^<>]+)<", path.read_text(encoding="utf-8")))
        case ".3mf":
            with zipfile.ZipFile(io.BytesIO(path.read_bytes())) as body:
                return "\n".join(
                    words
                    for name in body.namelist()
                    for words in re.findall(r">([^<>]+)<", body.read(name).decode("utf-8"))
                )
        case ".csv":
            with path.open(encoding="utf-8", newline="") as lines:
                return "\n".join("\t".join(row) for row in csv.reader(lines))
        case ".json":
            return sentences_of(json.loads(path.read_text(encoding="utf-8")))
        case _:
            return path.read_text(encoding="utf-8")


def test_the_jobs_have_no_inch_left_of_their_own(told):
    """Or an inch that a person typed would be told back to him."""
    assert not [name for name in COMMANDS if BARE.search(metric(name))]


@pytest.mark.parametrize(("name", "command"), [(name, one) for name in COMMANDS for one in COMMANDS[name]])
def test_a_command_says_no_inch(told, name, command):
    status, text = told[0][name, command]
    assert status in ((2,) if command == REFUSED else (0, 1)), text
    assert len(text) > 80
    if "--json" in command:
        text = sentences_of(json.loads(text))
    of_a_rule = command[0] in ("rules", "explain")
    assert not inches_in(text, (*NAMES, *AS_PUBLISHED) if of_a_rule else NAMES)
    assert not re.search("[\u2500-\u257f]", text)  # neither frame nor bar where no terminal is


def test_no_paper_says_an_inch(told):
    made = [path for path in sorted(told[1].rglob("*")) if path.is_file()]
    found = {path.name: wrong for path in made if (wrong := inches_in(words_of(path)))}
    assert not found, found
    kinds = {path.suffix for path in made}
    assert kinds == {".pdf", ".dxf", ".svg", ".3mf", ".ngc", ".txt", ".csv", ".json"}
    assert len(made) > 30
    unsaid = [
        path.name
        for path in made
        if path.suffix == ".pdf" and not re.search(" mm|MILLIMETERS", words_of(path))
    ]
    assert not unsaid


def test_the_same_look_finds_the_inches_of_an_inch_job(shell):
    _, out, _ = shell("check", EXAMPLES / "alder.toml")
    assert inches_in(out)


@pytest.mark.parametrize(
    "words", ["6.000 in bars", "5.277 IN", "12 lbf", "59 ksi", '5/8" hole', "by .007 short", "in inches"]
)
def test_the_look_knows_every_way_to_write_them(words):
    assert inches_in(words)
