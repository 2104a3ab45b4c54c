"""What the page shows of a fleet's weight and balance: what is entered, and each aircraft before and after."""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Mapping
from pathlib import Path

from msgspec import Struct

from hatchwright.airworthiness.aircraft_balance import AircraftBalance
from hatchwright.airworthiness.balance_said import (
    HEADS,
    Cells,
    case_heads,
    case_rows,
    empty_rows,
    hinge_rows,
    lateral_said,
    negligible_said,
    part_cells,
    parts_heading,
    shift_said,
)
from hatchwright.errors import Fault, HatchwrightError
from hatchwright.finding import Finding
from hatchwright.job.entry_words import help_of, label_of
from hatchwright.job.fleet.fleet import Fleet
from hatchwright.job.fleet.weight import AircraftWeight, ControlSurface, FleetBalance, SideWeighed
from hatchwright.page.risk_sheet import ShownTable
from hatchwright.said import Said, Value, said
from hatchwright.tables.table import ShopTables
from hatchwright.units import Unit
from hatchwright.words.findings import advice_text, number_said
from hatchwright.words.tell import tell
from hatchwright.workflow.balance import Weighing, fleet_balance
from hatchwright.workflow.balance_entries import (
    COMMON,
    OF_AIRCRAFT,
    OF_SIDE,
    SIDES,
    SURFACE,
    limit_rows,
    loading_rows,
    weights_of,
)
from hatchwright.workflow.job_folder import version_of


class BalanceBox(Struct, frozen=True):
    """One box to enter something in.

    Args:
        value: what stands in it; held: what stands in the file.
    """

    name: str
    label: str
    help: str
    value: str
    held: str


class ShownFinding(Struct, frozen=True):
    """One answer in words."""

    status: str
    word: str
    subject: str
    number: str
    advice: str


class ShownAircraft(Struct, frozen=True):
    """One aircraft.

    Args:
        boxes: of its weights.
        status: the worst answer, and its word; "" where nothing was worked out.
        sheets: its sides that have a sheet, each with its word.
    """

    registration: str
    serial: str
    boxes: tuple[BalanceBox, ...]
    status: str = ""
    word: str = ""
    lines: tuple[str, ...] = ()
    tables: tuple[ShownTable, ...] = ()
    findings: tuple[ShownFinding, ...] = ()
    sheets: tuple[tuple[str, str], ...] = ()


class BalanceView(Struct, frozen=True):
    """The weight and balance of a fleet as the page shows it.

    Args:
        faults: why nothing could be worked out.
        limits, loading: as they may be pasted again; those held stand in the file.
    """

    title: str
    version: str
    is_entered: bool
    common: tuple[BalanceBox, ...]
    surface: tuple[BalanceBox, ...]
    is_rotorcraft: bool
    was_rotorcraft: bool
    limits: str
    limits_held: str
    loading: str
    loading_held: str
    aircraft: tuple[ShownAircraft, ...]
    faults: tuple[Fault, ...] = ()


class PlacedFault(Struct, frozen=True):
    """What is wrong, and where.

    Args:
        box: the box that it is about, "" for none.
        where: what that is called, or a row of a table; "" where neither is known.
    """

    fault: Fault
    box: str
    where: str


def placed_faults(faults: Iterable[Fault], fleet: Fleet) -> tuple[PlacedFault, ...]:
    """Faults of the fleet's text with the boxes that they came from."""
    return tuple(PlacedFault(one, *_place(one.field, fleet)) for one in faults)


def _place(field: str, fleet: Fleet) -> tuple[str, str]:
    match field.split("."):
        case ["balance", "surface", name, *_] if name in SURFACE:
            return f"surface.{name}", tell(label_of(ControlSurface, name))
        case ["balance", ("limits" | "loading") as name, row, *_]:
            return name, tell(said("page.balance.row", what=label_of(FleetBalance, name), row=int(row) + 1))
        case ["balance", name, *_] if name in FleetBalance.model_fields:
            return name, tell(label_of(FleetBalance, name))
        case ["aircraft", at, "weight", *rest]:
            registration = fleet.aircraft[int(at)].registration
            known = rest[:1] and rest[0] in OF_AIRCRAFT
            what = f"{registration}, {tell(label_of(AircraftWeight, rest[0]))}" if known else registration
            return f"{registration}:{rest[0]}" if known else "", what
    return "", ""


