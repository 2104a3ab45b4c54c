"""R301, R302: corner radii of the opening, the doubler and the cover."""

from __future__ import annotations

from collections.abc import Iterator

from hatchwright.finding import Finding
from hatchwright.judged import FLOAT_NOISE, Status, judge_at_least
from hatchwright.layout.layout import Edge
from hatchwright.layout.survey import Survey
from hatchwright.register import Shelf
from hatchwright.rules.answer import against
from hatchwright.rules.rule import rule
from hatchwright.rules.wording import inch, short_text
from hatchwright.tables.cited import Cited
from hatchwright.workings import Quantity, Working


@rule(
    "R301",
    Shelf.HOLDS,
    limits=("corner_radius_chem_milled_repair", "corner_radius_min_handbook"),
    reads=("parts",),
)
def opening_corner(survey: Survey) -> Iterator[Finding]:
    """R301: corner radius of the opening."""
    skin = survey.layout.part("skin")
    assert skin is not None  # every layout has a skin
    least = survey.limit("corner_radius_chem_milled_repair")
    yield from _corner("R301", skin.edges[0], least, survey.limit("corner_radius_min_handbook"))


@rule("R302", Shelf.HOLDS, limits=("corner_radius_patch_min",), reads=("opening", "parts"))
def part_corner(survey: Survey) -> Iterator[Finding]:
    """R302: corner radius of doubler and cover."""
    for part in survey.layout.parts:
        for edge in part.edges:
            if part.name != "skin" and edge.loop != survey.layout.opening:
                yield from _corner("R302", edge, survey.limit("corner_radius_patch_min"), None)


def _corner(code: str, edge: Edge, least: Cited, aim: Cited | None) -> Iterator[Finding]:
    """Judge the sharpest corner of an edge; one without corners has nothing to be judged."""
    corner = edge.corner
    if corner is None:
        return
    radius_in, u_in, bound = corner.radius_in, edge.uncertainty_in, least
    radius = Quantity("R", radius_in, "in")
    status, advice = judge_at_least(radius_in, least.value, uncertainty=u_in), ""
    if status is not Status.PASS:
        advice = (
            f"{short_text(least.value - radius_in, u_in)} Enlarge it, or ask for an engineering disposition."
        )
    elif aim and radius_in < aim.value - FLOAT_NOISE:
        bound, status = aim, Status.CAUTION
        advice = f"Over the least of {inch(least.value)} in, below the aim; a larger radius is better."
    yield against(
        code,
        status,
        f"smallest corner of the {edge.name}",
        value=radius_in,
        limit=bound.value,
        unit="in",
        cited=bound,
        formula=f"R >= {inch(bound.value)} in",
        values=(radius,),
        more=(Working(f"least R >= {inch(least.value)} in", (radius,), radius, least.source, least.grade),)
        if bound is aim
        else (),
        advice=advice,
        place=corner.place,
        shortfall=bound.value - radius_in,
        uncertainty=u_in,
    )
