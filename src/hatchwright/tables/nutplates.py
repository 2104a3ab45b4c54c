"""Nutplates: kinds, families, threads, and where their rivet holes lie; clip nuts, as a shop measures its own."""

from __future__ import annotations

from typing import Literal

from hatchwright.tables.columns import OptionalText
from hatchwright.tables.table import Record, Table

Lugs = Literal["each side", "one side"]
"""Whether the two ears lie on each side of the screw, or both on one."""

_Kind = Literal[
    "two-lug",
    "one-lug",
    "miniature",
    "100-degree two-lug",
    "100-degree one-lug",
    "100-degree miniature",
    "floating two-lug",
    "floating one-lug",
    "floating miniature",
]

_CALLED = " nutplate"


class NutplateKind(Record, frozen=True):
    """What a kind of nutplate is.

    Args:
        kind: its name without "nutplate".
        is_floating: whether the nut takes up misalignment in its plate.
        nests_dimple: whether its face is countersunk, so that it takes the dimple of the sheet that it lies on; a flat
            face stands off a dimple.
    """

    kind: _Kind
    lugs: Lugs
    is_floating: bool
    nests_dimple: bool
    note: OptionalText

    @property
    def called(self) -> str:
        """Its name as a job enters it."""
        return self.kind + _CALLED


class NutplateFamily(Record, frozen=True):
    """One family of nutplates, by its kind."""

    family: str
    kind: _Kind
    note: OptionalText


class _Thread(Record, frozen=True):
    suffix: str
    thread: str


class EarHoles(Record, frozen=True):
    """Where a nutplate is riveted; what stands on the standard's drawing alone is not known.

    Args:
        arrangement: whether the holes lie on each side of the screw, or both on one.
        nearest_in: from the screw hole to the nearest ear hole [in].
        spacing_in: between the ear holes [in].
    """

    kind: _Kind
    thread: str
    arrangement: Lugs
    nearest_in: float
    spacing_in: float

    @property
    def offsets_in(self) -> tuple[float, float]:
        """Distances of the ear holes from the screw hole, along the nutplate, with their sign [in]."""
        step_in = self.spacing_in if self.arrangement == "one side" else -self.spacing_in
        return self.nearest_in, self.nearest_in + step_in


class ClipNut(Record, frozen=True):
    """One clip nut of the shop's.

    Args:
        reach_in: from the edge it clips on to the screw hole [in].
        grip_min_in, grip_max_in: thinnest and thickest sheet it holds on [in].
        width_in: along the edge, which must be straight there [in].
    """

    name: str
    thread: str
    reach_in: float
    grip_min_in: float
    grip_max_in: float
    width_in: float


NUTPLATE_KINDS = Table(NutplateKind, "nutplate_kinds", is_open=False)

NUTPLATE_FAMILIES = Table(NutplateFamily, "nutplate_families")

NUTPLATE_THREADS = Table(_Thread, "nutplate_threads")

NUTPLATE_EARS = Table(EarHoles, "nutplate_ears", named_by=2, otherwise=True, asks=("kind", "thread"))

CLIP_NUTS = Table(ClipNut, "clip_nuts", otherwise=True, asks=("name",))
"""None ship with the program: only the shop can give their facts, from the part in its hand."""


def nutplate_kind(called: str) -> NutplateKind | None:
    """The kind of nutplate that a job enters, such as "two-lug nutplate"; None for other nuts.

    >>> nutplate_kind("100-degree two-lug nutplate").nests_dimple
    True
    """
    return next((one for one in NUTPLATE_KINDS.all() if one.called == called), None)
