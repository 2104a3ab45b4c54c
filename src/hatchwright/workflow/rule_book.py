"""The list of rules, for the command line and for the documentation page made from the same docstrings."""

from __future__ import annotations

import difflib
from dataclasses import dataclass

from hatchwright.errors import EntryError
from hatchwright.making import making_findings  # noqa: F401  enters every code of the making
from hatchwright.making.trial import findings as trial_findings  # noqa: F401  and those of a trial
from hatchwright.register import entries
from hatchwright.rules import check  # noqa: F401  enters every rule
from hatchwright.rules.rule import all_rules
from hatchwright.said import Listed, said
from hatchwright.tables.limits import limit
from hatchwright.words.tell import tell

FAMILIES = {
    "R1": "Edge distance",
    "R2": "Spacing of holes",
    "R3": "Corner radii",
    "R4": "Rivets and sheets",
    "R5": "Rivet length",
    "R6": "Number of rivets",
    "R7": "Room in the bay",
    "R8": "Cover, screws and nuts",
    "R9": "Scope, protection and what must be asked",
}
"""First two characters of a code and what its rules are about."""


@dataclass(frozen=True, slots=True)
class RuleEntry:
    """One rule as the book has it.

    Args:
        family: what its family is about.
        title: in the trade's words.
        limits: each number that it judges by, with source and grade.
        readings: where documents differ, the names that a job may choose from, the default first.
        rests_on: what else it rests on, with source and grade.
        theory: page of the documentation with its method, "" for none.
        examples: what passes, what fails, and what happens at the limit.
        forbids_template: whether no template is made while it stops.
    """

    code: str
    family: str
    title: str
    says: str
    limits: tuple[str, ...]
    readings: tuple[str, ...]
    rests_on: tuple[str, ...] = ()
    theory: str = ""
    examples: tuple[str, ...] = ()
    forbids_template: bool = False


def rule_book() -> tuple[RuleEntry, ...]:
    """Every rule in the order of its code."""
    return tuple(
        RuleEntry(
            code=rule.code,
            family=FAMILIES[rule.code[:2]],
            title=tell(rule.entry.title),
            says=tell(rule.entry.asks),
            limits=tuple(f"{key}: {cited}" for key, cited in rule.limits()),
            rests_on=tuple(f"{words} [{source}; {grade}]".lstrip() for words, source, grade in rule.bases()),
            readings=rule.readings,
        )
        for rule in all_rules()
    )


def making_book() -> tuple[RuleEntry, ...]:
    """Every code of the making in order, from the register."""
    return tuple(
        RuleEntry(
            code=code,
            family=tell(said(f"family.{entry.family}")),
            title=tell(entry.title),
            says=tell(entry.asks),
            limits=tuple(f"{key}: {limit(key)}" for key in entry.limits),
            readings=entry.readings,
            theory=entry.theory,
            examples=_examples(code),
            forbids_template=entry.forbids_template,
        )
        for code, entry in entries().items()
        if code.startswith("T")
    )


def _examples(code: str) -> tuple[str, ...]:
    return tuple(tell(said(f"{code}.{one}")) for one in ("passes", "fails", "boundary"))


def strength_book() -> tuple[RuleEntry, ...]:
    """Every code of strength in order, from the register."""
    from hatchwright.strength import report  # noqa: F401  enters them; heavy, so only when asked for
    from hatchwright.workflow import examine  # noqa: F401  enters strength that could not be computed

    return tuple(
        RuleEntry(
            code=code,
            family="Strength",
            title=tell(entry.title),
            says=tell(entry.asks),
            limits=(),
            readings=entry.readings,
            theory=entry.theory,
            examples=_examples(code),
        )
        for code, entry in entries().items()
        if code.startswith("S")
    )


def strength_codes() -> str:
    """The list of the codes of strength for the documentation page, in Markdown."""
    lines = ["| code | what | theory |", "|---|---|---|"]
    for entry in strength_book():
        page = entry.theory.rpartition("/")[2]
        name = page.removesuffix(".md").replace("_", " ")
        theory = f"[{name}](theory/{page})" if page else ""
        lines.append(f"| {entry.code} | {entry.title}. {entry.says} | {theory} |")
    return "\n".join(lines) + "\n"


def rule_entry(code: str) -> RuleEntry:
    """One rule, or what a finding of the making or of strength speaks of.

    Args:
        code: such as R101, T402 or S803.
    Returns:
        RuleEntry: what it says.
    Raises:
        EntryError: there is no such code.
    """
    code = code.strip().upper()
    known = (*rule_book(), *making_book(), *strength_book())
    for entry in known:
        if entry.code == code:
            return entry
    near = difflib.get_close_matches(code, [entry.code for entry in known], n=3)
    raise EntryError(
        said("error.no_code"),
        where=code[:40],
        remedy=said("error.near", names=Listed(tuple(near), "or")) if near else said("error.no_code.do"),
    )


def rules_page() -> str:
    """The documentation page of all rules, in Markdown."""
    lines = [
        "# Rules",
        "",
        "Made from the rules' own docstrings by `python builders/build_rules_page.py`.",
        "",
    ]
    family = ""
    for entry in rule_book():
        if entry.family != family:
            family = entry.family
            lines += [f"## {entry.code[:2]}xx {family}", ""]
        lines += [f"### {entry.code} {entry.title}", "", entry.says, ""]
        stands = (*entry.limits, *entry.rests_on)
        lines += [f"- {line}" for line in stands] + [""] * bool(stands)
        if entry.readings:
            lines += [f"Readings to choose from: {'; '.join(entry.readings)}.", ""]
    return "\n".join(lines)


def making_page() -> str:
    """The documentation page of the codes of the making, in Markdown."""
    lines = [
        "# Findings of the making",
        "",
        "Made from the register and the catalogue by `python builders/build_making_page.py`. T2xx come only from",
        "`hatchwright trial`, T802 and T803 only where a template in hand is given.",
        "",
    ]
    family = ""
    for entry in making_book():
        if entry.family != family:
            family = entry.family
            lines += [f"## {entry.code[:2]}xx {family}", ""]
        lines += [f"### {entry.code} {entry.title}", "", entry.says, ""]
        passes, fails, boundary = entry.examples
        stands = [
            tell(said("explain.passes", example=passes)),
            tell(said("explain.fails", example=fails)),
            tell(said("explain.boundary", example=boundary)),
            *entry.limits,
        ]
        if entry.theory:
            page = entry.theory.removeprefix("docs/")
            stands.append(tell(said("explain.theory", page=f"[{page}]({page})")))
        lines += [*(f"- {line}" for line in stands), ""]
    return "\n".join(lines)
