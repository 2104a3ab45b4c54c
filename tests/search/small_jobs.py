"""Random small jobs for proposals: an invented bay, an opening in it and what lies on the shelf, each from its seed."""

from __future__ import annotations

import random
from dataclasses import dataclass, replace

_JOB = """
schema = 2
title = "Small job {seed}, invented"
units = "in"

[aircraft]
registration = "EXAMPLE-{seed}"
side = "left"
surface = "lower"

[mandate]
kind = "owner"

[gate]
spar_web_or_cap = false
pressure_skin = false
tank_wall = false
movable_surface = false
fitting_path = false
member_cut = false
over_12500_lb = false
maker_data = false
drain_covered = false
fuel_or_controls_behind = false

[frame]
origin = "rib row x spar row"
x = "OUTBD"
y = "AFT"

[skin]
alloy = "2024"
temper = "T3"
clad = true
thickness = "{skin}"
stressed = true

[bay]
nothing_near = true

[[bay.flanges]]
name = "inboard flange"
x_to = "0"

[[bay.flanges]]
name = "outboard flange"
x_from = "{bay_x:.3f}"

[[bay.flanges]]
name = "forward flange"
y_to = "0"

[[bay.flanges]]
name = "aft flange"
y_from = "{bay_y:.3f}"

[opening]
shape = "rounded rectangle"
width = "{width:.3f}"
height = "{height:.3f}"
radius = "{radius:.4f}"
center = ["{x:.3f}", "{y:.3f}"]

[doubler]
alloy = "2024"
temper = "T3"
clad = true
thickness = "{sheets[0]}"

[doubler.outer]
shape = "rounded rectangle"
width = "{outer_width:.3f}"
height = "{outer_height:.3f}"
radius = "{outer_radius:.4f}"

[[rows]]
name = "inner"
lay = "offset"
rivet = "{rivets[0]}"
edge = "opening"
distance = ".5"
pitch = ".75"
corners = "middles"

[wish]
rivets = {rivet_list}
sheets = {sheet_list}
most_rows = {most_rows}
{shift_line}{passes_line}"""

_REST = """
[[choices]]
rule = "R601"
reading = "table 4-10, note c"
reason = "The reading of AC 43.13-1B's own splice example, for a lap of two clad 2024-T3 sheets."
"""

# No rivet is larger than 1 / .18 of the skin: over that bearing needs tests, [MIL-HDBK-5H] sect. 8.1.2.
_RIVETS = {".020": ("AD3",), ".025": ("AD3", "AD4"), ".032": ("AD3", "AD4", "AD5"), ".040": ("AD4", "AD5")}
_SHEETS = {
    ".020": (".020", ".025"),
    ".025": (".025", ".032"),
    ".032": (".032", ".040"),
    ".040": (".040", ".050"),
}


@dataclass(frozen=True)
class SmallJob:
    """One job [in].

    Attributes:
        skin, sheets: thicknesses as typed, of the skin and of the sheets on the shelf.
        rivets: on the shelf, without length.
        bay_x, bay_y: between the free edges of the flanges, which stand at 0 and there.
        x, y: center of the opening.
        shift: how far the center may move; 0 where it stays.
        ring_through: whether the ring must go through the opening flat.
        drill, edge: the shop's scatter as standard deviations; 0 for none entered.
    """

    seed: int
    skin: str
    sheets: tuple[str, ...]
    rivets: tuple[str, ...]
    most_rows: int
    width: float
    height: float
    radius: float
    bay_x: float
    bay_y: float
    x: float
    y: float
    shift: float
    ring_through: bool
    drill: float
    edge: float

    @property
    def text(self) -> str:
        """The job file; its ring and its row are only there to be replaced."""
        more = 2.0 * 0.8
        body = _JOB.format(
            **vars(self),
            outer_width=self.width + more,
            outer_height=self.height + more,
            outer_radius=self.radius + more / 2.0,
            rivet_list=_listed(self.rivets),
            sheet_list=_listed(self.sheets),
            shift_line=f'shift = "{self.shift}"\n' if self.shift else "",
            passes_line='\n[[wish.passes]]\nwhat = "ring"\n' if self.ring_through else "",
        )
        scatter = f'\n[scatter]\ndrill = "{self.drill}"\nedge = "{self.edge}"\n' if self.drill else ""
        return body + scatter + _REST

    def wider(self, by_in: float) -> SmallJob:
        """The same in a bay that is wider on all four sides by as much [in]."""
        return replace(
            self,
            bay_x=self.bay_x + 2.0 * by_in,
            bay_y=self.bay_y + 2.0 * by_in,
            x=self.x + by_in,
            y=self.y + by_in,
        )


def _listed(items: tuple[str, ...]) -> str:
    return "[" + ", ".join(f'"{item}"' for item in items) + "]"


def small_job(seed: int) -> SmallJob:
    """One small job, the same for the same seed; about a third of them have no room for any ring."""
    rng = random.Random(seed)
    skin = rng.choice(sorted(_RIVETS))
    on_shelf = rng.sample(_RIVETS[skin], min(rng.randint(1, 2), len(_RIVETS[skin])))
    width, height = (round(rng.uniform(1.75, 3.5) * 8) / 8 for _ in range(2))
    radius = round(rng.uniform(0.375, min(width, height) / 2.0 - 0.375) * 16) / 16
    land_x, land_y = (rng.uniform(0.75, 1.75) for _ in range(2))
    off_x, off_y = (rng.uniform(-0.1, 0.1) for _ in range(2))
    scattered = rng.random() < 0.4
    return SmallJob(
        seed=seed,
        skin=skin,
        sheets=tuple(rng.sample(_SHEETS[skin], rng.randint(1, 2))),
        rivets=tuple(f"MS20470{size}" for size in on_shelf),
        most_rows=rng.choice((1, 2, 2)),
        width=width,
        height=height,
        radius=radius,
        bay_x=round(width + 2.0 * land_x, 2),
        bay_y=round(height + 2.0 * land_y, 2),
        x=round(width / 2.0 + land_x + off_x, 2),
        y=round(height / 2.0 + land_y + off_y, 2),
        shift=rng.choice((0.0, 0.0, 0.25)),
        ring_through=rng.random() < 0.2,
        drill=rng.choice((0.003, 0.005)) if scattered else 0.0,
        edge=0.002 if scattered else 0.0,
    )
