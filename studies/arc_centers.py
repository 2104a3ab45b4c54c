"""How far arcs whose words have five decimals lie off the arc that was meant [in].

Justifies two choices of `ngc.py` and `edge_laps.py` in `making/toolpath`: arcs of a quarter turn at most, and the
center chosen out of the nine around the true one. Run: python studies/arc_centers.py
"""

from __future__ import annotations

import numpy as np

ARCS = 3000
RADII_IN = (0.03, 2.0)


def worst_in(rng: np.random.Generator, sweep_rad: float, *, chooses: bool) -> float:
    """Farthest that one written arc lies off the arc that was meant."""
    radius, angle = rng.uniform(*RADII_IN), rng.uniform(0.0, 2.0 * np.pi)
    hub = complex(*rng.uniform(0.0, 10.0, 2))
    start = rounded(hub + radius * np.exp(1j * angle))
    turns = np.exp(1j * sweep_rad * np.linspace(0.0, 1.0, 33))
    steps = (-1, 0, 1) if chooses else (0,)
    centers = [rounded(hub - start) + 1e-5 * complex(i, j) for i in steps for j in steps]
    return min(np.abs(np.abs(start + to_hub - to_hub * turns - hub) - radius).max() for to_hub in centers)


def rounded(z: complex) -> complex:
    """What five decimals leave."""
    return complex(round(z.real, 5), round(z.imag, 5))


if __name__ == "__main__":
    for name, sweep_rad in (("quarter", np.pi / 2), ("half", np.pi)):
        for chooses in (False, True):
            rng = np.random.default_rng(1)
            off = [worst_in(rng, sweep_rad, chooses=chooses) for _ in range(ARCS)]
            way = "best of nine centres" if chooses else "nearest centre"
            print(
                f"{name:8} {way:21} worst {max(off):.1e} in, over 1e-5 in {np.mean(np.array(off) > 1e-5):.1%}"
            )
