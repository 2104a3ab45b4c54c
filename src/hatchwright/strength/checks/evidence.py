"""The table of evidence, and S203: where the paths differ and nothing accounts for it."""

from __future__ import annotations

import math
from collections.abc import Callable, Iterable, Iterator, Sequence
from dataclasses import dataclass, field
from functools import partial
from typing import TypeAlias

from hatchwright.fem.running import net_loads
from hatchwright.finding import Finding, stated
from hatchwright.ground import Ground
from hatchwright.judged import FLOAT_NOISE, Status
from hatchwright.layout.cut_side import CountReading, CutSide
from hatchwright.register import Shelf
from hatchwright.said import Amount, Said, Value, said
from hatchwright.strength.checks.rivets import S201, S202
from hatchwright.strength.checks.sheets import S301, S302, S303, S306, S308
from hatchwright.strength.comparison import strength_code
from hatchwright.strength.doubler_section import doubler_section
from hatchwright.strength.efficiency import rows_left
from hatchwright.strength.evidence import (
    DIRECTIONS,
    Agreement,
    Direction,
    EvidenceRow,
    PartName,
    Path,
    TableCount,
    least,
)
from hatchwright.strength.factors import Factors
from hatchwright.strength.family import Family
from hatchwright.strength.load_case import Case
from hatchwright.strength.lost_width import first_row_lost_in
from hatchwright.strength.margin import Margin
from hatchwright.strength.net_section import row_efficiency
from hatchwright.strength.opening_analysis import CaseAnalysis, OpeningAnalysis
from hatchwright.strength.site import Site
from hatchwright.strength.worked import READ_OFF, STATICS, Worked, inputs, weakest, work_out
from hatchwright.words.readings import reading_called
from hatchwright.workings import Quantity

S203 = strength_code("S203", "rows", "doubler", "opening", "bay", theory="evidence", shelf=Shelf.KNOW)

ORDER = said("evidence.order")
"""The order of evidence."""


@dataclass(frozen=True)
class _Found:
    """All that the rows are read from.

    Args:
        counts: of the circular's table, none where it has no number or is not for these rivets.
        margins: of hand analysis and of the elements.
        findings: S306 among them.
    """

    site: Site
    cases: tuple[Case, ...]
    counts: tuple[TableCount, ...]
    margins: tuple[Margin, ...]
    findings: tuple[Finding, ...]
    analysis: OpeningAnalysis | None
    factors: Factors
    by_name: dict[Said | str, Case] = field(init=False)

    def __post_init__(self) -> None:
        object.__setattr__(self, "by_name", {case.name: case for case in self.cases})

    @property
    def solid(self) -> tuple[float, float]:
        """Running strength of the solid skin in tension and in shear [lbf/in]."""
        skin = self.site.skin
        return (
            skin.part.thickness_in * skin.allowed.ftu_psi,
            skin.part.thickness_in * skin.allowed.fsu_psi,
        )

    def asked(self, code: str, case: Case, axis: int) -> tuple[Direction, float] | None:
        """Direction of a case for what a check judges across an axis, and the share of the solid skin asked for [-].

        Rivets carry direct load and shear together, the doubler's section each by itself.
        """
        direct, q = abs(case.along(axis).value), abs(case.q.value)
        pull, shear = self.solid
        if direct and code != S303:
            together = math.hypot(direct, q) if code in (S201, S202) else direct
            return ("X", "Y")[axis], together / pull
        return ("shear", q / shear) if q else None


_Drawn: TypeAlias = Callable[[_Found, Margin, Case, int], Iterator[tuple[float, float]]]
"""Loads that the elements find drawn into what a margin is about in one case, and what hand analysis takes [lbf]."""

_NO_MORE = said("strength.no_more_than_this")
"""Beside a margin that is greater than the truth."""


def evidence_families(
    site: Site,
    cases: tuple[Case, ...],
    counts: tuple[TableCount, ...],
    margins: tuple[Margin, ...],
    findings: tuple[Finding, ...],
    analysis: OpeningAnalysis | None,
    factors: Factors,
) -> Iterator[Family[EvidenceRow]]:
    """The table: rivets, doubler and first row, each along X, along Y and in shear as far as a case loads it.

    Args:
        counts: of the circular's table, by side.
        margins: S201, S202, S301 to S303 among them.
        findings: S306 among them.
    Method: docs/theory/evidence.md.
    """
    found = _Found(site, cases, counts, margins, findings, analysis, factors)
    for rows in (_rivets, _doubler, _skin):
        yield Family("paths", partial(rows, found))


