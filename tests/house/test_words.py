"""The lint of the catalogue: trade English, no key of a file, every id with an entry and every entry with a use.

The words that may not appear come from the trade's own review of this program's language.
"""

from __future__ import annotations

import ast
import re
from pathlib import Path
from string import Formatter

from hatchwright.words.catalog import HOME, Entry, entries

ROOT = Path(__file__).parents[2]
SOURCE = ROOT / "src" / "hatchwright"

ENTRIES: tuple[Entry, ...] = tuple(one for one in entries(HOME) if one.id)

BANNED = {
    # not a mechanic's words -> what he says
    r"cannot tell": "NOT SHOWN",
    r"cannot be (had|told)": "could not be computed / not known",
    r"leave (it |them )?away|left away": "left out / leave blank",
    r"\bmaker'?s?\b": "manufacturer",
    r"holder of the data": "design approval holder (TC or STC), or a DER",
    r"\bthe circular\b": "AC 43.13-1B",
    r"\bthe navy manual\b|\bnavy manual\b": "NAVEDTRA 14018",
    r"\bspoil(t|ed) hole": "oversize or damaged hole",
    r"\bby someone who may\b": "by an authorized person",
    r"\bgoes nowhere under\b": "will not enter under",
    r"\bfor programs\b": "machine-readable",
    r"\bto be had\b": "available",
    r"\bwill not do\b": "must be",
    r"\bopen (the|it) .{0,24} to the final size": "ream to final size",
    r"\bblank out\b": "cutout",
    r"\bnothing is said of\b": "no result without",
    r"\bsettled\b": "resolved",
    r"\bin-lbf plus drag\b": "in-lb over running torque",
}

BRITISH = {
    "aluminium", "centre", "centres", "centred", "vapour", "vapours", "colour", "colours", "coloured", "pressurised",
    "anodise", "anodised", "metre", "millimetre", "millimetres", "grey", "labelled", "favour", "behaviour", "gauge",
    "mould", "moulded", "draught", "whilst", "licence", "programme", "organisation", "recognise", "analyse", "analysed",
    "neighbouring", "neighbour", "neighbours", "tyre", "kerb", "plough", "sceptical", "catalogue", "judgement",
}  # fmt: skip
US_ONLY = BRITISH - {"gauge", "catalogue", "judgement"}
"""*Gauge* is spelled so throughout; the other two are no words of the trade's."""

A_KEY = re.compile(r"\b(?:[a-z]+_[a-z_]+|[a-z]+\.[a-z_]+(?:\.[a-z_]+)*|\[\[?[a-z.]+\]?\])")
"""A key of the job file: `cover.screws.pilot`, `nut_height`, `[[choices]]`."""
KEY_MAY_STAND = ("command.", "check.", "line.enter", "job.", "page.text", "explain.page_of")
"""Surfaces where the file itself is spoken of."""
A_SUFFIX = re.compile(r"\.(?:toml|ngc|dxf|pdf|svg|3mf|csv|po)\b")

LONGEST_CARD_SENTENCE = 18
"""Words in a sentence of the carry card, and of the steps at length."""


def holes_of(form: str) -> set[str]:
    return {hole for _, hole, _, _ in Formatter().parse(form) if hole is not None}


def plain(form: str) -> str:
    """The text without its holes."""
    return "".join(
        before + (" X " if hole is not None else "") for before, hole, _, _ in Formatter().parse(form)
    )


def faults_of(check) -> list[str]:
    return [f"{one.file}:{one.line} {one.id}: {fault}" for one in ENTRIES for fault in check(one)]


def test_no_entry_stands_twice_and_none_is_empty():
    seen: dict[str, Entry] = {}
    faults = []
    for one in ENTRIES:
        if one.id in seen:
            faults.append(f"{one.id} stands in {seen[one.id].file} and {one.file}:{one.line}")
        if not all(form.strip() for form in one.forms):
            faults.append(f"{one.file}:{one.line} {one.id} is empty")
        seen[one.id] = one
    assert not faults, "\n".join(faults)


def test_singular_and_plural_have_the_same_holes_but_for_the_number():
    def check(one: Entry):
        if len({frozenset(holes_of(form) - {"n"}) for form in one.forms}) > 1:
            yield "its forms have different holes"

    assert not (found := faults_of(check)), "\n".join(found)


def test_the_words_are_the_trades():
    def check(one: Entry):
        for form in one.forms:
            text = plain(form)
            for pattern, better in BANNED.items():
                if re.search(pattern, text, re.IGNORECASE):
                    yield f"{pattern!r}: say {better}: {form[:80]}"
            for word in re.findall(r"[A-Za-z]+", text):
                if word.lower() in US_ONLY:
                    yield f"'{word}' is British: {form[:80]}"

    assert not (found := faults_of(check)), "\n".join(found)


