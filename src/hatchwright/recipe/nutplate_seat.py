"""How the nutplates of a cover sit: on what, whether they can, and how their ears are drilled and take the rivets.

A flat nutplate stands off a dimple; a 100-degree one nests in it. A strap between the two, countersunk to take the
dimple, gives a flat nutplate a flat face again. The ears follow the same rule for the dimples of their own rivets.
"""

from __future__ import annotations

from typing import Literal

from msgspec import Struct
from msgspec.structs import replace

from hatchwright.job.fasteners import Screws
from hatchwright.layout.layout import Layout, Part
from hatchwright.layout.mass import NUT_PLATE_IN
from hatchwright.layout.named import nuts_named
from hatchwright.layout.unlisted import unlisted_names
from hatchwright.recipe.sheet_work import LayerWork, begun_alike, hole_work, rivet_layer, under
from hatchwright.said import Said, inch, said
from hatchwright.tables.drills import Drill
from hatchwright.tables.nutplates import NutplateKind
from hatchwright.tables.rivet_part import RivetPart, parse_rivet

Fit = Literal["flat", "nested", "stands_off", "hollow", "proud", "undimpled", "unknown"]
"""How a face meets what it lies on.

Args:
    flat: flat on flat.
    nested: in the dimple that it is made for.
    stands_off: flat on a dimple, which holds it off.
    hollow: made for a dimple, on a flat sheet.
    proud: the head of an ear rivet stands between the sheets.
    undimpled: of ears, the sheet is dimpled for their rivets and nothing says that they are.
    unknown: not said how the sheet takes the head, or which rivet it is.
"""

_SITS = {"flat": True, "nested": True, "stands_off": False, "proud": False}


class NutplateSeat(Struct, frozen=True):
    """How the nutplates of a job sit.

    Args:
        screws: as entered.
        kind: what the nutplate is.
        sheet: the innermost sheet that the screws go through.
        screw_layers: the work on each sheet of a screw hole, from outside, the strap last where there is one.
        rivet: of the ears, None when none is entered or no table lists it.
        unlisted: that no table lists the rivet that is entered; None where one does, or none is entered.
        ear_layers: the work for one ear rivet on the innermost sheet, the strap where there is one, and the ears, in
            this order; empty without a rivet.
        fit: how the nutplate meets what it lies on.
        ears_fit: how its ears meet what they lie on.
    """

    screws: Screws
    kind: NutplateKind
    sheet: Part
    screw_layers: tuple[LayerWork, ...]
    rivet: RivetPart | None
    unlisted: Said | None
    ear_layers: tuple[LayerWork, ...]
    fit: Fit
    ears_fit: Fit

    @property
    def seats(self) -> bool | None:
        """Whether the nutplate sits; None where that cannot be said."""
        return _SITS.get(self.fit)

    @property
    def ears_seat(self) -> bool | None:
        """Whether its ears sit, and let the sheets lie on one another; None where that cannot be said."""
        return _SITS.get(self.ears_fit)

    @property
    def under(self) -> LayerWork:
        """What the nutplate lies on: the strap, else the innermost sheet."""
        return self.screw_layers[-1]

    @property
    def strap_in(self) -> float | None:
        """Thickness of the strap, None without one [in]."""
        return self.screws.strap.thickness.inch if self.screws.strap else None

    @property
    def behind_in(self) -> float | None:
        """How far strap and nut reach behind the innermost sheet; None where the nut is not measured [in]."""
        height = self.screws.nut_height
        return height.inch + (self.strap_in or 0.0) if height else None

    @property
    def ear_in(self) -> float:
        """Thickness that is taken for an ear [in]."""
        return self.ear_layers[-1].thickness_in if self.ear_layers else NUT_PLATE_IN

    @property
    def ear_grip_in(self) -> float:
        """What an ear rivet holds together: sheet, strap and ear [in]."""
        return self.sheet.thickness_in + (self.strap_in or 0.0) + self.ear_in

    @property
    def ears_drilled(self) -> Literal["before_dimple", "after_dimple", "at_size", "any_time"]:
        """When the ear holes are drilled: through one that nests in the dimple after it; where a sheet of the stack
        is dimpled, when the screw hole is at size, so that its screw goes in and holds the nutplate. A flat nutplate on
        the dimple itself would be held off by it: it is clamped and drilled before."""
        if self.fit == "nested":
            return "after_dimple"
        if self.fit == "stands_off":
            return "before_dimple"
        return "at_size" if any(layer.preparation == "dimple" for layer in self.screw_layers) else "any_time"

    @property
    def is_pinned_by_screw(self) -> bool:
        """Whether the screw holds the nutplate while its ear holes are drilled: it goes into a hole at size."""
        return self.ears_drilled != "before_dimple"

    @property
    def first_ear_drill(self) -> Drill | None:
        """The drill of the hole by which the first ear is held while the second is drilled; None while not known."""
        return self.ear_layers[0].steps[0].drill if self.ear_layers and self.ear_layers[0].steps else None

    @property
    def told(self) -> Said:
        """The nutplate and what it lies on, in one line."""
        part, thickness = said(f"part.{self.under.part}"), inch(self.under.thickness_in)
        return said(
            f"nutplate_seat.{self.fit}", nut=nuts_named(self.screws.nut), part=part, thickness=thickness
        )

    @property
    def ears_told(self) -> Said:
        """Its ears and what they lie on, in one line."""
        part, thickness = said(f"part.{self.sheet.name}"), inch(self.sheet.thickness_in)
        rivet = str(self.rivet or self.screws.nut_rivet)
        return said(f"nutplate_ears.{self.ears_fit}", rivet=rivet, part=part, thickness=thickness)

    @property
    def drilled_told(self) -> Said:
        """When its ear holes are drilled."""
        return said(f"nutplate_ears.drilled_{self.ears_drilled}")

    @property
    def lugs_told(self) -> Said:
        """Which way the lugs lie."""
        return said(f"nutplate_lugs.{self.screws.nut_lugs}")


