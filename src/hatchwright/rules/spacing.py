"""R201, R202, R204, R212, R213: spacing of new holes, of any two, along the row, and between rows."""

from __future__ import annotations

from collections import defaultdict
from collections.abc import Callable, Iterator, Mapping, Sequence

import numpy as np
from msgspec.structs import replace

from hatchwright.finding import Finding
from hatchwright.judged import RANKED, Chosen, Judgement, Measure, Numbers, Status, bound
from hatchwright.layout.layout import Spacing
from hatchwright.layout.row_spacing import RowSpacing
from hatchwright.layout.survey import Survey
from hatchwright.register import Shelf
from hatchwright.remedy import ASK, Change
from hatchwright.rules.answer import held
from hatchwright.rules.rule import judged_by, mended_by, rule
from hatchwright.rules.wording import numbered
from hatchwright.said import Said, said
from hatchwright.tables.cited import Cited

DOUBLE_ROW_READINGS = ("circular, double row", "Navy manual, any row")
ROW_SPACING_READINGS = ("military manual", "circular's figure")


@rule("R201", Shelf.HOLDS, reads=("near",), marks_holes=True)
@judged_by(limits=("pitch_min_single_row",))
@mended_by(Change.ROW_PITCH, Change.ROW_STAGGER, Change.ROW_DISTANCE, Change.ROW_PLACE, Change.MOVED_RIVET)
def least_spacing(survey: Survey) -> Iterator[Finding]:
    """R201: spacing, any two rivets."""
    yield from _spacings(judged_pairs(survey, "R201"))


@rule("R212", Shelf.HOLDS, reads=("near",), marks_holes=True)
@judged_by(limits=("new_to_existing_spacing",))
@mended_by(Change.ROW_PITCH, Change.SCREW_NUMBER, Change.SCREW_INSET, Change.ROW_DISTANCE, Change.ROW_STAGGER)
def screws_to_rivets(survey: Survey) -> Iterator[Finding]:
    """R212: spacing of screws to rivets."""
    yield from _spacings(judged_pairs(survey, "R212"))


PAIR_CODES = ("R201", "R212")
"""The rules that hold any two holes apart that lie near each other."""


def judged_pairs(survey: Survey, code: str) -> tuple[list[Spacing], Judgement] | None:
    """What one of `PAIR_CODES` holds against its limit: rivets among themselves, or screws to rivets; None without."""
    if code == "R201":
        pairs = [pair for pair in survey.near if pair.first.kind == pair.second.kind == "rivet"]
        least, short = "pitch_min_single_row", Status.STOP
    else:
        pairs = [pair for pair in survey.near if pair.first.kind != pair.second.kind]
        least, short = "new_to_existing_spacing", Status.CAUTION
    if not pairs:
        return None
    return pairs, judge_spacings(pairs, {"": survey.limit(least)}, fails_as=short)


def judge_spacings(
    pairs: Sequence[Spacing],
    limits: Mapping[str, Cited],
    *,
    to: Cited | None = None,
    at_least: bool = True,
    fails_as: Status = Status.STOP,
    chosen: Chosen | None = None,
    differ: Status | None = None,
) -> Judgement:
    """Judge distances between hole centers together, in diameters of the larger fastener.

    Args:
        limits: name of each reading to its figure [D], the default first.
        to: the other end of a figure that is known within a range [D].
        differ: the answer where documents differ and nothing was chosen.
    """
    diameter_in = np.array([pair.diameter_in for pair in pairs])
    p = Measure(
        "p",
        np.array([pair.distance_in for pair in pairs]),
        np.array([pair.uncertainty_in for pair in pairs]),
        per=("D", diameter_in, "in"),
    )
    held_to = spacing_held(p, diameter_in, limits, to=to, fails_as=fails_as)
    return replace(held_to, at_least=at_least, chosen=chosen, differ=differ)


def spacing_held(
    p: Measure,
    diameter_in: Numbers,
    limits: Mapping[str, Cited],
    *,
    to: Cited | None = None,
    fails_as: Status = Status.STOP,
) -> Judgement:
    """Hold distances between hole centers to a least of each reading, in diameters of the larger fastener.

    Args:
        p: the distances [in].
        diameter_in: of the larger fastener of each [in].
        limits, to, fails_as: see `judge_spacings`.
    """
    bounds = tuple(bound(cited, diameter_in, "D", reading=name, to=to) for name, cited in limits.items())
    return Judgement(p, bounds, fails_as=fails_as)


def is_made(pair: Spacing) -> bool:
    """Whether one of two holes is drilled already."""
    return pair.first.is_made or pair.second.is_made


def _spacings(near: tuple[list[Spacing], Judgement] | None) -> Iterator[Finding]:
    """A measured pair that does not pass speaks for itself; of the others the closest of its rows speaks for all."""
    if near is None:
        return
    pairs, judged = near
    ranks, ratio = judged.ranks(), judged.measure.value / np.array([pair.diameter_in for pair in pairs])
    alike: dict[tuple[int, frozenset[str]], list[int]] = defaultdict(list)
    for i in np.flatnonzero(ranks).tolist():
        rank, pair = int(ranks[i]), pairs[i]
        if is_made(pair) and RANKED[rank].holds_back:
            yield _spacing(judged, pair, i, said("spacing.pair", holes=numbered(*pair[:2])))
        else:
            alike[rank, frozenset((pair.first.row, pair.second.row))].append(i)
    for some in alike.values():
        i = min(some, key=lambda k: float(ratio[k]))
        subject = said("spacing.closest", holes=numbered(*pairs[i][:2]), n=len(some))
        yield _spacing(judged, pairs[i], i, subject)
    passing = np.flatnonzero(ranks == 0)
    if len(passing):
        i = int(passing[np.argmin(ratio[passing])])
        subject = said("spacing.closest_of_all", holes=numbered(*pairs[i][:2]))
        yield _spacing(judged, pairs[i], i, subject)