def balance_view(
    text: str, fleet: Fleet, folder: Path, shop: ShopTables | None, sent: Mapping[str, str]
) -> BalanceView:
    """The page of a fleet.

    Args:
        text: of the fleet file.
        folder: of its jobs.
        sent: what was typed and refused, which stays in its box; empty elsewhere.
    """
    given = fleet.balance
    worked: dict[str, Weighing] = {}
    faults: tuple[Fault, ...] = ()
    if given is not None:
        try:
            worked = {one.registration: one for one in fleet_balance(fleet, folder, shop=shop).aircraft}
        except HatchwrightError as error:
            faults = error.as_faults("balance")
    surface, is_rotorcraft = given.surface if given else None, bool(given and given.rotorcraft)
    limits, loading = (limit_rows(given.limits), loading_rows(given.loading)) if given else ("", "")
    return BalanceView(
        title=fleet.title,
        version=version_of(text),
        is_entered=given is not None,
        common=tuple(_boxes(FleetBalance, given, COMMON, "", sent)),
        surface=tuple(_boxes(ControlSurface, surface, SURFACE, "surface.", sent)),
        is_rotorcraft=bool(sent.get("rotorcraft", is_rotorcraft)),
        was_rotorcraft=is_rotorcraft,
        limits=sent.get("limits", limits),
        limits_held=limits,
        loading=sent.get("loading", loading),
        loading_held=loading,
        aircraft=tuple(
            _aircraft(
                one.registration, one.serial, worked.get(one.registration), weights_of(one), fleet, sent
            )
            for one in fleet.aircraft
        ),
        faults=faults,
    )


def _boxes(
    model: type[FleetBalance] | type[ControlSurface],
    entered: FleetBalance | ControlSurface | None,
    names: Iterable[str],
    before: str,
    sent: Mapping[str, str],
) -> Iterator[BalanceBox]:
    for name in names:
        value = getattr(entered, name, None)
        text = "" if value is None else str(getattr(value, "text", value))
        key = f"{before}{name}"
        label, about = tell(label_of(model, name)), tell(help_of(model, name))
        yield BalanceBox(key, label, about, sent.get(key, text), text)


def _aircraft(
    registration: str,
    serial: str,
    worked: Weighing | None,
    weights: Mapping[str, str],
    fleet: Fleet,
    sent: Mapping[str, str],
) -> ShownAircraft:
    boxes = tuple(_weight_boxes(registration, weights, fleet, sent))
    if worked is None or worked.balance is None:
        return ShownAircraft(registration, serial, boxes)
    unit, balance = fleet.units, worked.balance
    planned = (said("command.balance.planned", side=said(f"side.{side}")) for side in worked.planned)
    lines = (shift_said(balance), *lateral_said(balance.change), negligible_said(balance), *planned)
    sides = [layout.job.aircraft.side for layout in worked.layouts]
    return ShownAircraft(
        registration,
        serial,
        boxes,
        status=str(balance.worst),
        word=tell(balance.worst),
        lines=tuple(tell(line, unit) for line in lines),
        tables=tuple(_tables(balance, unit)),
        findings=tuple(_findings((*balance.negligible, *balance.findings), unit)),
        sheets=tuple((side, tell(said(f"side.{side}"))) for side in sides),
    )


def _weight_boxes(
    registration: str, weights: Mapping[str, str], fleet: Fleet, sent: Mapping[str, str]
) -> Iterator[BalanceBox]:
    """Empty weight and arm, the parts of each side as weighed, and the surface of each where there is one."""
    has_surface = bool(fleet.balance and fleet.balance.surface)
    names = [name for name in OF_AIRCRAFT if has_surface or not name.startswith("hinge")]
    for name in names:
        label, about = tell(label_of(AircraftWeight, name)), tell(help_of(AircraftWeight, name))
        yield _weight_box(registration, name, label, about, weights, sent)
    for side in SIDES:
        for name in OF_SIDE:
            of_side = said(
                "page.balance.of_side", side=said(f"side.{side}"), what=label_of(SideWeighed, name)
            )
            about = tell(help_of(SideWeighed, name))
            yield _weight_box(registration, f"{side}.{name}", tell(of_side), about, weights, sent)


def _weight_box(
    registration: str, name: str, label: str, about: str, weights: Mapping[str, str], sent: Mapping[str, str]
) -> BalanceBox:
    key = f"{registration}:{name}"
    held = weights.get(name, "")
    return BalanceBox(key, label, about, sent.get(key, held), held)


def _tables(balance: AircraftBalance, unit: Unit) -> Iterator[ShownTable]:
    yield _table(said("balance.heading.aircraft"), HEADS, empty_rows(balance, unit), unit)
    for change in balance.changes:
        yield _table(parts_heading(change), HEADS, map(part_cells, change.parts), unit)
    if balance.cases:
        yield _table(
            said("balance.heading.loading"), case_heads(balance.cases), case_rows(balance.cases, unit), unit
        )
    for hinge in balance.hinges:
        heads = (hinge.name, said(f"side.{hinge.side}"))
        yield _table(said("balance.heading.hinge"), heads, hinge_rows(hinge), unit)


def _table(title: Said, heads: Iterable[Value], rows: Iterable[Cells], unit: Unit) -> ShownTable:
    told = tuple(tuple(tell(cell, unit) for cell in row) for row in rows)
    return ShownTable(tell(title), tuple(tell(head, unit) for head in heads), told)


def _findings(findings: Iterable[Finding], unit: Unit) -> Iterator[ShownFinding]:
    for one in sorted(findings, key=lambda one: one.status.severity):
        number = number_said(one)
        yield ShownFinding(
            str(one.status),
            tell(one.status),
            tell(one.subject, unit),
            tell(number, unit) if number else "",
            advice_text(one, unit),
        )
