"""What the analysis answers: unit solutions, and the response to any combination of running loads."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass, field
from typing import NamedTuple

import numpy as np
from msgspec import Struct
from msgspec.structs import replace

from hatchwright.errors import SolveError
from hatchwright.fem.coupling import fastener_forces, flexibilities, signs
from hatchwright.fem.curve import Array
from hatchwright.fem.model import OpeningModel, Sheet
from hatchwright.fem.sheet import CASES, Give, edge_stretch, rigid_motions
from hatchwright.said import Said, said


@dataclass(frozen=True, slots=True, eq=False)
class UnitSolution:
    """Response to 1 lbf/in of Nx, of Ny and of shear q, one after the other.

    Args:
        gives: how each sheet gives by itself, by name.
        patch_radius_in: radius of the disc of each fastener, shape (m,) [in].
        fastener_in: force of each fastener on the second sheet it joins, x and y, under each unit case,
            nought for fasteners of a sheet that takes no part, shape (m, 2, 3) [lbf per lbf/in].
        motions: rigid motion of each sheet that is not loaded, by name, shape (3, 3) [in or rad per lbf/in].
    """

    model: OpeningModel
    formula: str
    gives: Mapping[str, Give]
    patch_radius_in: Array
    fastener_in: Array
    motions: Mapping[str, Array]
    cautions: tuple[Said, ...] = ()
    _moved: dict[str, Array] = field(default_factory=dict, init=False, repr=False)

    def combine(self, *, nx_lbf_in: float = 0.0, ny_lbf_in: float = 0.0, q_lbf_in: float = 0.0) -> Response:
        """Superpose the unit cases.

        Args:
            nx_lbf_in: running load along x, tension positive [lbf/in].
            ny_lbf_in: running load along y, tension positive [lbf/in].
            q_lbf_in: shear flow [lbf/in].
        """
        return Response(self, np.array([nx_lbf_in, ny_lbf_in, q_lbf_in], dtype=float))

    def changed(
        self,
        *,
        model: OpeningModel | None = None,
        flexibility_in_per_lbf: Array | None = None,
        formula: str | None = None,
    ) -> UnitSolution:
        """The same geometry with other thicknesses, moduli or fasteners, without a new factorization.

        Thickness and modulus scale a plane sheet's stiffness as a whole, so that what it gives under each fastener is
        only divided by t E: the factorization of its mesh, nearly all of the time, stays good.

        Args:
            model: differs from its own in thicknesses and moduli of its sheets alone; None for its own.
            flexibility_in_per_lbf: of every fastener, shape (m,) [in/lbf]; None computes it.
        """
        model = model or self.model
        if flexibility_in_per_lbf is not None:
            fasteners = zip(model.fasteners, flexibility_in_per_lbf.tolist(), strict=True)
            given = tuple(replace(one, flexibility_in_per_lbf=value) for one, value in fasteners)
            model = replace(model, fasteners=given)
        return couple(model, self.gives, self.patch_radius_in, formula or self.formula, self.cautions)

    def amounts(self, name: str) -> Array:
        """How much of each column of a sheet's `Give` acts under each unit case, shape (3 + 2 m, 3)."""
        sheet = self.sheet(name)
        loads = np.eye(CASES) if sheet is self.model.skin else np.zeros((CASES, CASES))
        forces = signs(self.model, sheet)[:, None, None] * self.fastener_in[self.model.holds(sheet)]
        return np.concatenate([loads, forces.reshape(-1, CASES)])

    def sheet(self, name: str) -> Sheet:
        """The sheet of that name.

        Raises:
            SolveError: no sheet that takes part has that name.
        """
        for sheet in self.model.sheets:
            if sheet.name == name:
                return sheet
        raise SolveError(said("error.sheet_part", name=name), where="sheet", remedy=said("error.check_name"))

    def pick_up_in(self, name: str, *, x_in: float | None = None, y_in: float | None = None) -> Array:
        """Force carried by an attached sheet across a whole section, from its fasteners beyond the section.

        Args:
            x_in: the section runs along y at this x [in].
            y_in: the section runs along x at this y [in]; give one of the two.
        Returns:
            Array: force x and y on the part of the sheet before the section, tension positive when square to
            it, under each unit case, shape (2, 3) [lbf per lbf/in].
        """
        sheet = self.sheet(name)
        own = self.model.holds(sheet)
        axis, value = (0, x_in) if x_in is not None else (1, y_in)
        beyond = np.sign(self.model.centers[own, axis] - value) / 2 + 0.5
        force = signs(self.model, sheet)[:, None, None] * self.fastener_in[own]
        carried: Array = (beyond[:, None, None] * force).sum(axis=0)
        return carried

    def moved(self, name: str) -> Array:
        """Displacements of all nodes of a sheet for E t = 1, less its motion as a whole, under each unit case, shape
        (nodes, 2, 3) [lbf per lbf/in]."""
        if name not in self._moved:
            amounts = self.amounts(name)
            self._moved[name] = self.gives[name].moved(amounts)
        return self._moved[name]

    def displacement(self, name: str) -> Array:
        """Displacements of all nodes of a sheet under each unit case, shape (nodes, 2, 3) [in per lbf/in]."""
        moved = self.moved(name) / self.sheet(name).membrane_lbf_in
        if name in self.motions:
            moved += (rigid_motions(self.gives[name].mesh.places) @ self.motions[name]).reshape(moved.shape)
        return np.asarray(moved)


