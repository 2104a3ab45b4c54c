"""The list of all tables: what each CSV file holds, what names its rows and how its columns must run."""

from __future__ import annotations

from hatchwright.tables.table import Order, Table

_YES_NO = ("yes", "no")

NUTPLATE_KINDS = ("two-lug", "one-lug", "miniature")
"""The kinds of nutplate by their ears."""

DRILLS = Table(
    name="drills",
    about="number and letter twist drills",
    key=("drill",),
    values=("kind", "diameter_in", "note"),
    optional=("note",),
    is_open=False,
)

SHEET_STOCK = Table(
    name="sheet_stock",
    about="thicknesses in which aluminium sheet is stocked",
    key=("thickness_in",),
    values=(),
)

SHEET_ALLOWABLES = Table(
    name="sheet_allowables",
    about="strength and stiffness of aluminium sheet by thickness and statistical basis",
    key=("alloy", "temper", "clad", "specification", "statistical_basis", "thickness_min_in"),
    values=(
        "thickness_max_in",
        *("ftu_l_psi", "ftu_lt_psi", "fty_l_psi", "fty_lt_psi", "fcy_l_psi", "fcy_lt_psi", "fsu_psi"),
        *("fbru_15_psi", "fbru_20_psi", "fbry_15_psi", "fbry_20_psi"),
        *("e_psi", "e_secondary_psi", "ec_psi", "ec_secondary_psi", "g_psi", "poisson_ratio"),
    ),
    optional=(
        "specification",
        *("ftu_l_psi", "fty_l_psi", "fcy_l_psi", "fcy_lt_psi", "fsu_psi"),
        *("fbru_15_psi", "fbru_20_psi", "fbry_15_psi", "fbry_20_psi"),
        *("e_secondary_psi", "ec_secondary_psi", "g_psi"),
    ),
    choices=(("clad", _YES_NO), ("statistical_basis", ("A", "B", "S"))),
)

DENSITIES = Table(
    name="densities",
    about="density of aluminium alloys, and of steel for fasteners",
    key=("alloy", "use"),
    values=("density_lb_per_in3",),
    choices=(("use", ("handbook", "mass estimate")),),
)

HARDWARE_WEIGHTS = Table(
    name="hardware_weights",
    about="weight of single fasteners, which only the shop can know; by the name that `hatchwright fasteners` prints",
    key=("part",),
    values=("weight_lb",),
)

RIVET_HEADS = Table(
    name="rivet_heads",
    about="solid-rivet families: head, how the length is measured, what replaced them",
    key=("family",),
    values=("head", "flush", "length_measured", "replaced_by", "note"),
    optional=("replaced_by", "note"),
    is_open=False,
)

RIVET_ALLOYS = Table(
    name="rivet_alloys",
    about="alloy letters of solid rivets and the marks on their heads",
    key=("letters",),
    values=("alloy", "head_mark", "note"),
    optional=("note",),
    is_open=False,
)

RIVET_DIAMETERS = Table(
    name="rivet_diameters",
    about="standard diameters of solid rivets",
    key=("diameter_in",),
    values=(),
    is_open=False,
)

RIVET_HEAD_SIZES = Table(
    name="rivet_head_sizes",
    about="head diameter and height of solid rivets",
    key=("family", "diameter_in"),
    values=("head_in", "head_tolerance_in", "height_in"),
    optional=("head_tolerance_in",),
    orders=(
        Order("head_in", along="diameter_in", within=("family",)),
        Order("height_in", along="diameter_in", within=("family",)),
    ),
)

RIVET_HOLE_DRILLS = Table(
    name="rivet_hole_drills",
    about="final drill for a rivet, as the trade, the strength tables and older manuals give it",
    key=("diameter_in", "use"),
    values=("drill",),
    choices=(("use", ("usual", "alternative", "strength basis", "1940s")),),
)

RIVET_HOLE_RANGES = Table(
    name="rivet_hole_ranges",
    about="least and greatest finished hole for a rivet",
    key=("diameter_in",),
    values=("hole_min_in", "hole_max_in"),
    orders=(Order("hole_min_in", along="diameter_in"), Order("hole_max_in", along="diameter_in")),
)

RIVET_SUBSTITUTIONS = Table(
    name="rivet_substitutions",
    about="which rivet may take the place of another, one size up",
    key=("letters", "replacement"),
    values=("largest_in", "increase_in"),
    is_open=False,
)

RIVET_SHEAR_STRESS = Table(
    name="rivet_shear_stress",
    about="ultimate shear stress of driven rivets",
    key=("letters", "condition"),
    values=("fsu_psi",),
)

