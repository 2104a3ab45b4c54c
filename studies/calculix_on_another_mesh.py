"""Outside check: reinforced openings solved by CalculiX on a mesh that is not ours, with rivet holes closed and open.

The mesh is made by gmsh, a general-purpose mesher: six-node triangles that follow every edge and every rivet's disc.
CalculiX (on Debian: apt-get install calculix-ccx; pip install gmsh) is a general-purpose finite-element program. A
rivet is a spring between the mean displacements of its disc in both sheets, the mean taken over the metal of the disc.
With open holes the metal of the hole is left out of sheet and disc alike: what our model leaves out.

Printed for three jobs and each unit case: the greatest rivet force and the peak stress along the opening's edge, by us
and by CalculiX, the difference of any rivet's force over the greatest, and the error that the program states. The
result is recorded in docs/theory/fem.md, section 9.

Run: python studies/calculix_on_another_mesh.py [alder | ring | off-center]
"""

from __future__ import annotations

import math
import subprocess
import sys
import tempfile
from dataclasses import dataclass
from pathlib import Path

import gmsh
import numpy as np

sys.path.insert(0, str(Path(__file__).parents[1]))

from hatchwright.fem.bound import TwiceSolved, analyze_twice
from hatchwright.fem.coupling import flexibilities
from hatchwright.fem.model import OpeningModel, Sheet
from hatchwright.job.file import load_job
from hatchwright.layout.lay_out import lay_out
from hatchwright.shapes.profile import Loop
from hatchwright.strength.fem_model import fem_model
from hatchwright.strength.site import site_of
from tests.strength.jobs import SQUARE, SYMMETRIC, layout_of

CASES = ("Nx", "Ny", "q")
NEAR_IN, EDGE_IN, FAR_IN = 0.055, 0.05, 0.45
"""Sides of the triangles at the discs, at the free edges, and far away."""


@dataclass
class Meshed:
    """Six-node triangles of one sheet: places (n, 2), elements (t, 6), tags of the discs' elements, rim and edge."""

    places: np.ndarray
    elements: np.ndarray
    discs: list[np.ndarray]
    rim: np.ndarray
    edge: np.ndarray


def models() -> dict[str, OpeningModel]:
    """Alder as it stands, a round opening with a round ring, and an opening off the middle of bay and doubler."""
    alder = site_of(lay_out(load_job(Path(__file__).parents[1] / "examples" / "alder.toml")))
    ring = SQUARE.replace(
        'shape = "rounded rectangle"\nwidth = "4"\nheight = "4"\nradius = "1"',
        'shape = "circle"\ndiameter = "4"',
    )
    ring = ring.replace(
        'shape = "rounded rectangle"\nwidth = "7"\nheight = "7"\nradius = "1.5"',
        'shape = "circle"\ndiameter = "6.6"',
    )
    off = (
        SYMMETRIC.replace('x = "-5"', 'x = "-4.2"')
        .replace('x = "5"', 'x = "6.4"')
        .replace('y = "5"', 'y = "5.9"')
    )
    return {
        "alder": fem_model(alder),
        "ring": fem_model(site_of(layout_of(base=ring))),
        "off-center": fem_model(site_of(layout_of(base=off))),
    }


def add_loop(loop: Loop, size: float) -> tuple[int, list[int]]:
    """Lines and arcs of a loop in the kernel of the mesher."""
    occ, rows = gmsh.model.occ, loop.rows
    points = [occ.addPoint(x, y, 0, size) for x, y, _ in rows]
    curves = []
    for k, (x, y, bulge) in enumerate(rows):
        end = (k + 1) % len(rows)
        if not bulge:
            curves.append(occ.addLine(points[k], points[end]))
            continue
        x2, y2, _ = rows[end]
        # the bulge is the tangent of a quarter of the arc's angle; its center lies on the chord's middle line
        half = (1 - bulge**2) / (4 * bulge)
        center = ((x + x2) / 2 - half * (y2 - y), (y + y2) / 2 + half * (x2 - x))
        curves.append(occ.addCircleArc(points[k], occ.addPoint(*center, 0), points[end]))
    return occ.addCurveLoop(curves), curves


