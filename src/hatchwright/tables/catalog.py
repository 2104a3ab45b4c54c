"""The list of all tables; each stands beside the look-ups that read it."""

from __future__ import annotations

from typing import Any

from hatchwright.tables import (
    allowables,
    bends,
    countersink,
    drill_chain,
    drills,
    driven_heads,
    fatigue_curves,
    hardware_weights,
    instructions,
    limits,
    materials,
    nas523,
    nutplates,
    record_elements,
    rivet_guns,
    rivet_part,
    rivet_shear,
    rivets,
    rivets_per_inch,
    screws,
    sealants,
    static_tests,
    strength_values,
    temporary_fasteners,
)
from hatchwright.tables.table import Table

_SHEET = (drills, allowables, materials, hardware_weights)
_RIVETS = (rivet_part, rivets, rivet_shear, driven_heads, rivet_guns, nas523, rivets_per_inch)
_HOLES = (screws, temporary_fasteners, countersink, drill_chain, bends, nutplates)
_SEALING = (sealants,)
_RULES = (limits, static_tests, instructions, strength_values, fatigue_curves, record_elements)

_FOUND = (one for module in (*_SHEET, *_RIVETS, *_HOLES, *_SEALING, *_RULES) for one in vars(module).values())

TABLES: tuple[Table[Any], ...] = tuple(dict.fromkeys(one for one in _FOUND if isinstance(one, Table)))
"""Every table, in the order in which a list of them should read."""
