"""A framing member along the opening: an angle of sheet riveted to the skin from row to row."""

from __future__ import annotations

import math

from msgspec import Struct

from hatchwright.ground import Ground
from hatchwright.job.edge_member import EdgeMember
from hatchwright.strength.bearing import bearing_strength
from hatchwright.strength.panel_buckling import free_edge_buckling
from hatchwright.strength.rivet_joint import lowest, shear_strength
from hatchwright.strength.site import Site
from hatchwright.strength.worked import Worked, inputs, strength_of, work_out
from hatchwright.tables.allowables import Allowables, allowables
from hatchwright.tables.materials import sheet
from hatchwright.tables.rivet_part import parse_rivet
from hatchwright.tables.rivets import hole_drill
from hatchwright.workings import Grade, Source

EDGES = ("Y-", "Y+", "X-", "X+")
"""Of an opening: members run along X beside the first two, along Y beside the others."""

SINGLE_UPRIGHT = Ground(Source("NACA-TN-2661", "eq. 22"), Grade.RESTATED)


class Member(Struct, frozen=True):
    """One angle.

    Args:
        given: as the job gives it.
        allowed: what its sheet may carry.
        length_in: from row to row [in].
    """

    given: EdgeMember
    allowed: Allowables
    length_in: float

    @property
    def edge(self) -> str:
        """The edge of the opening that it runs along."""
        return self.given.edge

    @property
    def axis(self) -> int:
        """Along which it runs: 0 for X, 1 for Y."""
        return 1 if self.edge[0] == "X" else 0

    @property
    def thickness_in(self) -> float:
        """Of its sheet [in]."""
        return self.given.thickness.inch

    @property
    def area_in2(self) -> float:
        """Of its section [sq in]."""
        return sum(area for area, _, _ in self._flanges(0))

    @property
    def off_in(self) -> float:
        """From its face on the skin to its middle [in]."""
        return _middle(self._flanges(0))

    @property
    def upright_in4(self) -> float:
        """Second moment of its area against bending off the skin [in^4]."""
        return _second_moment(self._flanges(0))

    @property
    def across_in4(self) -> float:
        """Second moment of its area against bending in the skin [in^4]."""
        return _second_moment(self._flanges(1))

    def _flanges(self, way: int) -> tuple[tuple[float, float, float], ...]:
        """Area, middle and size of both flanges along a way: off the skin, or across the member in the skin."""
        t = self.thickness_in
        attached, standing = self.given.attached.inch, self.given.standing.inch - t
        both = ((attached * t, t / 2, t), (standing * t, t + standing / 2, standing))
        in_skin = ((attached * t, attached / 2, attached), (standing * t, t / 2, t))
        return in_skin if way else both


def _middle(flanges: tuple[tuple[float, float, float], ...]) -> float:
    return sum(area * at for area, at, _ in flanges) / sum(area for area, _, _ in flanges)


def _second_moment(flanges: tuple[tuple[float, float, float], ...]) -> float:
    middle = _middle(flanges)
    return sum(area * ((at - middle) ** 2 + size**2 / 12) for area, at, size in flanges)


def is_framed(site: Site) -> bool:
    """Whether the job names a member along every edge of the opening, in a bay that it knows."""
    return site.cells is not None and {one.edge for one in site.layout.job.loads.members} == set(EDGES)


def members_of(site: Site) -> tuple[Member, ...]:
    """The members that a job names.

    Raises:
        TableError: no table lists the sheet of one.
    """
    if site.cells is None:
        return ()
    basis, lengths_in = site.layout.job.loads.statistical_basis, (site.cells.width_in, site.cells.height_in)
    found = []
    for one in site.layout.job.loads.members:
        kind = sheet(one.alloy, one.temper, one.clad, site.shop)
        allowed = allowables(kind, thickness_in=one.thickness.inch, statistical_basis=basis, shop=site.shop)
        found.append(Member(one, allowed, lengths_in[1 if one.edge[0] == "X" else 0]))
    return tuple(found)


def member_strength(site: Site, member: Member) -> Worked:
    """End load that a member carries either way [lbf].

    It lies on one side of the skin, so that its load bends it; a flange may buckle along its free edge, and the whole
    as a column from row to row. The skin is not counted with it.

    Raises:
        TableError: its rivet is not listed.
    Method: docs/theory/diagonal_tension.md, eq. 6 to 8.
    """
    allowed, t_in = member.allowed, member.thickness_in
    rivet = parse_rivet(member.given.rivet)
    hole_in = hole_drill(rivet.diameter_in, shop=site.shop).diameter_in
    area_in2 = member.area_in2
    off_in = member.off_in + site.skin.thickness_in / 2
    effective = work_out(
        area_in2 / (1 + off_in**2 * area_in2 / member.upright_in4),
        "Ae = A / (1 + (e/rho)^2) [in^2]",
        *inputs("in^2", A=area_in2),
        *inputs("in", e=off_in, rho=math.sqrt(member.upright_in4 / area_in2)),
        by=SINGLE_UPRIGHT,
    )
    ftu = strength_of(allowed, "Ftu")
    pulled = work_out(
        ftu.value * effective.value * (1 - hole_in * t_in / area_in2),
        "P tension = Ftu Ae (A - Dh t) / A [lbf]",
        ftu,
        effective,
        *inputs("in", Dh=hole_in, t=t_in),
        *inputs("in^2", A=area_in2),
    )
    widest_in = max(member.given.attached.inch, member.given.standing.inch)
    flange = free_edge_buckling(allowed, thickness_in=t_in, length_in=member.length_in, width_in=widest_in)
    pressed = work_out(flange.value * effective.value, "P compression = Fc cr Ae [lbf]", flange, effective)
    column = work_out(
        math.pi**2 * allowed.ec_psi * member.upright_in4 / member.length_in**2,
        "P column = pi^2 Ec I / L^2 [lbf]",
        *inputs("psi", Ec=allowed.ec_psi),
        *inputs("in^4", I=member.upright_in4),
        *inputs("in", L=member.length_in),
    )
    return lowest("P member", pulled, pressed, column)


def member_rivet_strength(site: Site, member: Member) -> Worked:
    """What the rivets of a member carry, their edge distance taken as the least for which bearing is known [lbf/in].

    Raises:
        TableError: their strength is not listed, or they are flush.
    Method: docs/theory/rivet.md, eq. 3.
    """
    rivet = parse_rivet(member.given.rivet)
    diameter_in, skin = rivet.diameter_in, site.skin
    basis_in = hole_drill(diameter_in, use="strength basis", shop=site.shop).diameter_in
    sheets = (("skin", skin.allowed, skin.thickness_in), ("member", member.allowed, member.thickness_in))
    bearing = [
        bearing_strength(
            allowed, sheet=name, thickness_in=t_in, hole_in=basis_in, diameter_in=diameter_in,
            edge_in=1.5 * diameter_in, shop=site.shop,
        )
        for name, allowed, t_in in sheets
    ]  # fmt: skip
    thinnest_in = min(t_in for _, _, t_in in sheets)
    one = lowest("P one", shear_strength(rivet, thickness_in=thinnest_in, shop=site.shop), *bearing)
    pitch_in = member.given.pitch.inch
    return work_out(one.value / pitch_in, "R allowed = P one / p [lbf/in]", one, *inputs("in", p=pitch_in))
