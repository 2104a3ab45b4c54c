"""T2xx: what a trial on scrap says of the cutter, the template and the metal left to file."""

from __future__ import annotations

import math
from collections.abc import Iterator

from hatchwright.finding import Finding, Grade, Quantity, Source, Status, Working, judge_at_least
from hatchwright.tooling.answer import answer
from hatchwright.tooling.edge_fit import EdgeFit
from hatchwright.tooling.guide_template import GuideChain
from hatchwright.tooling.misplacement import misplaced
from hatchwright.tooling.real_offset import GUM, Effect
from hatchwright.tooling.trial import Trial
from hatchwright.units import decimal_inch

_METHOD = Source(GUM, "5.1.2, G.2b and G.6.4; docs/theory/trial.md")
_ENOUGH = 5


def trial_findings(
    trial: Trial, *, allowance_in: float, template: GuideChain | None = None
) -> tuple[Finding, ...]:
    """Judge a trial.

    Args:
        trial: evaluated.
        allowance_in: metal that the job leaves to be filed [in].
        template: of the job, on which the shift and the turn of the trial are tried out.
    Returns:
        tuple: findings in the order of their code.
    """
    return (
        _offset(trial),
        _left_to_file(trial, allowance_in),
        *_wear(trial),
        *_directions(trial),
        *_edges(trial, template),
    )


def _offset(trial: Trial) -> Finding:
    """T201: the offset that the template was made for is the real one, within what the readings are worth."""
    real, guide = trial.offset, trial.piece.chain.guide
    off_in = abs(real.offset_in - guide.offset_in)
    is_off, is_known = off_in > real.expanded_in, real.count >= _ENOUGH
    size = "large" if trial.over_size_in > 0.0 else "small"
    return answer(
        "T201",
        Status.CAUTION if is_off else Status.PASS if is_known else Status.UNKNOWN,
        f"offset of the cutter from {real.count} readings",
        value=real.offset_in,
        limit=guide.offset_in,
        source=_METHOD,
        advice=f"The cut comes out about {decimal_inch(abs(trial.over_size_in))} {size} across: real width of cut "
        f"{decimal_inch(trial.cut_in, 4)}{_along(trial)} instead of {decimal_inch(guide.cut_in, 4)}. Take the new "
        "offset over and make the template anew, or check the blade and the measured width of cut."
        + (
            ""
            if is_known
            else f" With {real.count} readings the offset is only known to "
            f"+- {decimal_inch(real.expanded_in, 4)}: take {_ENOUGH} or more."
        ),
        working=(_working(trial),),
        uncertainty=real.expanded_in,
    )


def _along(trial: Trial) -> str:
    x_in, y_in = trial.cut_along_in
    if x_in is None or y_in is None:
        return ""
    return f" ({decimal_inch(x_in)} along X, {decimal_inch(y_in)} along Y)"


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
        ),
        Quantity("offset", real.offset_in, "in"),
        _METHOD,
        Grade.PUBLISHED,
    )


def _left_to_file(trial: Trial, allowance_in: float) -> Finding:
    """T202: with the template as it is, metal is left outside the cut everywhere."""
    left_in = allowance_in - trial.over_size_in / 2.0
    status = judge_at_least(left_in, 0.0, uncertainty=trial.offset.expanded_in)
    return answer(
        "T202",
        status,
        "metal left to file with this template",
        value=left_in,
        limit=0.0,
        source=_METHOD,
        advice="It would cut beyond the finished line, which cannot be filed back. Make the template anew."
        if status is Status.STOP
        else "The readings cannot show that metal is left everywhere. Take more readings, or make the template anew.",
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
        uncertainty=trial.offset.expanded_in,
    )


def _wear(trial: Trial) -> Iterator[Finding]:
    """T203: the width of the cut does not drift while it is cut."""
    if trial.wear:
        yield _effect(
            "T203",
            "change of the width of the cut from the first reading to the last",
            trial.wear,
            "The width of the cut drifts: let the tool warm up, look at blade and punch, and try again.",
        )


def _directions(trial: Trial) -> Iterator[Finding]:
    """T204: the cut is as wide along X as along Y."""
    if trial.directions:
        yield _effect(
            "T204",
            "width of the cut along X less that along Y",
            trial.directions,
            "The tool cuts differently in the two directions: hold its heading, look for play in the guide, and "
            "measure the template again.",
        )


def _edges(trial: Trial, template: GuideChain | None) -> Iterator[Finding]:
    """T205: the template lies true on the datum cross. T206: the cut is concentric with its guide."""
    fit = trial.edges
    if fit is None:
        return
    if fit.eccentricity is None:
        yield _off_centre(
            "T205",
            "shift of the template and eccentricity of the cut together",
            fit.shift,
            "Align the template's marks again. A second trial with the template turned half round tells a shift of "
            f"the template from an eccentric cut; one trial cannot.{_on_the_job(fit, template)}",
        )
        return
    yield _off_centre(
        "T205",
        "shift of the template",
        fit.shift,
        f"Align the template's marks again, or make them anew.{_on_the_job(fit, template)}",
    )
    yield _off_centre(
        "T206",
        "eccentricity of the cut",
        fit.eccentricity,
        "Keep the tool's heading to the room and shift the template by as much the other way.",
    )


def _on_the_job(fit: EdgeFit, template: GuideChain | None) -> str:
    """What the same shift and turn would do to the opening."""
    if template is None:
        return ""
    x_min, y_min, x_max, y_max = template.wanted.bounds
    off = misplaced(
        template.predicted,
        template.wanted,
        shift_in=(fit.shift[0].size_in, fit.shift[1].size_in),
        turn_deg=math.degrees(fit.turn_rad.size_in) if fit.turn_rad else 0.0,
        pivot=((x_min + x_max) / 2.0, (y_min + y_max) / 2.0),
    )
    return f" On the job it would cut {decimal_inch(off.over_cut.depth_in)} beyond the rough line."


def _off_centre(code: str, subject: str, along: tuple[Effect, Effect], advice: str) -> Finding:
    x, y = along
    shows = x.shows or y.shows
    return answer(
        code,
        Status.CAUTION if shows else Status.PASS,
        f"{subject}: X {decimal_inch(x.size_in, 4)}, Y {decimal_inch(y.size_in, 4)}",
        value=math.hypot(x.size_in, y.size_in),
        limit=0.0,
        source=_METHOD,
        advice=advice,
        uncertainty=max(x.expanded_in, y.expanded_in),
    )


def _effect(code: str, subject: str, effect: Effect, advice: str) -> Finding:
    return answer(
        code,
        Status.CAUTION if effect.shows else Status.PASS,
        subject,
        value=effect.size_in,
        limit=0.0,
        source=_METHOD,
        advice=advice,
        uncertainty=effect.expanded_in,
    )
