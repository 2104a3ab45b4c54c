"""Speed of the finite elements, as ratios measured in one run on one core.

1. A complete analysis (44 rivets, two sheets, three unit cases) against the same problem through stock scikit-fem
   assembly and SciPy's default sparse solver. Asked: 5 times or more.
2. 200 variants of thickness and flexibility formula on one geometry, over one complete analysis.
3. The whole report of an example with three load cases, buckling with it, over one complete analysis. It was 24 before
   the panel as it was had its own method, modes were found in a third of the solutions, and the state between cut and
   reinforced was left out. Asked: 1000 ms or less on an idle core.
4. 200 geometries over two processes against one: rounds of one and of two take turns on pools that are warm, and
   the median of their ratios counts, so that other work on the machine weighs less. Beside it stands what the machine
   gives for plain loops that share nothing, which no program exceeds. Asked: 1.7 times or more, on two idle cores.

Takes about a minute on two idle cores. `--only-processes` measures the fourth alone, in half of that.
"""

# ruff: noqa: E402, I001 - one thread must be asked for before NumPy is imported
from __future__ import annotations

import os

for variable in ("OPENBLAS_NUM_THREADS", "OMP_NUM_THREADS", "MKL_NUM_THREADS"):
    os.environ[variable] = "1"

import math
import multiprocessing
import re
import sys
import time
from collections.abc import Callable, Sequence
from concurrent.futures import ProcessPoolExecutor
from msgspec.structs import replace
from pathlib import Path
from typing import Any

import numpy as np
import skfem
from scipy.sparse import block_diag, csr_matrix
from scipy.sparse.linalg import splu
from skfem.helpers import ddot, sym_grad, trace

sys.path.insert(0, str(Path(__file__).parents[1] / "tests"))

from fem.models import reinforced
from strength.jobs import running

from hatchwright.fem.analysis import analyze
from hatchwright.fem.stations import Fineness
from hatchwright.fem.coupling import flexibilities
from hatchwright.fem.patch import disc
from hatchwright.job.file import read_job
from hatchwright.layout.lay_out import lay_out
from hatchwright.layout.layout import Layout
from hatchwright.search.worker_environment import set_worker_environment
from hatchwright.strength.report import strength_report

MODEL = reinforced()
NU = MODEL.skin.poisson_ratio


def best(run: Callable[[], Any], times: int = 7) -> float:
    """Least CPU time of several runs [s]."""
    spent = []
    for _ in range(times):
        start = time.process_time()
        run()
        spent.append(time.process_time() - start)
    return min(spent)


@skfem.BilinearForm
def membrane(u: Any, v: Any, _: Any) -> Any:
    """Plane stress for E t = 1."""
    strain, other = sym_grad(u), sym_grad(v)
    return ((1 - NU) * ddot(strain, other) + NU * trace(strain) * trace(other)) / (1 - NU**2)


