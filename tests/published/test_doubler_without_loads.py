"""A doubler that restores the strength of the metal removed, worked once by hand from published values.

Sources: method of AC 43.13-1B, par. 4-58 and engineering notes to tables 4-9 to 4-11 (a strip at the sheet's tensile
allowable); clad 2024-T3 .032 by MIL-HDBK-5J, A basis, Ftu 59 ksi, Fbru 121 ksi, Fsu 37 ksi at e/D 2; 1/8 AD rivet, Fsu
30 ksi on its hole of .1285 with the thin-sheet factor of MIL-HDBK-5 (from memory, unverified). Round opening 4.6 in.

Tolerance 0.002: the printed figures; 0.003 where a rivet's shear counts: the table prints 388 lbf, which is taken,
and Fsu on the hole gives 389.06.
"""

from __future__ import annotations

import pytest

from hatchwright.job.loads import Loads
from hatchwright.rules.rivets_per_inch import rivets_needed
from hatchwright.strength.bearing import bearing_strength
from hatchwright.strength.checks.rivets import rivets_for_load
from hatchwright.strength.load_case import cases_of
from hatchwright.strength.rivet_joint import shear_strength
from hatchwright.strength.site import site_of
from hatchwright.tables.allowables import allowables
from hatchwright.tables.materials import sheet
from hatchwright.tables.rivet_part import parse_rivet
from hatchwright.tables.rivets_per_inch import rivets_per_inch, table_note
from tests.strength.jobs import layout_of

CLAD = allowables(sheet("2024", "T3", True), thickness_in=0.032)
RIVET = parse_rivet("MS20470AD4")
CUT_IN = 4.6


def test_loads_of_the_metal_removed() -> None:
    pull, _, shear = cases_of(Loads(basis="restore"), site_of(layout_of()).skin)
    assert pull.nx.value * CUT_IN == pytest.approx(8684.8, rel=2e-3)
    assert shear.q.value == pytest.approx(1184.0, rel=2e-3)


def test_one_rivet_in_shear() -> None:
    full = shear_strength(RIVET, thickness_in=0.064)
    thin = shear_strength(RIVET, thickness_in=0.032)
    assert full.value == pytest.approx(388.0)
    assert thin.value == pytest.approx(375.0, rel=3e-3)


def test_one_rivet_in_bearing() -> None:
    """497.6 lbf dry; a tenth is taken off for wet pins."""
    found = bearing_strength(
        CLAD, sheet="skin", thickness_in=0.032, hole_in=0.1285, diameter_in=0.125, edge_in=0.25
    )
    assert found.value == pytest.approx(0.9 * 497.6, rel=2e-3)


def test_rivets_on_each_side() -> None:
    one = shear_strength(RIVET, thickness_in=0.032)
    assert rivets_for_load(load_lbf=8684.8, one=one).value == 24


def test_rivets_in_an_inch_of_edge_under_shear() -> None:
    one = shear_strength(RIVET, thickness_in=0.032)
    assert 1184.0 / one.value == pytest.approx(3.16, rel=3e-3)


def test_the_circulars_tables_beside_it() -> None:
    """4.9 x 4.6 = 22.5, 23; with note c 16.9, 17; 6.2 x 4.6 = 28.5, 29."""

    def asked(table: str, *, note: bool = False) -> float:
        per_inch = rivets_per_inch(table, thickness_in=0.032, diameter_in=0.125)
        return float(rivets_needed(CUT_IN, per_inch, table_note(table, "c") if note else None))

    assert (asked("4-10"), asked("4-10", note=True), asked("4-9")) == (23, 17, 29)
