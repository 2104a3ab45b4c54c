"""Outside check: the reinforced opening of the tests, solved by CalculiX on the same grids.

CalculiX is a general-purpose finite-element program; on Debian: apt-get install calculix-ccx. Each sheet is written
as CPS8 elements; a disc becomes an equation that sets a reference node to the mean of the disc, and the fastener a
SPRING2 between two reference nodes. The result is recorded in docs/theory/fem.md, section 9.

Run: python studies/calculix_reinforced_opening.py
"""

from __future__ import annotations

import shutil
import subprocess
import sys
import tempfile
from dataclasses import dataclass
from pathlib import Path

import numpy as np

sys.path.insert(0, str(Path(__file__).parents[1] / "tests"))

from fem.models import reinforced
from hatchwright.fem.analysis import analyze
from hatchwright.fem.coupling import flexibilities
from hatchwright.fem.grid import gather
from hatchwright.fem.sheet import edge_loads
from hatchwright.fem.solution import UnitSolution
from hatchwright.fem.stations import Fineness

LOAD_LBF_IN = 1000.0
_SMALLEST_WEIGHT = 1e-12


@dataclass(frozen=True)
class Comparison:
    """Greatest difference from CalculiX over the greatest value, for each unit case Nx, Ny, q.

    Args:
        fastener: of the fastener forces [-].
        edge_shift: of the displacements along the edge of the opening, less rigid motion [-].
        peak: of the greatest stress along that edge; CalculiX averages at nodes [-].
        values: greatest fastener force [in] and peak stress times thickness [-], ours then theirs, shape (3, 2, 2).
    """

    fastener: np.ndarray
    edge_shift: np.ndarray
    peak: np.ndarray
    values: np.ndarray


def node_numbers(unit: UnitSolution) -> dict[str, np.ndarray]:
    """CalculiX number of each grid place of each sheet."""
    numbers, start = {}, 1
    for name, give in unit.gives.items():
        count = give.mesh.nodes[..., 0].size
        numbers[name] = np.arange(start, start + count).reshape(give.mesh.nodes.shape[:2])
        start += count
    return numbers


def input_deck(unit: UnitSolution) -> str:
    """The input file: three steps, one a unit case."""
    numbers = node_numbers(unit)
    lines: list[str] = ["*HEADING", "reinforced opening", "*NODE, NSET=ALL"]
    first_reference = 1 + max(int(own.max()) for own in numbers.values())
    references, count = {}, len(unit.model.fasteners)
    for n, (name, give) in enumerate(unit.gives.items()):
        used = np.unique(gather(numbers[name][..., None].astype(float))).astype(int)
        places = dict(
            zip(numbers[name].ravel().tolist(), give.mesh.nodes.reshape(-1, 2).tolist(), strict=True)
        )
        lines += [f"{k}, {places[k][0]:.12g}, {places[k][1]:.12g}, 0." for k in used.tolist()]
        references[name] = first_reference + n * count + np.arange(count)
        lines += [
            f"{k}, {x:.12g}, {y:.12g}, 0."
            for k, (x, y) in zip(references[name].tolist(), unit.model.centers.tolist(), strict=True)
        ]
    element = 1
    for name in unit.gives:
        lines.append(f"*ELEMENT, TYPE=CPS8, ELSET={name.upper()}")
        for nodes in (
            gather(numbers[name][..., None].astype(float))[..., 0].reshape(-1, 8).astype(int).tolist()
        ):
            lines.append(f"{element}, " + ", ".join(map(str, nodes)))
            element += 1
    for axis in (1, 2):
        lines.append(f"*ELEMENT, TYPE=SPRING2, ELSET=SLIDE{axis}")
        for pair in zip(*(own.tolist() for own in references.values()), strict=True):
            lines.append(f"{element}, {pair[0]}, {pair[1]}")
            element += 1
    stiffness = 1.0 / flexibilities(unit.model, unit.formula)
    assert np.ptp(stiffness) < 1e-9 * stiffness[0], "one spring constant serves all rivets"
    for axis in (1, 2):
        lines += [f"*SPRING, ELSET=SLIDE{axis}", f"{axis}, {axis}", f"{stiffness[0]:.12g}"]
    for sheet in unit.model.sheets:
        name = sheet.name.upper()
        lines += [
            f"*MATERIAL, NAME={name}",
            "*ELASTIC",
            f"{sheet.modulus_psi:.12g}, {sheet.poisson_ratio:.12g}",
        ]
        lines += [f"*SOLID SECTION, ELSET={name}, MATERIAL={name}", f"{sheet.thickness_in:.12g}"]
    lines += _equations(unit, numbers, references)
    outer = numbers["skin"][-1, ::2]
    opposite = len(outer) // 2
    arm = np.abs(np.subtract(*unit.gives["skin"].mesh.nodes[-1, ::2][[opposite, 0]]))
    lines += ["*BOUNDARY", f"{outer[0]}, 1, 2", f"{outer[opposite]}, {2 if arm[0] > arm[1] else 1}"]
    # a reference node that is free out of the plane stops CalculiX without a message
    lines += [f"{k}, 3, 3" for own in references.values() for k in own.tolist()]
    loads = LOAD_LBF_IN * edge_loads(unit.gives["skin"].mesh)[unit.gives["skin"].mesh.rim]
    for case in range(3):
        lines += ["*STEP", "*STATIC, SOLVER=SPOOLES", "*CLOAD, OP=NEW"]
        for node, force in zip(numbers["skin"][-1].tolist(), loads[..., case].tolist(), strict=True):
            lines += [f"{node}, {axis}, {value:.12g}" for axis, value in enumerate(force, 1) if value]
        lines += ["*NODE PRINT, NSET=ALL", "U", "*EL FILE, OUTPUT=2D", "S", "*END STEP"]
    return "\n".join(lines) + "\n"


