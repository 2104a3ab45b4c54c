"""A set of readings in words, for the command and the page alike."""

from __future__ import annotations

import math
from collections import Counter

from hatchwright.inspection.best_fit import BestFit, HoleFit
from hatchwright.inspection.named import degrees_said
from hatchwright.said import Said, inch, missing, said
from hatchwright.units import Unit
from hatchwright.words.tell import tell
from hatchwright.workflow.measure import Measured

HEADS = ("hole", "row", "off", "template", "drilling", "u")
"""Columns of the table of holes; `measure.head.<name>` of the catalog is the heading of each."""


def others_said(found: Measured) -> tuple[Said, ...]:
    """How many readings of each kind there are besides the places of holes."""
    counted = Counter(one.kind for one in found.others)
    return tuple(said(f"measure.read.{kind}", n=n) for kind, n in counted.items())


def fit_said(fit: BestFit) -> Said:
    """The fit of the whole pattern, in one or two sentences."""
    x, y = fit.fit.shift_effects
    turn = fit.fit.turn_effect
    return said(
        "measure.fit",
        matched=len(fit.holes),
        holes=len(fit.pattern.numbers),
        readings=len(fit.readings),
        x=inch(x.size_in),
        y=inch(y.size_in),
        u=missing(max(x.expanded_in, y.expanded_in)),
        turn=degrees_said(turn.size_in),
        turn_u=degrees_said(turn.expanded_in),
        scatter=inch(math.sqrt(fit.fit.mean_square_in2 / 2.0)),
    )


def hole_cells(one: HoleFit, unit: Unit) -> tuple[str, ...]:
    """One hole in the columns of `HEADS`, lengths without their unit."""
    vectors = one.off_in, one.template_in, one.drilling_in
    pairs = (tell(said("measure.pair", x=inch(x), y=inch(y)), unit, how="b") for x, y in vectors)
    u = tell(missing(one.drilling_u_in), unit, how="b")
    mark = tell(said("measure.off_by_itself", u=u)) if one.is_apart else u
    return str(one.number), str(one.reading.row), *pairs, mark
