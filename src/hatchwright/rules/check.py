"""Judge a layout by every rule."""

from __future__ import annotations

from collections.abc import Collection, Iterable, Iterator

from hatchwright.errors import HatchwrightError
from hatchwright.finding import Finding, stated
from hatchwright.ground import practice
from hatchwright.job.job import Job
from hatchwright.judged import Status
from hatchwright.layout.layout import Layout
from hatchwright.layout.survey import Survey, survey
from hatchwright.layout.unlisted import NAMED_BY, names_behind, unlisted_names, what_of
from hatchwright.rules import (  # noqa: F401  each module enters its rules
    bar_room,
    base_screws,
    clearance,
    clip_nuts,
    corner_radius,
    cover,
    cover_nuts,
    cover_screws,
    departures,
    depth,
    dimples,
    drilled_as_drawn,
    edge_distance,
    empty_holes,
    existing_fasteners,
    flush_heads,
    heads_and_edges,
    hole_size,
    largest_opening,
    left_open,
    looks,
    made_flush,
    made_heads,
    made_sheets,
    material,
    mount,
    mount_loads,
    next_size,
    nutplate_seat,
    passage,
    patch,
    plain_hole,
    right_bay,
    rivet_choice,
    rivet_length,
    rivets_per_inch,
    row_pattern,
    scope,
    seating,
    sheet_and_rivet,
    site_center,
    site_corners,
    site_differences,
    site_hazards,
    site_landmarks,
    site_sketch,
    spacing,
    spoilt_holes,
    strap,
    stray_holes,
    tool_room,
)
from hatchwright.rules.rule import Rule, all_rules
from hatchwright.said import Listed, Said, Value, said
from hatchwright.words.of_job import finding_of
from hatchwright.words.readings import to_choose_from

_CHOICE = practice("a choice between readings")
_PLACES = frozenset(("edges", "distinct_edges", "near", "pitches", "row_spacings"))
"""What every move of an edge or a hole may change."""


def check(layout: Layout) -> tuple[Finding, ...]:
    """Judge a layout by all rules, in the order of their codes; a wrong choice of readings stands with its rule."""
    rules = all_rules()
    found = list(_found(rules, layout))
    found += _choices(layout.job, {rule.code: rule for rule in rules}, found)
    return tuple(sorted(found, key=lambda finding: finding.code))


def check_holes(layout: Layout, marked: Collection[str] | None = None) -> tuple[Finding, ...]:
    """Judge a layout by the rules that find fault with single holes, as a drawing needs it while one types.

    Args:
        marked: codes of the rules that marked a hole when everything was judged last: they are judged again beside
            edge distance and spacing; None when nobody knows, and all rules that may mark a hole are.
    Returns:
        tuple: some of the findings of `check`, in the same order.
    """
    wanted = [
        rule
        for rule in all_rules()
        if rule.entry.marks_holes
        and (marked is None or rule.code in marked or not _PLACES.isdisjoint(rule.entry.reads))
    ]
    return tuple(_found(wanted, layout))


def check_some(layout: Layout, codes: Collection[str]) -> tuple[Finding, ...]:
    """Judge a layout by a few rules, so that what fails by these need not be judged by all."""
    return tuple(_found((rule for rule in all_rules() if rule.code in codes), layout))


def _found(rules: Iterable[Rule], layout: Layout) -> Iterator[Finding]:
    measured = survey(layout)
    listed: Survey | None = None
    for rule in rules:
        found, error = _asked(rule, measured)
        if error is not None:
            unanswered, is_of_holes = _unanswered(rule, error, layout)
            if is_of_holes and not rule.entry.needs_every_hole:
                listed = listed or measured.listed()
                found, error = _asked(rule, listed)
                # What no table has of the listed ones is told beside it, not only when the name is corrected.
                also = _unanswered(rule, error, layout)[0] if error is not None else unanswered
                if also != unanswered:
                    found.append(also)
            found.append(unanswered)
        yield from (finding_of(layout.job.kind, finding) for finding in found)


def _asked(rule: Rule, measured: Survey) -> tuple[list[Finding], HatchwrightError | None]:
    """What a rule finds, as far as it comes, and what it lacks where it cannot go on."""
    found: list[Finding] = []
    try:
        found.extend(rule.check(measured))
    except HatchwrightError as error:
        return found, error
    return found, None


def _unanswered(rule: Rule, error: HatchwrightError, layout: Layout) -> tuple[Finding, bool]:
    """Not shown: a rule needs a number that no table has, for a name of the job that none lists where that is why; and
    whether it is the size of holes that it lacks."""
    names = unlisted_names(layout.job, layout.shop)
    why = names_behind(error, names)
    kinds = {hole.kind for hole in layout.holes if why and what_of(hole) == why[0].what}
    # What asks for the size of one such hole asks for that of all.
    lacking = [hole for hole in layout.holes if hole.kind in kinds and hole.nominal_in is None]
    if lacking:
        why = [name for name in names if name.what in map(what_of, lacking)]
    found = stated(
        rule.code,
        Status.UNKNOWN,
        why[0].what if why else said("no_value.subject", what=error.what),
        practice(f"what no table gives: {error.where}"),
        *(() if why else (said("no_value.remedy", remedy=error.remedy),)),
        holes=tuple(hole.number for hole in lacking),
        cause=str(why[0].what) if why else "",
        told_by=NAMED_BY if why else "",
    )
    return found, bool(lacking)


def _choices(job: Job, rules: dict[str, Rule], found: Iterable[Finding]) -> Iterator[Finding]:
    """The choices of a job that name no rule, no reading, or a rule that was chosen for already."""
    if not job.choices:
        return
    offered: dict[str, tuple[str, ...]] = {}
    for finding in found:
        if finding.judged.readings:
            offered[finding.code] = tuple(
                dict.fromkeys((*offered.get(finding.code, ()), *finding.judged.readings))
            )
    seen: set[str] = set()
    for choice in job.choices:
        code, rule = choice.rule, rules.get(choice.rule)
        names = offered.get(code, rule.readings if rule else ())
        chosen: dict[str, Value] = {"reading": choice.reading, "code": code}
        if rule is None:
            yield _not_shown(code, said("choice.no_rule", **chosen), said("choice.correct_code"))
        elif not names:
            yield _not_shown(code, said("choice.one_reading", **chosen), said("choice.take_out"))
        elif code in seen:
            yield _not_shown(code, said("choice.twice", **chosen), said("choice.keep_one"))
        elif choice.reading not in names:
            offers = Listed(tuple(map(to_choose_from, names)), ";")
            yield _not_shown(
                code, said("choice.no_reading", **chosen), said("choice.choose_one", names=offers)
            )
        seen.add(code)


def _not_shown(code: str, subject: Said, advice: Said) -> Finding:
    return stated(code, Status.UNKNOWN, subject, _CHOICE, advice)