def _equations(
    unit: UnitSolution, numbers: dict[str, np.ndarray], references: dict[str, np.ndarray]
) -> list[str]:
    """Each reference node moves by the mean of its disc; the heaviest node of the disc depends on the others."""
    lines: list[str] = []
    for name, give in unit.gives.items():
        means, taken = give.means.toarray(), np.zeros(give.means.shape[1], dtype=int)
        flat = numbers[name].ravel()
        for row, reference in zip(means, references[name].tolist(), strict=True):
            nodes = np.flatnonzero(np.abs(row) > _SMALLEST_WEIGHT)
            heaviest = nodes[np.abs(row[nodes]).argmax()]
            taken[nodes] += 1
            order = [heaviest, *nodes[nodes != heaviest]]
            for axis in (1, 2):
                terms = [f"{flat[k]}, {axis}, {row[k]:.14g}" for k in order] + [f"{reference}, {axis}, -1."]
                lines += ["*EQUATION", str(len(terms))]
                lines += [", ".join(terms[k : k + 4]) for k in range(0, len(terms), 4)]
        assert taken.max() <= 1, "two discs share a node: use a finer grid"
    return lines


def displacements(text: str) -> list[dict[int, np.ndarray]]:
    """Displacements of each step from the printed output."""
    steps: list[dict[int, np.ndarray]] = []
    for line in text.splitlines():
        words = line.split()
        if line.lstrip().startswith("displacements"):
            steps.append({})
        elif len(words) == 4 and words[0].isdigit() and steps:
            steps[-1][int(words[0])] = np.array([float(words[1]), float(words[2])])
    return steps


def nodal_stresses(text: str) -> list[dict[int, np.ndarray]]:
    """Stresses xx, yy, xy at nodes of each step from the result file."""
    steps: list[dict[int, np.ndarray]] = []
    reading = False
    for line in text.splitlines():
        if line.startswith(" -4"):
            reading = line.split()[1] == "STRESS"
            if reading:
                steps.append({})
        elif line.startswith(" -3"):
            reading = False
        elif reading and line.startswith(" -1"):
            values = [float(line[13 + 12 * k : 25 + 12 * k]) for k in range(4)]
            steps[-1][int(line[3:13])] = np.array([values[0], values[1], values[3]])
    return steps


