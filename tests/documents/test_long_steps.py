"""The steps at length and the verdict beside them, as the desk annex tells them.

Figures are those of the scenarios ALDER and DOGWOOD, worked there by hand.
"""

from __future__ import annotations

import re
from datetime import UTC, datetime

import pytest

from hatchwright.documents.verdict_on_paper import verdict_on_paper
from hatchwright.finding import stated
from hatchwright.ground import Ground
from hatchwright.job.cutter import HandTool
from hatchwright.job.file import load_job
from hatchwright.job.job import Choice
from hatchwright.judged import Status
from hatchwright.units import parse_length
from hatchwright.verdict import StrengthState, judge_all
from hatchwright.words.catalog import HOME
from hatchwright.workflow.examine import examine
from hatchwright.workings import Grade, Source
from tests import cards
from tests.conftest import EXAMPLES
from tests.told import named

STAMP = datetime(2026, 3, 1, 10, tzinfo=UTC)
RESULT_WORDS = re.compile(r"\b(approved|airworthy|certified|compliant|complies)\b", re.IGNORECASE)


def card_of(job):
    return cards.card_of(examine(job))


def lines_of(card):
    return [line for shelf in card.verdict.shelves for line in shelf.lines]


def step(card, title):
    (found,) = [one for one in card.steps if one.title.startswith(title)]
    return found


@pytest.fixture(scope="module")
def heron():
    return load_job(EXAMPLES / "heron.toml")


@pytest.fixture(scope="module")
def card(alder):
    return card_of(alder)


def test_the_numbers_of_the_job_are_told(card):
    told = (*(words for _, words in card.summary), *(line for one in card.steps for line in one.lines))
    whole = " ".join(told)
    for said in (
        "Offset .1535 in = (guide .500 in - cut .193 in) / 2",
        "1.4700 in across about X 3.750 Y 3.250 in",
        "1.4700 in across about X 7.250 Y 5.750 in",
        "Rough cut 4.970 x 3.970 in",
        "MS20470AD4, skin + doubler: final drill #30 .1285 in",
        "Finished hole .125 to .135 in",
        "calculated length .2595 in",
        "Start with MS20470AD4-4: it gives a .209 in dia. x .0625 in high shop head (1.67D)",
        "16 screws 8-32 x .500 in, 100 degree flush head",
        "directive M-101, bulletin B-7 revision C, kit K-7",
    ):
        assert said in whole, said


def test_findings_come_worst_first_each_with_its_source(card):
    """The gravest shelf first: R9 the place, R7 what is behind, then what does not hold, the worst first."""
    lines = lines_of(card)
    answers = [(line.answer, line.code) for line in lines if line.code[:2] in ("R9", "R7", "R1")]
    assert answers.index(("STOP", "R101")) < answers.index(("CAUTION", "R103"))
    assert [answer for answer, code in answers if code == "R101"] == ["STOP", "STOP", "NOT SHOWN"]
    assert all(re.fullmatch(r"\[.+; .+\]", line.source) for line in lines if line.source)
    assert card.verdict.head == "DO NOT CUT, DRILL OR RIVET: 2 STOP, 1 NOT SHOWN. R101. SEE THE FINDINGS."


def test_what_to_do_is_told_once_in_a_line_and_holes_in_runs(heron):
    """With the skin's strength to restore, one line gathers several codes that ask for the same."""
    restored = heron.model_copy(update={"loads": heron.loads.model_copy(update={"basis": "restore"})})
    lines = lines_of(card_of(restored))
    gathered = [line for line in lines if "," in line.code]
    assert gathered
    for line in gathered:
        sentences = [one for one in re.split(r"(?<=[a-z)][.:]) ", line.advice) if len(one) > 20]
        assert len(set(sentences)) == len(sentences), line.advice
    assert any(re.match(r"Holes \d+ to \d+, ", line.advice) for line in lines)


def test_a_job_with_nothing_to_stop_for_says_so_first(alder_drawn):
    drawn = card_of(alder_drawn)
    assert drawn.verdict.head.startswith("No STOP found.")


def test_steps_are_those_of_this_job_in_order(card, dogwood):
    titles = [one.title for one in card.steps]
    wanted = ["Measure the cut", "Make the template", "Trial", "Make the doubler and cover", "Prove drills", "Protect",
              "Mark out", "Position the template", "Drill the pilot holes through the template", "Drill the starter",
              "Cut", "Look and contain", "File", "Measure the opening", "File the cover", "Bring the doubler in",
              "Locate the doubler", "Pin and match-drill", "Drill the cover", "Drill to final size", "Take apart",
              "Dimple", "Ream dimpled", "Drill the doubler", "Clean, treat", "Fit the nutplates",
              "Rivet", "Inspect", "Fit the cover", "FOD check"]  # fmt: skip
    assert [title.startswith(word) for title, word in zip(titles, wanted, strict=True)] == [True] * len(
        wanted
    )
    other = [one.title for one in card_of(dogwood).steps]
    assert not any(
        title.startswith(("Rivet", "Inspect", "Mark and pilot", "Dimple", "Pin")) for title in other
    )
    assert any(title.startswith("Fit the cover") for title in other)


