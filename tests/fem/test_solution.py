"""The coupled solution: balance, symmetry, rotation, trends, changes without a new factorization, convergence."""

from __future__ import annotations

import numpy as np
import pytest
from msgspec.structs import replace

from fem.laps import lap_shares
from fem.models import MODULUS_PSI, reinforced
from hatchwright.errors import SolveError
from hatchwright.fem.analysis import analyze
from hatchwright.fem.flexibility import huth_in_per_lbf
from hatchwright.fem.model import Fastener, OpeningModel, Sheet
from hatchwright.fem.stations import Fineness
from hatchwright.shapes.outlines import circle, rounded_rectangle

MODEL = reinforced()


@pytest.fixture(scope="module")
def unit():
    return analyze(MODEL)


def largest(unit):
    """Greatest edge stress and fastener force of the three unit cases."""
    cases = [unit.combine(nx_lbf_in=n[0], ny_lbf_in=n[1], q_lbf_in=n[2]) for n in np.eye(3)]
    return np.array([(abs(case.edge().peak[0]), case.fastener_load_lbf.max(initial=0.0)) for case in cases])


@pytest.mark.parametrize("model", [MODEL, reinforced(center=(1.7, -1.1))], ids=["centered", "off centre"])
def test_forces_and_moments_balance_to_1e_9(model):
    force = analyze(model).fastener_in
    x, y = model.centers.T[..., None]
    assert np.abs(force.sum(axis=0)).max() < 1e-9
    assert np.abs((x * force[:, 1] - y * force[:, 0]).sum(axis=0)).max() < 1e-9


def test_fasteners_slide_by_their_flexibility(unit):
    """What the sheets move apart at each disc is the force times the flexibility: the springs are really satisfied."""
    skin, doubler = (
        (unit.gives[name].means @ unit.displacement(name).reshape(-1, 6)).reshape(-1, 2, 3)
        for name in ("skin", "doubler")
    )
    slide = huth_in_per_lbf(
        thickness_in=(0.040, 0.050),
        modulus_psi=(MODULUS_PSI, MODULUS_PSI),
        diameter_in=0.15625,
        fastener_modulus_psi=10.3e6,
    )
    assert skin - doubler == pytest.approx(slide * unit.fastener_in, rel=1e-6, abs=1e-12)


def test_a_symmetric_model_has_symmetric_loads(unit):
    places = MODEL.centers
    for mirror in ((-1.0, 1.0), (1.0, -1.0)):
        twin = np.hypot(*(places[:, None] * mirror - places[None]).transpose(2, 0, 1)).argmin(axis=1)
        assert places[twin] == pytest.approx(places * mirror, abs=1e-9)
        flipped = unit.fastener_in[twin] * np.array(mirror)[:, None]
        pulls = slice(0, 2)
        assert flipped[..., pulls] == pytest.approx(unit.fastener_in[..., pulls], abs=1e-9)
        assert flipped[..., 2] == pytest.approx(-unit.fastener_in[..., 2], abs=1e-9)


@pytest.mark.parametrize("angle_deg", [90.0, 33.0])
def test_a_turned_model_has_turned_loads(unit, angle_deg):
    angle = np.deg2rad(angle_deg)
    turn = np.array([[np.cos(angle), -np.sin(angle)], [np.sin(angle), np.cos(angle)]])

    def turned(sheet):
        return replace(sheet, outer=sheet.outer.transformed(turn), inner=sheet.inner.transformed(turn))

    places = MODEL.centers @ turn.T
    model = OpeningModel(
        skin=turned(MODEL.skin),
        doublers=tuple(map(turned, MODEL.doublers)),
        fasteners=tuple(
            replace(f, x_in=x, y_in=y) for f, (x, y) in zip(MODEL.fasteners, places.tolist(), strict=True)
        ),
    )
    load = np.array([[100.0, 30.0], [30.0, -40.0]])
    there = turn @ load @ turn.T
    before = unit.combine(nx_lbf_in=load[0, 0], ny_lbf_in=load[1, 1], q_lbf_in=load[0, 1])
    after = analyze(model).combine(nx_lbf_in=there[0, 0], ny_lbf_in=there[1, 1], q_lbf_in=there[0, 1])
    scale = before.fastener_load_lbf.max()
    assert after.fastener_lbf == pytest.approx(before.fastener_lbf @ turn.T, abs=2e-4 * scale)
    assert after.edge().peak[0] == pytest.approx(before.edge().peak[0], rel=1e-4)


