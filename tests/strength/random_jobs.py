"""Random jobs of sound and unsound sizes, for what must hold whatever the job."""

from __future__ import annotations

import numpy as np

from hatchwright.errors import HatchwrightError
from hatchwright.job.file import read_job
from hatchwright.layout.lay_out import lay_out
from hatchwright.layout.layout import Layout
from tests.strength.jobs import ANSWERED, SQUARE, running

_DIAMETERS_IN = {"AD3": 0.09375, "AD4": 0.125, "AD5": 0.15625}


def random_job(rng: np.random.Generator) -> tuple[str, Layout]:
    """The text of a job that can be laid out, and its layout: gauges, rivets, rows, opening and loads at random."""
    for _ in range(100):
        text = _text(rng)
        try:
            return text, lay_out(read_job(text))
        except HatchwrightError:
            continue
    raise AssertionError


def _text(rng: np.random.Generator) -> str:
    rivet = str(rng.choice(list(_DIAMETERS_IN)))
    diameter_in = _DIAMETERS_IN[rivet]
    skin, doubler = (str(rng.choice((".025", ".032", ".040", ".050", ".063", ".071"))) for _ in range(2))
    width, height = rng.uniform(2.5, 5.0, 2).round(2).tolist()
    size = width, height
    radius = round(rng.uniform(0.3, 1.0), 2)
    opening = f'shape = "rounded rectangle"\nwidth = "{width}"\nheight = "{height}"\nradius = "{radius}"'
    if rng.random() < 0.3:
        opening, size = f'shape = "circle"\ndiameter = "{width}"', (width, width)
    reach = round(rng.uniform(1.2, 2.0), 2)
    outer_in = size[0] + 2 * reach, size[1] + 2 * reach
    outer = f'width = "{outer_in[0]:.2f}"\nheight = "{outer_in[1]:.2f}"\nradius = "{radius + reach:.2f}"'
    head = (
        SQUARE[: SQUARE.index("[opening]")]
        .replace('".032"', f'"{skin}"')
        .replace('"5"', '"6"')
        .replace('"-5"', '"-6"')
    )
    rows = (
        _rings(rng, rivet, diameter_in)
        if rng.random() < 0.6
        else _lines(rng, rivet, diameter_in, size, reach)
    )
    flows = {key: float(rng.choice((0.0, 1.0))) * rng.uniform(-300, 900) for key in ("nx", "ny", "q")}
    return (
        f'{head}[opening]\n{opening}\ncenter = ["0", "0"]\n[doubler]\nalloy = "2024"\ntemper = "T3"\nclad = true\n'
        f'thickness = "{doubler}"\n[doubler.outer]\nshape = "rounded rectangle"\n{outer}\n{rows}'
        + ANSWERED
        + running(flows)
    )


def _rings(rng: np.random.Generator, rivet: str, diameter_in: float) -> str:
    rows = [("inner", "opening"), ("outer", "doubler outer")][: int(rng.integers(1, 3))]
    return "".join(
        f'[[rows]]\nname = "{name}"\nlay = "offset"\nrivet = "MS20470{rivet}"\nedge = "{edge}"\n'
        f'distance = "{rng.uniform(1.5, 2.8) * diameter_in:.3f}"\npitch = "{rng.uniform(3.5, 7.0) * diameter_in:.3f}"\n'
        for name, edge in rows
    )


def _lines(
    rng: np.random.Generator, rivet: str, diameter_in: float, size: tuple[float, float], reach: float
) -> str:
    """Straight rows on all four sides, or ahead and behind only, some of them past the corners."""
    text = ""
    for axis in (0, 1)[: int(rng.integers(1, 3))]:
        edge_in, half_in = size[axis] / 2, size[1 - axis] / 2 + rng.uniform(-0.4, 0.8) * reach
        for k in range(int(rng.integers(1, 4))):
            offset_in = edge_in + (2.0 + 3.5 * k) * diameter_in
            for sign in (-1, 1):
                ends = [[0.0, 0.0], [0.0, 0.0]]
                for end, far in zip(ends, (-half_in, half_in), strict=True):
                    end[axis], end[1 - axis] = sign * offset_in, far
                text += (
                    f'[[rows]]\nname = "{"xy"[axis]} {sign} {k}"\nlay = "line"\nrivet = "MS20470{rivet}"\n'
                    f'count = {int(rng.integers(3, 11))}\nstart = ["{ends[0][0]:.3f}", "{ends[0][1]:.3f}"]\n'
                    f'end = ["{ends[1][0]:.3f}", "{ends[1][1]:.3f}"]\n'
                )
    return text
