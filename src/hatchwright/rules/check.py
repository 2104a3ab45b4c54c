"""Judge a layout by every rule."""

from __future__ import annotations

from hatchwright.finding import Finding
from hatchwright.layout.layout import Layout
from hatchwright.layout.survey import survey
from hatchwright.rules import (  # noqa: F401  each module enters its rules
    clearance,
    corner_radius,
    cover,
    edge_distance,
    edge_reserve,
    flush_heads,
    hole_size,
    material,
    passage,
    protection,
    right_bay,
    rivet_length,
    rivets_per_inch,
    row_pattern,
    scope,
    sheet_and_rivet,
    spacing,
    spoilt_holes,
)
from hatchwright.rules.rule import all_rules


def check(layout: Layout) -> tuple[Finding, ...]:
    """Judge a layout by every rule.

    Args:
        layout: as derived.
    Returns:
        tuple: findings in the order of their code.
    """
    measured = survey(layout)
    return tuple(finding for rule in all_rules() for finding in rule.check(measured))
