"""A proposal by brute force, to hold the search to: every ring of a coarse grid laid out and measured by its own code.

It shares nothing with the program: it lays its own points, takes distances to edges with shapely, and holds them to
the limits below, each typed from the document named beside it. It is slow and coarse: what it finds is a lay-out that
is possible, so the search must find one at least as good.
"""

from __future__ import annotations

import itertools
import math
from collections.abc import Iterator
from dataclasses import dataclass, field
from statistics import NormalDist, median

import numpy as np
import numpy.typing as npt
import shapely

from tests.search.small_jobs import SmallJob

Array = npt.NDArray[np.float64]

DIAMETER_IN = {"3": 3 / 32, "4": 1 / 8, "5": 5 / 32}
"""Dash numbers count 32nds. [FAA-CT-8080-8D], exhibit 1."""

EDGE_D = {False: 2.0, True: 2.5}
"""Least edge distance, protruding and flush. [AL0992], rivet spacing and edge distance."""

EDGE_MOST_D = 4.0
"""Greatest. [AL0992], the same: the edge may lift."""

APART_D = 3.0
"""Least distance of any two rivets. [TM-10-5410-229-13P], par. 5-6(3)(b)."""

PITCH_D = {(1, False): 3.0, (2, False): 4.0, (1, True): 3.5, (2, True): 4.5}
"""Least pitch by rows and flush head. One row [TM-10-5410-229-13P] par. 5-6(3)(b); two [AC43.13-1B] fig. 4-5(A), seen
only restated; flush [FAA-H-8083-31] fig. 4-79, from memory."""

PITCH_MOST_D = 8.0
"""Greatest usual pitch. [NAVEDTRA-14018], ch. 13, rivet spacing."""

ROWS_APART_D = 2.5
"""Between two rows, square to them. [TM-10-5410-229-13P], par. 5-6."""

OVERLAP_D = 6.5
"""From edge to edge across two rows. [FAA-KT], item on the overlap of a double row."""

STAGGER = 0.275
"""Of a pitch. That rows are staggered: [NAVEDTRA-14018], ch. 13; a quarter as its measure is common practice without a
source, and a tenth more is kept here, because nobody says over which rivets it is to be taken."""

CLEAR_IN = 0.125
"""From the ring to a flange. [TM-1-1520-240-BD], web patches."""

PER_INCH = {
    (".020", "3"): 6.5, (".020", "4"): 4.9, (".025", "3"): 6.9, (".025", "4"): 4.9, (".032", "3"): 8.9,
    (".032", "4"): 4.9, (".032", "5"): 3.9, (".040", "4"): 6.2, (".040", "5"): 4.0,
}  # fmt: skip
"""Rivets an inch by skin and rivet. [AC43.13-1B], table 4-10, page 4-38."""

NOTE_C = 0.75
"""Of them in a lap joint. [AC43.13-1B], table 4-10, note c."""

DENSITY_LB_PER_IN3 = 0.100
"""Of 2024. [MIL-HDBK-5J], table 3.2.3.0."""

TO_A_STEP_IN = 0.005
"""Lengths end on this: what a job of a small shop is drawn to. Common practice, no source."""

_FINE = 512
"""Chords to a quarter of a corner for shapely: an arc of 3 in lies off by 4e-6 in then [-]."""
_NOISE_IN = 2e-5


@dataclass(frozen=True)
class Ring:
    """One layout that holds.

    Attributes:
        rows: distance from the opening's edge, bays toward X, bays toward Y, half a bay on, of each [in].
        holes: rivets in all.
        mass_lb: of ring and rivets, by the formula of this file.
    """

    rivet: str
    gauge: str
    width_in: float
    rows: tuple[tuple[float, int, int, bool], ...]
    holes: int
    mass_lb: float
    shift_in: tuple[float, float]


@dataclass(frozen=True)
class _Row:
    distance_in: float
    bays: tuple[int, int]
    is_staggered: bool
    points: Array
    counted: tuple[int, int]
    """Beyond the X side and beyond the Y side of the opening."""