def test_a_job_without_cutter_or_cover_has_no_steps_for_them(alder_drawn):
    bare = alder_drawn.model_copy(update={"cutter": None, "template": None, "cover": None})
    titles = [one.title for one in card_of(bare).steps]
    assert titles[:3] == [
        "Make the doubler",
        "Prove drills, dies and rivets on a coupon",
        "Protect and contain",
    ]
    assert not any("template" in title or "cover" in title for title in titles)


def test_a_hole_saw_cuts_to_size_and_leaves_nothing_to_file(alder_drawn):
    saw = HandTool(kind="hole saw", diameters=(parse_length("4"),))
    by_saw = alder_drawn.model_copy(update={"cutter": None, "template": None, "hand_tool": saw})
    told = " ".join(line for one in card_of(by_saw).steps for line in one.lines)
    assert "cut it in one pass with hole saw" in told
    assert "with hole saw and leave metal to file" not in told


def test_a_tool_led_by_hand_is_named_and_no_template_is_asked_for(alder_drawn):
    shear = HandTool(kind="hand shear")
    by_hand = alder_drawn.model_copy(update={"cutter": None, "template": None, "hand_tool": shear})
    steps = card_of(by_hand).steps
    told = " ".join(line for one in steps for line in (one.title, *one.lines))
    assert "cut inside its line with hand shear" in told
    assert "No cutter entered" not in told
    assert not any("template" in one.title for one in steps)


def test_expected_values_stand_beside_the_blanks(card):
    assert step(card, "Measure the cut").blanks == ("cut along X (.193 in)", "cut along Y (.193 in)")
    assert step(card, "Make the template").blanks == (
        "window along X (5.277 in)",
        "window along Y (4.277 in)",
    )
    assert step(card, "Measure the opening").blanks == (
        "INBD edge, X min (3.000 in)",
        "OUTBD edge, X max (8.000 in)",
        "FWD edge, Y min (2.500 in)",
        "AFT edge, Y max (6.500 in)",
        "each corner R (.7500 in)",
    )


def test_a_wrong_corner_is_not_promised(dogwood):
    """Holes of .625 would lie partly under the plug, .1768 from whose corner their middles lie."""
    lines = " ".join(step(card_of(dogwood), "Drill the starter").lines)
    assert "No corner holes: they would be under the plug" in lines
    assert ".6250 in across about X 3.6875 Y 1.1875 in" in lines
    assert "the cutter makes these corners by itself" not in lines
    assert "Smallest corner: R .4375 in" in " ".join(step(card_of(dogwood), "Trial").lines)


def order_of(card, *titles):
    found = [one.title for one in card.steps]
    return [next(n for n, title in enumerate(found) if title.startswith(word)) for word in titles]


def test_holes_of_a_template_that_are_too_large_stop_where_they_would_be_drilled_through(alder_drawn):
    """A pin of 1/4 where a #40 goes first: the card holds the same holes back as T106 does."""
    pin = parse_length("1/4")
    one = examine(
        alder_drawn.model_copy(update={"template": alder_drawn.template.model_copy(update={"pin": pin})})
    )
    stopped = {number for found in one.findings if found.code == "T106" for number in found.holes}
    lines = [line for each in cards.card_of(one).steps for line in each.lines if "(T106)" in line]
    words = r"STOP: template holes no\. ([\d, to]+) are \.2500 in, too large to lead drill #40"
    told = [re.match(words, line) for line in lines]
    held = set()
    for match in told:
        for span in match[1].split(", "):
            first, _, last = span.partition(" to ")
            held |= set(range(int(first), int(last or first) + 1))
    assert held == stopped != set()
    assert not any("(T106)" in line for each in card_of(alder_drawn).steps for line in each.lines)


