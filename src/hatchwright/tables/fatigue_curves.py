"""Stress-life curves of sheet for a fatigue screen: median lives, on the net section."""

from __future__ import annotations

import math

from hatchwright.tables.cited import Cited
from hatchwright.tables.table import Record, ShopTables, Table


class FatigueCurve(Record, frozen=True):
    """log10 N = A1 - A2 log10(Seq - A4), Seq = Smax (1 - R)^A3, stresses in ksi; no failure is foreseen up to A4.

    Args:
        kt_ratio: stress concentration of the specimens, on their net section [-].
        a4_psi: A4, None where the curve falls without end [psi].
        scatter_ratio: standard error of log10 life [-].
    """

    alloy: str
    temper: str
    kt_ratio: float
    a1_ratio: float
    a2_ratio: float
    a3_ratio: float
    a4_psi: float | None
    scatter_ratio: float

    def life(self, stress_psi: float) -> float:
        """Median life at a stress that comes and goes (R = 0), infinite up to A4 [cycles].

        >>> curve = fatigue_curves("2024", "T3")[0]
        >>> round(math.log10(curve.life(40e3)), 2)
        5.61
        """
        over_ksi = (stress_psi - (self.a4_psi or 0.0)) / 1e3
        if over_ksi <= 0.0:
            return math.inf
        return float(10.0 ** (self.a1_ratio - self.a2_ratio * math.log10(over_ksi)))

    def endures(self, *, cycles: float, errors: float) -> Cited:
        """Equivalent stress up to which a screen asks nothing: A4; of a curve without one, the stress of a long life.

        Args:
            cycles: the long life [cycles].
            errors: standard errors of log life that are taken off [-].
        """
        if self.a4_psi is not None:
            return self.cited("a4_psi")
        log_life = math.log10(cycles) + errors * self.scatter_ratio
        stress_psi = 1e3 * 10.0 ** ((self.a1_ratio - log_life) / self.a2_ratio)
        return Cited(stress_psi, "psi", self.source, self.grade)


FATIGUE_CURVES = Table(FatigueCurve, "fatigue_curves", named_by=3, is_open=False)


def fatigue_curves(alloy: str, temper: str, shop: ShopTables | None = None) -> tuple[FatigueCurve, ...]:
    """The curves of a sheet, unnotched first; none where the table has none for it.

    Source: [MIL-HDBK-5J], figures 3.2.3.1.8 and 3.7.6.1.8, seen only restated.

    >>> [curve.kt_ratio for curve in fatigue_curves("2024", "T3")], fatigue_curves("6061", "T6")
    ([1.0, 2.0], ())
    """
    rows = FATIGUE_CURVES.all(shop, alloy=alloy, temper=temper)
    return tuple(sorted(rows, key=lambda row: row.kt_ratio))