@dataclass
class BruteForce:
    """Every ring of the grid, asked one after the other.

    Attributes:
        step_in: of the grid in both rows' distances and the ring's width [in].
        short_holes: accepted in a hundred jobs, with the job's scatter.
        tried: layouts that were measured hole by hole.
    """

    job: SmallJob
    step_in: float = 0.04
    short_holes: float = 1.0
    tried: int = 0
    _rows: dict[tuple[str, int], list[_Row]] = field(default_factory=dict)

    def best(self) -> dict[str, Ring] | None:
        """The lightest ring, that with the fewest rivets and the narrowest, of the grid; None where none holds."""
        found: dict[str, Ring] = {}
        for aim, key in (
            ("lightest", lambda ring: ring.mass_lb),
            ("fewest", lambda ring: ring.holes),
            ("narrowest", lambda ring: ring.width_in),
        ):
            ring = next((one for one in sorted(self._possible(), key=key) if self._holds(one)), None)
            if ring is None:
                return None
            found[aim] = ring
        return found

    def _possible(self) -> list[Ring]:
        """All rings whose counts, pitches and width can hold, not yet measured hole by hole."""
        found = []
        for rivet, rows in itertools.product(self.job.rivets, range(1, self.job.most_rows + 1)):
            for some in self._combined(rivet, rows):
                width_in = self._width(rivet, some[-1].distance_in, sum(len(row.points) for row in some))
                place = self._place(width_in)
                if place is None or not self._goes_through(width_in):
                    continue
                if rows == 2 and width_in < OVERLAP_D * _diameter(rivet) - 1e-9:
                    continue
                found += [self._ring(rivet, gauge, width_in, some, place) for gauge in self.job.sheets]
        return found

    def _ring(
        self, rivet: str, gauge: str, width_in: float, some: tuple[_Row, ...], place: tuple[float, float]
    ) -> Ring:
        job, diameter_in = self.job, _diameter(rivet)
        holes = sum(len(row.points) for row in some)
        grip_in = float(gauge) + float(job.skin)
        shank_in3 = math.pi / 4.0 * diameter_in**2 * (grip_in + 1.5 * diameter_in)
        head_in3 = 0.75 * math.pi / 4.0 * (2.0 * diameter_in) ** 2 * diameter_in / 2.0
        area_in2 = _area(job, width_in) - _area(job, 0.0)
        mass_lb = DENSITY_LB_PER_IN3 * (area_in2 * float(gauge) + holes * (shank_in3 + head_in3))
        rows = tuple((row.distance_in, *row.bays, row.is_staggered) for row in some)
        return Ring(rivet, gauge, width_in, rows, holes, mass_lb, place)

    def _combined(self, rivet: str, rows: int) -> Iterator[tuple[_Row, ...]]:
        """One row, or two of which one starts half a bay on, with enough rivets on each side."""
        needed = self._needed(rivet)
        singles = self._singles(rivet, rows)
        if rows == 1:
            yield from ((row,) for row in singles if all(map(int.__ge__, row.counted, needed)))
            return
        apart_in = ROWS_APART_D * _diameter(rivet)
        by_bays: dict[tuple[int, int, bool], list[_Row]] = {}
        for row in singles:
            by_bays.setdefault((*row.bays, row.is_staggered), []).append(row)
        for near in singles:
            for off_x, off_y in itertools.product((-1, 0, 1), repeat=2):
                x, y = near.bays
                for far in by_bays.get((x + off_x, y + off_y, not near.is_staggered), ()):
                    if far.distance_in < near.distance_in + apart_in - 1e-9:
                        continue
                    if all(a + b >= n for a, b, n in zip(near.counted, far.counted, needed, strict=True)):
                        yield near, far

    def _needed(self, rivet: str) -> tuple[int, int]:
        """Rivets toward X, over the cut along Y, and toward Y."""
        per_inch = PER_INCH[self.job.skin, rivet[-1]] * NOTE_C
        return tuple(math.ceil(cut * per_inch - 1e-9) for cut in (self.job.height, self.job.width))  # type: ignore[return-value]

    def _singles(self, rivet: str, rows: int) -> list[_Row]:
        """Every row of the grid whose own pitches hold."""
        if (rivet, rows) in self._rows:
            return self._rows[rivet, rows]
        job, diameter_in, is_flush = self.job, _diameter(rivet), _is_flush(rivet)
        least_in, most_in = PITCH_D[rows, is_flush] * diameter_in, PITCH_MOST_D * diameter_in
        first_in = _up(EDGE_D[is_flush] * diameter_in + self._kept(1))
        last_in = self._widest() - EDGE_D[is_flush] * diameter_in
        found = []
        for distance_in in np.arange(first_in, last_in + 1e-9, self.step_in).tolist():
            runs_in = [
                size + math.pi / 2.0 * (job.radius + distance_in) - 2.0 * job.radius
                for size in (job.height, job.width)
            ]
            ranges = [
                range(max(2, math.ceil(run / most_in)), math.floor(run / (0.97 * least_in)) + 1)
                for run in runs_in
            ]
            for bays in itertools.product(*ranges):
                for is_staggered in (False, True):
                    points = lay(job, distance_in, bays, is_staggered)
                    pitches = np.hypot(*(np.roll(points, -1, axis=0) - points).T)
                    if pitches.min() < least_in - 1e-9 or pitches.max() > most_in + 1e-9:
                        continue
                    beyond = (points > np.array((job.width, job.height)) / 2.0 + 1e-5).sum(axis=0)
                    counted = (int(beyond[0]), int(beyond[1]))
                    found.append(_Row(distance_in, bays, is_staggered, points, counted))
        self._rows[rivet, rows] = found
        return found

    def _kept(self, holes: int) -> float:
        """What is kept of an edge distance for the shop's scatter [in]."""
        if not self.job.drill:
            return 0.0
        chance = self.short_holes / 100.0 / max(holes, 1)
        return NormalDist().inv_cdf(1.0 - chance) * math.hypot(self.job.drill, self.job.edge)

    def _width(self, rivet: str, distance_in: float, holes: int) -> float:
        edge_in = EDGE_D[_is_flush(rivet)] * _diameter(rivet) + self._kept(holes)
        return _up(distance_in + edge_in)

    def _widest(self) -> float:
        job = self.job
        return min(job.bay_x - job.width, job.bay_y - job.height) / 2.0 - CLEAR_IN

    def _place(self, width_in: float) -> tuple[float, float] | None:
        """How the center must move so that the ring clears the flanges, on a step; None where it can't."""
        job, shift = self.job, []
        for at, size, bay in ((job.x, job.width, job.bay_x), (job.y, job.height, job.bay_y)):
            half = size / 2.0 + width_in + CLEAR_IN
            low, high = half - at, bay - half - at
            if low > high + 1e-9:
                return None
            shift.append(_up(low) if low > 1e-9 else -_up(-high) if high < -1e-9 else 0.0)
        return (shift[0], shift[1]) if math.hypot(*shift) <= job.shift + 1e-9 else None

    def _goes_through(self, width_in: float) -> bool:
        job = self.job
        if not job.ring_through:
            return True
        chord_in = math.hypot(job.width - 2 * job.radius, job.height - 2 * job.radius) + 2 * job.radius
        return min(job.width, job.height) + 2.0 * width_in < chord_in - 1e-4

    def _holds(self, ring: Ring) -> bool:
        """Whether every distance holds, hole by hole."""
        self.tried += 1
        job, diameter_in, is_flush = self.job, _diameter(ring.rivet), _is_flush(ring.rivet)
        rows = [lay(job, d, (kx, ky), half) for d, kx, ky, half in ring.rows]
        points = np.concatenate(rows)
        apart = np.hypot(*(points[:, None] - points[None]).transpose(2, 0, 1))
        np.fill_diagonal(apart, np.inf)
        if apart.min() < APART_D * diameter_in - 1e-9:
            return False
        if len(rows) == 2 and not _rows_hold(*rows, diameter_in):
            return False
        places = shapely.points(points)
        edge_in, most_in = EDGE_D[is_flush] * diameter_in + self._kept(len(points)), EDGE_MOST_D * diameter_in
        for outline in (_outline(job, 0.0), _outline(job, ring.width_in)):
            gaps = shapely.distance(places, outline.exterior)
            if gaps.min() < edge_in - _NOISE_IN or gaps.min() > most_in:
                return False
        return bool(_outline(job, ring.width_in).contains(shapely.multipoints(points)))


