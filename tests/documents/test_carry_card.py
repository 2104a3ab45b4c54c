"""The carry card, read from the written pages by another reader (pypdfium2): what a mechanic can carry, read and tick.

Sides, words and sizes of letters and boxes are the trade's demands on it; numbers are worked out here or stand in the
long form of the same step.
"""

from __future__ import annotations

import ctypes
import math
import re
from collections import Counter
from datetime import UTC, datetime
from functools import cache

import pypdfium2
import pypdfium2.raw as pdfium
import pytest

from hatchwright.documents.card_steps import card_steps, carried_steps
from hatchwright.documents.carry_card import carry_card_pdf
from hatchwright.documents.carry_runs import between
from hatchwright.documents.job_summary import job_summary
from hatchwright.documents.step import Work, told_carried
from hatchwright.drawings.writers import Paper
from hatchwright.job.file import load_job, read_job
from hatchwright.making.guide import job_recipe
from hatchwright.making.pins.pin_layout import planned_pins
from hatchwright.making.pins.runs import runs_of
from hatchwright.units import parse_length
from hatchwright.words.catalog import HOME
from hatchwright.words.tell import tell
from hatchwright.workflow.examine import examine
from hatchwright.workflow.new_job import NEW_JOBS, Start, shapes_of, starting_text
from hatchwright.workflow.papers import papers
from tests.cards import carried_card_of, told_step
from tests.conftest import EXAMPLES

STAMP = datetime(2026, 3, 1, 10, tzinfo=UTC)
NO_PICTURE = b'<svg xmlns="http://www.w3.org/2000/svg" viewBox="0 0 1 1"/>'
JOBS = (
    *sorted(path.stem for path in EXAMPLES.glob("*.toml")),
    *(f"{kind}/{shape}" for kind in NEW_JOBS for shape in shapes_of(kind)),
)
EACH = [(job, units) for job in JOBS for units in ("in", "mm")]
A_WORD = re.compile(r"[A-Za-z]{2}")
A_KEY = re.compile(r"\b[a-z]+(?:_[a-z]+)+\b|\b[a-z]+\.[a-z_]+\b|\[\[?[a-z.]+\]")
A_FIGURE = re.compile(r"(?<![\w./])-?(?:\d+/\d+|\d+\.?\d*|\.\d+)(?![\w/])")
LEAST_BOX_IN = 0.35


@cache
def examined(name, units="in"):
    if "/" in name:
        job = read_job(starting_text(Start(*name.split("/"), units)))
    else:
        job = load_job(EXAMPLES / f"{name}.toml").model_copy(update={"units": units})
    return examine(job, with_strength=False)


@cache
def pdf_of(name, units, paper):
    card = carried_card_of(examined(name, units))
    return carry_card_pdf(card, hole_map=NO_PICTURE, paper=paper, stamp=STAMP)


def pages_of(data):
    with pypdfium2.PdfDocument(data) as pdf:
        return [" ".join(page.get_textpage().get_text_range().split()) for page in pdf]


def letters_of(data):
    """Every glyph with its size as printed [pt], side by side."""
    with pypdfium2.PdfDocument(data) as pdf:
        for page in pdf:
            text = page.get_textpage()
            for index in range(text.count_chars()):
                letter, matrix = chr(pdfium.FPDFText_GetUnicode(text, index)), pdfium.FS_MATRIX()
                letter = "-" if letter == "\x02" else letter  # a hyphen at the end of a line
                pdfium.FPDFText_GetMatrix(text, index, ctypes.byref(matrix))
                size = pdfium.FPDFText_GetFontSize(text, index) * (matrix.b**2 + matrix.d**2) ** 0.5
                if not letter.isspace():
                    yield letter, round(size, 2)