def stock(grids: dict[str, Any], radius: Any) -> Any:
    """Rivet forces of the three unit cases from stock parts: one sparse system for both sheets and the springs."""
    parts, means, loads = [], [], []
    round_places, weight = disc()
    points = (MODEL.centers[:, None] + radius[:, None, None] * round_places).reshape(-1, 2)
    for sheet in MODEL.sheets:
        corner = grids[sheet.name].nodes[::2, ::2]
        number = np.arange(corner[..., 0].size).reshape(corner.shape[:2])
        after = np.roll(number, -1, axis=1)
        quads = np.stack([part.ravel() for part in (number[:-1], number[1:], after[1:], after[:-1])])
        mesh = skfem.MeshQuad(corner.reshape(-1, 2).T.copy(), quads)
        element = skfem.ElementVector(skfem.ElementQuadS2())
        basis = skfem.Basis(mesh, element, intorder=4)
        parts.append(sheet.membrane_lbf_in * membrane.assemble(basis))
        probes = basis.probes(points.T).tocsr()
        average = csr_matrix(np.kron(np.eye(2), np.kron(np.eye(len(radius)), weight)))
        means.append(average @ probes)
        right = np.zeros((basis.N, 3))
        if sheet is MODEL.skin:
            half_x, half_y = np.abs(corner[-1]).max(axis=0)
            rim = mesh.facets_satisfying(
                lambda x, hx=half_x, hy=half_y: np.maximum(np.abs(x[0]) / hx, np.abs(x[1]) / hy) > 1 - 1e-9,
                True,
            )
            edge = skfem.FacetBasis(mesh, element, facets=rim, intorder=4)
            pulls = (
                skfem.LinearForm(lambda v, w: w.n[0] * v[0]),
                skfem.LinearForm(lambda v, w: w.n[1] * v[1]),
                skfem.LinearForm(lambda v, w: w.n[1] * v[0] + w.n[0] * v[1]),
            )
            right = np.stack([pull.assemble(edge) for pull in pulls], axis=1)
        loads.append(right)
    apart = csr_matrix(np.hstack([means[0].toarray(), -means[1].toarray()]))
    spring = np.tile(1.0 / flexibilities(MODEL, "huth"), 2)
    matrix = block_diag(parts) + apart.T @ csr_matrix(np.diag(spring)) @ apart
    matrix = matrix.tolil()
    for pin in (0, 1, 2 * (grids["skin"].lines // 2) + 1):
        matrix[pin, pin] += MODEL.skin.membrane_lbf_in
    moved = splu(matrix.tocsc()).solve(np.concatenate(loads))
    return (spring[:, None] * (apart @ moved)).reshape(2, -1, 3).swapaxes(0, 1)


def geometry(number: int) -> float:
    """One of 200 geometries; its greatest rivet force under Nx."""
    model = reinforced(center=(0.01 * (number % 20), 0.01 * (number // 20)))
    return float(analyze(model).combine(nx_lbf_in=1.0).fastener_load_lbf.max())


def memory_mb() -> float:
    """Greatest memory that this process has held so far [MB]."""
    found = re.search(r"VmHWM:\s+(\d+) kB", Path("/proc/self/status").read_text(encoding="ascii"))
    return int(found[1]) / 1024 if found else math.nan


def loop(number: int) -> int:
    """Work that shares nothing with any other: neither memory nor the interpreter."""
    total = number
    for k in range(1_500_000):
        total = (total * 31 + k) % 1_000_003
    return total


def seconds(pool: ProcessPoolExecutor, work: Callable[[int], Any], numbers: Sequence[int]) -> float:
    """Wall time of some work on a pool [s]; one task after the other, so that no process waits long at the end."""
    start = time.perf_counter()
    list(pool.map(work, numbers))
    return time.perf_counter() - start


def loaded_example() -> Layout:
    """The first example with three load cases: tension and shear, compression and shear, shear."""
    text = (Path(__file__).parents[1] / "examples" / "alder.toml").read_text(encoding="utf-8")
    text = re.sub(r"(?ms)^\[loads.*?(?=^\[(?!loads)|\Z)", "", text)
    pulled, pressed, sheared = {"nx": 250.0, "q": 80.0}, {"nx": -120.0, "ny": -20.0, "q": 60.0}, {"q": 150.0}
    return lay_out(read_job(text + running(pulled, pressed, sheared)))


def processes() -> None:
    """200 geometries over two processes against one, with what the machine gives."""
    set_worker_environment()
    rounds = np.arange(200).reshape(5, 40).tolist()
    context = multiprocessing.get_context("spawn")
    with (
        ProcessPoolExecutor(1, mp_context=context) as alone,
        ProcessPoolExecutor(2, mp_context=context) as shared,
    ):
        for pool in (alone, shared):
            list(pool.map(geometry, range(6)))
        found, plain = [], []
        for numbers in rounds:
            found.append((seconds(alone, geometry, numbers), seconds(shared, geometry, numbers)))
            plain.append((seconds(alone, loop, range(8)), seconds(shared, loop, range(8))))
        memory = alone.submit(memory_mb).result()
        same = list(alone.map(geometry, range(0, 200, 20))) == list(shared.map(geometry, range(0, 200, 20)))
    (one, two), (ratio, given) = (
        np.sum(found, axis=0),
        (np.median([single / double for single, double in pairs]) for pairs in (found, plain)),
    )
    each = ", ".join(f"{single / double:.2f}" for single, double in found)
    print(
        f"200 geometries: {one:.1f} s on one process, {two:.1f} s on two; "
        f"ratio {ratio:.2f}, median of {each} (asked: 1.7)"
    )
    print(
        f"the machine gives {given:.2f} for plain loops, of which that is {ratio / given:.0%}; "
        f"load {os.getloadavg()[0]:.1f}, of which 2 or less are this measurement; same answers: {same}"
    )
    print(f"greatest memory of a working process: {memory:.0f} MB (asked: less than 400)")


def main() -> None:
    """Measure and print."""
    unit = analyze(MODEL)
    fine = analyze(
        MODEL, fineness=Fineness(per_quarter=20, patch_share=0.4, far_growth_ratio=1.3, growth_ratio=1.2)
    )
    off = np.abs(unit.fastener_in - fine.fastener_in).max() / np.abs(fine.fastener_in).max()
    grids = {name: give.mesh for name, give in unit.gives.items()}
    print(f"grid: {sum(grid.nodes[..., 0].size for grid in grids.values()) * 3 // 4} nodes in two sheets")
    print(f"error of the largest rivet force against a much finer grid: {off:.2%}")

    same = (
        np.abs(stock(grids, unit.patch_radius_in) - unit.fastener_in).max() / np.abs(unit.fastener_in).max()
    )
    ours, theirs = best(lambda: analyze(MODEL)), best(lambda: stock(grids, unit.patch_radius_in), 3)
    print(f"complete analysis: {1e3 * ours:.0f} ms; scikit-fem and splu: {1e3 * theirs:.0f} ms")
    print(
        f"ratio: {theirs / ours:.1f} (asked: 5); forces differ by {same:.2%} (straight against curved sides)"
    )

    def variants() -> None:
        for k in range(200):
            doubler = replace(unit.model.doublers[0], thickness_in=0.03 + 1e-4 * k)
            model = replace(unit.model, doublers=(doubler,))
            unit.changed(model=model, formula=("huth", "swift")[k % 2])

    many = best(variants, 5)
    print(f"200 variants on one geometry: {1e3 * many:.0f} ms, {many / ours:.2f} of one analysis")

    spent = best(lambda: strength_report(loaded_example()), 3)
    print(f"report of three cases: {1e3 * spent:.0f} ms (asked: 1000), {spent / ours:.1f} of one analysis")

    processes()


if __name__ == "__main__":
    processes() if "--only-processes" in sys.argv else main()