def test_unit_cases_superpose(unit):
    both = unit.combine(nx_lbf_in=300.0, ny_lbf_in=-120.0, q_lbf_in=80.0)
    parts = [unit.combine(nx_lbf_in=300.0), unit.combine(ny_lbf_in=-120.0), unit.combine(q_lbf_in=80.0)]
    assert both.fastener_lbf == pytest.approx(sum(part.fastener_lbf for part in parts))
    assert both.edge().stress_psi == pytest.approx(sum(part.edge().stress_psi for part in parts))


def test_a_stiffer_doubler_takes_more_and_spares_the_edge(unit):
    picked, peak = [], []
    for thickness_in in (0.020, 0.032, 0.050, 0.080):
        changed = unit.changed(model=reinforced(thickness_in=(MODEL.skin.thickness_in, thickness_in)))
        picked.append(changed.pick_up_in("doubler", x_in=0.0)[0, 0])
        peak.append(largest(changed)[0, 0])
    assert (np.diff(picked) > 0).all()
    assert (np.diff(peak) < 0).all()


def test_a_change_equals_a_new_analysis(unit):
    model = reinforced(thickness_in=(0.063, 0.071))
    model = replace(model, doublers=(replace(model.doublers[0], modulus_psi=9.9e6),))
    changed, again = unit.changed(model=model), analyze(model)
    assert changed.fastener_in == pytest.approx(again.fastener_in, rel=1e-9, abs=1e-12)
    assert largest(changed) == pytest.approx(largest(again), rel=1e-9)


def test_huth_and_swift_make_a_band(unit):
    """Swift is the stiffer formula: more load on the rivets, less stress at the edge."""
    swift = largest(unit.changed(formula="swift"))
    assert (swift[:, 1] > 1.05 * largest(unit)[:, 1]).all()
    assert (swift[:, 0] < largest(unit)[:, 0]).all()


def test_softer_fasteners_carry_less(unit):
    soft = unit.changed(flexibility_in_per_lbf=np.full(44, 0.1))
    assert (largest(soft)[:, 1] < 0.1 * largest(unit)[:, 1]).all()
    bare = largest(analyze(OpeningModel(MODEL.skin)))
    assert largest(soft)[:, 0] == pytest.approx(bare[:, 0], rel=0.012)  # two different grids


def test_pick_up_is_what_the_fasteners_beyond_the_section_bring(unit):
    carried = unit.pick_up_in("doubler", x_in=0.0)
    beyond = MODEL.centers[:, 0] > 1e-9
    assert carried[0, 0] == pytest.approx(unit.fastener_in[beyond, 0, 0].sum())
    assert carried[0, 0] > 0
    assert unit.pick_up_in("doubler", x_in=50.0) == pytest.approx(0.0)
    assert unit.pick_up_in("doubler", x_in=-50.0) == pytest.approx(0.0, abs=1e-9)


def test_refining_the_grid_converges():
    coarse, middle, fine = (
        largest(analyze(MODEL, fineness=Fineness(per_quarter=n, patch_share=share)))
        for n, share in ((5, 1.6), (8, 1.1), (16, 0.5))
    )
    assert (np.abs(middle / fine - 1) < 0.01).all()
    assert np.abs(middle / fine - 1).max() < np.abs(coarse / fine - 1).max()


