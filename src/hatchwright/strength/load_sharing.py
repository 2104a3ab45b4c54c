"""How rows of fasteners in line share a load that one sheet hands over to another."""

from __future__ import annotations

from collections.abc import Sequence

import numpy as np
from msgspec import Struct

from hatchwright.errors import SolveError
from hatchwright.fem.flexibility import FORMULAS
from hatchwright.ground import Ground
from hatchwright.said import said
from hatchwright.strength.worked import Worked, at_both_ends, inputs, work_out
from hatchwright.workings import Grade, Quantity, Source

_SOURCES = {
    ("huth", "rivet"): (
        Source("HUTH-1986", "riveted metal"),
        "((t1+t2)/(2d))^0.4 2.2 (1/t1E1 + 1/t2E2 + 1/2t1Ef + 1/2t2Ef)",
    ),
    ("huth", "bolt"): (
        Source("HUTH-1986", "bolted metal"),
        "((t1+t2)/(2d))^(2/3) 3.0 (1/t1E1 + 1/t2E2 + 1/2t1Ef + 1/2t2Ef)",
    ),
    ("swift", "rivet"): (Source("SWIFT-1971"), "5/(d Ef) + 0.8 (1/t1E1 + 1/t2E2)"),
}


class Strip(Struct, frozen=True):
    """One sheet's strip along a line of fasteners.

    Args:
        width_in: width that one line of fasteners loads, its pitch [in].
    """

    thickness_in: float
    width_in: float
    modulus_psi: float

    @property
    def stiffness_lbf(self) -> float:
        """Modulus times section [lbf]."""
        return self.modulus_psi * self.width_in * self.thickness_in


def flexibility(
    formula: str,
    first: Strip,
    second: Strip,
    *,
    diameter_in: float,
    fastener_modulus_psi: float,
    kind: str = "rivet",
) -> Worked:
    """How much a fastener lets two sheets slide, in single shear.

    Args:
        formula: "huth", or "swift" for rivets; tests scatter by 30 percent and more round either.
        kind: "rivet" or "bolt"; a screw is a bolt.
    Returns:
        Worked: slide per load [in/lbf].
    Method: docs/theory/load_sharing.md, eq. 1 and 2.
    """
    value = FORMULAS[formula](
        thickness_in=(first.thickness_in, second.thickness_in),
        modulus_psi=(first.modulus_psi, second.modulus_psi),
        diameter_in=diameter_in,
        fastener_modulus_psi=fastener_modulus_psi,
        kind=kind,
    )
    source, text = _SOURCES[formula, kind]
    return work_out(
        value,
        f"C {formula} = {text} [in/lbf]",
        *inputs("in", t1=first.thickness_in, t2=second.thickness_in, d=diameter_in),
        *inputs("psi", E1=first.modulus_psi, E2=second.modulus_psi, Ef=fastener_modulus_psi),
        by=Ground(source, Grade.RESTATED),
    )


def shares(
    *,
    flexibilities_in_per_lbf: Sequence[float],
    gaps_in: Sequence[float],
    giving_lbf: float,
    taking_lbf: float,
) -> tuple[float, ...]:
    """The part of the load that each row hands over, elastic.

    Args:
        flexibilities_in_per_lbf: of the fastener in each row, the first where the giving sheet comes in [in/lbf].
        gaps_in: distance from each row to the next, one fewer than rows [in].
        giving_lbf: E A of the strip that carries the whole load before the first row [lbf].
        taking_lbf: E A of the strip that carries the whole load past the last row [lbf].
    Returns:
        tuple: shares that add up to 1, one a row [-].
    Raises:
        SolveError: rows, gaps or stiffnesses make no joint.
    Method: docs/theory/load_sharing.md, eq. 3: between two rows both sheets and both fasteners close the same gap.
    """
    n = len(flexibilities_in_per_lbf)
    if n == 0 or len(gaps_in) != n - 1:
        raise SolveError.saying(
            "strength.row_gaps", where=said("strength.of_load_sharing"), rows=n, gaps=len(gaps_in)
        )
    values = (*flexibilities_in_per_lbf, *gaps_in, giving_lbf, taking_lbf)
    if min(values) < 0 or min(giving_lbf, taking_lbf) <= 0:
        raise SolveError(said("strength.sharing_size"), where=said("strength.of_load_sharing"))
    matrix, right = np.zeros((n, n)), np.zeros(n)
    for i, gap_in in enumerate(gaps_in):
        give, take = gap_in / giving_lbf, gap_in / taking_lbf
        matrix[i, : i + 1] = give + take
        matrix[i, i] += flexibilities_in_per_lbf[i]
        matrix[i, i + 1] -= flexibilities_in_per_lbf[i + 1]
        right[i] = give
    matrix[n - 1], right[n - 1] = 1.0, 1.0
    try:
        found = np.linalg.solve(matrix, right)
    except np.linalg.LinAlgError:
        raise SolveError(said("strength.rigid_rows"), where=said("strength.of_load_sharing")) from None
    return tuple(found.tolist())


def peak_factor(found: Sequence[float], slide: Worked) -> Worked:
    """By how much the hardest worked row exceeds equal sharing: the greatest share times the number of rows [-].

    Args:
        found: shares of all rows [-].
        slide: flexibility of the fastener that they were found with.
    """
    rows = tuple(Quantity(f"row {k}", share, "") for k, share in enumerate(found, start=1))
    equation = f"peak = n max({', '.join(row.symbol for row in rows)})"
    n, basis = float(len(rows)), Ground(slide.source, Grade.RESTATED)
    return work_out(max(found) * len(found), equation, slide, *inputs("", n=n), *rows, by=basis)


def capacity(strengths: Sequence[Worked]) -> Worked:
    """What ductile fasteners carry together near failure, when each has come up to its own strength [lbf].

    Method: docs/theory/load_sharing.md, eq. 5: near failure the load spreads in proportion to strength.
    """

    def together(*each: Worked) -> Worked:
        return work_out(sum(one.value for one in each), f"P joint = sum({each[0].symbol}) [lbf]", *each)

    return at_both_ends(together, *strengths)
