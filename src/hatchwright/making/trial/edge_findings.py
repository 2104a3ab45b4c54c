"""T205, T206, T210 and T211: where the edges and corners of a trial cut lie, from the datum cross and the diagonals."""

from __future__ import annotations

import math
from collections.abc import Iterator

from hatchwright.finding import Finding
from hatchwright.judged import FLOAT_NOISE, Status
from hatchwright.making.answer import answer
from hatchwright.making.cutter.misplacement import misplaced
from hatchwright.making.template.guide_template import GuideChain
from hatchwright.making.trial.corner import TrialCorner
from hatchwright.making.trial.trial import Trial
from hatchwright.metrology.edge_fit import EdgeFit, SideTurn
from hatchwright.metrology.real_offset import GUM, Effect
from hatchwright.units import Unit, length_words
from hatchwright.workings import Grade, Quantity, Source, Working

_METHOD = Source(GUM, "5.1.2 and G.2b; docs/theory/trial.md")
_SIDES = {(1, 0): "right", (0, 1): "top", (-1, 0): "left", (0, -1): "bottom"}


def edge_findings(trial: Trial, template: GuideChain | None) -> Iterator[Finding]:
    """Judge the edges and the corners of a trial cut.

    Args:
        template: of the job, on which the shift and the turn of the trial are tried out, None without one.
    Yields:
        Finding: what was measured, nothing of what was not but the corners of a piece cut for them.
    """
    yield from _edges(trial, template)
    yield from _turn(trial, template)
    yield from _corner(trial)


def _edges(trial: Trial, template: GuideChain | None) -> Iterator[Finding]:
    """T205: the template lies true on the datum cross. T206: the cut is concentric with its guide."""
    fit = trial.edges
    if fit is None:
        return
    if fit.eccentricity is None:
        yield _off_center(
            "T205",
            "shift of the template and eccentricity of the cut together",
            fit.shift,
            "Align the template's marks again. A second trial with the template turned half round tells a shift of "
            f"the template from an eccentric cut; one trial cannot.{_on_the_job(trial, fit, template)}",
            trial.unit,
        )
        return
    yield _off_center(
        "T205",
        "shift of the template",
        fit.shift,
        f"Align the template's marks again, or make them anew.{_on_the_job(trial, fit, template)}",
        trial.unit,
    )
    yield _off_center(
        "T206",
        "eccentricity of the cut",
        fit.eccentricity,
        "Keep the tool's heading to the room and shift the template by as much the other way.",
        trial.unit,
    )


def _on_the_job(trial: Trial, fit: EdgeFit, template: GuideChain | None) -> str:
    """What the same shift and turn would do to the opening."""
    if template is None:
        return ""
    x_min, y_min, x_max, y_max = template.wanted.bounds
    turn = fit.turn_rad if fit.turn_rad and not fit.sides_disagree else None
    off = misplaced(
        template.predicted,
        template.wanted,
        shift_in=(fit.shift[0].size_in, fit.shift[1].size_in),
        turn_deg=math.degrees(turn.size_in) if turn else 0.0,
        pivot=((x_min + x_max) / 2.0, (y_min + y_max) / 2.0),
    )
    return (
        f" On the job it would cut {length_words(off.over_cut.depth_in, trial.unit)} beyond the rough line."
    )


def _turn(trial: Trial, template: GuideChain | None) -> Iterator[Finding]:
    """T210: the template was not turned against the datum cross."""
    fit = trial.edges
    if fit is None or fit.turn_rad is None:
        return
    turn_deg = math.degrees(fit.turn_rad.size_in)
    within_deg = math.degrees(fit.turn_rad.expanded_in)
    if fit.sides_disagree:
        status, subject = Status.UNKNOWN, f"turn of the template: the sides disagree ({_side_words(fit)})"
        advice = _disagreement(fit)
    else:
        status = Status.CAUTION if fit.turn_rad.shows else Status.PASS
        subject = f"turn of the template: {_turned(turn_deg)} deg, +- {within_deg:.2f} deg"
        advice = (
            "Scribe the cross square, align both lines of the template's marks with it, pin, and try again. It is "
            f"taken out of shift and eccentricity.{_turn_on_the_job(trial, fit.turn_rad, template)}"
        )
    yield answer(
        "T210",
        status,
        subject,
        value=turn_deg,
        limit=0.0,
        unit="deg",
        source=_METHOD,
        advice=advice,
        uncertainty=within_deg,
    )


def _turned(turn_deg: float) -> str:
    way = "to the left" if turn_deg > 0.0 else "to the right"
    figures = f"{abs(turn_deg):.2f}"
    return figures if float(figures) == 0.0 else f"{figures} {way}"


