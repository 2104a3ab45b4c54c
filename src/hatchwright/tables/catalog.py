"""The list of all tables: what each CSV file holds, what names its rows and how its columns must run."""

from __future__ import annotations

from hatchwright.tables.table import Table

DRILLS = Table(
    name="drills",
    about="number and letter twist drills",
    key=("drill",),
    values=("kind", "diameter_in", "note"),
    optional=("note",),
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
)

DENSITIES = Table(
    name="densities",
    about="density of aluminium alloys",
    key=("alloy", "use"),
    values=("density_lb_per_in3",),
)

TABLES = (DRILLS, SHEET_STOCK, SHEET_ALLOWABLES, DENSITIES)
"""Every table, in the order in which a list of them should read."""
