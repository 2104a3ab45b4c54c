"""What a machine countersink for a flush rivet is held to: thickness, a dimple in it, and the metal that it leaves."""

from __future__ import annotations

from collections.abc import Callable
from contextlib import suppress

from msgspec.structs import replace

from hatchwright.errors import TableError
from hatchwright.judged import Bound, Chosen, Judgement, Measure, Status, bound, lengths
from hatchwright.tables.cited import Cited
from hatchwright.tables.countersink import countersink_thresholds
from hatchwright.tables.rivet_part import RivetPart
from hatchwright.tables.rivets import HeadSize, head_size
from hatchwright.tables.table import ShopTables
from hatchwright.workings import Grade, Quantity, Working


def rivet_countersink(
    rivet: RivetPart, thickness_in: float, *, shop: ShopTables | None, chosen: Chosen | None = None
) -> Judgement:
    """A sheet that is machine countersunk for a flush rivet, held to every document's thinnest sheet.

    These are for full heads: in a thinner sheet a reduced head that a document or the shop tells is held to its own
    depth.

    Raises:
        TableError: none is listed for the rivet.
    """
    measure = Measure("t", thickness_in, with_=lengths(D=rivet.diameter_in))
    judged = Judgement(measure, _thresholds(rivet.diameter_in, shop), chosen=chosen)
    head = _reduced(rivet, shop)
    if head is None or judged.status is Status.PASS:
        return judged
    deep = Bound(head.height_in, head.source, head.grade, "depth of the head")
    return Judgement(Measure("t", thickness_in), (deep,), strict=True)


def _reduced(rivet: RivetPart, shop: ShopTables | None) -> HeadSize | None:
    """A reduced head whose size is more than remembered; None of any other."""
    with suppress(TableError):
        head = head_size(rivet, shop) if rivet.head.is_reduced else None
        return head if head and head.grade.may_stop else None
    return None


def _thresholds(diameter_in: float, shop: ShopTables | None) -> tuple[Bound, ...]:
    """Every document's thinnest sheet for the rivet; one that is less than the head is deep is left out."""
    return tuple(
        Bound(one.thickness.value, one.thickness.source, one.thickness.grade, reading=one.document)
        for one in countersink_thresholds(diameter_in, shop)
        if "not to be used" not in one.thickness.note
    )


def under_dimple_held(
    head: HeadSize, thickness_in: float, *, top_in: float, limit: Callable[[str], Cited]
) -> Judgement:
    """Hold a sheet that is countersunk under a dimple to the depth of head and dimple; what is thinner than a head
    whose height is from memory cautions.

    Args:
        top_in: thickness of the dimpled sheet [in].
        limit: one limit of the tables by its name.
    """
    extra = limit("dimple_then_csk_extra_depth")
    needed = Bound(
        head.height_in + extra.value * top_in, extra.source, extra.grade, f"head + {extra.value:g} t top"
    )
    depth = Working.resting_on(head, "head", Quantity("head", head.height_in, "in"))
    measure = Measure("t", thickness_in, with_=lengths(head=head.height_in, t_top=top_in))
    judged = Judgement(measure, (needed,), fails_as=Status.UNKNOWN, more=(depth,))
    if judged.status is Status.PASS:
        return judged
    return replace(judged, bounds=(replace(needed, source=head.source, grade=head.grade),))


def metal_left(
    head: HeadSize, depth_in: float, thickness_in: float, limit: Callable[[str], Cited]
) -> tuple[Judgement, bool]:
    """What a machine countersink leaves of a sheet: the land under the head, or the share of the sheet that it takes,
    whichever is worse, and whether it is the land; a head whose height is from memory cautions only.

    Args:
        depth_in: of the countersink, that of the head and more under a dimple [in].
        limit: one limit of the tables by its name.
    """
    least, share = limit("machine_countersink_land_min"), limit("machine_countersink_depth_max")
    sizes = lengths(t=thickness_in, depth=depth_in)
    land = Judgement(
        Measure("land", thickness_in - depth_in, with_=sizes),
        (Bound(least.value, least.source, _graded(least, head)),),
    )
    deep = Judgement(
        Measure("depth", depth_in, with_=sizes),
        (replace(bound(share, thickness_in, "t"), grade=_graded(share, head)),),
        at_least=False,
    )
    is_land = (land.status.rank, land.shortfall > 0.0) >= (deep.status.rank, deep.shortfall > 0.0)
    judged, other = (land, deep) if is_land else (deep, land)
    return replace(judged, beside=(other,)), is_land


def _graded(limit: Cited, head: HeadSize) -> Grade:
    """A head whose height is from memory takes the limit down with it."""
    return limit.grade if head.grade.may_stop else head.grade
