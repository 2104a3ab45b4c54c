"""R3xx: corner radii of the opening, the doubler and the cover."""

from __future__ import annotations

from collections.abc import Iterator

from hatchwright.finding import Finding, Quantity, Status, Working, judge_at_least
from hatchwright.layout.layout import Edge
from hatchwright.layout.survey import Survey
from hatchwright.rules.rule import rule
from hatchwright.rules.wording import shortfall_text, verdict_text
from hatchwright.shapes.corners import smallest_corner
from hatchwright.tables.cited import Cited
from hatchwright.tables.limits import limit


@rule(
    "R301", "Corner radius of the opening", "corner_radius_chem_milled_repair", "corner_radius_min_handbook"
)
def opening_corner(survey: Survey) -> Iterator[Finding]:
    """No corner of the opening is sharper than a quarter inch; a half inch, from memory, is the aim, and larger is
    always better, since cracks start at the corners."""
    skin = survey.layout.part("skin")
    assert skin is not None  # every layout has a skin
    least, aim = limit("corner_radius_chem_milled_repair"), limit("corner_radius_min_handbook")
    yield _corner("R301", skin.edges[0], least, aim)


@rule("R302", "Corner radius of doubler and cover", "corner_radius_patch_min")
def part_corner(survey: Survey) -> Iterator[Finding]:
    """No corner of the doubler or the cover is sharper than a quarter inch."""
    for part in survey.layout.parts:
        if part.name != "skin":
            for edge in part.edges:
                yield _corner("R302", edge, limit("corner_radius_patch_min"), None)


def _corner(code: str, edge: Edge, least: Cited, aim: Cited | None) -> Finding:
    corner = smallest_corner(edge.loop)
    radius_in, place = (corner.radius_in, corner.place) if corner else (float("inf"), None)
    status = judge_at_least(radius_in, least.value, uncertainty=edge.uncertainty_in)
    working = [
        Working(
            f"R >= {least.value:g} in",
            (Quantity("R", radius_in, "in"),),
            Quantity("R", radius_in, "in"),
            least.source,
            least.grade,
        )
    ]
    advice = ""
    if status is not Status.PASS:
        said = shortfall_text(least.value - radius_in) + verdict_text(status, edge.uncertainty_in)
        advice = f"{said} Enlarge the corner radius, or ask for an engineering disposition."
    elif aim:
        working.append(
            Working(
                f"aim R >= {aim.value:g} in",
                (Quantity("R", radius_in, "in"),),
                Quantity("R", radius_in, "in"),
                aim.source,
                aim.grade,
            )
        )
        if radius_in < aim.value:
            status = Status.CAUTION
            advice = f"Below the {aim.value:g} in that is aimed at ({aim.grade}); a larger radius is better."
    return Finding(
        code=code,
        status=status,
        subject=f"smallest corner of the {edge.name}",
        value=radius_in,
        limit=least.value,
        unit="in",
        source=least.source,
        grade=least.grade,
        working=tuple(working),
        advice=advice,
        place=place,
        shortfall=max(0.0, least.value - radius_in),
        uncertainty=edge.uncertainty_in,
    )