def _rivets(found: _Found) -> Iterator[EvidenceRow]:
    for direction in DIRECTIONS:
        hand, elements, is_open = _of_margins(found, direction, (S201, S202), _drawn_by_side)
        if hand or is_open:
            yield _row(found, "rivets", direction, _counted(found, direction), hand, elements)


def _doubler(found: _Found) -> Iterator[EvidenceRow]:
    """The doubler's rows; a section that lacks the size of a hole is no more than a greatest strength: refused."""
    for direction in DIRECTIONS if found.site.doubler else ():
        for axis in (0, 1) if direction == "shear" else ("XY".index(direction),):
            if (missing := doubler_section(found.site, axis).missing) is not None:
                raise missing
        hand, elements, is_open = _of_margins(found, direction, (S302, S303, S308), _drawn_by_doubler)
        if hand or is_open:
            yield _row(found, "doubler", direction, _metal(found, direction), hand, elements)


def _skin(found: _Found) -> Iterator[EvidenceRow]:
    directions: tuple[Direction, ...] = ("X", "Y")
    for direction in directions:
        if hand := _first_row(found, direction):
            yield _row(found, "first_row", direction, None, hand, _crowded(found, direction))


def evidence_findings(rows: Iterable[EvidenceRow]) -> Iterator[Finding]:
    """S203: a row whose paths answer differently and whose difference nothing accounts for: a caution to know."""
    for row in rows:
        if row.is_doubted:
            ground = Ground(STATICS.source, weakest(path.restored.grade for path in row.paths))
            uses = [path.uses for path in row.paths]
            id = f"S203.{row.part}" if row.direction != "shear" else f"S203.{row.part}_in_shear"
            subject = said(id, axis=row.direction, paths=_paths_said(row))
            worst = max(row.paths, key=lambda path: path.uses)
            yield stated(
                S203, Status.CAUTION, subject, ground, said("S203.why", why=row.why), ORDER, value=max(uses), limit=1.0,
                working=worst.restored.working[-1:], shortfall=max(0.0, max(uses) - 1.0),
                cause=f"{row.part} {row.direction}",
            )  # fmt: skip


def _paths_said(row: EvidenceRow) -> Said:
    told: dict[str, Value] = {}
    for name in ("circular", "hand", "elements"):
        path: Path | None = getattr(row, name)
        told[name] = percent(path.restored.value) if path else said("evidence.none")
    return said("evidence.three", **told)


def percent(value: float) -> Amount:
    """A share of the solid skin, never told larger than it is."""
    return Amount(100.0 * value, "%", toward="down")


def _counted(found: _Found, direction: Direction) -> Path | None:
    """The circular's count, in parts of what its reading asks for; the whole table stands for the solid skin."""
    own = [one for one in found.counts if direction == "shear" or one.side[0] == direction]
    paths = []
    for one in own:
        counts = (Quantity("rivets", float(one.has), ""), Quantity("needed", float(one.needed), ""))
        by = Ground(one.source, one.grade)
        note = Quantity("note", one.share, "")
        value = one.share * one.has / one.needed
        restored = work_out(value, "restored = note x rivets / needed", note, *counts, by=by)
        told = said(
            "evidence.count",
            has=one.has,
            needed=one.needed,
            side=one.side,
            reading=reading_called(one.reading),
        )
        paths.append(Path(restored, one.share, told))
    return least(paths)


def _metal(found: _Found, direction: Direction) -> Path | None:
    """The metal that the doubler puts back, by par. 4-58k; in shear that of the weaker section."""
    paths = []
    for one in found.findings:
        axis = dict(one.subject.values).get("axis") if isinstance(one.subject, Said) else None
        if one.code == S306 and one.value is not None and direction in (axis, "shear"):
            values = (Quantity("put back / removed", one.value, ""),)
            by = Ground(one.source, one.grade)
            restored = work_out(one.value, "restored = put back / removed", *values, by=by)
            paths.append(Path(restored, 1.0, said("evidence.metal", axis=str(axis))))
    return least(paths)


