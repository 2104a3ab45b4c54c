"""T2xx: what a trial on scrap says of the cutter, the template, the metal left to file and its own readings."""

from __future__ import annotations

import math
from collections.abc import Iterator

from hatchwright.finding import Finding, held, held_as, stated
from hatchwright.ground import Ground, practice
from hatchwright.judged import Judgement, Measure, Status
from hatchwright.making.template.guide_template import GuideChain
from hatchwright.making.trial.beside_plan import beside_plan, shows
from hatchwright.making.trial.edge_findings import edge_findings
from hatchwright.making.trial.trial import Stray, Trial
from hatchwright.metrology.real_offset import GUM, LEVEL, Effect, t_quantile
from hatchwright.register import Entry, Shelf, enter
from hatchwright.said import Amount, Said, inch, said
from hatchwright.workings import Grade, Quantity, Source, Working

MADE_WITHIN_IN = 0.010
"""A template as made that is farther from its size was misread or mismade [in]. Common practice, no source."""

_THEORY = "docs/theory/trial.md"
_METHOD = Ground(Source(GUM, f"5.1.2, G.2b and G.6.4; {_THEORY}"), Grade.COMPUTED)
_GRUBBS = Ground(Source("GRUBBS-1969", f"greatest residual; {_THEORY}"), Grade.COMPUTED)
_MADE = practice(f"template as made within .010 in (0.25 mm); {_THEORY}")
_ENOUGH = 5
"""Readings from which on the offset is taken for known [-]. Common practice, no source."""

_SEEN_IN = 0.0005
"""Half of the last figure that a length is told to [in]."""

_READS = ("cutter", "template")

for _code in ("T201", "T202", "T203", "T204", "T207", "T208", "T209"):
    enter(Entry(_code, Shelf.SETTLE, step="trial", reads=_READS, theory=_THEORY))


def trial_findings(
    trial: Trial, *, allowance_in: float, template: GuideChain | None = None
) -> tuple[Finding, ...]:
    """Judge a trial against the metal that the job leaves to be filed [in]; its shift and its turn are tried
    out on the template of the job."""
    found = (
        _offset(trial, allowance_in),
        _left_to_file(trial, allowance_in),
        *_wear(trial, allowance_in),
        *_directions(trial),
        _next_cut(trial, allowance_in),
        _as_made(trial),
        *map(_stray, trial.strays),
        *(() if trial.strays else (stated("T209", Status.PASS, said("T209.none"), _GRUBBS, unit="in"),)),
        *edge_findings(trial, template),
    )
    return tuple(sorted(found, key=lambda finding: finding.code))


def _offset(trial: Trial, allowance_in: float) -> Finding:
    """T201: the offset that the template was made for is the real one, within what the readings are worth."""
    real, guide = trial.offset, trial.piece.chain.guide
    off = Effect(real.offset_in - guide.offset_in, real.expanded_in)
    far, count = _within_allowance(abs(off.size_in), allowance_in), Measure("n", float(real.count), unit="")
    known = _METHOD.at_least(count, float(_ENOUGH), fails_as=Status.UNKNOWN)
    # What is wrong beyond doubt comes before the readings that are still missing.
    judged = next((one for one in (far, shows(off, on=_METHOD)) if one.status is not Status.PASS), known)
    what_to_do = said("T201.take_over")
    if judged is far:
        what_to_do = said("T201.far_off", off=inch(abs(off.size_in), fine=True), allowance=inch(allowance_in))
    few = said("T201.few", n=real.count, within=inch(real.expanded_in, fine=True), enough=_ENOUGH)
    made, subject = Measure("offset", real.offset_in, real.expanded_in), said("T201.subject", n=real.count)
    advice = (_size(trial), _width(trial), what_to_do, *(() if known.status is Status.PASS else (few,)))
    working = _working(trial)
    return beside_plan("T201", made, guide.offset_in, judged, subject, *advice, working=working)


def _within_allowance(off_in: float, allowance_in: float) -> Judgement:
    """Hold what comes off the metal left to file to that metal; where none is left there is nothing to hold it to."""
    return _METHOD.at_most(Measure("off", off_in), allowance_in if allowance_in > 0.0 else math.inf)


def _size(trial: Trial) -> Said:
    """How much larger or smaller than planned the cut comes out; as planned where nobody can tell."""
    over_in = trial.over_size_in
    if abs(over_in) < _SEEN_IN:
        return said("T201.as_planned")
    return said("T201.large" if over_in > 0.0 else "T201.small", by=inch(abs(over_in)))


def _width(trial: Trial) -> Said:
    cut, planned = inch(trial.cut_in, fine=True), inch(trial.piece.chain.guide.cut_in, fine=True)
    x_in, y_in = trial.cut_along_in
    if x_in is None or y_in is None:
        return said("T201.width", cut=cut, planned=planned)
    return said("T201.width_each_way", cut=cut, planned=planned, x=inch(x_in), y=inch(y_in))


def _working(trial: Trial) -> Working:
    real, is_window = trial.offset, trial.piece.chain.guide.kind == "female"
    put_in = (
        Quantity("n", float(real.count), ""),
        Quantity("s", real.scatter_in, "in"),
        Quantity("u", real.standard_in, "in"),
        Quantity("nu", min(real.freedom, 1e6), ""),
        Quantity("U95", real.expanded_in, "in"),
        Quantity("u of the next cut", real.next_cut_in, "in"),
        Quantity("U95 of the next cut", real.next_cut_expanded_in, "in"),
    )
    apart = "template - cut" if is_window else "cut - template"
    offset = Quantity("offset", real.offset_in, "in")
    return Working(f"offset = mean({apart}) / 2; U = t u", put_in, offset, _METHOD.source, Grade.PUBLISHED)


