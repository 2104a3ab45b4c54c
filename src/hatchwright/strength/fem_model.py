"""From a layout to the model of the finite elements: bay, opening, doubler and every rivet, as drawn or as made."""

from __future__ import annotations

from typing import Literal

from hatchwright.errors import SolveError
from hatchwright.fem.model import Fastener, OpeningModel, Sheet, wide_panel
from hatchwright.layout.layout import Hole
from hatchwright.layout.oversize import is_oversize
from hatchwright.shapes.outlines import rounded_rectangle
from hatchwright.shapes.profile import Loop
from hatchwright.strength.checks.rivets import RIVET_MODULUS_PSI
from hatchwright.strength.cover_plate import SCREW_MODULUS_PSI
from hatchwright.strength.site import SheetPart, Site, finished_hole_in


def fem_model(site: Site) -> OpeningModel:
    """Model the reinforced opening; its cover lies idle in the model where the job lets it carry, and is left out
    where not.

    Returns:
        OpeningModel: in a panel of the size of the bay, or in a wide panel when the bay is not known.
    Raises:
        SolveError: the doubler is split, of which there is no model.
    """
    rivets = [
        hole
        for hole in site.layout.holes_of("rivet")
        if {"skin", "doubler"} <= set(hole.stack) and hole.is_fitted and not is_oversize(hole, site.shop)
    ]
    opening = site.layout.opening
    skin = _sheet("skin", site.skin, outer=panel_edge(site), inner=opening)
    if site.doubler is None:
        return OpeningModel(skin)
    outer, inner = (*(edge.loop for edge in site.doubler.part.edges), None)[:2]
    if site.doubler.part.edges[-1].is_split:
        raise SolveError.saying("error.split_doubler", where="patch.split")
    assert outer is not None  # every part has an edge of its own
    screws = site.layout.holes_of("screw") if site.cover_may_carry else ()
    return OpeningModel(
        skin,
        doublers=(_sheet("doubler", site.doubler, outer=outer, inner=inner),),
        fasteners=(
            *(
                _fastener("rivet", hole, finished_hole_in(site, hole), RIVET_MODULUS_PSI, ("skin", "doubler"))
                for hole in rivets
            ),
            # a screw lies between the cover and the sheet that it lies on
            *(
                _fastener("bolt", hole, hole.diameter_in, SCREW_MODULUS_PSI, (hole.stack[1], hole.stack[0]))
                for hole in screws
            ),
        ),
        cover=_sheet("cover", site.cover, outer=site.cover.part.edges[0].loop, inner=None)
        if site.cover and screws
        else None,
    )


def panel_edge(site: Site) -> Loop:
    """Edge of the panel that is analyzed: the bay from row to row, or a circle too wide to matter [in]."""
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


def _sheet(name: str, sheet: SheetPart, *, outer: Loop, inner: Loop | None) -> Sheet:
    return Sheet(
        name=name,
        outer=outer,
        inner=inner,
        thickness_in=sheet.thickness_in,
        modulus_psi=sheet.allowed.e_psi,
        poisson_ratio=sheet.allowed.poisson_ratio,
        compression_modulus_psi=sheet.allowed.ec_psi,
    )


def _fastener(
    kind: Literal["rivet", "bolt"], hole: Hole, diameter_in: float, modulus_psi: float, joins: tuple[str, str]
) -> Fastener:
    name = f"{hole.kind} {hole.number}"
    return Fastener(name, hole.x_in, hole.y_in, diameter_in, modulus_psi, joins, kind)