def mesh(sheet: Sheet, model: OpeningModel, radius: np.ndarray, *, holes: bool) -> Meshed:
    """Triangles of a sheet whose sides follow its edges and every disc; with holes the shank's metal is left out."""
    gmsh.initialize()
    gmsh.option.setNumber("General.Terminal", 0)
    gmsh.model.add(sheet.name)
    occ = gmsh.model.occ
    outer, _ = add_loop(sheet.outer, FAR_IN)
    inner, _ = add_loop(sheet.inner, EDGE_IN) if sheet.inner else (None, [])
    own = model.holds(sheet)
    rings = [occ.addCircle(*model.centers[k], 0, radius[k]) for k in own]
    loops = [occ.addCurveLoop([ring]) for ring in rings]
    occ.addPlaneSurface([outer, *([inner] if inner else []), *loops])
    bores = [
        [occ.addCurveLoop([occ.addCircle(*model.centers[k], 0, model.fasteners[k].diameter_in / 2)])]
        if holes
        else []
        for k in own
    ]
    discs = [occ.addPlaneSurface([loop, *bore]) for loop, bore in zip(loops, bores, strict=True)]
    occ.synchronize()
    distance = gmsh.model.mesh.field.add("Distance")
    near = [curve for disc in discs for _, curve in gmsh.model.getBoundary([(2, disc)], oriented=False)]
    x_low, y_low, x_high, y_high = sheet.inner.bounds if sheet.inner else sheet.outer.bounds
    edge = [
        tag
        for _, tag in gmsh.model.getEntities(1)
        if _within(gmsh.model.getBoundingBox(1, tag), (x_low, y_low, x_high, y_high)) and tag not in near
    ]
    gmsh.model.mesh.field.setNumbers(distance, "CurvesList", [*near, *edge])
    gmsh.model.mesh.field.setNumber(distance, "Sampling", 40)
    size = gmsh.model.mesh.field.add("MathEval")
    gmsh.model.mesh.field.setString(size, "F", f"min({FAR_IN}, {min(NEAR_IN, EDGE_IN)} + 0.16 * F{distance})")
    gmsh.model.mesh.field.setAsBackgroundMesh(size)
    for option in ("MeshSizeExtendFromBoundary", "MeshSizeFromPoints", "MeshSizeFromCurvature"):
        gmsh.option.setNumber(f"Mesh.{option}", 0)
    gmsh.model.mesh.generate(2)
    gmsh.model.mesh.setOrder(2)
    tags, places, _ = gmsh.model.mesh.getNodes()
    number = np.zeros(int(tags.max()) + 1, dtype=int)
    number[tags] = np.arange(len(tags))

    def elements(surface: int) -> np.ndarray:
        kinds, _, nodes = gmsh.model.mesh.getElements(2, surface)
        assert list(kinds) == [9], "six-node triangles"
        return number[nodes[0].astype(int)].reshape(-1, 6)

    of_disc = [elements(disc) for disc in discs]
    others = [elements(tag) for _, tag in gmsh.model.getEntities(2) if tag not in discs]
    found = Meshed(
        places.reshape(-1, 3)[:, :2].copy(),
        np.vstack([*others, *of_disc]),
        of_disc,
        *(_on(loop, places.reshape(-1, 3)[:, :2]) for loop in (sheet.outer, sheet.inner or sheet.outer)),
    )
    gmsh.finalize()
    return found


def _within(box: tuple[float, ...], bounds: tuple[float, ...]) -> bool:
    low, high = (box[0], box[1]), (box[3], box[4])
    return all(low[k] > bounds[k] - 1e-4 and high[k] < bounds[k + 2] + 1e-4 for k in (0, 1))


def _on(loop: Loop, places: np.ndarray) -> np.ndarray:
    """Numbers of the nodes on a loop, in their order round it."""
    from hatchwright.shapes.distance import distances
    from hatchwright.shapes.profile import Profile

    anticlockwise = loop if loop.area_sq_in > 0 else loop.reversed()
    found = distances(Profile((anticlockwise,)), places)
    on = np.flatnonzero(np.abs(found.distance_in) < 1e-7)
    rough = anticlockwise.points(1e-5)
    ends = np.roll(rough, -1, axis=0)
    runs = []
    for start, end in zip(rough, ends, strict=True):
        count = max(2, int(np.hypot(*(end - start)) / 0.002))
        runs.append(start + (end - start) * np.linspace(0.0, 1.0, count, endpoint=False)[:, None])
    run = np.vstack(runs)
    at = [int(np.argmin(np.hypot(*(run - places[k]).T))) for k in on]
    return on[np.argsort(at)]


def weights(meshed: Meshed, disc: np.ndarray) -> dict[int, float]:
    """Mean over a disc's metal: an even load on a six-node triangle goes to the middles of its sides, a third each."""
    a, b, c = (meshed.places[disc[:, k]] for k in range(3))
    (ux, uy), (vx, vy) = (b - a).T, (c - a).T
    area = np.abs(ux * vy - uy * vx) / 2
    found: dict[int, float] = {}
    for nodes, part in zip(disc[:, 3:], area, strict=True):
        for node in nodes.tolist():
            found[node] = found.get(node, 0.0) + part / 3
    whole = sum(found.values())
    return {node: part / whole for node, part in found.items()}


