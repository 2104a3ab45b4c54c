"""How wide a countersink must be, the same on card and trial sheet: wider where a dimple lies in it."""

from __future__ import annotations

from collections.abc import Sequence

from msgspec import Struct

from hatchwright.errors import TableError
from hatchwright.recipe.sheet_work import LayerWork
from hatchwright.tables.countersink import countersink_diameter, under_dimple
from hatchwright.tables.rivet_part import RivetPart
from hatchwright.tables.table import ShopTables
from hatchwright.workings import Rests


class Across(Struct, frozen=True):
    """Least and greatest diameter of a countersink [in], and where that stands."""

    least_in: float
    greatest_in: float
    rests_on: tuple[Rests, ...]


def countersunk_across(
    rivet: RivetPart, layer: LayerWork, layers: Sequence[LayerWork], shop: ShopTables | None
) -> Across | None:
    """How wide a sheet is countersunk for a rivet.

    Args:
        layers: of its stack, from outside: a dimpled sheet over this one lies in its countersink.
    Returns:
        Across: None where no table lists the rivet.
    """
    try:
        found = countersink_diameter(rivet, shop)
    except TableError:
        return None
    above = [one for one in layers[: layers.index(layer)] if one.preparation == "dimple"]
    if not above:
        return Across(found.least_in, found.greatest_in, (found,))
    _, wider = under_dimple(sum(one.thickness_in for one in above), shop)
    return Across(found.least_in + wider.value, found.greatest_in + wider.value, (found, wider))
