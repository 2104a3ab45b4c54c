"""Refuse a model that cannot be analyzed, saying where and what to change; size the fasteners' discs."""

from __future__ import annotations

import math

import numpy as np

from hatchwright.errors import GeometryError, SolveError
from hatchwright.fem.curve import Array, Curve
from hatchwright.fem.model import Fastener, OpeningModel, Sheet
from hatchwright.room import room_mb
from hatchwright.said import Amount, Listed, Place, Said, said
from hatchwright.shapes.distance import distances, pairs_within
from hatchwright.shapes.profile import Loop, Profile, profile_of

PATCH_RATIO = 2.5
"""Diameter of the disc over that of the fastener [-]; studied in docs/theory/fem.md, section 4."""

MOST_FASTENERS = 1200
"""With more of them the elements would take more than 2 GB; 972 rivets took .6 GB, and .8 GB on two grids."""

_ALWAYS_MB, _A_FASTENER_MB = 80.0, 0.75
"""What an analysis takes for itself, and for each fastener that takes part [MB]: a quarter more than 66 to 855 rivets
took on two grids, .6 MB each (benchmarks/bench_strength.py)."""

_SAME_IN = 1e-6


def refuse_unsound(model: OpeningModel) -> None:
    """Refuse bad input.

    Raises:
        SolveError: naming the sheet or fastener, what is wrong and what would do.
    """
    names = [sheet.name for sheet in (model.skin, *model.doublers, *([model.cover] if model.cover else []))]
    for name in names:
        if names.count(name) > 1:
            raise SolveError.saying("error.sheet_twice", where=name)
    for sheet in model.sheets:
        _refuse_sheet(sheet)
    if len(model.working) > MOST_FASTENERS:
        raise SolveError.saying(
            "error.many_fasteners", where="rows", n=len(model.working), most=MOST_FASTENERS
        )
    needed, left = needed_mb(len(model.working)), room_mb()
    if left is not None and needed > left:
        raise SolveError.saying(
            "error.no_room", where="rows", n=len(model.working), needed=round(needed), left=round(left)
        )
    if model.skin.inner is None:
        raise SolveError.saying("error.no_opening", where=f"{model.skin.name}.inner")
    _refuse_sharp(model.skin, model.skin.inner)
    for sheet in model.sheets[1:]:
        if not surrounds(model.skin.outer, sheet.outer):
            raise SolveError.saying("error.reaches_beyond", where=sheet.name, sheet=model.skin.name)
    for fastener in model.fasteners:
        _refuse_fastener(fastener, names)
    _refuse_loose(model)


def needed_mb(fasteners: int) -> float:
    """Memory that an analysis of so many fasteners takes at most, beyond what the process has already [MB]."""
    return _ALWAYS_MB + _A_FASTENER_MB * fasteners


def profile(sheet: Sheet) -> Profile:
    """The metal of a sheet, within its outer edge and round its opening.

    Raises:
        SolveError: the edges cross, or the opening does not lie inside the sheet.
    """
    try:
        region = profile_of(*(loop for loop in (sheet.outer, sheet.inner) if loop is not None))
    except GeometryError as error:
        raise SolveError.saying("error.edges_bad", where=sheet.name, why=error.what) from error
    if sheet.inner is not None and not surrounds(sheet.outer, sheet.inner):
        raise SolveError.saying("error.opening_outside", where=f"{sheet.name}.inner")
    return region


def surrounds(outer: Loop, inner: Loop) -> bool:
    """Whether the first edge lies wholly round the second."""
    anticlockwise = outer if outer.area_sq_in > 0 else outer.reversed()
    return bool(Profile((anticlockwise,)).contains(inner.points(1e-3 * inner.length_in)).all())


