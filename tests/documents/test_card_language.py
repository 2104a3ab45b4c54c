"""The work card in another language: its own words and the same numbers, and nothing else changes."""

from __future__ import annotations

import re
from datetime import UTC, datetime
from string import Formatter

import pytest

from hatchwright.job.file import read_job
from hatchwright.words.catalog import HOME, Entry, entries, languages
from hatchwright.workflow.examine import examine
from hatchwright.workflow.new_job import NEW_JOBS, Start, starting_text
from hatchwright.workflow.papers import papers
from tests.cards import card_of, carried_card_of
from tests.made_once import by_name

STAMP = datetime(2026, 3, 1, 10, tzinfo=UTC)
GERMAN = "de_DE"
CARD = ("card.po", "carry.po")
NUMBER = re.compile(r"(?<![\w.])#?-?\d*\.?\d+(?:/\d+)?")


def holes_of(form):
    return {hole for _, hole, _, _ in Formatter().parse(form) if hole is not None}


def plain(form):
    return "".join(before for before, _, _, _ in Formatter().parse(form))


def numbers(text):
    return sorted(NUMBER.findall(text))


def of_language(language, file=None) -> dict[str, Entry]:
    return {one.id: one for one in entries(language) if one.id and file in (None, one.file)}


def test_german_holds_every_sentence_of_the_card():
    said = of_language(HOME, "card.po").keys() | of_language(HOME, "carry.po").keys()
    missing = said - of_language(GERMAN).keys()
    assert not missing, sorted(missing)


@pytest.mark.parametrize("language", [name for name in languages() if name != HOME])
def test_another_language_fills_the_same_holes_of_entries_that_there_are(language):
    home = of_language(HOME)
    for id, one in of_language(language).items():
        assert id in home, f"{one.file}:{one.line} {id} is no entry of {HOME}"
        wanted = set().union(*map(holes_of, home[id].forms))
        given = set().union(*map(holes_of, one.forms))
        assert given == wanted, f"{one.file}:{one.line} {id}: {given ^ wanted}"


@pytest.mark.parametrize("job", ["alder", "dogwood", *NEW_JOBS])
@pytest.mark.parametrize("units", ["in", "mm"])
def test_the_german_card_says_the_same_numbers_and_no_english_sentence(job, units, request):
    as_entered = read_job(starting_text(Start(job))) if job in NEW_JOBS else request.getfixturevalue(job)
    entered = as_entered.model_copy(update={"units": units})
    english, german = (card_of(examine(entered), tongue=tongue) for tongue in (HOME, GERMAN))
    assert len(english.steps) == len(german.steps)
    for one, other in zip(english.steps, german.steps, strict=True):
        assert one.title != other.title
        assert numbers(" ".join((*one.lines, *one.blanks))) == numbers(
            " ".join((*other.lines, *other.blanks))
        )
        same = [line for line, told in zip(one.lines, other.lines, strict=True) if line == told]
        assert not [line for line in same if re.search(r"\b(the|of|and|with|not|from)\b", line)], one.title
    english, german = (carried_card_of(examine(entered), tongue=tongue) for tongue in (HOME, GERMAN))
    for one, other in zip(english.gate, german.gate, strict=True):
        assert one != other
        assert numbers(one) == numbers(other)
    same = {name for name, told in english.words.items() if german.words[name] == told}
    assert same <= {"name"}


def test_only_the_card_changes_its_language(alder):
    one = examine(alder)
    some = ("card", "overview", "log", "annex")
    english, german = (
        by_name(papers(one, stamp=STAMP, only=some, card_language=tongue)) for tongue in (HOME, GERMAN)
    )
    assert english.keys() == german.keys()
    assert {name for name in english if english[name] != german[name]} == {
        name for name in english if "_CARRY_CARD_" in name
    }


def test_international_english_spells_its_words_and_holds_only_those():
    american = re.compile(r"\b(aluminum|center(s|ed|ing)?|mold(s|ed)?|analyzed?|initialed)\b", re.IGNORECASE)
    home, held = of_language(HOME), of_language("en")
    assert {
        id
        for id, one in home.items()
        if one.file in CARD and american.search(" ".join(map(plain, one.forms)))
    } == {id for id, one in held.items() if one.file in CARD}
    for id, one in held.items():
        assert one.forms != home[id].forms, id
        assert not american.search(" ".join(map(plain, one.forms))), id