class Response(Struct, frozen=True, eq=False):
    """Response to one combination of running loads Nx, Ny and q, shape (3,) [lbf/in]."""

    unit: UnitSolution
    load_lbf_in: Array

    @property
    def fastener_lbf(self) -> Array:
        """Force of each fastener on the second sheet it joins, shape (m, 2) [lbf]."""
        return self.unit.fastener_in @ self.load_lbf_in

    @property
    def fastener_load_lbf(self) -> Array:
        """Size of the force of each fastener, shape (m,) [lbf]."""
        force = self.fastener_lbf
        return np.hypot(force[:, 0], force[:, 1])

    def edge(self, name: str | None = None, *, outline: bool = False) -> EdgeStress:
        """Stress along a free edge of a sheet, the loaded one if none is named.

        Args:
            outline: whether its outer edge is asked for, of a sheet that is not loaded there; else its inner one.
        """
        name = self.unit.sheet(name or self.unit.model.skin.name).name
        mesh = self.unit.gives[name].mesh
        nodes = mesh.rim if outline else mesh.edge
        points, stretch = edge_stretch(mesh.places[nodes], self.unit.moved(name)[nodes])
        return EdgeStress(points, stretch @ self.load_lbf_in / self.unit.sheet(name).thickness_in)

    @property
    def deflection_in(self) -> float:
        """Largest displacement of the edge of the opening, less its mean shift and turn [in]."""
        skin = self.unit.model.skin.name
        mesh = self.unit.gives[skin].mesh
        nodes = mesh.places[mesh.edge]
        moved = (self.unit.displacement(skin)[mesh.edge] @ self.load_lbf_in).reshape(-1)
        span = np.hypot(*(np.roll(nodes, -1, axis=0) - np.roll(nodes, 1, axis=0)).T)
        weight = np.sqrt(np.repeat(span, 2))
        motions = rigid_motions(nodes - nodes.mean(axis=0))
        rigid = np.linalg.lstsq(weight[:, None] * motions, weight * moved, rcond=None)[0]
        return float(np.hypot(*(moved - motions @ rigid).reshape(-1, 2).T).max())


class Peak(NamedTuple):
    """Stress at one place of an edge, with its sign [psi], and that place [in]."""

    stress_psi: float
    place_in: tuple[float, float]


class EdgeStress(Struct, frozen=True, eq=False):
    """Stress along a free edge, tension positive, shape (k,) [psi].

    Args:
        points: places on the edge, anticlockwise, shape (k, 2) [in].
    """

    points: Array
    stress_psi: Array

    @property
    def peak(self) -> Peak:
        """Where the stress is of the greatest size."""
        at = int(np.abs(self.stress_psi).argmax())
        x, y = self.points[at].tolist()
        return Peak(float(self.stress_psi[at]), (x, y))

    def at(self, points: Array) -> Array:
        """Stress where the edge comes nearest to points of shape (m, 2) [in], shape (m,) [psi]."""
        run = np.roll(self.points, -1, axis=0) - self.points
        apart = points[:, None] - self.points
        share = np.clip((apart * run).sum(axis=2) / (run**2).sum(axis=1), 0.0, 1.0)
        nearest = ((apart - share[..., None] * run) ** 2).sum(axis=2).argmin(axis=1)
        part = share[np.arange(len(points)), nearest]
        found: Array = (1 - part) * self.stress_psi[nearest] + part * np.roll(self.stress_psi, -1)[nearest]
        return found


def couple(
    model: OpeningModel,
    gives: Mapping[str, Give],
    patch_radius_in: Array,
    formula: str,
    cautions: tuple[Said, ...] = (),
) -> UnitSolution:
    """Join sheets that are already factorized; arguments as for `UnitSolution`.

    Raises:
        SolveError: the fasteners do not hold the sheets together, or the formula is not known.
    """
    forces, motions = fastener_forces(model, gives, flexibilities(model, formula))
    return UnitSolution(model, formula, gives, patch_radius_in, forces, motions, cautions)