def test_a_window_is_laid_on_located_drilled_through_and_then_cut_in_the_stages_of_the_plan(card):
    order = order_of(
        card,
        "Mark out",
        "Position the template",
        "Drill the pilot",
        "Drill the starter",
        "Cut",
        "Look and contain",
        "File",
        "Pin and match-drill",
    )
    assert order == sorted(order)
    laid = " ".join(step(card, "Position the template").lines)
    # holes 11 and 51 hold in the first stage and lie farthest apart of its four; their places are those of the job
    assert (
        "Mark hole 11 at X 8.722 Y 2.331 in and hole 51 at X 2.280 Y 6.670 in on the skin from both" in laid
    )
    drilled = " ".join(step(card, "Drill the pilot").lines)
    assert "MS20470AD4, skin: pilot #40 .0980 in, no. 1 to 9, 12 to 18, 21 to 27" in drilled
    # the two that locate it are drilled already
    assert "MS20470AD4, skin: pilot #40 .0980 in, no. 11, 51." in laid
    assert "leave only the stage 1 pins: holes 11, 31, 51, 71" in drilled
    cut = step(card, "Cut to the rough line")
    firsts = [line.split(":")[0] for line in cut.lines]
    assert firsts[1:9] == [
        "Stage 1 of 2",
        "Cut clockwise, seen from outside",
        "1A",
        "1B",
        "Stage 2 of 2",
        "Cut clockwise, seen from outside",
        "2A",
        "2B",
    ]
    assert "hold the waste until you hold it from outside" in cut.lines[9]
    assert cut.blanks[:2] == ("stage 1 cut", "stage 2 cut")


def test_holes_off_the_template_are_marked_from_both_datums_later(alder):
    """A border of .6 in lets the inner rivet row lie on the template, at .28 from the edge, and no outer one at .72."""
    narrow = alder.template.model_copy(update={"border": parse_length(".5")})
    card = card_of(alder.model_copy(update={"template": narrow}))
    piloted = " ".join((*step(card, "Position the template").lines, *step(card, "Drill the pilot").lines))
    (first, *_) = step(card, "Mark and pilot the skin").lines
    assert first.startswith("Mark no. 11 to 18")
    assert "on the skin from both datums" in first
    led = re.search(r"MS20470AD4, skin: pilot #40 .0980 in, no. (.*?)\.", piloted)
    assert led
    assert not set(range(11, 19)) & {int(n) for n in re.findall(r"\d+", led.group(1))}


def test_a_plug_is_laid_on_after_the_holes_that_it_would_cover(dogwood):
    text = {"body": parse_length("1.4"), "starter_at": None}
    job = dogwood.model_copy(
        update={
            "cutter": dogwood.cutter.model_copy(update=text),
            "template": dogwood.template.model_copy(update={"pin_body": parse_length("1/4")}),
        }
    )
    card = card_of(job)
    order = order_of(card, "Mark out", "Drill the starter", "Position the template", "Cut", "File")
    assert order == sorted(order)
    starter = " ".join(step(card, "Drill the starter").lines)
    assert "before the plug goes on" in starter
    # the rough line is at Y 1.5, the path half a cut of .25 inside it
    assert re.search(r"S: \.2500 in at X \.000 Y -?1\.375 in", starter)
    laid = " ".join(step(card, "Position the template").lines)
    # half the plug, 3.5625 x 1.0625, less .7 + .125 + .0625 - .3125 = .575, and a little
    assert laid.count("(2.987 in along X and .487 in along Y from its center lines)") == 4
    assert "Clamp" not in laid


def test_a_millimeter_job_is_printed_in_millimeters(alder_drawn):
    card = card_of(alder_drawn.model_copy(update={"units": "mm"}))
    assert ("Lengths", "millimeters") in card.summary
    assert step(card, "Make the template").blanks == (
        "window along X (134.04 mm)",
        "window along Y (108.64 mm)",
    )
    assert any(line.value.endswith(" mm") for line in lines_of(card))


def test_an_unknown_value_is_said_to_be_unknown():
    open_point = stated("R999", Status.UNKNOWN, "a thing", Ground(Source("K"), Grade.PUBLISHED))
    verdict = judge_all((open_point,), side="left", strength=StrengthState.NOT_ASKED)
    other = named({"verdict": verdict_on_paper(verdict, "in", HOME)})
    assert lines_of(other)[0].answer == "NOT SHOWN"
    assert lines_of(other)[0].value.split(" u ")[0] == ""
    assert other.verdict.head == "DO NOT CUT, DRILL OR RIVET: 1 NOT SHOWN. R999. SEE THE FINDINGS."


@pytest.mark.parametrize(
    ("reading", "called", "part"),
    [
        ("nearest sixteenth", "nearest dash length", "MS20470AD4-4 "),
        ("next half sixteenth", "next half dash length up", "MS20470AD4-4.5 "),
        ("next sixteenth", "next dash length up", "MS20470AD4-5 "),
    ],
)
def test_the_card_orders_the_length_that_was_chosen(alder, reading, called, part):
    """Grip .072 and 1.5 x .125 is .2595 in, 4.152 sixteenths."""
    choice = Choice(rule="R501", reading=reading, reason="the shop's habit, heads measured")
    (grip, line, *_) = step(card_of(alder.model_copy(update={"choices": (choice,)})), "Rivet").lines
    assert grip == "Grip .072 in, calculated length .2595 in."
    assert (
        f"Chosen: {called} (R501; the shop's habit, heads measured). Start with {part.strip()}: it gives a"
        in line
    )
    # until one is chosen the next standard length above the sum, TM-10-7360-208-13P par. 5-3(2)(c)
    unchosen = step(card_of(alder.model_copy(update={"choices": ()})), "Rivet")
    assert unchosen.lines[1].startswith("Start with MS20470AD4-4: it gives a")
    assert "TM-10-7360-208-13P, par. 5-3(2)(c): published" in unchosen.rests_on