def test_the_disc_of_2_5_diameters_keeps_the_bar_exact():
    """Between discs of 1 and 3 diameters the shares of a lap move by 0.007 of the load; 2.5 is within 0.001."""
    lap = {"rows": 3, "pitch": 19.85, "width": 19.85, "thickness": (1.02, 1.27), "modulus": 72400.0}
    lap |= {"poisson_ratio": 0.33, "flexibility": 4.90019e-5}
    series = np.array([0.37161, 0.29036, 0.33804])
    assert lap_shares(**lap, patch=2.5 * 3.97) == pytest.approx(series, abs=0.001)
    assert np.abs(lap_shares(**lap, patch=3.97) - series).max() > 0.003


def test_a_strap_fastened_without_slip_carries_its_share_of_the_stiffness():
    """Equal sheets, fasteners without flexibility, many rows: in the middle each sheet carries half of the pull."""
    x = np.linspace(-4.0, 4.0, 21)
    y = np.linspace(-0.8, 0.8, 5)
    places = [(a, b) for a in x for b in y if np.hypot(a, b) > 0.3]
    strip = rounded_rectangle(width_in=14.0, height_in=2.0, radius_in=0.0)
    strap = rounded_rectangle(width_in=9.0, height_in=1.99, radius_in=0.0)
    hole = circle(diameter_in=0.06)
    model = OpeningModel(
        Sheet("strip", strip, hole, 0.05, MODULUS_PSI),
        (Sheet("strap", strap, hole, 0.05, MODULUS_PSI),),
        tuple(
            Fastener(f"rivet {k}", a, b, 0.125, 1e7, ("strip", "strap"), flexibility_in_per_lbf=0.0)
            for k, (a, b) in enumerate(places)
        ),
    )
    carried = analyze(model).pick_up_in("strap", x_in=0.2)[0, 0]
    assert carried == pytest.approx(2.0 / 2, rel=0.02)


def test_a_doubler_with_its_own_smaller_opening_is_stiffer():
    """A flush ring reaches into the opening to carry the cover."""
    lip = rounded_rectangle(width_in=4.2, height_in=2.6, radius_in=0.5)
    plain, flush = largest(analyze(MODEL)), largest(analyze(reinforced(inner=lip)))
    assert (flush[:, 0] < plain[:, 0]).all()


COVER = Sheet(
    "cover", rounded_rectangle(width_in=5.0, height_in=3.4, radius_in=0.8), None, 0.040, MODULUS_PSI
)


def with_cover(*, carries):
    lip = rounded_rectangle(width_in=4.0, height_in=2.4, radius_in=0.4)
    model = reinforced(inner=lip)
    x, y = np.meshgrid([-2.2, -1.1, 0.0, 1.1, 2.2], [-1.35, 1.35])
    screws = tuple(
        Fastener(f"screw {k}", a, b, 0.138, 29e6, ("doubler", "cover"), kind="bolt")
        for k, (a, b) in enumerate(zip(x.ravel().tolist(), y.ravel().tolist(), strict=True))
    )
    return replace(model, fasteners=model.fasteners + screws, cover=COVER, cover_carries=carries)


def test_a_cover_carries_nothing_unless_asked():
    idle = analyze(with_cover(carries=False))
    assert idle.fastener_in[44:] == pytest.approx(0.0)
    assert idle.fastener_in[:44] == pytest.approx(
        analyze(replace(with_cover(carries=False), fasteners=reinforced().fasteners, cover=None)).fastener_in
    )
    assert len(idle.gives) == 2


def test_a_cover_that_carries_relieves_the_edge_and_loads_its_screws():
    idle, working = analyze(with_cover(carries=False)), analyze(with_cover(carries=True))
    assert (largest(working)[:, 0] < largest(idle)[:, 0]).all()
    force = working.fastener_in[44:]
    assert np.abs(force).max() > 0.1
    assert np.abs(force.sum(axis=0)).max() < 1e-9


def test_unknown_names_are_refused(unit):
    with pytest.raises(SolveError, match="there is no flexibility formula 'own'"):
        unit.changed(formula="own")
    with pytest.raises(SolveError, match="no sheet 'web'"):
        unit.displacement("web")