def patch_radii(model: OpeningModel) -> tuple[Array, tuple[Said, ...]]:
    """Radius of the disc of each fastener of a model that has passed `refuse_unsound`.

    Returns:
        tuple: radii, shape (m,) [in]; a caution for each disc made smaller than 2.5 diameters.
    Raises:
        SolveError: a fastener lies outside a sheet, or too near its edge or another fastener for any disc.
    """
    diameter = np.array([f.diameter_in for f in model.fasteners])
    radius = PATCH_RATIO * diameter / 2
    for sheet in model.sheets:
        own = model.holds(sheet)
        if not len(own):
            continue
        room = distances(profile(sheet), model.centers[own]).inward_in
        for number, gap in zip(own, room, strict=True):
            if gap < diameter[number] / 2:
                off = said("error.hole_outside" if gap < 0 else "error.hole_across", sheet=sheet.name)
                raise SolveError(off, where=model.fasteners[number].name, remedy=said("error.hole_off.do"))
        radius[own] = np.minimum(radius[own], room)
    working = model.working
    if len(working) > 1:
        first, second, apart = pairs_within(model.centers[working], float(2 * radius.max()))
        for i, j, gap in zip(working[first], working[second], apart, strict=True):
            if gap < _SAME_IN and set(model.fasteners[i].joins) != set(model.fasteners[j].joins):
                continue
            if gap < (diameter[i] + diameter[j]) / 2:
                one, other = model.fasteners[i].name, model.fasteners[j].name
                raise SolveError.saying("error.overlaps", where=one, other=other)
            both = radius[i] + radius[j]
            if gap < both:
                radius[i], radius[j] = radius[i] * gap / both, radius[j] * gap / both
    cautions = tuple(
        said(
            "fem.small_patch",
            fastener=model.fasteners[k].name,
            held=Amount(float(2 * radius[k] / diameter[k]), "D", beside=PATCH_RATIO),
            usual=Amount(PATCH_RATIO, "D"),
        )
        for k in working
        if radius[k] < 0.999 * PATCH_RATIO * diameter[k] / 2
    )
    return radius, cautions


def _refuse_values(part: Sheet | Fastener, *fields: str) -> None:
    """Refuse a field that is no finite number above nought."""
    for field in fields:
        value = getattr(part, field)
        if not (math.isfinite(value) and value > 0):
            raise SolveError.saying("error.value", where=f"{part.name}.{field}", value=f"{value:g}")


def _refuse_sheet(sheet: Sheet) -> None:
    _refuse_values(sheet, "thickness_in", "modulus_psi")
    if not 0 <= sheet.poisson_ratio < 0.5:
        wrong = said("error.value", value=f"{sheet.poisson_ratio:g}")
        raise SolveError(wrong, where=f"{sheet.name}.poisson_ratio", remedy=said("error.poisson.do"))
    profile(sheet)


def _refuse_sharp(skin: Sheet, opening: Loop) -> None:
    curve = Curve.of(opening)
    if curve.sharp.any():
        x, y = curve.start[int(np.abs(curve.turn).argmax())].tolist()
        raise SolveError.saying("error.sharp", where=f"{skin.name}.inner", place=Place(x, y))


def _refuse_fastener(fastener: Fastener, names: list[str]) -> None:
    _refuse_values(fastener, "diameter_in", "modulus_psi")
    if not (math.isfinite(fastener.x_in) and math.isfinite(fastener.y_in)):
        raise SolveError.saying("error.no_place", where=fastener.name)
    given = fastener.flexibility_in_per_lbf
    if given is not None and not given >= 0:
        wrong, where = said("error.value", value=f"{given:g}"), f"{fastener.name}.flexibility_in_per_lbf"
        raise SolveError(wrong, where=where, remedy=said("error.flexibility.do"))
    for name in fastener.joins:
        if name not in names:
            known = said("error.name_one_of", names=Listed(tuple(names), ","))
            raise SolveError(said("error.sheet_none", name=name), where=fastener.name, remedy=known)
    if fastener.joins[0] == fastener.joins[1]:
        raise SolveError.saying("error.joins_itself", where=fastener.name)


def _refuse_loose(model: OpeningModel) -> None:
    """Every sheet must hang on the loaded one by fasteners at two places or more."""
    reached = {model.skin.name}
    links = [(set(model.fasteners[k].joins), k) for k in model.working]
    for _ in model.sheets:
        for sheet in model.sheets:
            ties = {
                (model.fasteners[k].x_in, model.fasteners[k].y_in)
                for joins, k in links
                if sheet.name in joins and joins - {sheet.name} <= reached
            }
            if len(ties) > 1:
                reached.add(sheet.name)
    for sheet in model.sheets:
        if sheet.name not in reached:
            raise SolveError.saying("error.tied", where=sheet.name, sheet=model.skin.name)