RIVET_SHEAR = Table(
    name="rivet_shear",
    about="single shear of driven rivets on the nominal hole",
    key=("letters", "condition", "diameter_in"),
    values=("shear_lbf",),
    orders=(Order("shear_lbf", along="diameter_in", within=("letters", "condition")),),
)

FLUSH_RIVET_STRENGTH = Table(
    name="flush_rivet_strength",
    about="strength of flush AD rivets in 2024-T3 sheet, dimpled or countersunk",
    key=("preparation", "property", "diameter_in", "thickness_in"),
    values=("load_lbf",),
    orders=(Order("load_lbf", along="thickness_in", within=("preparation", "property", "diameter_in")),),
    choices=(("preparation", ("countersunk", "dimpled")), ("property", ("ultimate", "yield"))),
)

DRIVEN_HEADS = Table(
    name="driven_heads",
    about="least and greatest shop head by size, one document beside the other",
    key=("document", "diameter_in"),
    values=("head_min_in", "head_max_in", "height_min_in", "height_max_in"),
    optional=("head_max_in",),
    orders=tuple(
        Order(value, along="diameter_in", within=("document",))
        for value in ("head_min_in", "head_max_in", "height_min_in", "height_max_in")
    ),
)

DRIVEN_HEAD_RATIOS = Table(
    name="driven_head_ratios",
    about="shop head in shank diameters: what is aimed at, and the least that strength values hold for",
    key=("document", "letters"),
    values=("head_aim_ratio", "height_aim_ratio", "head_min_ratio", "height_min_ratio"),
    optional=("letters", "head_aim_ratio", "height_aim_ratio", "head_min_ratio", "height_min_ratio"),
)

NAS523_CODES = Table(
    name="nas523_codes",
    about="codes of the fastener symbol on drawings",
    key=("quarter", "code"),
    values=("meaning",),
    is_open=False,
)

TEMPORARY_FASTENERS = Table(
    name="temporary_fasteners",
    about="temporary fasteners by size and colour",
    key=("diameter_in",),
    values=("colour", "note"),
    optional=("note",),
)

COUNTERSINK_THRESHOLDS = Table(
    name="countersink_thresholds",
    about="thinnest sheet for a machine countersink, one document beside the other",
    key=("diameter_in", "document"),
    values=("use", "thickness_in", "note"),
    optional=("note",),
    orders=(Order("thickness_in", along="diameter_in", within=("use", "document")),),
    choices=(("use", ("default", "other")),),
)

COUNTERSINK_DIAMETERS = Table(
    name="countersink_diameters",
    about="least and greatest countersink for a flush rivet, 100 degrees",
    key=("diameter_in",),
    values=("countersink_min_in", "countersink_max_in"),
    orders=(
        Order("countersink_min_in", along="diameter_in"),
        Order("countersink_max_in", along="diameter_in"),
    ),
)

DIMPLE_SPREAD = Table(
    name="dimple_spread",
    about="how far dimpling opens a drilled hole",
    key=("drill",),
    values=("opens_to",),
)

AC43_TABLE_4_6 = Table(
    name="ac43_13_1b_table_4_6",
    about="bend radii for 90 degrees, in sheet thicknesses",
    key=("alloy", "temper", "thickness_in"),
    values=("radius_min_ratio", "radius_max_ratio"),
    orders=(
        Order("radius_min_ratio", along="thickness_in", within=("alloy", "temper")),
        Order("radius_max_ratio", along="thickness_in", within=("alloy", "temper")),
    ),
)

HANDBOOK_BEND_RADII = Table(
    name="handbook_bend_radii",
    about="least bend radii of the handbook's chart",
    key=("alloy", "temper", "thickness_in"),
    values=("radius_in",),
    orders=(Order("radius_in", along="thickness_in", within=("alloy", "temper")),),
)

NUTPLATE_FAMILIES = Table(
    name="nutplate_families",
    about="families of nutplates",
    key=("family",),
    values=("kind", "floating", "note"),
    optional=("note",),
    choices=(("kind", NUTPLATE_KINDS), ("floating", _YES_NO)),
)

NUTPLATE_THREADS = Table(
    name="nutplate_threads",
    about="thread behind the suffix of a nutplate",
    key=("suffix",),
    values=("thread",),
)

NUTPLATE_EARS = Table(
    name="nutplate_ears",
    about="where the rivet holes of a nutplate's ears lie",
    key=("kind", "thread"),
    values=("arrangement", "nearest_in", "spacing_in"),
    choices=(("kind", NUTPLATE_KINDS), ("arrangement", ("each side", "one side"))),
)

CLIP_NUTS = Table(
    name="clip_nuts",
    about="clip nuts, which only the shop can describe",
    key=("name",),
    values=("thread", "reach_in", "grip_min_in", "grip_max_in", "width_in"),
)