def test_without_the_sizes_that_a_plan_needs_the_step_says_how_pins_are_spread(dogwood):
    laid = step(card_of(dogwood), "Position the template")
    assert "Use two or more pins, far apart" in laid.lines[1]


@pytest.mark.parametrize("units", ["in", "mm"])
def test_a_template_that_nothing_holds_is_not_cut(dogwood, units):
    """A body of 2.5 in leaves a plug of 7.1 x 2.1 no pins; the card stops where it is laid on and where it is cut."""
    cutter = dogwood.cutter.model_copy(update={"body": parse_length("2.5 in"), "starter_at": None})
    template = dogwood.template.model_copy(update={"pin_body": parse_length("1/4 in")})
    card = card_of(dogwood.model_copy(update={"cutter": cutter, "template": template, "units": units}))
    assert "STOP: nothing entered holds it (T501)" in " ".join(step(card, "Position the template").lines)
    cut = " ".join(step(card, "Cut").lines)
    assert "STOP: don't cut until it is resolved what holds the template (T501)" in cut
    assert f"Leave a {'.500 in' if units == 'in' else '12.70 mm'} tab" in cut


@pytest.mark.parametrize("units", ["in", "mm"])
def test_every_length_of_the_steps_has_its_unit(alder_drawn, units):
    """Figures with decimals are followed by their unit, by the next figure of a place or size, or name a part."""
    card = card_of(alder_drawn.model_copy(update={"units": units}))
    titles = (
        "Measure the cut",
        "Trial",
        "Mark out",
        "Position the template",
        "Drill the pilot",
        "Drill the starter",
        "Cut",
        "File to the line",
    )
    for title in titles:
        for line in (*step(card, title).lines, *step(card, title).blanks):
            said = re.sub(r"\[[^]]*\]", "", line)
            for found in re.finditer(r"(?<![\w.])\d*\.\d+", said):
                after = said[found.end() :]
                assert re.match(rf" {units}\b| x |,? Y | x|, \d*\.", after), (title, line, found.group())


@pytest.mark.parametrize(
    ("title", "words", "document"),
    [
        (
            "Take apart",
            "Deburr no deeper than 10% of the sheet, and never over .032 in.",
            "MIL-R-47196A",
        ),
        ("Clean, treat, prime", "Treat bare aluminum with chemical conversion coating", "TM-1-1500-204-23"),
        ("Clean, treat, prime", "Prime each faying surface with two coats", "TM-1-1500-204-23"),
        (
            "Clean, treat, prime",
            "Another document calls for one coat: two meet both",
            "AC43.13-1B, par. 6-40",
        ),
        ("Rivet", "Use a rivet set with a cup slightly flatter than the head", "AC43.13-1B, par. 4-58"),
        ("Inspect", "No cracks in a driven rivet", "AC43.13-1B, par. 4-58"),
        ("Inspect", ".002 in feeler gauge will not enter under the head", "TM-10-5410-223-14"),
        (
            "Drill the doubler for",
            "Use a smaller pilot drill first when drilling through nutplates",
            "AL0992",
        ),
        ("Fit the cover", "Threads clean and dry", "AC43.13-1B, par. 7-40b"),
    ],
)
def test_the_steps_quote_what_the_documents_ask_for(card, title, words, document):
    """The step names no document in its sentences: they stand together where the sources are listed."""
    found = step(card, title)
    assert any(words in line for line in found.lines)
    assert f"{document}" in found.rests_on
    assert not any("[" in line for line in found.lines)


def test_a_flush_head_lies_level_and_7075_is_dimpled_hot(alder):
    rows = tuple(row.model_copy(update={"rivet": "MS20426AD4"}) for row in alder.rows)
    flush = alder.model_copy(update={"rows": rows})
    level = "Flush head: neither above nor below the surface"
    hot = "7075-T6 and other hard tempers need heated dies"
    said = " ".join(step(card_of(flush), "Dimple or countersink").lines)
    assert level in said
    assert hot not in said
    hard = flush.model_copy(update={"skin": flush.skin.model_copy(update={"alloy": "7075", "temper": "T6"})})
    assert hot in " ".join(step(card_of(hard), "Dimple or countersink").lines)