def _rows_hold(near: Array, far: Array, diameter_in: float) -> bool:
    """Rows apart square to each straight step, and neither facing the other."""
    for here, there in ((near, far), (far, near)):
        step = np.roll(there, -1, axis=0) - there
        length = np.hypot(*step.T)
        off = here[:, None] - there[None]
        along = (off * step).sum(axis=2) / length
        across = np.abs(off[..., 0] * step[:, 1] - off[..., 1] * step[:, 0]) / length
        square = (along >= 0.0) & (along <= length)
        near_by = square & (across <= 12.0 * diameter_in)
        if across[near_by].min(initial=np.inf) < ROWS_APART_D * diameter_in - 1e-9:
            return False
        for beside in (square, near_by):  # nobody says whether a rivet across the opening is faced too
            nearest = np.where(beside, np.minimum(along, length - along) / length, np.inf).min(axis=1)
            if median(nearest[np.isfinite(nearest)].tolist() or [0.5]) < STAGGER:
                return False
    return True


def lay(job: SmallJob, distance_in: float, bays: tuple[int, int], is_staggered: bool) -> Array:
    """Places of one row about the opening's middle, from the middle of the corner at -Y, +X on round toward +Y,
    shape (n, 2) [in]."""
    half = np.array((job.width, job.height)) / 2.0 - job.radius
    rho = job.radius + distance_in
    quarter = rho * math.pi / 4.0
    found = []
    for side in range(4):
        straight, count = half[1 - side % 2], bays[side % 2]
        run = 2.0 * (straight + quarter)
        along = (np.arange(count) + 0.5 * is_staggered) * run / count - run / 2.0  # from the side's middle
        past = np.maximum(np.abs(along) - straight, 0.0) / rho
        toward = np.sign(along)
        # On the side toward X: out is x, along is y.
        out = half[side % 2] + rho * np.cos(past)
        run_on = toward * (np.minimum(np.abs(along), straight) + rho * np.sin(past))
        x, y, turn = out, run_on, side * math.pi / 2.0
        cos, sin = math.cos(turn), math.sin(turn)
        found.append(np.column_stack((x * cos - y * sin, x * sin + y * cos)))
    return np.concatenate(found)