DRILL_CHAINS = Table(
    name="drill_chains",
    about="pilot, dimple and final drill for a rivet hole",
    key=("diameter_in", "preparation", "method", "step"),
    values=("operation", "drill", "note"),
    optional=("drill", "note"),
    choices=(
        ("preparation", ("plain", "dimpled")),
        ("step", tuple("123456")),
        ("operation", ("pilot", "open", "dimple", "final")),
    ),
)

RULE_LIMITS = Table(
    name="rule_limits",
    about="the numbers that rules judge by",
    key=("key",),
    values=("value", "unit", "note"),
    optional=("note",),
)

AC43_TABLE_4_9, AC43_TABLE_4_10, AC43_TABLE_4_11 = (
    Table(
        name=f"ac43_13_1b_table_{name}",
        about=f"AD rivets per inch of width, {sheet}",
        key=("thickness_in", "fastener", "diameter_in"),
        values=("rivets_per_in", "note"),
        optional=("note",),
        choices=(("fastener", ("rivet", "bolt AN-3")),),
        orders=(
            Order("rivets_per_in", along="thickness_in", within=("fastener", "diameter_in")),
            Order("rivets_per_in", along="diameter_in", within=("fastener", "thickness_in"), falls=True),
        ),
    )
    for name, sheet in (
        ("4_9", "2014-T6, 2024-T3, 2024-T36 and 7075-T6, bare and clad"),
        ("4_10", "2017 and clad 2024-T3"),
        ("4_11", "5052, all hardnesses"),
    )
)

AC43_TABLE_NOTES = Table(
    name="ac43_13_1b_table_notes",
    about="what part of the rivets of tables 4-9 to 4-11 will do, by note",
    key=("table", "letter"),
    values=("multiplier_ratio", "applies_to"),
    is_open=False,
)

AC43_TABLE_MATERIALS = Table(
    name="ac43_13_1b_table_materials",
    about="which of tables 4-9 to 4-11 is for which sheet",
    key=("alloy", "temper", "clad", "table"),
    values=(),
    is_open=False,
)

SCREW_SIZES = Table(
    name="screw_sizes",
    about="inch machine-screw threads",
    key=("thread",),
    values=("size", "major_diameter_in", "threads_per_in"),
)

SCREW_CLEARANCE_DRILLS = Table(
    name="screw_clearance_drills",
    about="clearance drill for a screw, by fit",
    key=("size", "fit"),
    values=("drill",),
    choices=(("fit", ("tight", "close", "general close", "general normal", "general loose")),),
)

SCREW_FAMILIES = Table(
    name="screw_families",
    about="families of screws for covers",
    key=("family",),
    values=("head", "flush", "structural"),
    choices=(("flush", _YES_NO), ("structural", _YES_NO)),
)

AC43_TABLE_7_1 = Table(
    name="ac43_13_1b_table_7_1",
    about="tightening torque of steel bolts and nuts, without friction drag",
    key=("thread", "nut"),
    values=("torque_min_in_lbf", "torque_max_in_lbf", "torque_limit_in_lbf"),
    choices=(("nut", ("tension", "shear")),),
)

STRENGTH_VALUES = Table(
    name="strength_values",
    about="the numbers that the hand methods of strength use",
    key=("key",),
    values=("value", "unit", "note"),
    optional=("note",),
)

INTER_RIVET_ENDS = Table(
    name="inter_rivet_ends",
    about="end-fixity coefficient of sheet buckling between rivets, by head",
    key=("head",),
    values=("end_ratio", "note"),
    optional=("note",),
)

PLATE_BUCKLING = Table(
    name="plate_buckling",
    about="shear buckling coefficient of simply supported plates, by long over short side",
    key=("side_ratio",),
    values=("ks_ratio",),
    orders=(Order("ks_ratio", along="side_ratio", falls=True),),
    is_open=False,
)

OPENING_STRESS_CONCENTRATION = Table(
    name="opening_stress_concentration",
    about="stress concentration of rounded rectangles and circles in a wide sheet",
    key=("load", "side_ratio", "radius_ratio"),
    values=("kt_ratio",),
    is_open=False,
)

STATIC_TEST_FACTORS = Table(
    name="static_test_factors",
    about="how many times its own weight a mounted part must be shown to carry, by direction",
    key=("category", "direction"),
    values=("factor_ratio",),
    choices=(
        ("category", ("normal", "utility", "acrobatic")),
        ("direction", ("down", "up", "forward", "side")),
    ),
)

INSTRUCTIONS = Table(
    name="instructions",
    about="what the documents ask for in words, without a number",
    key=("key",),
    values=("text",),
    is_open=False,
)

TABLES = (
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
