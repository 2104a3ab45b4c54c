"""From a layout to the model of the finite elements: bay, opening, doubler and every rivet, as drawn or as made."""

from __future__ import annotations

from collections.abc import Collection

from hatchwright.errors import SolveError
from hatchwright.fem.model import Fastener, OpeningModel, Sheet, wide_panel
from hatchwright.layout.layout import Hole
from hatchwright.shapes.outlines import rounded_rectangle
from hatchwright.shapes.profile import Loop
from hatchwright.strength.checks.rivets import RIVET_MODULUS_PSI
from hatchwright.strength.cover_plate import SCREW_MODULUS_PSI
from hatchwright.strength.site import SheetPart, Site, finished_hole_in


def fem_model(site: Site, *, missing: Collection[int] = ()) -> OpeningModel:
    """Model the reinforced opening; its cover lies idle in the model where the job lets it carry, and is left out
    where not.

    Args:
        missing: numbers of rivets that are left out.
    Returns:
        OpeningModel: in a panel of the size of the bay, or in a wide panel when the bay is not known.
    Raises:
        SolveError: a missing rivet is not in the layout.
    """
    rivets = [hole for hole in site.layout.holes_of("rivet") if "doubler" in hole.stack]
    strange = sorted(set(missing) - {hole.number for hole in rivets})
    if strange:
        raise SolveError.saying("strength.no_such_rivet", where="missing", rivet=strange[0])
    opening = site.layout.opening
    skin = _sheet("skin", site.skin, outer=panel_edge(site), inner=opening)
    if site.doubler is None:
        return OpeningModel(skin)
    outer, inner = (edge.loop for edge in site.doubler.part.edges)
    screws = site.layout.holes_of("screw") if site.cover_may_carry else ()
    return OpeningModel(
        skin,
        doublers=(_sheet("doubler", site.doubler, outer=outer, inner=inner),),
        fasteners=(
            *(_rivet(site, hole) for hole in rivets if hole.number not in missing),
            *map(_screw, screws),
        ),
        cover=_cover(site.cover) if site.cover and screws else None,
    )


def panel_edge(site: Site) -> Loop:
    """Edge of the panel that is analyzed.

    Returns:
        Loop: the bay from row to row, or a circle so wide that it no longer matters [in].
    """
    if site.cells is None:
        return wide_panel(site.layout.opening)
    x_min, y_min, x_max, y_max = site.layout.opening.bounds
    left, right = x_min - site.cells.columns_in[0], x_max + site.cells.columns_in[2]
    low, high = y_min - site.cells.rows_in[0], y_max + site.cells.rows_in[2]
    return rounded_rectangle(
        width_in=right - left,
        height_in=high - low,
        radius_in=0.0,
        center=((left + right) / 2, (low + high) / 2),
    )


def _cover(cover: SheetPart) -> Sheet:
    return _sheet("cover", cover, outer=cover.part.edges[0].loop, inner=None)


def _sheet(name: str, sheet: SheetPart, *, outer: Loop, inner: Loop | None) -> Sheet:
    return Sheet(
        name=name,
        outer=outer,
        inner=inner,
        thickness_in=sheet.thickness_in,
        modulus_psi=sheet.allowed.e_psi,
        poisson_ratio=sheet.allowed.poisson_ratio,
    )


def _rivet(site: Site, hole: Hole) -> Fastener:
    return Fastener(
        name=f"rivet {hole.number}",
        x_in=hole.x_in,
        y_in=hole.y_in,
        diameter_in=finished_hole_in(site, hole),
        modulus_psi=RIVET_MODULUS_PSI,
        joins=("skin", "doubler"),
    )


def _screw(hole: Hole) -> Fastener:
    """Between the cover and the sheet that it lies on."""
    return Fastener(
        name=f"screw {hole.number}",
        x_in=hole.x_in,
        y_in=hole.y_in,
        diameter_in=hole.diameter_in,
        modulus_psi=SCREW_MODULUS_PSI,
        joins=(hole.stack[1], hole.stack[0]),
        kind="bolt",
    )