def deck(
    model: OpeningModel, sheets: dict[str, Meshed], slide: np.ndarray
) -> tuple[str, dict[str, np.ndarray]]:
    """The input file, and the numbers of the reference nodes of each sheet."""
    start, first = {}, 1
    for name, one in sheets.items():
        start[name], first = first, first + len(one.places)
    count = len(model.fasteners)
    references = {name: first + n * count + np.arange(count) for n, name in enumerate(sheets)}
    lines = ["*NODE, NSET=ALL"]
    for name, one in sheets.items():
        lines += [f"{start[name] + k}, {x:.12g}, {y:.12g}, 0." for k, (x, y) in enumerate(one.places)]
    lines += ["*NODE, NSET=REF"]
    for own in references.values():
        lines += [f"{k}, {x:.12g}, {y:.12g}, 0." for k, (x, y) in zip(own, model.centers, strict=True)]
    element = 1
    for name, one in sheets.items():
        lines.append(f"*ELEMENT, TYPE=CPS6, ELSET={name.upper()}")
        for nodes in one.elements:
            a, b, c = one.places[nodes[:3]]
            turn = (b[0] - a[0]) * (c[1] - a[1]) - (b[1] - a[1]) * (c[0] - a[0])
            order = nodes if turn > 0 else nodes[[0, 2, 1, 5, 4, 3]]
            lines.append(f"{element}, " + ", ".join(str(start[name] + k) for k in order))
            element += 1
    for axis in (1, 2):
        for k, pair in enumerate(zip(*references.values(), strict=True)):
            lines += [f"*ELEMENT, TYPE=SPRING2, ELSET=S{axis}{k}", f"{element}, {pair[0]}, {pair[1]}"]
            lines += [f"*SPRING, ELSET=S{axis}{k}", f"{axis}, {axis}", f"{1.0 / slide[k]:.12g}"]
            element += 1
    for sheet in model.sheets:
        name = sheet.name.upper()
        lines += [
            f"*MATERIAL, NAME={name}",
            "*ELASTIC",
            f"{sheet.modulus_psi:.12g}, {sheet.poisson_ratio:.12g}",
        ]
        lines += [f"*SOLID SECTION, ELSET={name}, MATERIAL={name}", f"{sheet.thickness_in:.12g}"]
    for name, one in sheets.items():
        for disc, reference in zip(one.discs, references[name], strict=True):
            mean = sorted(weights(one, disc).items(), key=lambda pair: -pair[1])
            for axis in (1, 2):
                terms = [f"{start[name] + k}, {axis}, {part:.14g}" for k, part in mean] + [
                    f"{reference}, {axis}, -1."
                ]
                lines += [
                    "*EQUATION",
                    str(len(terms)),
                    *(", ".join(terms[k : k + 4]) for k in range(0, len(terms), 4)),
                ]
    skin = sheets["skin"]
    corner = [k for k in skin.rim if k in set(skin.elements[:, :3].ravel().tolist())]
    low = min(corner, key=lambda k: skin.places[k].sum())
    across = max(corner, key=lambda k: skin.places[k][0] - skin.places[k][1])
    lines += ["*BOUNDARY", f"{start['skin'] + low}, 1, 2", f"{start['skin'] + across}, 2"]
    lines += [f"{k}, 3, 3" for own in references.values() for k in own]
    for case in range(3):
        lines += ["*STEP", "*STATIC", "*CLOAD, OP=NEW"]
        for node, force in rim_loads(skin, case).items():
            lines += [
                f"{start['skin'] + node}, {axis}, {value:.12g}"
                for axis, value in enumerate(force, 1)
                if value
            ]
        lines += ["*NODE PRINT, NSET=REF", "U", "*NODE PRINT, NSET=ALL", "U", "*END STEP"]
    return "\n".join(lines) + "\n", references


