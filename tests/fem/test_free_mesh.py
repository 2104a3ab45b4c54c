"""Triangles for sheets that no rings can be mapped on."""

from __future__ import annotations

import numpy as np
import pytest
from msgspec.structs import replace

from fem.models import MODULUS_PSI, reinforced, ring_of
from fem.test_mapping import DOUBLER, OPENING, PANEL
from hatchwright.errors import GeometryError, SolveError
from hatchwright.fem.analysis import analyze
from hatchwright.fem.curve import Curve
from hatchwright.fem.element import elasticity, slopes_in_plane, stiffness
from hatchwright.fem.free_mesh import free_mesh
from hatchwright.fem.grid import Grid
from hatchwright.fem.model import Fastener, OpeningModel, Sheet, wide_panel
from hatchwright.fem.patch import patch_means
from hatchwright.fem.running import crossing_loads, running_loads
from hatchwright.fem.sheet import edge_loads, edge_stretch, give
from hatchwright.fem.stations import Fineness
from hatchwright.fem.triangles import _GAUSS_AT, _GAUSS_WEIGHT, TriangleMesh, shape_slopes, shapes
from hatchwright.shapes.outlines import circle, polygon, rounded_rectangle
from hatchwright.shapes.profile import profile_of
from hatchwright.words.tell import tell

CHANNEL = polygon(
    [(-2, -1.5), (2, -1.5), (2, 1.5), (1, 1.5), (1, -0.5), (-1, -0.5), (-1, 1.5), (-2, 1.5)], 0.2
)


def mesh_of(*loops, spots=(), cap_in=np.inf, **fineness):
    return free_mesh(
        profile_of(*loops),
        tuple(Curve.of(loop) for loop in loops),
        np.array(spots).reshape(-1, 2),
        fineness=Fineness(**fineness),
        cap_in=cap_in,
        where="sheet",
    )


def area(mesh):
    return float(
        (slopes_in_plane(mesh.places[mesh.elements], shape_slopes(_GAUSS_AT))[1] @ _GAUSS_WEIGHT).sum()
    )


@pytest.mark.parametrize("loops", [(OPENING, PANEL), (CHANNEL, PANEL), (OPENING, DOUBLER), (DOUBLER,)])
def test_triangles_fill_the_sheet(loops):
    mesh = mesh_of(*loops)
    assert area(mesh) == pytest.approx(profile_of(*loops).area_sq_in, rel=1e-4)
    assert set(mesh.elements.ravel().tolist()) == set(range(len(mesh.places)))
    assert mesh.places[mesh.rim][:, 0].max() == pytest.approx(loops[-1].bounds[2])


def test_triangles_are_no_larger_than_asked_near_fasteners():
    mesh = mesh_of(OPENING, PANEL, spots=[(4.0, 3.0)], cap_in=0.2)
    corners = mesh.places[mesh.elements[:, :3]]
    side = np.hypot(*(np.roll(corners, -1, axis=1) - corners).transpose(2, 0, 1)).max(axis=1)
    near = np.hypot(*(corners.mean(axis=1) - [4.0, 3.0]).T) < 0.3
    assert near.sum() > 8
    assert side[near].max() < 0.45


def test_shape_functions_and_their_slopes():
    at = np.array([[0, 0], [1, 0], [0, 1], [0.5, 0], [0.5, 0.5], [0, 0.5]], dtype=float)
    assert shapes(at) == pytest.approx(np.eye(6))
    inside, step = np.array([[0.2, 0.3], [0.6, 0.1]]), 1e-6
    for axis in (0, 1):
        shift = step * np.eye(2)[axis]
        numeric = (shapes(inside + shift) - shapes(inside - shift)) / 2 / step
        assert shape_slopes(inside)[:, axis] == pytest.approx(numeric, abs=1e-8)