def _turn_on_the_job(trial: Trial, turn: Effect, template: GuideChain | None) -> str:
    """How far the same turn moves the point of the job's rough line that is farthest from its middle."""
    if template is None:
        return ""
    x_min, y_min, x_max, y_max = template.wanted.bounds
    moved_in = abs(turn.size_in) * math.hypot(x_max - x_min, y_max - y_min) / 2.0
    return f" On the job it would move a corner of the opening by up to {length_words(moved_in, trial.unit)}."


def _side_words(fit: EdgeFit) -> str:
    return ", ".join(f"{_side(side)} {math.degrees(side.turn_rad):+.2f} deg" for side in fit.sides)


def _side(side: SideTurn) -> str:
    return _SIDES[(round(side.normal[0]), round(side.normal[1]))]


def _disagreement(fit: EdgeFit) -> str:
    left = [side for side in fit.sides if side.turn_rad > 0.0]
    right = [side for side in fit.sides if side.turn_rad < 0.0]
    fewer = min(left, right, key=len)
    sizes = [abs(side.turn_rad) for side in fit.sides]
    middle = sum(sizes) / len(sizes)
    told = max(side.against_all.expanded_in for side in fit.sides)
    advice = "The four sides of one cut are square to each other, so these readings contradict each other. "
    if fewer and max(abs(size - middle) for size in sizes) <= told:
        names = " and ".join(_side(side) for side in fewer)
        others = ", or those of the other two," if len(left) == len(right) else ""
        advice += (
            f"A turn of {math.degrees(middle):.2f} deg reads like this when the places on the {names} side"
            f"{'s' if len(fewer) > 1 else ''}{others} are written in the opposite order: the numbers run "
            "counter-clockwise round the cut. "
        )
    return (
        advice
        + "Compare each place with the sheet and measure again. If it stays, the cut itself is not square: "
        "measure its diagonals and look at the template."
    )


def _corner(trial: Trial) -> Iterator[Finding]:
    """T211: the corners have the radius that the cutter was to leave, and metal is left in them."""
    if trial.corner is None:
        if trial.piece.kind == "corner":
            yield answer(
                "T211",
                Status.UNKNOWN,
                "radius of the corners",
                limit=trial.piece.corner_in,
                source=_METHOD,
                advice="This piece was cut for its corners, and they were not measured. Measure both diagonals from "
                "corner to corner, as far apart as the inside jaws go, and the widths along X and Y; write them in "
                "diagonals, x and y.",
            )
        return
    corner, unit = trial.corner, trial.unit
    yield answer(
        "T211",
        Status.STOP
        if corner.left_in < -FLOAT_NOISE
        else Status.CAUTION
        if corner.beyond.shows
        else Status.PASS,
        f"radius of the corners from {corner.count} diagonal{'s' if corner.count > 1 else ''}",
        value=corner.radius_in,
        limit=corner.predicted_in,
        source=_METHOD,
        advice=_corner_advice(corner, unit),
        working=(
            Working(
                "R = (sqrt 2 width - diagonal) / (2 (sqrt 2 - 1))",
                (Quantity("R predicted", corner.predicted_in, "in"),),
                Quantity("R", corner.radius_in, "in"),
                _METHOD,
                Grade.COMPUTED,
            ),
        ),
        uncertainty=corner.beyond.expanded_in,
    )


def _corner_advice(corner: TrialCorner, unit: Unit) -> str:
    sizes = (
        f"R {length_words(corner.radius_in, unit)} +- {length_words(corner.beyond.expanded_in, unit)} instead of "
        f"{length_words(corner.predicted_in, unit)}. "
    )
    if corner.left_in < -FLOAT_NOISE:
        return sizes + (
            f"The cut reaches {length_words(-corner.left_in, unit)} beyond the finished corner, which cannot be filed "
            "back. Measure again; if it is so, look at guide and template corner, and prove another trial piece."
        )
    way = "rounder" if corner.beyond.size_in > 0.0 else "sharper"
    return sizes + (
        f"The corners come out {way} than the template was made for; {length_words(corner.left_in, unit)} is left to "
        "file along the diagonal. Look at the corner of the template and whether the guide touched it all the way."
    )


def _off_center(code: str, subject: str, along: tuple[Effect, Effect], advice: str, unit: Unit) -> Finding:
    x, y = along
    shows = x.shows or y.shows
    return answer(
        code,
        Status.CAUTION if shows else Status.PASS,
        f"{subject}: X {length_words(x.size_in, unit, fine=True)}, Y {length_words(y.size_in, unit, fine=True)}",
        value=math.hypot(x.size_in, y.size_in),
        limit=0.0,
        source=_METHOD,
        advice=advice,
        uncertainty=max(x.expanded_in, y.expanded_in),
    )
