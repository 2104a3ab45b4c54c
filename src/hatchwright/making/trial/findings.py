"""T2xx: what a trial on scrap says of the cutter, the template, the metal left to file and its own readings."""

from __future__ import annotations

import math
from collections.abc import Iterator

from hatchwright.finding import Finding
from hatchwright.judged import FLOAT_NOISE, Status, judge_at_least
from hatchwright.making.answer import answer
from hatchwright.making.template.guide_template import GuideChain
from hatchwright.making.trial.edge_findings import edge_findings
from hatchwright.making.trial.trial import Stray, Trial
from hatchwright.metrology.real_offset import GUM, LEVEL, Effect
from hatchwright.metrology.students_t import t_quantile
from hatchwright.units import Unit, length_words
from hatchwright.workings import Grade, Quantity, Source, Working

MADE_WITHIN_IN = 0.010
"""A template as made that is farther from its size was misread or mismade [in]. Common practice, no source."""

_METHOD = Source(GUM, "5.1.2, G.2b and G.6.4; docs/theory/trial.md")
_GRUBBS = Source("GRUBBS-1969", "greatest residual; docs/theory/trial.md")
_MADE = Source("PRACTICE", "template as made within .010 in (0.25 mm); docs/theory/trial.md")
_ENOUGH = 5


def trial_findings(
    trial: Trial, *, allowance_in: float, template: GuideChain | None = None
) -> tuple[Finding, ...]:
    """Judge a trial.

    Args:
        allowance_in: metal that the job leaves to be filed [in].
        template: of the job, on which the shift and the turn of the trial are tried out.
    Returns:
        tuple: findings in the order of their code.
    """
    found = (
        _offset(trial, allowance_in),
        _left_to_file(trial, allowance_in),
        *_wear(trial, allowance_in),
        *_directions(trial),
        _next_cut(trial, allowance_in),
        _as_made(trial),
        *_strays(trial),
        *edge_findings(trial, template),
    )
    return tuple(sorted(found, key=lambda finding: finding.code))


def _offset(trial: Trial, allowance_in: float) -> Finding:
    """T201: the offset that the template was made for is the real one, within what the readings are worth."""
    real, guide, unit = trial.offset, trial.piece.chain.guide, trial.unit
    off_in = abs(real.offset_in - guide.offset_in)
    is_off, is_known = off_in > real.expanded_in, real.count >= _ENOUGH
    advice = (
        f"The cut comes out {_size(trial)} across: real width of cut "
        f"{length_words(trial.cut_in, unit, fine=True)}{_along(trial)} instead of "
        f"{length_words(guide.cut_in, unit, fine=True)}. "
    )
    if off_in > allowance_in + FLOAT_NOISE and allowance_in > 0.0:
        status = Status.STOP
        advice += (
            f"The offset would change by {length_words(off_in, unit, fine=True)}, more than the "
            f"{length_words(allowance_in, unit)} left to file. Measure template and cut again. If it is so, enter the "
            "real width of cut in the job, make a new trial template for it, and prove that one."
        )
    else:
        status = Status.CAUTION if is_off else Status.PASS if is_known else Status.UNKNOWN
        advice += (
            "Take the new offset over and make the template anew, or check the blade and the width of cut."
        )
    if not is_known:
        advice += (
            f" With {real.count} readings the offset is only known to +- "
            f"{length_words(real.expanded_in, unit, fine=True)}: take {_ENOUGH} or more."
        )
    return answer(
        "T201",
        status,
        f"offset of the cutter from {real.count} readings",
        value=real.offset_in,
        limit=guide.offset_in,
        source=_METHOD,
        advice=advice,
        working=(_working(trial),),
        uncertainty=real.expanded_in,
    )


def _size(trial: Trial) -> str:
    over_in = length_words(abs(trial.over_size_in), trial.unit)
    if float(over_in.split()[0]) == 0.0:
        return "as planned"
    return f"about {over_in} {'large' if trial.over_size_in > 0.0 else 'small'}"