def _of_margins(
    found: _Found, direction: Direction, codes: Sequence[str], drawn: _Drawn
) -> tuple[Path | None, Path | None, bool]:
    """Hand analysis and elements of the margins of a part in one direction.

    Returns:
        tuple: both paths, the nearest to being short; and whether a margin of them could not be computed, which leaves
        both open.
    """
    hand: list[Path] = []
    elements: list[Path] = []
    is_open = False
    for one in found.margins:
        case, axis = found.by_name.get(one.case), _axis_of(one)
        if one.code not in codes or case is None or axis is None:
            continue
        asked = found.asked(one.code, case, axis)
        if asked is None or asked[0] != direction:
            continue
        if one.ratio is None or not math.isfinite(one.ratio) or one.allowable is None:
            is_open = is_open or one.ratio is None
            continue
        if _NO_MORE in one.advice:
            is_open = True  # what no table lists isn't counted: it is no more than this
            continue
        share, ground = asked[1], Ground(one.source, one.grade)
        by_margin = (Quantity("asked", share, ""), Quantity("MS", one.ratio, ""))
        there = share * (math.sqrt(1.0 + one.ratio) if one.code == S308 else 1.0 + one.ratio)
        equation = "restored = asked sqrt(1 + MS)" if one.code == S308 else "restored = asked (1 + MS)"
        restored = work_out(there, equation, *by_margin, by=ground)
        hand.append(Path(restored, share, said("evidence.margin", code=one.code, subject=one.subject)))
        for drawn_lbf, counted_lbf in drawn(found, one, case, axis):
            loads = inputs("lbf", P_drawn=drawn_lbf, P_hand=counted_lbf)
            by = Ground(READ_OFF.source, weakest((one.grade, READ_OFF.grade)))
            equation = "restored = by hand P hand / P drawn"
            by_hand = Quantity("by hand", there, "")
            restored = work_out(there * counted_lbf / drawn_lbf, equation, by_hand, *loads, by=by)
            elements.append(Path(restored, share, said("evidence.drawn", load=Amount(drawn_lbf, "lbf"))))
    if is_open:
        return None, None, True
    return least(hand), least(elements), False


def _axis_of(margin: Margin) -> int | None:
    """The axis that a margin of a side or of a section is about, 0 for X, 1 for Y."""
    values = dict(margin.subject.values)
    named = values.get("axis") or values.get("side")
    return "XY".find(str(named)[0]) if named else None


def _analyzed(found: _Found, case: Case) -> list[CaseAnalysis]:
    """What the elements found of a case; twice where a cover carries."""
    return [one for one in found.analysis.cases if one.case.name == case.name] if found.analysis else []


def _drawn_by_side(found: _Found, margin: Margin, case: Case, axis: int) -> Iterator[tuple[float, float]]:
    """Load that the counted rivets of a side hand over by the elements, with the special factor, and by hand [lbf]."""
    if margin.code != S201 or margin.applied is None:
        return  # at limit load the elements judge each rivet by itself, in S801
    name = dict(margin.subject.values).get("side")
    side = next((one for one in found.site.sides if one.name == name), None)
    for one in _analyzed(found, case):
        share = next((own for own in one.sides if side and own.side == side.name), None)
        if side and share:
            drawn_lbf = share.half_lbf if side.reading is CountReading.HALF else share.ahead_lbf
            if drawn_lbf > FLOAT_NOISE:
                yield drawn_lbf * found.factors.joint.value, margin.applied.value


def _drawn_by_doubler(found: _Found, margin: Margin, case: Case, axis: int) -> Iterator[tuple[float, float]]:
    """Load that the doubler carries across the middle of the opening by the elements, and by hand [lbf]; on known loads
    hand analysis takes the greater of both already.
    """
    which = 1 if margin.code == S303 else 0
    load_lbf_in = case.q.value if which else case.along(axis).value
    for one in _analyzed(found, case):
        by_hand_lbf = abs(load_lbf_in) * found.site.opening_in[1 - axis]
        drawn_lbf = one.drawn_lbf[axis][which]
        if not case.is_restored:
            drawn_lbf *= 1.0 + one.grid_error.fastener_ratio
            by_hand_lbf = max(by_hand_lbf, drawn_lbf)
        if drawn_lbf > FLOAT_NOISE:
            yield drawn_lbf, by_hand_lbf


def _sides(found: _Found, direction: str) -> Iterator[CutSide]:
    return (side for side in found.site.sides if side.name[0] == direction)


def _first_row(found: _Found, direction: Direction) -> Path | None:
    """What the skin keeps at its first row; on known loads it is asked for them, else for what the bay's rows leave."""
    bay = _bay(found, direction)
    known = [
        share[1]
        for one in found.margins
        if one.code == S301 and (case := found.by_name.get(one.case)) and _axis_of(one) == "XY".index(direction)
        and (share := found.asked(S301, case, "XY".index(direction)))
    ]  # fmt: skip
    if not known and not any(case.is_restored for case in found.by_name.values()):
        return None  # known loads that don't pull here ask nothing of it
    asked = max(known, default=None) if known else bay.value if bay else None
    paths = []
    for side in _sides(found, direction):
        outer = side.rows[-1] if side.rows else None
        if outer and outer.pitch_in:
            hole_in = first_row_lost_in(found.site, outer)
            left = row_efficiency(pitch_in=outer.pitch_in, hole_in=hole_in)
            paths.append(Path(left, asked, said("evidence.row", side=side.name)))
    return min(paths, key=lambda path: path.restored.value, default=None)