@pytest.mark.parametrize("strain", np.eye(3))
def test_patch_test(strain):
    mesh, nu = mesh_of(CHANNEL, PANEL), 0.33
    x, y = mesh.places.T
    moved = np.stack([strain[0] * x + strain[2] / 2 * y, strain[1] * y + strain[2] / 2 * x], axis=-1)
    own = stiffness(mesh.places[mesh.elements], shape_slopes(_GAUSS_AT), _GAUSS_WEIGHT, poisson_ratio=nu)
    force = (own @ moved[mesh.elements].reshape(-1, 12, 1)).reshape(-1, 6, 2)
    total = np.zeros_like(mesh.places)
    np.add.at(total, mesh.elements, force)
    straight = np.ones(len(total), dtype=bool)
    straight[np.concatenate([mesh.edge, mesh.rim])] = False
    assert total[straight] == pytest.approx(0, abs=2e-4)  # three Gauss points are not exact on curved sides
    assert total[mesh.rim] == pytest.approx(
        (edge_loads(mesh) @ (elasticity(nu) @ strain))[mesh.rim], abs=1e-10
    )


def test_points_are_found_where_they_are():
    mesh = mesh_of(OPENING, PANEL)
    points = np.random.default_rng(6).uniform([-5.9, -4.9], [5.9, 4.9], (800, 2))
    found = mesh.find(points)
    again = (found.share[:, None] @ mesh.places[found.nodes])[:, 0]
    assert again[~found.beyond] == pytest.approx(points[~found.beyond], abs=1e-7)
    cut = np.hypot(*np.maximum(np.abs(points) - [1.75, 1.25], 0).T)
    assert found.beyond[cut < 0.74].all()
    assert not found.beyond[cut > 0.76].any()


@pytest.mark.parametrize(
    ("opening", "pull", "shear"),
    [
        (circle(diameter_in=2.0), 3.0, 4.0),
        (rounded_rectangle(width_in=2.0, height_in=2.0, radius_in=0.2), 3.77, 7.882),
    ],
    ids=["circle of Kirsch", "rounded square computed independently"],
)
def test_stress_round_an_opening(opening, pull, shear):
    """Sources as in tests/published/test_fem_cases.py; 0.015 since triangles are the second choice."""
    mesh = mesh_of(opening, wide_panel(opening))
    no_fasteners = patch_means(mesh, np.zeros((0, 2)), np.zeros(0))
    own = give(mesh, no_fasteners, poisson_ratio=0.33, loads=edge_loads(mesh), where="sheet")
    _, stretch = edge_stretch(mesh.places[mesh.edge], own.moved(np.eye(3))[mesh.edge])
    assert stretch.max(axis=0) == pytest.approx([pull, pull, shear], rel=0.015)


def channel_model():
    """A channel-shaped opening that no point sees whole, with a solid-edged ring riveted round it."""
    outer = rounded_rectangle(width_in=8.0, height_in=7.0, radius_in=1.0)
    line = rounded_rectangle(width_in=6.6, height_in=5.6, radius_in=0.8)
    rivets = tuple(
        Fastener(f"rivet {k}", float(x), float(y), 0.15625, 10.3e6, ("skin", "doubler"))
        for k, (x, y) in enumerate(ring_of(line, 24), start=1)
    )
    panel = rounded_rectangle(width_in=20.0, height_in=16.0, radius_in=0.0)
    return OpeningModel(
        skin=Sheet("skin", panel, CHANNEL, 0.040, MODULUS_PSI),
        doublers=(Sheet("doubler", outer, CHANNEL, 0.050, MODULUS_PSI),),
        fasteners=rivets,
    )