def frames_of(data):
    """Width and height of every closed frame of thin lines that is no rule [in]."""
    with pypdfium2.PdfDocument(data) as pdf:
        for page in pdf:
            for path in page.get_objects(filter=[pdfium.FPDF_PAGEOBJ_PATH]):
                xs, ys, matrix, width = [], [], pdfium.FS_MATRIX(), ctypes.c_float()
                for index in range(pdfium.FPDFPath_CountSegments(path)):
                    x, y = ctypes.c_float(), ctypes.c_float()
                    pdfium.FPDFPathSegment_GetPoint(pdfium.FPDFPath_GetPathSegment(path, index), x, y)
                    xs.append(x.value)
                    ys.append(y.value)
                pdfium.FPDFPageObj_GetMatrix(path, matrix)
                pdfium.FPDFPageObj_GetStrokeWidth(path, width)
                across = (max(xs) - min(xs)) * abs(matrix.a) / 72
                high = (max(ys) - min(ys)) * abs(matrix.d) / 72
                if len(xs) >= 4 and high > 0.2 and across > 0.2 and abs(width.value - 0.9) < 0.01:
                    yield round(across, 3), round(high, 3)


def checks_of(name, units="in"):
    card = carried_card_of(examined(name, units))
    return [check for step in card.steps for one in step.goes for check in one.checks]


@pytest.mark.parametrize(("job", "units"), EACH)
@pytest.mark.parametrize("paper", Paper)
def test_a_card_has_at_most_four_sides_and_under_900_words(job, units, paper):
    for one in papers(examined(job, units), stamp=STAMP, paper=paper, only=("card",)):
        pages = pages_of(one.content)
        words = [word for page in pages for word in page.split() if A_WORD.search(word)]
        assert len(pages) <= 4
        assert len(words) < 900, Counter(words).most_common(5)


@pytest.mark.parametrize(("job", "units"), EACH)
def test_no_source_in_brackets_and_no_key_of_a_file_is_printed(job, units):
    whole = " ".join(pages_of(pdf_of(job, units, Paper.LETTER)))
    assert "[" not in whole
    assert not A_KEY.findall(whole)
    assert not re.search(r"published|no source|from memory", whole)


@pytest.mark.parametrize("job", JOBS)
def test_letters_are_as_large_as_they_are_read(job):
    """The map is drawn apart; of all else nothing is under 9 pt, steps stand in 13 pt, their numbers in 16 pt."""
    data = pdf_of(job, "in", Paper.LETTER)
    letters = list(letters_of(data))
    assert min(size for _, size in letters) >= 9.0
    card = carried_card_of(examined(job))
    sizes = {size: "".join(letter for letter, of in letters if of == size) for size in (13.0, 16.0)}
    for step in card.steps:
        assert "".join(step.number) in sizes[16.0]
        for one in step.goes:
            assert f"{one.what}.{one.numbers}".replace(" ", "") in sizes[13.0]
            figures = [check.figure for check in one.checks if check.figure]
            assert all(figure.replace(" ", "") in sizes[16.0] for figure in figures)


@pytest.mark.parametrize("job", JOBS)
@pytest.mark.parametrize("paper", Paper)
def test_every_box_takes_a_pencil_in_a_glove_and_holds_have_two_frames(job, paper):
    frames = Counter(frames_of(pdf_of(job, "in", paper)))
    kinds = Counter(next(iter(check.box)) for check in checks_of(job))
    gate = len(carried_card_of(examined(job)).gate)
    assert all(min(frame) >= LEAST_BOX_IN for frame in frames), frames
    assert frames[0.36, 0.36] == kinds["tick"]
    assert frames[1.12, 0.36] == kinds["reading"]
    assert frames[0.72, 0.36] == kinds["initials"]
    assert (frames[1.0, 0.42], frames[0.94, 0.36]) == (kinds["hold"], kinds["hold"])
    assert (frames[0.72, 0.42], frames[0.66, 0.36]) == (gate, gate)


def figures(text):
    """Every figure, fractions as what they are."""
    for found in A_FIGURE.findall(text):
        over, _, under = found.partition("/")
        yield float(over) / float(under) if under else float(over)