def _spacing(judged: Judgement, pair: Spacing, i: int, subject: Said) -> Finding:
    holes = (pair.first.number, pair.second.number)
    return held(judged.at(i), subject, ASK, holes=holes, place=pair.middle)


def worst_pitch(
    row: str,
    pairs: Sequence[Spacing],
    judged: Judgement,
    *,
    advice: Said | None = None,
    subject: str = "pitch.shortest",
) -> Finding:
    """The finding on the worst of the neighbors along a row.

    Args:
        judged: those, in their order.
        advice: what to do where it does not pass, None to ask.
        subject: id of the sentence that names the pair.
    """
    i = judged.worst()
    pair, one = pairs[i], judged.at(i)
    # Where only documents differ there is one to choose first, and nothing to ask of anybody yet.
    undecided = one.status is judged.differ and one.documents_differ
    told = () if undecided else (advice or ASK,)
    return held(
        one,
        said(subject, row=row, holes=numbered(pair.first, pair.second)),
        *told,
        holes=(pair.first.number, pair.second.number),
        place=pair.middle,
    )


@rule("R202", Shelf.HOLDS, reads=("pattern", "pitches"), marks_holes=True)
@judged_by(limits=("pitch_min_double_row", "pitch_min_absolute"), readings=DOUBLE_ROW_READINGS)
@mended_by(Change.ROW_PITCH, Change.MOVED_RIVET)
def pitch_in_double_rows(survey: Survey) -> Iterator[Finding]:
    """R202: pitch in double rows."""
    for row, pairs, judged in judged_pitches(survey, "R202"):
        yield worst_pitch(row, pairs, judged)


@rule("R213", Shelf.HOLDS, reads=("pattern", "pitches"), marks_holes=True)
@judged_by(limits=("pitch_min_triple_row",))
@mended_by(Change.ROW_PITCH, Change.MOVED_RIVET)
def pitch_in_triple_rows(survey: Survey) -> Iterator[Finding]:
    """R213: pitch in triple rows."""
    for row, pairs, judged in judged_pitches(survey, "R213"):
        yield worst_pitch(row, pairs, judged)


PITCH_CODES = ("R202", "R213")
"""The rules that hold neighbors along a row apart, by how many rows make its pattern."""


def judged_pitches(survey: Survey, code: str) -> Iterator[tuple[str, tuple[Spacing, ...], Judgement]]:
    """What one of `PITCH_CODES` holds against its limit: each row that it is about, with its neighbors."""
    circular, navy = DOUBLE_ROW_READINGS
    in_two = code == "R202"
    for row, pairs in survey.rivet_pitches.items():
        rows = len(survey.pattern(row))
        if in_two and rows == 2:
            least = {circular: survey.limit("pitch_min_double_row"), navy: survey.limit("pitch_min_absolute")}
            yield row, pairs, judge_spacings(pairs, least, chosen=survey.chosen(code), differ=Status.CAUTION)
        elif not in_two and rows >= 3:
            yield row, pairs, judge_spacings(pairs, {"": survey.limit("pitch_min_triple_row")})


@rule("R204", Shelf.HOLDS, reads=("row_spacings",), marks_holes=True)
@judged_by(limits=("transverse_pitch_min", "transverse_pitch_min_fig4_5"), readings=ROW_SPACING_READINGS)
@mended_by(Change.ROW_DISTANCE, Change.ROW_PLACE)
def row_spacing(survey: Survey) -> Iterator[Finding]:
    """R204: row spacing."""
    beside: dict[frozenset[str], list[RowSpacing]] = defaultdict(list)
    for found in survey.row_spacings:
        beside[found.rows].append(found)
    for some in beside.values():
        yield _row_spacing(some, judged_rows(survey, some))


def judged_rows(survey: Survey, some: Sequence[RowSpacing]) -> Judgement:
    """What R204 holds against its limit: how far holes lie from the row beside them."""
    diameter_in = np.array([found.hole.diameter_in for found in some])
    s = Measure(
        "s",
        np.array([found.distance_in for found in some]),
        np.array([found.uncertainty_in for found in some]),
        per=("D", diameter_in, "in"),
    )
    return rows_held(s, diameter_in, survey.limit, chosen=survey.chosen("R204"))


def rows_held(
    s: Measure, diameter_in: Numbers, limit: Callable[[str], Cited], *, chosen: Chosen | None = None
) -> Judgement:
    """Hold row spacings to what each reading asks.

    Args:
        s: the spacings [in].
        diameter_in: of the rivets [in].
        limit: one limit of the tables by its name.
    """
    manual, figure = ROW_SPACING_READINGS
    bounds = (
        bound(limit("transverse_pitch_min"), diameter_in, "D", reading=manual),
        bound(limit("transverse_pitch_min_fig4_5"), diameter_in, "D", reading=figure),
    )
    return Judgement(s, bounds, chosen=chosen)


def _row_spacing(some: list[RowSpacing], every: Judgement) -> Finding:
    i = every.worst()
    hole, judged = some[i].hole, every.at(i)
    advice = said("ask.disposition" if judged.status.holds_back else "R204.confirm")
    subject = said("R204.rows", row=hole.row, other=some[i].other_row, hole=numbered(hole))
    return held(judged, subject, advice, holes=(hole.number,), place=hole.place)
