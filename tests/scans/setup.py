"""How one scan came about: scanner, printer, light and hand, drawn at random from published or assumed spreads.

Assumed, no source, where no other is named: what is known of desktop scanners is scarce. Scale of the axes and bow:
ACRS 1997, "Suitability assessment of A4 format desktop publishing scanners" (errors of 1 to 4 px at 300 and 600 dpi).
"""

from __future__ import annotations

import msgspec
import numpy as np

from tests.scans.shapes import Values


class Wave(msgspec.Struct, frozen=True):
    """A place that is off as a sine of the way gone: height [in], period [in], phase [rad]."""

    height: float
    period: float
    phase: float

    def off(self, way: Values) -> Values:
        return self.height * np.sin(2.0 * np.pi * way / self.period + self.phase)


STILL = Wave(0.0, 1.0, 0.0)


class Setup(msgspec.Struct, frozen=True, kw_only=True):
    """What one scan depends on, lengths in inches, angles in radians, reflectances 0 to 1.

    Args:
        scale: of sensor and carriage; `square` what they are out of square.
        bows: slow errors of sensor, then carriage; `banding` the quick one of the carriage, `jitter` of each line.
        card_at, card_turn: the card on the bed, from the bed's middle line and the middle of its length.
        print_scale, print_bows: of the printer, x then y of the card.
        part_at, part_turn: the part, from the middle of the window.
        lens_height: of the lens over the bed where the scanner has one.
        wall: reflectance of the wall of the sheet at the left, at the right of what it is seen behind.
        blur: of the optics [in]; `blur_px` of the sensor [px].
        gamma: of the tone curve; `glare` spread over the neighbourhood; `exposure` multiplies all light.
        noise: of each pixel [gray levels]; `jpeg` quality, None for none.
        glints, dust, scratches: how many.
        lost: lines the carriage ran on without reading, as (line, how many).
        sensor_tilt: keystone of a camera [1/in], 0 of a scanner.
        dots_lost: share of the dots that the printer left out.
        card_over_part: whether the card lies on the part where both are, and not the part on the card.
    """

    dpi: int
    scale: tuple[float, float]
    square: float
    bows: tuple[Wave, Wave]
    banding: Wave
    jitter: float
    card_at: tuple[float, float]
    card_turn: float
    print_scale: tuple[float, float]
    print_bows: tuple[Wave, Wave]
    dot_gain: float
    part_at: tuple[float, float]
    part_turn: float
    lens_height: float | None
    wall: tuple[float, float]
    blur: float
    blur_px: float
    gamma: float
    glare: float
    exposure: float
    black: float
    paper: float
    ink: float
    metal: float
    grain: float
    noise: float
    jpeg: int | None
    glints: int
    dust: int
    scratches: int
    lost: tuple[tuple[int, int], ...] = ()
    sensor_tilt: tuple[float, float] = (0.0, 0.0)
    dots_lost: float = 0.0
    card_over_part: bool = False

    def but(self, **changes: object) -> Setup:
        """The same scan with something changed."""
        return msgspec.structs.replace(self, **changes)  # type: ignore[arg-type]


def any_setup(rng: np.random.Generator, *, dpi: int = 300, lens: bool = False) -> Setup:
    """One scan as it may come: sound, of a scanner with a contact sensor or with a lens."""

    def slow(height: float) -> Wave:
        return Wave(height, rng.uniform(4.0, 12.0), rng.uniform(0.0, 2.0 * np.pi))

    metal = rng.uniform(0.35, 0.65)
    return Setup(
        dpi=dpi,
        scale=tuple(1.0 + rng.uniform(-0.005, 0.005, 2)),
        square=np.radians(rng.normal(0.0, 0.03)),
        bows=(slow(0.002), slow(0.003)),
        banding=Wave(0.0003, rng.uniform(0.2, 1.0), rng.uniform(0.0, 2.0 * np.pi)),
        jitter=rng.uniform(0.0002, 0.0004),
        card_at=tuple(rng.uniform(-0.2, 0.2, 2)),
        card_turn=np.radians(rng.uniform(-2.0, 2.0)),
        print_scale=tuple(1.0 + rng.uniform(-0.004, 0.004, 2)),
        print_bows=(slow(0.0012), slow(0.0012)),
        dot_gain=rng.uniform(-0.001, 0.003),
        part_at=tuple(rng.uniform(-0.05, 0.05, 2)),
        part_turn=np.radians(rng.uniform(-3.0, 3.0)),
        lens_height=rng.uniform(12.5, 15.5) if lens else None,
        blur=rng.uniform(0.0006, 0.0013),
        blur_px=rng.uniform(0.3, 0.5),
        gamma=rng.uniform(1.9, 2.5),
        glare=0.02,
        exposure=rng.uniform(0.9, 1.1),
        black=rng.uniform(0.02, 0.06),
        paper=rng.uniform(0.72, 0.85),
        ink=rng.uniform(0.04, 0.10),
        metal=metal,
        wall=tuple(metal * rng.uniform(0.05, 1.0, 2)),
        grain=rng.uniform(0.02, 0.06),
        noise=rng.uniform(1.0, 3.0),
        jpeg=[None, 95, 85][rng.integers(3)],
        glints=int(rng.integers(20, 81)),
        dust=int(rng.integers(20, 60)),
        scratches=int(rng.integers(3, 15)),
    )