@pytest.mark.parametrize(("job", "units"), EACH)
def test_every_number_of_a_carried_step_stands_in_its_long_form_too(job, units):
    """But for what is counted here, places that a hand can't work to, and holes beside the cut, which have a test."""
    one = examined(job, units)
    recipe = job_recipe(one.layout, one.making)
    work, kind = Work(one.layout, one.making, recipe), one.job.kind
    least, of_inch = (6e-4, 1.0) if units == "in" else (6e-3, 25.4)
    steps = dict(zip((task.name for task in recipe.tasks), card_steps(work), strict=True))
    weight = " ".join(tell(words, units) for _, words in job_summary(one.layout))
    for task in recipe.tasks:
        step, also = steps[task.name], {"rivet": "inspect"}.get(task.name)
        told = [told_step(of, units, HOME, kind) for of in (step, *((steps[also],) if also else ()))]
        words = [words for of in told for words in (of["title"], *of["lines"], *of["blanks"])]
        long = list(figures(" ".join((*words, weight if task.name == "close" else ""))))
        holes = {
            (made.part, made.kind.holes[0].fastener, number) for made in task.made for number in made.numbers
        }
        long += Counter((part, fastener) for part, fastener, _ in holes).values()
        long.append(len({number for _, _, number in holes}))
        carried = told_carried(step.carried, units, HOME, kind)
        checks = (words for check in carried["checks"] for words in (check["words"], check["figure"]))
        numbers = re.sub(r"between \d+ and \d+|beside \d+", "", carried["numbers"])
        for figure in figures(" ".join((carried["what"], numbers, *checks))):
            found = [
                other for other in long if min(abs(figure - other), abs(figure * of_inch - other)) <= least
            ]
            assert found, (task.name, figure, carried)


def test_steps_bear_the_numbers_of_the_long_form_those_of_one_go_together(alder):
    one = examine(alder)
    work = Work(one.layout, one.making, job_recipe(one.layout, one.making))
    carried = list(carried_steps(work))
    assert carried[0][:2] == (1, 3)
    assert sum(len(goes) for *_, goes in carried) == len(card_steps(work)) == carried[-1][1]


def step(card, what):
    (found,) = [one for step in card.steps for one in step.goes if one.what.startswith(what)]
    return found


def check(one, words):
    (found,) = [check for check in one.checks if check.words == words]
    return found


def test_what_is_done_is_ticked_and_dated_and_shows_what_was_measured(alder):
    card = carried_card_of(examine(alder))
    opening = step(card, "Measure, enter")
    assert opening.is_done
    assert [(one.words, one.figure, one.made) for one in opening.checks] == [
        ("INBD", "3.000", "2.996"),
        ("OUTBD", "8.000", "8.012"),
        ("FWD", "2.500", "2.497"),
        ("AFT", "6.500", "6.508"),
        ("corner R", ".750", ""),
    ]
    assert step(card, "Cut and keep").is_done
    assert not step(card, "Drill through the template").is_done  # 17 of 64 holes were measured
    assert "Measured: 1 to 9, 12 to 18." in step(card, "Drill through the template").numbers
    assert card.done_by == "DONE BY 2026-03-01"
    (other,) = [side for side in examine(alder).sides if side.job.aircraft.side == "right"]
    assert not any(one.is_done for step in carried_card_of(other).steps for one in step.goes)


def test_no_hold_is_ever_ticked_for_a_person(alder):
    card = carried_card_of(examine(alder))
    goes = [one for step in card.steps for one in step.goes]
    holds = [check for one in goes for check in one.checks if "hold" in check.box]
    assert [check.words for check in holds] == ["second person", "inspector", "second person"]
    assert {check.made for check in holds} == {""}
    assert not any(one.is_done for one in goes if any("hold" in check.box for check in one.checks))
    assert card.holds == "DOUBLE FRAME = STOP, stamp: gate, steps 8, 25, 30."