def _left_to_file(trial: Trial, allowance_in: float) -> Finding:
    """T202: with the template as it is, metal is left outside the next cut everywhere."""
    left_in, within_in = allowance_in - trial.over_size_in / 2.0, trial.offset.next_cut_expanded_in
    sizes = {"left": left_in, "allowance": allowance_in, "cut - planned": trial.over_size_in}
    working = _METHOD.lengths("left = allowance - (cut - planned) / 2", **sizes)
    judged = _METHOD.at_least(Measure("left", left_in, within_in), 0.0, working)
    advice = said("T202.do_not_use") if judged.status is Status.STOP else said("T202.not_shown")
    return held("T202", judged, said("T202.subject"), advice)


def _wear(trial: Trial, allowance_in: float) -> Iterator[Finding]:
    """T203: the width of the cut does not drift while it is cut; on each side it drifts by half."""
    if trial.wear:
        far = _within_allowance(abs(trial.wear.size_in) / 2.0, allowance_in)
        shown = Status.CAUTION if far.status is Status.PASS else Status.STOP
        yield _effect("T203", trial.wear, shown, said("T203.drifts", **_within(trial.wear)), said("T203.do"))


def _directions(trial: Trial) -> Iterator[Finding]:
    """T204: the cut is as wide along X as along Y."""
    if trial.directions:
        differ = said("T204.differ", **_within(trial.directions))
        yield _effect("T204", trial.directions, Status.STOP, differ, said("T204.do"))


def _next_cut(trial: Trial, allowance_in: float) -> Finding:
    """T207: the next cut is known to less than the metal that is left to file."""
    within_in = trial.offset.next_cut_expanded_in
    working = _METHOD.working(
        "u = 1/2 sqrt(s^2 (1 + 1/n) + a^2/3 + u_T^2); U = t u",
        Quantity("U95", within_in, "in"),
        Quantity("s", trial.offset.scatter_in, "in"),
        Quantity("n", float(trial.offset.count), ""),
        Quantity("u", trial.offset.next_cut_in, "in"),
    )
    fails_as = Status.STOP if allowance_in > 0.0 else Status.UNKNOWN
    judged = _METHOD.at_most(Measure("U95", within_in), allowance_in, working, fails_as=fails_as)
    known = said("T207.known", within=inch(within_in, fine=True), allowance=inch(allowance_in))
    more = said("T207.scatter", scatter=inch(trial.offset.scatter_in, fine=True))
    if allowance_in == 0.0:
        more = said("T207.no_allowance")
    elif trial.offset.count < _ENOUGH:
        more = said("T207.few", n=trial.offset.count, enough=_ENOUGH)
    return held("T207", judged, said("T207.subject"), known, more)


def _as_made(trial: Trial) -> Finding:
    """T208: the trial template as made is the one that was asked for."""
    asked_in = trial.piece.template_in
    off_in = max(abs(made_in - asked_in) for made_in in trial.made_in)
    within_in = t_quantile(0.5 + LEVEL / 2.0, math.inf) * trial.template_standard_in
    judged = _MADE.at_most(Measure("off", off_in, within_in), MADE_WITHIN_IN)
    # A template that cannot be shown to be the one asked for spoils all that is read of it: it stops.
    status = Status.PASS if judged.status is Status.PASS else Status.STOP
    x, y = map(inch, trial.made_in)
    u = inch(trial.template_standard_in, fine=True)
    entered = said("T208.entered", x=x, y=y, asked=inch(asked_in), tolerance=inch(MADE_WITHIN_IN), u=u)
    advice = () if status is Status.PASS else (entered, said("T208.do"))
    return held_as("T208", judged, status, said("T208.subject"), *advice)


def _stray(stray: Stray) -> Finding:
    """T209: no reading stands apart from the others."""
    apart, off_in = stray.apart, abs(stray.apart.beyond_in)
    word, status = ("outlier", Status.STOP) if apart.is_outlier else ("straggler", Status.CAUTION)
    what = said(f"T209.{word}", reading=stray.named, text=stray.text)
    by = said("T209.more" if apart.beyond_in > 0.0 else "T209.less", by=inch(off_in, fine=True))
    ratios = Quantity("G", apart.ratio, ""), Quantity("G critical, 99 %", apart.critical, "")
    told, do = (_GRUBBS.working("G = |residual| / sqrt(s^2 + a^2/3)", *ratios),), said("T209.do")
    return stated("T209", status, what, _GRUBBS, by, do, value=off_in, unit="in", working=told)


def _within(found: Effect) -> dict[str, Amount]:
    return {"by": inch(abs(found.size_in), fine=True), "within": inch(found.expanded_in, fine=True)}


def _effect(code: str, found: Effect, shown: Status, *advice: Said) -> Finding:
    judged = shows(found, on=_METHOD, fails_as=shown)
    size = Measure("effect", found.size_in, found.expanded_in)
    return beside_plan(code, size, 0.0, judged, said(f"effect.{code}"), *advice)
