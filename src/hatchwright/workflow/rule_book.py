"""What every code stands for, for the command line and for the documentation pages: register and catalogue in one."""

from __future__ import annotations

import difflib
from collections.abc import Iterator

from msgspec import Struct

from hatchwright.errors import EntryError
from hatchwright.making import making_findings  # noqa: F401  enters every code of the making
from hatchwright.making.trial import findings as trial_findings  # noqa: F401  and those of a trial
from hatchwright.register import Entry, entries
from hatchwright.rules import check  # noqa: F401  enters every rule
from hatchwright.rules.rule import all_rules
from hatchwright.said import Listed, said
from hatchwright.search.risk import scatter_findings  # noqa: F401  and that of the shop's scatter
from hatchwright.tables.limits import limit
from hatchwright.words.readings import to_choose_from
from hatchwright.words.tell import tell


class RuleEntry(Struct, frozen=True):
    """One code as the book has it: an `Entry` in words, each limit and what else it rests on with source and grade.

    Args:
        family: what its family is about.
        examples: what passes, what fails, and what happens at the limit.
    """

    code: str
    family: str
    title: str
    says: str
    limits: tuple[str, ...]
    readings: tuple[str, ...]
    rests_on: tuple[str, ...]
    theory: str
    examples: tuple[str, ...]
    forbids_template: bool
    remedies: tuple[str, ...]


def book(letter: str) -> tuple[RuleEntry, ...]:
    """Every code of the rules (R), of the making (T) or of strength (S), in order, from the register."""
    if letter == "S":
        from hatchwright.strength import mount_screws, report  # noqa: F401  enter them; heavy, so only when asked for
    return tuple(_told(entry) for code, entry in entries().items() if code.startswith(letter))


def whole_book() -> tuple[RuleEntry, ...]:
    """Every code that a finding may bear: rules, making and strength."""
    return (*book("R"), *book("T"), *book("S"))


def _told(entry: Entry) -> RuleEntry:
    """What the register and the catalogue say of a code, and its rule of what it rests on."""
    bases = next((rule.bases() for rule in all_rules() if rule.code == entry.code), ())
    return RuleEntry(
        code=entry.code,
        family=tell(said(f"family.{entry.family}")),
        title=tell(entry.title),
        says=tell(entry.asks),
        limits=tuple(f"{key}: {limit(key)}" for key in entry.limits),
        readings=entry.readings,
        rests_on=tuple(f"{words} [{source}; {grade}]".lstrip() for words, source, grade in bases),
        theory=entry.theory,
        examples=tuple(tell(said(f"{entry.code}.{one}")) for one in ("passes", "fails", "boundary")),
        forbids_template=entry.forbids_template,
        remedies=tuple(tell(said(f"change.{change}")) for change in entry.remedies),
    )


def rule_entry(code: str) -> RuleEntry:
    """One rule, or what a finding of the making or of strength speaks of, such as R101, T402 or S803;
    EntryError where there is no such code."""
    code = code.strip().upper()
    known = {entry.code: entry for entry in whole_book()}
    if code in known:
        return known[code]
    near = Listed(tuple(difflib.get_close_matches(code, known, n=3)), "or")
    do = said("error.near", names=near) if near.items else said("error.no_code.do")
    raise EntryError(said("error.no_code"), where=code[:40], remedy=do)


_HEADS = {"R": "explain.page_of_rules", "T": "explain.page_of_making"}


def page_of(letter: str) -> str:
    """The documentation of every code of a letter in Markdown; that of strength ends a page which has its own head."""
    head = (tell(said(_HEADS[letter])), "") if letter in _HEADS else ()
    return "\n".join((*head, *_families(book(letter), level="##" if head else "###")))


def _families(book: tuple[RuleEntry, ...], level: str) -> Iterator[str]:
    """Every code under the heading of its family."""
    family = ""
    for entry in book:
        if entry.family != family:
            family = entry.family
            yield from (f"{level} {entry.code[:2]}xx {family}", "")
        yield from (f"{level}# {entry.code} {entry.title}", "", entry.says, "")
        yield from (*(f"- {line}" for line in _stands(entry)), "")


def _stands(entry: RuleEntry) -> Iterator[str]:
    """What stands under a code, line by line."""
    for way, example in zip(("passes", "fails", "boundary"), entry.examples, strict=True):
        yield tell(said(f"explain.{way}", example=example))
    yield from (*entry.limits, *entry.rests_on)
    if entry.readings:
        yield tell(said("explain.readings", readings=Listed(tuple(map(to_choose_from, entry.readings)), ";")))
    if entry.theory:
        page = entry.theory.removeprefix("docs/")
        yield tell(said("explain.theory", page=f"[{page}]({page})"))
    if entry.remedies:
        yield tell(said("explain.tried", changes=Listed(entry.remedies, ";")))
    if entry.forbids_template:
        yield tell(said("explain.template_waits"))