def test_every_shop_head_has_one_least_diameter_and_height_the_strictest(alder):
    """1/8 rivets: .163 and .050 of the table of driven heads, over 1.3D and .35D of others."""
    card = carried_card_of(examine(alder))
    heads = step(card, "Inspect every rivet")
    assert check(heads, "head dia., min.").figure == ".163"
    assert check(heads, "height, min.").figure == ".050"
    assert "Start MS20470AD4-4; one longer if head under .163." in step(card, "Rivet").numbers


def test_a_hand_is_led_between_holes_never_to_coordinates(alder):
    """Run 1A of alder goes from X 5.249 Y 2.612 to X 7.889 Y 4.249: 63 lies at X 4.880 and 64 at 5.500, 4 at Y 3.884
    and 5 at 4.502."""
    cut = step(carried_card_of(examine(alder)), "Cut and keep")
    told = "clockwise: S straight to between 63 and 64, cut to between 4 and 5, S straight to between 23 and 24, cut to"
    assert f"Stage 1, pins 11, 31, 51, 71, {told} between 44 and 45." in cut.numbers
    assert not re.search(r"\.\d{4}", cut.numbers)


@pytest.mark.parametrize("job", JOBS)
def test_no_figure_of_four_places_leads_a_hand(job):
    """But for weights, and the widths of the cutter as they were measured."""
    card = carried_card_of(examined(job))
    for step in card.steps:
        for one in step.goes:
            told = " ".join((one.numbers, *(check.figure for check in one.checks)))
            assert not re.search(r"\.\d{4}(?! lb)", told), told


def test_what_lies_too_near_stops_the_step_and_takes_its_stop_away(heron_with_wire):
    pilots = step(carried_card_of(heron_with_wire), "Drill through the template")
    assert "STOP: tail light wire bundle" in pilots.numbers or "NOT SHOWN:" in pilots.numbers
    assert not [one for one in pilots.checks if one.words.startswith("stop")]


@pytest.fixture
def heron_with_wire():
    heron = load_job(EXAMPLES / "heron.toml")
    near = [
        one.model_copy(update={"depth": parse_length(".06")}) if "wire" in one.name else one
        for one in heron.bay.keep_outs
    ]
    return examine(
        heron.model_copy(update={"bay": heron.bay.model_copy(update={"keep_outs": tuple(near)})}),
        with_strength=False,
    )


def test_what_is_open_has_room_for_who_accepts_it_and_the_rest_is_counted():
    for job in JOBS:
        one = examined(job)
        card = carried_card_of(one)
        holding = [line for line in one.verdict.open_lines if line.status.holds_back]
        assert len([row for row in card.open.rows if row.answer in ("STOP", "NOT SHOWN")]) >= min(
            len(holding), 6
        )
        assert card.verdict.startswith("DO NOT CUT") == one.verdict.holds_back


def hostile(job, words):
    return job.model_copy(
        update={
            "title": words,
            "aircraft": job.aircraft.model_copy(update={"registration": words[:20]}),
            "bay": job.bay.model_copy(
                update={
                    "keep_outs": tuple(one.model_copy(update={"name": words}) for one in job.bay.keep_outs)
                }
            ),
        }
    )


@pytest.mark.parametrize(
    "words",
    [
        "#set text(size: 99pt) $x$ *b* _i_ @a <b>",
        "‮drill here",
        "a" * 300,
        "\x07bell \U0001f600",
        "]]}}{{%%",
        "=1+1",
    ],
)
def test_hostile_names_stay_letters(alder, words):
    one = examine(hostile(alder, words), with_strength=False)
    data = carry_card_pdf(carried_card_of(one), hole_map=NO_PICTURE, paper=Paper.LETTER, stamp=STAMP)
    pages = pages_of(data)
    plain = "".join(letter for letter in words if "!" <= letter <= "~")
    assert plain in pages[0].replace(" ", "")
    assert max(size for _, size in letters_of(data)) <= 34.0