def _along(trial: Trial) -> str:
    x_in, y_in = trial.cut_along_in
    if x_in is None or y_in is None:
        return ""
    return f" ({length_words(x_in, trial.unit)} along X, {length_words(y_in, trial.unit)} along Y)"


def _working(trial: Trial) -> Working:
    real = trial.offset
    return Working(
        "offset = mean(template - cut) / 2; U = t u"
        if trial.piece.chain.guide.kind == "female"
        else "offset = mean(cut - template) / 2; U = t u",
        (
            Quantity("n", float(real.count), ""),
            Quantity("s", real.scatter_in, "in"),
            Quantity("u", real.standard_in, "in"),
            Quantity("nu", min(real.freedom, 1e6), ""),
            Quantity("U95", real.expanded_in, "in"),
            Quantity("u of the next cut", real.next_cut_in, "in"),
            Quantity("U95 of the next cut", real.next_cut_expanded_in, "in"),
        ),
        Quantity("offset", real.offset_in, "in"),
        _METHOD,
        Grade.PUBLISHED,
    )


def _left_to_file(trial: Trial, allowance_in: float) -> Finding:
    """T202: with the template as it is, metal is left outside the next cut everywhere."""
    left_in, within_in = allowance_in - trial.over_size_in / 2.0, trial.offset.next_cut_expanded_in
    status = judge_at_least(left_in, 0.0, uncertainty=within_in)
    return answer(
        "T202",
        status,
        "metal left to file by the next cut with this template",
        value=left_in,
        limit=0.0,
        source=_METHOD,
        advice="It would cut beyond the finished line, which cannot be filed back. This template must not be used."
        if status is Status.STOP
        else f"About {length_words(left_in, trial.unit, fine=True)} is left, and the next cut is only known to +- "
        f"{length_words(within_in, trial.unit, fine=True)}: the readings cannot show that metal is left everywhere. "
        "Take more readings, or make the template anew.",
        working=(
            Working(
                "left = allowance - (cut - planned) / 2",
                (
                    Quantity("allowance", allowance_in, "in"),
                    Quantity("cut - planned", trial.over_size_in, "in"),
                ),
                Quantity("left", left_in, "in"),
                _METHOD,
                Grade.COMPUTED,
            ),
        ),
        uncertainty=within_in,
    )


def _wear(trial: Trial, allowance_in: float) -> Iterator[Finding]:
    """T203: the width of the cut does not drift while it is cut; on each side it drifts by half."""
    if trial.wear:
        is_far = allowance_in > 0.0 and abs(trial.wear.size_in) / 2.0 > allowance_in + FLOAT_NOISE
        yield _effect(
            "T203",
            "change of the width of the cut from the first reading to the last",
            trial.wear,
            f"The width of the cut drifts by {_within(trial.wear, trial.unit)}: let the tool warm up, look at blade "
            "and punch, and try again.",
            shown=Status.STOP if is_far else Status.CAUTION,
        )


def _directions(trial: Trial) -> Iterator[Finding]:
    """T204: the cut is as wide along X as along Y."""
    if trial.directions:
        yield _effect(
            "T204",
            "width of the cut along X less that along Y",
            trial.directions,
            f"They differ by {_within(trial.directions, trial.unit)}, more than the readings can be off: one template "
            "size or one direction was misread, the template or the guide is not true, or it leaned on one side. "
            "Measure template and cut again; if it stays, cut a new trial piece. No offset can be taken from this one.",
            shown=Status.STOP,
        )