def test_no_key_of_a_file_and_no_suffix_stands_in_a_sentence():
    def check(one: Entry):
        if one.id.startswith(KEY_MAY_STAND):
            return
        for form in one.forms:
            text = re.sub(r"\be\.g\.|\bi\.e\.|\bN\.m\b", "", plain(form))
            if found := A_KEY.search(text):
                yield f"a key of the file, {found[0]!r}: {form[:80]}"
            if found := A_SUFFIX.search(text):
                yield f"a file suffix, {found[0]!r}: {form[:80]}"

    assert not (found := faults_of(check)), "\n".join(found)


def test_a_sentence_of_the_card_is_short():
    def check(one: Entry):
        if one.file not in ("card.po", "carry.po"):
            return
        for form in one.forms:
            for sentence in re.split(r"(?<=[.;:])\s", plain(form)):
                if len(sentence.split()) > LONGEST_CARD_SENTENCE:
                    yield f"{len(sentence.split())} words: {sentence[:100]}"

    assert not (found := faults_of(check)), "\n".join(found)


def ids_of(node: ast.AST) -> list[str]:
    """The ids that a call names; an error names what is wrong, a fault after its field, and with it what to do."""
    if not isinstance(node, ast.Call):
        return []
    is_saying = getattr(node.func, "attr", "") in ("saying", "saying_at", "about")
    after_place = is_saying and getattr(node.func.value, "id", "") in ("Fault", "JobError")
    at = 1 if after_place or getattr(node.func, "attr", "") == "saying_at" else 0
    id = node.args[at] if len(node.args) > at else None
    if not isinstance(id, ast.Constant):
        return []
    if is_saying:
        return [id.value, f"{id.value}.do"]
    return [id.value] if getattr(node.func, "id", "") in ("said", "words", "put") else []


def ids_in_code() -> tuple[set[str], set[str]]:
    """Ids named in code and templates, and the literal beginnings of those that are put together."""
    named, begun = set(), set()
    for path in SOURCE.rglob("*.py"):
        for node in ast.walk(ast.parse(path.read_text(encoding="utf-8"))):
            named |= set(ids_of(node))
            if isinstance(node, ast.Constant) and isinstance(node.value, str):
                named.add(node.value)
            elif isinstance(node, ast.JoinedStr) and isinstance(node.values[0], ast.Constant):
                begun.add(str(node.values[0].value))
    for path in (*SOURCE.rglob("*.html"), *SOURCE.rglob("*.typ")):
        named |= set(re.findall(r"""\bt\(\s*["']([\w.]+)["']""", path.read_text(encoding="utf-8")))
    return named, {start for start in begun if re.fullmatch(r"[\w.]+\.", start)}


A_CODE = re.compile(r"[RTS]\d{3}\.(?:title|asks|passes|fails|boundary)")
OF_ENUMS = ("status.", "grade.", "shelf.", "kind.", "list.", "level.", "coverfit.", "agreement.", "madekind.")


def test_every_entry_has_a_use():
    named, begun = ids_in_code()
    unused = [
        f"{one.file}:{one.line} {one.id}"
        for one in ENTRIES
        if one.id.partition("@")[0] not in named
        and not A_CODE.fullmatch(one.id)
        and not one.id.startswith(OF_ENUMS)
        and not any(one.id.startswith(start) for start in begun)
    ]
    assert not unused, "\n".join(unused)


def test_what_one_kind_of_job_says_stands_beside_what_all_say():
    """`<id>@patch` takes the place of `<id>`: the same forms, and no hole that the other does not fill."""
    by_id, faults = {one.id: one for one in ENTRIES}, []
    for one in ENTRIES:
        id, mark, kind = one.id.partition("@")
        if mark:
            said_by_all = by_id.get(id)
            if kind != "patch" or said_by_all is None or len(said_by_all.forms) != len(one.forms):
                faults.append(f"{one.file}:{one.line} {one.id} stands beside nothing")
            elif not holes_of(one.forms[0]) <= holes_of(said_by_all.forms[0]):
                faults.append(f"{one.file}:{one.line} {one.id} asks for what nobody fills in")
    assert any("@" in one.id for one in ENTRIES)
    assert not faults, "\n".join(faults)


def test_every_id_that_code_names_has_an_entry():
    known = {one.id for one in ENTRIES}
    missing = []
    for path in SOURCE.rglob("*.py"):
        for node in ast.walk(ast.parse(path.read_text(encoding="utf-8"))):
            missing += [
                f"{path.relative_to(SOURCE)}:{node.lineno} {id}" for id in ids_of(node) if id not in known
            ]
    for path in (*SOURCE.rglob("*.html"), *SOURCE.rglob("*.typ")):
        for id in re.findall(r"""\bt\(\s*["']([\w.]+)["']""", path.read_text(encoding="utf-8")):
            if id not in known:
                missing.append(f"{path.name} {id}")
    assert not missing, "\n".join(missing)