def nutplate_seat(layout: Layout) -> NutplateSeat | None:
    """How the nutplates of a job sit; None without nutplates."""
    holes, screws = layout.holes_of("screw"), layout.job.cover.screws if layout.job.cover else None
    kind = screws.nutplate if screws else None
    if not holes or screws is None or kind is None:
        return None
    layers = hole_work(holes[0], layout)
    sheet = next(part for part in layout.parts if part.name == holes[0].stack[-1])
    what, unlisted, rivet = said("unlisted.nut_rivet", name=screws.nut_rivet), None, None
    if screws.nut_rivet:
        is_unlisted = any(name.what == what for name in unlisted_names(layout.job, layout.shop))
        unlisted = what if is_unlisted else None
        rivet = None if is_unlisted else parse_rivet(screws.nut_rivet)
    ears = _ear_layers(rivet, screws, sheet, layout) if rivet else ()
    return NutplateSeat(
        screws,
        kind,
        sheet,
        layers,
        rivet,
        unlisted,
        ears,
        _fit(kind, layers[-1]),
        _ears_fit(rivet, ears, screws),
    )


def _fit(kind: NutplateKind, under: LayerWork) -> Fit:
    if not under.preparation:
        return "unknown"
    if under.preparation == "dimple":
        return "nested" if kind.nests_dimple else "stands_off"
    return "hollow" if kind.nests_dimple else "flat"


def _ears_fit(rivet: RivetPart | None, layers: tuple[LayerWork, ...], screws: Screws) -> Fit:
    if rivet is None:
        return "unknown"
    if not rivet.is_flush:
        return "proud"
    sheet, ears = layers[0].preparation, layers[-1].preparation
    if not sheet:
        return "unknown"
    if sheet == "dimple" and not screws.strap:
        return "nested" if ears == "dimple" else "undimpled"
    return "flat"


def _ear_layers(rivet: RivetPart, screws: Screws, sheet: Part, layout: Layout) -> tuple[LayerWork, ...]:
    """Sheet, strap and ears; the ears come drilled, so that they are only dimpled, with the sheet."""
    entered = screws.nut_ears or ""
    first = rivet_layer(rivet, sheet.name, thickness_in=sheet.thickness_in, entered=entered, shop=layout.shop)
    layers = [first]
    if screws.strap:
        thickness_in, how = screws.strap.thickness.inch, under(first.preparation)
        strap = rivet_layer(rivet, "strap", thickness_in=thickness_in, entered=how, shop=layout.shop)
        layers.append(replace(strap, why=said("head.strap")) if how == "countersink" else strap)
    is_dimpled = entered == "dimple" == first.preparation and not screws.strap
    steps = tuple(step for step in first.steps if step.operation == "dimple") if is_dimpled else ()
    how = "dimple" if is_dimpled else "plain"
    return (*begun_alike(layers), LayerWork("ears", NUT_PLATE_IN, how, first.why, steps))