def test_thirty_things_behind_the_skin_are_counted_not_lost(alder):
    many = tuple(alder.bay.keep_outs[0].model_copy(update={"name": f"wire {number}"}) for number in range(30))
    bay = alder.bay.model_copy(update={"keep_outs": many})
    one = examine(alder.model_copy(update={"bay": bay}), with_strength=False)
    card = carried_card_of(one)
    assert "BEHIND: 26 more, see the layout drawing and the annex." in card.behind
    assert len(pages_of(carry_card_pdf(card, hole_map=NO_PICTURE, paper=Paper.LETTER, stamp=STAMP))) <= 4


def test_a_rivet_that_no_table_lists_gets_the_drills_of_the_job_and_no_length(alder):
    row = alder.rows[0].model_copy(
        update={"rivet": "ZORB4", "pilot": parse_length(".098"), "final": parse_length(".1285")}
    )
    job = alder.model_copy(update={"rows": (row, *alder.rows[1:])})
    card = carried_card_of(examine(job, with_strength=False))
    assert "ZORB4: grip .072, length NOT KNOWN." in step(card, "Rivet").numbers
    assert "ZORB4: final #30, no. 1 to 9." in step(card, "Drill to final size").numbers
    assert len(pages_of(carry_card_pdf(card, hole_map=NO_PICTURE, paper=Paper.LETTER, stamp=STAMP))) <= 4


def test_the_same_card_is_the_same_bytes(alder):
    card = carried_card_of(examine(alder))
    one, other = (carry_card_pdf(card, hole_map=NO_PICTURE, paper=Paper.A4, stamp=STAMP) for _ in range(2))
    assert one == other


def test_no_result_word_is_printed():
    for job in JOBS:
        whole = " ".join(pages_of(pdf_of(job, "in", Paper.LETTER))).replace("NOT APPROVED DATA", "")
        assert not re.search(r"\b(approved|airworthy|certified|compliant|complies)\b", whole, re.IGNORECASE)


@pytest.mark.parametrize("job", ["alder", "juniper", "finch", "flush-cover/obround"])
def test_a_place_lies_between_the_holes_that_are_named_beside_it(job):
    """Seen from the place, the two holes lie on opposite sides, and no other hole of their row is nearer."""
    one = examined(job)
    pins = planned_pins(one.making)
    at = {hole.number: hole for hole in one.layout.holes}
    seen = 0
    for run in (run for stage in runs_of(one.making, pins) for run in stage):
        found = between(one.layout.holes, run.end)
        numbers = (
            [number for _, value in found.values for number in getattr(value, "items", (value,))]
            if found
            else []
        )
        if len(numbers) != 2:
            continue
        first, second = (at[number] for number in numbers)
        along = complex(second.x_in - first.x_in, second.y_in - first.y_in)
        off = complex(run.end[0] - first.x_in, run.end[1] - first.y_in) / along
        assert 0.0 <= off.real <= 1.0
        row = [hole for hole in one.layout.holes if hole.row == first.row and hole.number not in numbers]
        reach = max(math.dist(hole.place, run.end) for hole in (first, second))
        assert all(math.dist(hole.place, run.end) >= reach - 1e-9 for hole in row)
        seen += 1
    assert seen


WRONG = """
heads = [[1, ".170", ".030"], [2, ".160", ".040"], [3, ".200", ".090"], [11, ".120", ".030"]]
countersinks = [[12, ".30", ".045"], [13, "", ".040"]]
cracked_dimples = [[101, ".05"], [102, ".06"], [103, ".03"]]
strays = [["8.40", "2.30", ".130"], ["8.50", "3.30", ".130"], ["8.22", "4.10", ".130"], ["8.60", "5.10", ".130"]]
"""


def test_a_job_with_much_made_wrong_stays_on_four_sides():
    text = (EXAMPLES / "alder.toml").read_text(encoding="utf-8")
    head, _, made = text.partition("[as_made]\n")
    first, _, rest = made.partition("\n")
    one = examine(read_job(f"{head}[as_made]\n{first}{WRONG}{rest}"))
    assert sum(line.status.holds_back for line in one.verdict.open_lines) > 8
    for file in papers(one, stamp=STAMP, only=("card",)):
        assert len(pypdfium2.PdfDocument(file.content)) <= 4