def _next_cut(trial: Trial, allowance_in: float) -> Finding:
    """T207: the next cut is known to less than the metal that is left to file."""
    within_in, unit = trial.offset.next_cut_expanded_in, trial.unit
    is_known = within_in <= allowance_in + FLOAT_NOISE
    return answer(
        "T207",
        Status.PASS if is_known else Status.STOP if allowance_in > 0.0 else Status.UNKNOWN,
        "what the next cut is known to, against the metal left to file",
        value=within_in,
        limit=allowance_in,
        source=_METHOD,
        advice=f"The next cut is only known to +- {length_words(within_in, unit, fine=True)}, and "
        f"{length_words(allowance_in, unit)} is left to file: it could go beyond the finished line. "
        + (
            "Enter a filing allowance in the job, or ask an engineer whether the opening may be that much larger."
            if allowance_in == 0.0
            else f"{trial.offset.count} readings are too few; take {_ENOUGH} or more along X and along Y."
            if trial.offset.count < _ENOUGH
            else f"The readings scatter by s = {length_words(trial.offset.scatter_in, unit, fine=True)}. Look for "
            "one that was misread, take more, or cut a new trial piece."
        ),
        working=(
            Working(
                "u = 1/2 sqrt(s^2 (1 + 1/n) + a^2/3 + u_T^2); U = t u",
                (
                    Quantity("s", trial.offset.scatter_in, "in"),
                    Quantity("n", float(trial.offset.count), ""),
                    Quantity("u", trial.offset.next_cut_in, "in"),
                ),
                Quantity("U95", within_in, "in"),
                _METHOD,
                Grade.COMPUTED,
            ),
        ),
    )


def _as_made(trial: Trial) -> Finding:
    """T208: the trial template as made is the one that was asked for."""
    asked_in, unit = trial.piece.template_in, trial.unit
    off_in = max(abs(made_in - asked_in) for made_in in trial.made_in)
    within_in = t_quantile(0.5 + LEVEL / 2.0, math.inf) * trial.template_standard_in
    x, y, asked, tolerance = (
        length_words(value_in, unit) for value_in in (*trial.made_in, asked_in, MADE_WITHIN_IN)
    )
    return answer(
        "T208",
        Status.PASS if off_in + within_in <= MADE_WITHIN_IN + FLOAT_NOISE else Status.STOP,
        "trial template as made, off the size that was asked for",
        value=off_in,
        limit=MADE_WITHIN_IN,
        source=_MADE,
        grade=Grade.PRACTICE,
        advice=f"It was entered as X {x}, Y {y}; {asked} was asked for, and a machined part is within {tolerance} of "
        f"its size, measured to a standard uncertainty of {length_words(trial.template_standard_in, unit, fine=True)}. "
        "Measure the template again along both; every error there goes into the offset. If it is so, make it anew.",
        uncertainty=within_in,
    )


def _strays(trial: Trial) -> Iterator[Finding]:
    """T209: no reading stands apart from the others."""
    for stray in trial.strays:
        yield _stray(stray, trial.unit)
    if not trial.strays:
        yield answer("T209", Status.PASS, "no reading stands apart from the others", source=_GRUBBS)


def _stray(stray: Stray, unit: Unit) -> Finding:
    apart = stray.apart
    word, status = ("outlier", Status.STOP) if apart.is_outlier else ("straggler", Status.CAUTION)
    way = "more" if apart.beyond_in > 0.0 else "less"
    return answer(
        "T209",
        status,
        f"{stray.said} ({stray.text}) stands apart from the others: {word}",
        value=abs(apart.beyond_in),
        source=_GRUBBS,
        advice=f"It reads {length_words(abs(apart.beyond_in), unit, fine=True)} {way} than the others bear out "
        f"({stray.field}). Measure that place again and look for transposed digits. If it stays, the edge has a step "
        "or a burr there: look why. It was not left out of anything.",
        working=(
            Working(
                "G = |residual| / sqrt(s^2 + a^2/3)",
                (Quantity("G critical, 99 %", apart.critical, ""),),
                Quantity("G", apart.ratio, ""),
                _GRUBBS,
                Grade.COMPUTED,
            ),
        ),
    )


def _within(found: Effect, unit: Unit) -> str:
    return (
        f"{length_words(abs(found.size_in), unit, fine=True)} +- "
        f"{length_words(found.expanded_in, unit, fine=True)}"
    )


def _effect(
    code: str, subject: str, found: Effect, advice: str, *, shown: Status = Status.CAUTION
) -> Finding:
    return answer(
        code,
        shown if found.shows else Status.PASS,
        subject,
        value=found.size_in,
        limit=0.0,
        source=_METHOD,
        advice=advice,
        uncertainty=found.expanded_in,
    )
