"""The list of all tables; each stands beside the look-ups that read it."""

from __future__ import annotations

from typing import Any

from hatchwright.tables.allowables import SHEET_ALLOWABLES
from hatchwright.tables.bends import AC43_TABLE_4_6, HANDBOOK_BEND_RADII
from hatchwright.tables.countersink import COUNTERSINK_DIAMETERS, COUNTERSINK_THRESHOLDS, DIMPLE_SPREAD
from hatchwright.tables.drill_chain import DRILL_CHAINS
from hatchwright.tables.drills import DRILLS
from hatchwright.tables.driven_heads import DRIVEN_HEAD_RATIOS, DRIVEN_HEADS
from hatchwright.tables.hardware_weights import HARDWARE_WEIGHTS
from hatchwright.tables.instructions import INSTRUCTIONS
from hatchwright.tables.limits import RULE_LIMITS
from hatchwright.tables.materials import DENSITIES, SHEET_STOCK
from hatchwright.tables.nas523 import NAS523_CODES
from hatchwright.tables.nutplates import CLIP_NUTS, NUTPLATE_EARS, NUTPLATE_FAMILIES, NUTPLATE_THREADS
from hatchwright.tables.rivet_part import RIVET_ALLOYS, RIVET_HEADS
from hatchwright.tables.rivet_shear import FLUSH_RIVET_STRENGTH, RIVET_SHEAR, RIVET_SHEAR_STRESS
from hatchwright.tables.rivets import (
    RIVET_DIAMETERS,
    RIVET_HEAD_SIZES,
    RIVET_HOLE_DRILLS,
    RIVET_HOLE_RANGES,
    RIVET_SUBSTITUTIONS,
)
from hatchwright.tables.rivets_per_inch import (
    AC43_TABLE_4_9,
    AC43_TABLE_4_10,
    AC43_TABLE_4_11,
    AC43_TABLE_MATERIALS,
    AC43_TABLE_NOTES,
)
from hatchwright.tables.screws import AC43_TABLE_7_1, SCREW_CLEARANCE_DRILLS, SCREW_FAMILIES, SCREW_SIZES
from hatchwright.tables.static_tests import STATIC_TEST_FACTORS
from hatchwright.tables.strength_values import (
    INTER_RIVET_ENDS,
    OPENING_STRESS_CONCENTRATION,
    PLATE_BUCKLING,
    STRENGTH_VALUES,
)
from hatchwright.tables.table import Table
from hatchwright.tables.temporary_fasteners import TEMPORARY_FASTENERS

TABLES: tuple[Table[Any], ...] = (
    *(DRILLS, SHEET_STOCK, SHEET_ALLOWABLES, DENSITIES, HARDWARE_WEIGHTS),
    *(RIVET_HEADS, RIVET_ALLOYS, RIVET_DIAMETERS, RIVET_HEAD_SIZES),
    *(RIVET_HOLE_DRILLS, RIVET_HOLE_RANGES, RIVET_SUBSTITUTIONS),
    *(RIVET_SHEAR_STRESS, RIVET_SHEAR, FLUSH_RIVET_STRENGTH),
    *(DRIVEN_HEADS, DRIVEN_HEAD_RATIOS, NAS523_CODES),
    *(AC43_TABLE_4_9, AC43_TABLE_4_10, AC43_TABLE_4_11, AC43_TABLE_NOTES, AC43_TABLE_MATERIALS),
    *(SCREW_SIZES, SCREW_CLEARANCE_DRILLS, SCREW_FAMILIES, AC43_TABLE_7_1),
    *(TEMPORARY_FASTENERS, COUNTERSINK_THRESHOLDS, COUNTERSINK_DIAMETERS, DIMPLE_SPREAD, DRILL_CHAINS),
    *(AC43_TABLE_4_6, HANDBOOK_BEND_RADII),
    *(NUTPLATE_FAMILIES, NUTPLATE_THREADS, NUTPLATE_EARS, CLIP_NUTS),
    *(RULE_LIMITS, STATIC_TEST_FACTORS, INSTRUCTIONS),
    *(STRENGTH_VALUES, INTER_RIVET_ENDS, PLATE_BUCKLING, OPENING_STRESS_CONCENTRATION),
)
"""Every table, in the order in which a list of them should read."""