def test_an_opening_that_cannot_be_mapped_is_solved_on_triangles_and_said():
    model = channel_model()
    unit = analyze(model)
    assert isinstance(unit.gives["skin"].mesh, TriangleMesh)
    assert any("Skin: meshed with triangles" in tell(caution) for caution in unit.cautions)
    x, y = model.centers.T[..., None]
    assert np.abs(unit.fastener_in.sum(axis=0)).max() < 1e-9
    assert np.abs((x * unit.fastener_in[:, 1] - y * unit.fastener_in[:, 0]).sum(axis=0)).max() < 1e-9
    finer = analyze(model, fineness=Fineness(per_quarter=16, patch_share=0.6))
    assert unit.fastener_in == pytest.approx(finer.fastener_in, abs=0.02 * np.abs(finer.fastener_in).max())
    ours, theirs = (abs(each.combine(q_lbf_in=1.0).edge().peak[0]) for each in (unit, finer))
    assert ours == pytest.approx(theirs, rel=0.03)
    with pytest.raises(SolveError, match="skin: its mesh has no rings and lines"):
        crossing_loads(unit, "skin")


def test_running_loads_cross_a_section_of_triangles_whole():
    unit = analyze(channel_model())
    y = -8.0 + (np.arange(800) + 0.5) / 50
    at = running_loads(unit, "skin", np.stack([np.full(800, 7.0), y], axis=1))
    assert at[:, 0, 0].mean() == pytest.approx(1.0, rel=0.003)


def test_a_ring_split_in_two_halves():
    """Half rings are C-shaped; the skin keeps its mapped grid, the halves get triangles."""
    c = np.array(
        [
            (-4.4, 0.06),
            (-2.7, 0.06),
            (-2.7, 1.9),
            (2.7, 1.9),
            (2.7, 0.06),
            (4.4, 0.06),
            (4.4, 3.6),
            (-4.4, 3.6),
        ]
    )
    halves = tuple(
        Sheet(name, polygon(c * [1, sign], 0.3), None, 0.05, MODULUS_PSI)
        for name, sign in (("upper", 1), ("lower", -1))
    )
    places = [(x, y) for x in np.linspace(-4, 4, 9) for y in (2.3, 3.2)]
    places += [(x, y) for x in (-4.0, -3.1, 3.1, 4.0) for y in (0.5, 1.2)]
    rivets = tuple(
        Fastener(f"{name} {k}", float(x), float(sign * y), 0.125, 1e7, ("skin", name))
        for name, sign in (("upper", 1), ("lower", -1))
        for k, (x, y) in enumerate(places)
    )
    model = replace(reinforced(), doublers=halves, fasteners=rivets)
    unit = analyze(model)
    assert isinstance(unit.gives["skin"].mesh, Grid)
    assert isinstance(unit.gives["upper"].mesh, TriangleMesh)
    for name in ("upper", "lower"):
        own = [k for k, f in enumerate(rivets) if f.joins[1] == name]
        assert np.abs(unit.fastener_in[own].sum(axis=0)).max() < 1e-9
    whole, split = reinforced(), unit
    across = split.pick_up_in("upper", y_in=0.0) + split.pick_up_in("lower", y_in=0.0)
    assert across[1, 1] == pytest.approx(0.0, abs=1e-9), "nothing is carried across the split"
    assert analyze(whole).pick_up_in("doubler", y_in=0.0)[1, 1] > 1.0


def sound_outlines(wanted):
    """Random outlines with rounded corners that do not cross themselves, many of them seen whole from no point."""
    random = np.random.default_rng(7)
    while wanted:
        count = random.integers(4, 11)
        angle, radius = np.sort(random.uniform(0, 2 * np.pi, count)), random.uniform(1.0, 4.5, count)
        try:
            hole = polygon(np.stack([radius * np.cos(angle), radius * np.sin(angle)], axis=1), 0.15)
            profile_of(hole, PANEL)
        except GeometryError:
            continue
        wanted -= 1
        yield hole


@pytest.mark.property
@pytest.mark.parametrize("hole", list(sound_outlines(12)))
def test_random_openings_are_filled(hole):
    assert area(mesh_of(hole, PANEL)) == pytest.approx(profile_of(hole, PANEL).area_sq_in, rel=2e-4)
