"""The blanks that the sheet parts of a job are cut from: material, gauge, size with its cutting allowance, grain."""

from __future__ import annotations

from collections.abc import Iterator
from contextlib import suppress

from msgspec import Struct

from hatchwright.drawings.parts_table import sheet_of, sheet_said
from hatchwright.errors import GeometryError
from hatchwright.job.fasteners import Strap
from hatchwright.job.mount import Bracket
from hatchwright.layout.bracket import bracket_flat
from hatchwright.layout.flat_pattern import flat_doubler
from hatchwright.layout.layout import Layout, Part
from hatchwright.making.making import Making
from hatchwright.making.template.flat_size import template_outline
from hatchwright.said import Said, inch, said

Size = tuple[float | None, float | None]
"""Along X and Y of the job, None where nobody enters it [in]."""


class BlankLine(Struct, frozen=True):
    """The blank that one part is cut from.

    Args:
        part: its name.
        sheet: alloy, temper and gauge, or the material of a template.
        size_in: of the blank, cutting allowance on each side with it [in].
        grain: which way it runs.
    """

    part: Said
    sheet: Said
    thickness_in: float
    size_in: Size
    grain: Said


def blanks_list(layout: Layout, making: Making | None) -> tuple[BlankLine, ...]:
    """The blanks of one side of a job, and that of its template where it has one."""
    return tuple(_blanks(layout, making))


def _blanks(layout: Layout, making: Making | None) -> Iterator[BlankLine]:
    grain, cover, mount = _grain(layout), layout.job.cover, layout.job.mount
    for part in layout.parts:
        if part.name != "skin":
            size = _larger(_flat_size(part, layout), layout)
            yield BlankLine(said(f"part.{part.name}"), sheet_said(part), part.thickness_in, size, grain)
    if cover and cover.screws and cover.screws.strap:
        yield _strap(cover.screws.strap, layout)
    if mount and mount.bracket:
        yield _bracket(mount.bracket, layout)
    if making is not None:
        thickness_in = making.template.thickness.inch
        material = making.template.material or said("lists.not_known")
        sheet = said("lists.template.sheet", material=material, thickness=inch(thickness_in))
        size = _larger(template_outline(making), layout)
        yield BlankLine(said("lists.template"), sheet, thickness_in, size, said("lists.grain.none"))


def _larger(size_in: Size, layout: Layout) -> Size:
    """A size with the allowance on each side."""
    more_in = 2.0 * layout.limit("blank_allowance").value
    x_in, y_in = (None if one is None else one + more_in for one in size_in)
    return x_in, y_in


def _flat_size(part: Part, layout: Layout) -> Size:
    """Over all along X and Y, flat: a doubler for a curved skin before it is rolled [in]."""
    loop = part.edges[0].loop
    with suppress(GeometryError):  # T701 says why there is no flat pattern
        if part.name == "doubler" and (flat := flat_doubler(layout)):
            loop = flat.edges[0]
    x_min, y_min, x_max, y_max = loop.bounds
    return x_max - x_min, y_max - y_min


def _grain(layout: Layout) -> Said:
    """Along the curve of a skin, so that the part is rolled across it; on a flat skin the weaker direction of the sheet
    is what counts, so that any will do."""
    curvature = layout.job.skin.curvature
    if curvature is None:
        return said("lists.grain.any")
    return said("lists.grain.along", axis=curvature.along.upper())


def _strap(strap: Strap, layout: Layout) -> BlankLine:
    """The strap under the nutplates, whose length nobody enters: it takes them all."""
    thickness_in, wide_in = strap.thickness.inch, strap.width.inch if strap.width else None
    sheet = sheet_of(strap.alloy, strap.temper, thickness_in, clad=strap.clad)
    size = _larger((None, wide_in), layout)
    return BlankLine(said("part.strap"), sheet, thickness_in, size, said("lists.grain.any"))


def _bracket(bracket: Bracket, layout: Layout) -> BlankLine:
    """The bracket of the mount, developed by the longest of the documents; its width nobody enters."""
    thickness_in = bracket.thickness.inch
    sheet = sheet_of(bracket.alloy, bracket.temper, thickness_in, clad=bracket.clad)
    size = _larger((max(bracket_flat(bracket, layout.shop).developed_in), None), layout)
    return BlankLine(said("lists.bracket"), sheet, thickness_in, size, said("lists.grain.across_bend"))