def compare() -> Comparison:
    """Solve with both programs."""
    unit = analyze(reinforced(), fineness=Fineness(per_quarter=12, patch_share=0.7, far_growth_ratio=1.35))
    with tempfile.TemporaryDirectory() as folder:
        (Path(folder) / "opening.inp").write_text(input_deck(unit))
        done = subprocess.run(
            ["ccx", "-i", "opening"], cwd=folder, capture_output=True, text=True, timeout=300, check=False
        )
        if done.returncode or "*ERROR" in done.stdout:
            raise RuntimeError(f"CalculiX stopped with {done.returncode}:\n{done.stdout[-2000:]}")
        moved = displacements((Path(folder) / "opening.dat").read_text())
        stressed = nodal_stresses((Path(folder) / "opening.frd").read_text())
    numbers = node_numbers(unit)
    edge = numbers["skin"][0]
    start = 1 + max(int(own.max()) for own in numbers.values())
    count = len(unit.model.fasteners)
    stiffness = 1.0 / flexibilities(unit.model, unit.formula)
    places = unit.gives["skin"].mesh.nodes[0]
    tangent = np.roll(places, -1, axis=0) - np.roll(places, 1, axis=0)
    tx, ty = (tangent / np.hypot(*tangent.T)[:, None]).T
    fastener, shift, peak, values = [], [], [], []
    for case in range(3):
        own = LOAD_LBF_IN * unit.fastener_in[..., case]
        skin, doubler = (
            np.array([moved[case][start + n * count + k] for k in range(count)]) for n in range(2)
        )
        other = stiffness[:, None] * (skin - doubler)
        scale = np.hypot(*other.T).max()
        fastener.append(np.hypot(*(own - other).T).max() / scale)

        ours = LOAD_LBF_IN * unit.displacement("skin")[unit.gives["skin"].mesh.edge, :, case]
        theirs = np.array([moved[case][k] for k in edge.tolist()])
        shift.append(
            np.abs(_less_rigid(ours - theirs, places)).max() / np.abs(_less_rigid(theirs, places)).max()
        )

        xx, yy, xy = np.array([stressed[case][k] for k in edge.tolist()]).T
        along = np.abs(xx * tx**2 + yy * ty**2 + 2 * xy * tx * ty).max()
        load = dict(zip(("nx_lbf_in", "ny_lbf_in", "q_lbf_in"), LOAD_LBF_IN * np.eye(3)[case], strict=True))
        mine = abs(unit.combine(**load).edge().peak[0])
        peak.append(abs(mine / along - 1))
        thickness = unit.model.skin.thickness_in
        pairs = [[np.hypot(*own.T).max(), scale], [mine * thickness, along * thickness]]
        values.append(np.array(pairs) / LOAD_LBF_IN)
    return Comparison(np.array(fastener), np.array(shift), np.array(peak), np.array(values))


def _less_rigid(moved: np.ndarray, places: np.ndarray) -> np.ndarray:
    motions = np.zeros((len(places), 2, 3))
    motions[:, 0, 0] = motions[:, 1, 1] = 1.0
    motions[:, 0, 2], motions[:, 1, 2] = -places[:, 1], places[:, 0]
    flat = motions.reshape(-1, 3)
    return moved.reshape(-1) - flat @ np.linalg.lstsq(flat, moved.reshape(-1), rcond=None)[0]


def main() -> None:
    """Print the comparison."""
    if shutil.which("ccx") is None:
        raise SystemExit("CalculiX is not installed; on Debian: apt-get install calculix-ccx")
    found = compare()
    print("case   rivet max [in]      peak x t [-]        differences: rivets, edge shift, peak")
    for n, name in enumerate(("Nx", "Ny", "q")):
        (ours, theirs), (mine, along) = found.values[n]
        print(
            f"{name:4s} {ours:8.4f} {theirs:8.4f}   {mine:8.4f} {along:8.4f}   "
            f"{found.fastener[n]:.1e} {found.edge_shift[n]:.1e} {found.peak[n]:.1e}"
        )


if __name__ == "__main__":
    main()