def _outline(job: SmallJob, out_in: float) -> shapely.Polygon:
    """The opening, or the ring's outer edge, about the opening's middle."""
    x, y = job.width / 2.0 - job.radius, job.height / 2.0 - job.radius
    return shapely.box(-x, -y, x, y).buffer(job.radius + out_in, quad_segs=_FINE)


def _area(job: SmallJob, out_in: float) -> float:
    """Of the opening, or of the ring with it [in^2]."""
    radius = job.radius + out_in
    return (job.width + 2 * out_in) * (job.height + 2 * out_in) - (4.0 - math.pi) * radius**2


def _diameter(rivet: str) -> float:
    return DIAMETER_IN[rivet[-1]]


def _is_flush(rivet: str) -> bool:
    return rivet.startswith("MS20426")


def _up(value_in: float) -> float:
    """The next step at or above a length [in]."""
    return math.ceil(value_in / TO_A_STEP_IN - 1e-9) * TO_A_STEP_IN


def entered(job: SmallJob, ring: Ring) -> str:
    """The job's text with a ring of the grid in place of its own."""
    shift_x, shift_y = ring.shift_in
    parts = job.text.partition("[[rows]]")
    wish = "[wish]" + parts[2].partition("[wish]")[2]
    outer = "".join(
        f'{name} = "{size + 2.0 * ring.width_in * share:.4f}"\n'
        for name, size, share in (
            ("width", job.width, 1),
            ("height", job.height, 1),
            ("radius", job.radius, 0.5),
        )
    )
    head = parts[0].replace(f'thickness = "{job.sheets[0]}"', f'thickness = "{ring.gauge}"')
    head = head.partition("[doubler.outer]")[0].replace(
        f'center = ["{job.x:.3f}", "{job.y:.3f}"]',
        f'center = ["{job.x + shift_x:.3f}", "{job.y + shift_y:.3f}"]',
    )
    rows = "".join(
        f'[[rows]]\nname = "row {k}"\nlay = "offset"\nedge = "opening"\nrivet = "{ring.rivet}"\n'
        f'distance = "{distance:.4f}"\nper_side = [{x}, {y}, {x}, {y}]\ncorners = "middles"\n'
        f"stagger = {str(half).lower()}\n\n"
        for k, (distance, x, y, half) in enumerate(ring.rows)
    )
    return f'{head}[doubler.outer]\nshape = "rounded rectangle"\n{outer}\n{rows}{wish}'