def rim_loads(skin: Meshed, case: int) -> dict[int, np.ndarray]:
    """Nodal loads of 1,000 lbf/in on straight sides, a sixth, two thirds and a sixth of each side's load."""
    corners = set(skin.elements[:, :3].ravel().tolist())
    ring = skin.rim.tolist()
    first = next(k for k, node in enumerate(ring) if node in corners)
    ring = ring[first:] + ring[:first]
    found: dict[int, np.ndarray] = {}
    for k in range(0, len(ring), 2):
        a, m, b = ring[k], ring[k + 1], ring[(k + 2) % len(ring)]
        assert a in corners
        assert m not in corners
        run = skin.places[b] - skin.places[a]
        normal = np.array([run[1], -run[0]])
        stress = 1000.0 * np.array([[[1, 0], [0, 0]], [[0, 0], [0, 1]], [[0, 1], [1, 0]]][case])
        force = stress @ normal
        for node, part in ((a, 1 / 6), (m, 2 / 3), (b, 1 / 6)):
            found[node] = found.get(node, np.zeros(2)) + part * force
    return found


def solved(model: OpeningModel, radius: np.ndarray, *, holes: bool) -> tuple[list[np.ndarray], list[float]]:
    """Rivet forces (m, 2) and peak edge stress for each unit case of 1,000 lbf/in, by CalculiX."""
    sheets = {sheet.name: mesh(sheet, model, radius, holes=holes) for sheet in model.sheets}
    slide = flexibilities(model, "huth")
    text, references = deck(model, sheets, slide)
    with tempfile.TemporaryDirectory() as folder:
        (Path(folder) / "job.inp").write_text(text)
        done = subprocess.run(["ccx", "-i", "job"], cwd=folder, capture_output=True, text=True, check=False)
        if done.returncode or "*ERROR" in done.stdout:
            raise RuntimeError(done.stdout[-2000:])
        steps = printed((Path(folder) / "job.dat").read_text())
    forces, peaks = [], []
    skin = sheets["skin"]
    for found in steps:
        moved = [np.array([found[k] for k in references[name]]) for name in ("skin", "doubler")]
        forces.append((moved[0] - moved[1]) / slide[:, None])
        shift = np.array([found[1 + k] for k in skin.edge])
        peaks.append(edge_peak(skin, shift) * model.skin.modulus_psi)
    return forces, peaks


def edge_peak(skin: Meshed, shift: np.ndarray) -> float:
    """Greatest strain along the opening's edge, from the displacements of its own nodes, at two Gauss points a side."""
    corners = set(skin.elements[:, :3].ravel().tolist())
    ring = skin.edge.tolist()
    first = next(k for k, node in enumerate(ring) if node in corners)
    order = np.roll(np.arange(len(ring)), -first)
    places, moved = skin.places[skin.edge][order], shift[order]
    most = 0.0
    for k in range(0, len(ring), 2):
        side = [k, k + 1, (k + 2) % len(ring)]
        for at in (-1 / math.sqrt(3), 1 / math.sqrt(3)):
            slope = np.array([at - 0.5, -2 * at, at + 0.5])
            tangent, change = slope @ places[side], slope @ moved[side]
            most = max(most, abs(float(tangent @ change / (tangent @ tangent))))
    return most


def printed(text: str) -> list[dict[int, np.ndarray]]:
    """Displacements of each step."""
    steps: list[dict[int, np.ndarray]] = []
    time = ""
    for line in text.splitlines():
        words = line.split()
        if line.lstrip().startswith("displacements"):
            if words[-1] != time:
                time = words[-1]
                steps.append({})
        elif len(words) == 4 and words[0].isdigit() and steps:
            steps[-1][int(words[0])] = np.array([float(words[1]), float(words[2])])
    return steps


def told(name: str, model: OpeningModel, twice: TwiceSolved) -> None:
    """Print one job."""
    unit = twice.fine
    for holes in (False, True):
        forces, peaks = solved(model, unit.patch_radius_in, holes=holes)
        for case, words in enumerate(CASES):
            load = {key: 1000.0 * (k == case) for k, key in enumerate(("nx_lbf_in", "ny_lbf_in", "q_lbf_in"))}
            ours, error = unit.combine(**load), twice.grid_error(**load)
            most = np.hypot(*forces[case].T).max()
            apart = np.hypot(*(ours.fastener_lbf - forces[case]).T).max() / most
            mine = abs(ours.edge().peak.stress_psi)
            print(
                f"{name:10s} {'open' if holes else 'closed'} {words:2s}  rivet {ours.fastener_load_lbf.max():8.2f}"
                f" {most:8.2f}  any rivet {apart:.2%} (stated {error.fastener_ratio:.2%})"
                f"  peak {mine:9.0f} {peaks[case]:9.0f} {mine / peaks[case] - 1:+.2%} (stated {error.edge_ratio:.2%})",
                flush=True,
            )


def main() -> None:
    """Solve the jobs that are named, or all."""
    every = models()
    for name in sys.argv[1:] or every:
        told(name, every[name], analyze_twice(every[name]))


if __name__ == "__main__":
    main()
