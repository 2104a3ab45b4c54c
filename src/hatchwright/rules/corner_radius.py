"""R301, R302: corner radii of the opening, the doubler, the cover and the plug."""

from __future__ import annotations

from collections.abc import Iterator

from msgspec.structs import replace

from hatchwright.finding import Finding
from hatchwright.judged import Judgement, Measure, Status, bound, judge
from hatchwright.layout.layout import Edge
from hatchwright.layout.survey import Survey
from hatchwright.register import Shelf
from hatchwright.remedy import ASK, Change
from hatchwright.rules.answer import held
from hatchwright.rules.rule import judged_by, mended_by, rule
from hatchwright.rules.wording import edge_named
from hatchwright.said import Said, said
from hatchwright.tables.cited import Cited


@rule("R301", Shelf.HOLDS, reads=("parts",))
@judged_by(limits=("corner_radius_chem_milled_repair", "corner_radius_min_handbook"))
@mended_by(Change.CORNER_RADIUS)
def opening_corner(survey: Survey) -> Iterator[Finding]:
    """R301: corner radius of the opening."""
    skin = survey.layout.part("skin")
    assert skin is not None  # every layout has a skin
    least = survey.limit("corner_radius_chem_milled_repair")
    yield from _corner(skin.edges[0], least, survey.limit("corner_radius_min_handbook"))


@rule("R302", Shelf.HOLDS, reads=("opening", "parts"))
@judged_by(limits=("corner_radius_patch_min",))
@mended_by(Change.CORNER_RADIUS)
def part_corner(survey: Survey) -> Iterator[Finding]:
    """R302: corner radius of doubler, cover and plug."""
    for part in survey.layout.parts:
        for edge in part.edges:
            if part.name != "skin" and edge.loop != survey.layout.opening:
                yield from _corner(edge, survey.limit("corner_radius_patch_min"), None)


def _corner(edge: Edge, least: Cited, aim: Cited | None) -> Iterator[Finding]:
    """Judge the sharpest corner of an edge; one without corners has nothing to be judged."""
    corner = edge.least_sure_corner
    if corner is None:
        return
    radius = Measure("R", corner.radius_in, edge.corner_u_in(corner))
    judged = Judgement(radius, (bound(least),))
    advice: tuple[Said, ...] = (said("corner.tight"), ASK)
    if judged.status is Status.PASS and aim and judge(corner.radius_in, aim.value):
        aimed_at = Judgement(Measure("R", corner.radius_in), (bound(aim),), fails_as=Status.CAUTION)
        judged = replace(aimed_at, more=judged.working)
        advice = (said("corner.over_the_least"),)
    yield held(
        judged, said("corner.smallest", edge=edge_named(edge)), *advice, place=corner.place, cause=edge.name
    )