def _crowded(found: _Found, direction: Direction) -> Path | None:
    """The same by the elements: the solid skin's strength over the running load between the rivets of the first row."""
    axis, paths = "XY".index(direction), []
    hand = _first_row(found, direction)
    for one in found.analysis.cases if found.analysis else ():
        load_lbf_in = one.case.along(axis).value
        if load_lbf_in <= 0.0 or one.case.q.value:
            continue
        at = {rivet.number: place for place, rivet in enumerate(one.rivets)}
        for side in _sides(found, direction):
            row = [
                at[hole.number] for hole in (side.rows[-1].holes if side.rows else ()) if hole.number in at
            ]
            if len(row) < 2:
                continue
            most_lbf_in = float(net_loads(one.response, "skin", row).max())
            if most_lbf_in <= 0.0:
                continue
            values = (*inputs("lbf/in", N=load_lbf_in), Quantity("N net", most_lbf_in, "lbf/in"))
            restored = work_out(load_lbf_in / most_lbf_in, "restored = N / N net", *values, by=READ_OFF)
            paths.append(Path(restored, hand.asked if hand else None, said("evidence.row", side=side.name)))
    return min(paths, key=lambda path: path.restored.value, default=None)


def _bay(found: _Found, direction: Direction) -> Worked | None:
    """What the best of the bay's rows across a load leaves; in shear that of all four sides."""
    rows = found.site.layout.job.bay.rows
    axes = (0, 1) if direction == "shear" else ("XY".index(direction),)
    left = [one for axis in axes for _, one in rows_left(rows, axis)]
    return max(left, key=lambda one: one.value, default=None)


def _row(
    found: _Found,
    part: PartName,
    direction: Direction,
    circular: Path | None,
    hand: Path | None,
    elements: Path | None,
) -> EvidenceRow:
    agreement, why = _compared(part, circular, hand, elements)
    return EvidenceRow(part, direction, circular, hand, elements, _bay(found, direction), agreement, why)


def _compared(
    part: PartName, circular: Path | None, hand: Path | None, elements: Path | None
) -> tuple[Agreement, Said]:
    """How the paths stand to each other, and one line that says why.

    A difference is explained where what is asked for, or what is there, accounts for it by itself. Elements that are
    short where what comes before them is enough leave it open: they may raise a doubt and never clear one.
    """
    if hand is None:
        return Agreement.OPEN, said("evidence.no_hand")
    if hand.asked is None:
        return Agreement.OPEN, said("evidence.enter_rows")
    if circular and circular.passes != hand.passes:
        return _by_table(part, circular, hand, elements)
    if elements and elements.passes != hand.passes:
        return _by_elements(hand, elements)
    answer = "enough" if hand.passes else "short"
    return Agreement.AGREE, said(f"evidence.{answer}_by_all")


def _by_table(part: PartName, circular: Path, hand: Path, elements: Path | None) -> tuple[Agreement, Said]:
    assert hand.asked  # the paths differ
    assert circular.asked
    by_asked = hand.asked / circular.asked
    by_there = circular.restored.value / hand.restored.value
    told: dict[str, Value] = {"hand": percent(hand.asked), "circular": percent(circular.asked)}
    reasons = [
        (by_asked, said(f"evidence.why_asked_{part}", **told)),
        (
            by_there,
            said(f"evidence.why_there_{part}", times=Amount(round(max(by_there, 1 / by_there), 2), "")),
        ),
    ]
    grows = hand.uses > circular.uses
    reasons.sort(key=lambda one: -one[0] if grows else one[0])
    for factor, why in reasons:
        if (hand.uses / factor <= 1.0 + FLOAT_NOISE) == circular.passes:
            if (
                elements
                and circular.passes
                and not elements.passes
                and elements.uses / factor > 1.0 + FLOAT_NOISE
            ):
                return Agreement.OPEN, said("evidence.doubt", times=_times(elements, hand), why=why)
            return Agreement.EXPLAINED, why
    return Agreement.OPEN, said("evidence.several", first=reasons[0][1], second=reasons[1][1])


def _by_elements(hand: Path, elements: Path) -> tuple[Agreement, Said]:
    times = _times(elements, hand)
    if hand.passes:
        return Agreement.OPEN, said("evidence.drawn_more", times=times)
    return Agreement.EXPLAINED, said("evidence.never_clears")


def _times(elements: Path, hand: Path) -> Amount:
    return Amount(round(hand.restored.value / elements.restored.value, 2), "")
