"""Sealants: how long each may be worked and joined, how each class is laid on, and what is asked beside them."""

from __future__ import annotations

from typing import Literal

from msgspec import Struct

from hatchwright.tables.cited import Cited
from hatchwright.tables.instructions import Instruction, instruction
from hatchwright.tables.limits import limit
from hatchwright.tables.table import Record, ShopTables, Table


class Sealant(Record, frozen=True):
    """One dash number of the polysulfide sealant.

    Args:
        dash: as on the can, such as "B-2" or "C-8(20)".
        application_h: time in which it is laid on and worked [h].
        assembly_h: time in which the parts are joined and all rivets driven, None where it is the application time [h].
    """

    dash: str
    sealant_class: Literal["A", "B", "C"]
    application_h: float
    assembly_h: float | None

    @property
    def to_drive_h(self) -> float:
        """Time from mixing until the last rivet is driven [h]."""
        return self.application_h if self.assembly_h is None else self.assembly_h


class SealantClass(Record, frozen=True):
    """What one class of sealant is for."""

    sealant_class: Literal["A", "B", "C"]
    use: str


class Sealing(Struct, frozen=True):
    """What is asked of every joint that is sealed, each with its source.

    Args:
        metal_degf: least temperature of the metal [deg F].
        fillet_ft: length of a fillet that is laid and worked before the next [ft].
        overcoat_in: width of the coat around a head [in].
        cure_h: longest time to full cure [h].
        faying: which sealant goes between doubler and skin, and how the fasteners go in.
        wet_rivets: which sealant rivets are set wet with.
        in_time: within which time parts are joined and rivets driven.
    """

    metal_degf: Cited
    fillet_ft: Cited
    overcoat_in: Cited
    cure_h: Cited
    faying: Instruction
    wet_rivets: Instruction
    in_time: Instruction


SEALANTS = Table(Sealant, "sealants", asks=("dash",))
SEALANT_CLASSES = Table(SealantClass, "sealant_classes", asks=("sealant_class",))


def sealant(dash: str, shop: ShopTables | None = None) -> Sealant:
    """One sealant by its dash number.

    Raises:
        TableError: it is not listed.
    Source: [AMS-S-8802], seen only restated; B-2 by [NAVEDTRA-14315].

    >>> sealant("C-8(20)").to_drive_h
    20.0
    """
    return SEALANTS.one(shop, dash=dash)


def sealant_class(name: str, shop: ShopTables | None = None) -> SealantClass:
    """What a class of sealant is for.

    Raises:
        TableError: there is no such class.
    Source: [NAVEDTRA-14315], chapter 5.

    >>> sealant_class("C").use
    'faying surfaces'
    """
    return SEALANT_CLASSES.one(shop, sealant_class=name)


def sealing(shop: ShopTables | None = None) -> Sealing:
    """What is asked of every sealed joint.

    >>> sealing().overcoat_in.value
    0.25
    """
    return Sealing(
        metal_degf=limit("sealant_metal_temperature_min", shop),
        fillet_ft=limit("sealant_fillet_length", shop),
        overcoat_in=limit("sealant_overcoat_width", shop),
        cure_h=limit("sealant_cure_max", shop),
        faying=instruction("sealant_faying_surfaces"),
        wet_rivets=instruction("sealant_wet_rivets"),
        in_time=instruction("sealant_in_time"),
    )
