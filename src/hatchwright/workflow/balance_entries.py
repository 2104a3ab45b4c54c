"""Weights, limits and loading as a person enters them for a fleet, and as they stand in its file."""

from __future__ import annotations

from collections.abc import Iterable, Mapping, Sequence
from typing import Any

from hatchwright.job.entry_words import label_of
from hatchwright.job.fleet.fleet import Fleet, FleetAircraft
from hatchwright.job.fleet.weight import AircraftWeight, CgLimit, FleetBalance, LoadItem, SideWeighed
from hatchwright.job.job_text import added, taken
from hatchwright.job.pasted_rows import Column
from hatchwright.job.pasted_table import read_table
from hatchwright.words.tell import tell

COMMON = (
    "datum", "job_arm", "job_arm_u", "job_butt_line", "mean_chord", "power", "ballast_arm", "empty_forward",
    "empty_aft",
)  # fmt: skip
"""What is entered of the whole fleet in a box each."""

SURFACE = ("name", "hinge", "hinge_u", "nose_least", "nose_most")
"""What is entered of a movable surface."""

OF_AIRCRAFT = ("empty_weight", "empty_arm", "recorded", "hinge_left", "hinge_right")
OF_SIDE = ("put_in", "taken_out", "u")
SIDES = ("left", "right")

_LIMITS = ("weight", "forward", "aft")
_LOADING = ("name", "kind", "arm", "most", "least", "each")
_VOLUMES = ("gal", "qt", "L")

Entries = Mapping[str, str]


def with_common(text: str, sent: Entries) -> str:
    """A fleet's text with what holds for all its aircraft.

    Args:
        sent: of `COMMON`, ``surface.`` and each of `SURFACE`, ``rotorcraft``, and ``limits`` and ``loading`` as rows.
    Raises:
        JobError: a row can't be read.
    """
    balance = Fleet.read(text).balance
    was = _dumped(balance)
    new: dict[str, Any] = {name: value for name in COMMON if (value := sent.get(name, "").strip())}
    if sent.get("rotorcraft"):
        new["rotorcraft"] = True
    surface = {name: value for name in SURFACE if (value := sent.get(f"surface.{name}", "").strip())}
    if surface:
        new["surface"] = surface
    if limits := _rows(sent.get("limits", ""), CgLimit, _LIMITS):
        new["limits"] = limits
    if loading := _rows(sent.get("loading", ""), LoadItem, _LOADING):
        new["loading"] = [_with_volume(one) for one in loading]
    return text if new == was else _replaced(text, "balance", new)


def with_weights(text: str, sent: Entries) -> str:
    """A fleet's text with the weights of its aircraft; an aircraft of which nothing is sent stays.

    Args:
        sent: by ``registration:name`` of `OF_AIRCRAFT`, and ``registration:side.name`` of `OF_SIDE`.
    """
    for at, one in enumerate(Fleet.read(text).aircraft):
        mine = {name: value for key, value in sent.items() for of, _, name in [key.partition(":")]
                if of == one.registration}  # fmt: skip
        if not mine:
            continue
        was = _dumped(one.weight)
        new = {name: value for name, value in was.items() if name not in (*OF_AIRCRAFT, "weighed")}
        new |= {name: value for name in OF_AIRCRAFT if (value := mine.get(name, "").strip())}
        if weighed := [of_side for side in SIDES if (of_side := _of_side(mine, side))]:
            new["weighed"] = weighed
        if new != was:
            text = _replaced(text, f"aircraft.{at}.weight", new)
    return text


def _of_side(mine: Entries, side: str) -> dict[str, str]:
    found = {name: value for name in OF_SIDE if (value := mine.get(f"{side}.{name}", "").strip())}
    return {"side": side, **found} if found else {}


def _dumped(section: FleetBalance | AircraftWeight | None) -> dict[str, Any]:
    """A section as it stands in its file, nothing left out but what says nothing."""
    if section is None:
        return {}
    plain = section.model_dump(mode="json", exclude_none=True)
    return {name: value for name, value in plain.items() if value not in ([], False)}


def _replaced(text: str, place: str, new: Mapping[str, Any]) -> str:
    """The text with another section at a place, none where nothing is left of it."""
    bare = taken(text, [place])
    if not new:
        return bare
    plain = {name: value for name, value in new.items() if not isinstance(value, list)}
    lists = {
        f"{place}.{name}.{at}": one
        for name, value in new.items()
        if isinstance(value, list)
        for at, one in enumerate(value)
    }
    return added(bare, {place: plain, **lists})


def _rows(pasted: str, model: type[CgLimit] | type[LoadItem], names: Sequence[str]) -> list[dict[str, str]]:
    """Rows of what was pasted, by the names of their entries; what is left blank is left out."""
    if not pasted.strip():
        return []
    least = {name for name, info in model.model_fields.items() if info.is_required()} | {"most"}
    columns = [Column(name, tell(label_of(model, name)), "words", name in least) for name in names]
    rows = read_table(pasted, columns, unit="in", most=_most(model)).rows
    return [
        {name: cell for name, cell in zip(names, row.cells, strict=False) if cell.strip()} for row in rows
    ]


def _most(model: type[CgLimit] | type[LoadItem]) -> int:
    return 12 if model is CgLimit else 14


def _with_volume(one: dict[str, str]) -> dict[str, str]:
    """A row whose most is a volume, such as 40 gal, has it as such."""
    is_volume = one.get("most", "").strip().endswith(_VOLUMES)
    return {("volume" if is_volume and name == "most" else name): value for name, value in one.items()}


def limit_rows(limits: Iterable[CgLimit]) -> str:
    """CG limits as they may be pasted again."""
    return "".join(f"{one.weight.text}; {one.forward.text}; {one.aft.text}\n" for one in limits)


def loading_rows(loading: Iterable[LoadItem]) -> str:
    """The loading as it may be pasted again."""
    return "".join(f"{'; '.join(_cells(one)).rstrip('; ')}\n" for one in loading)


def _cells(one: LoadItem) -> tuple[str, ...]:
    amounts = (one.most or one.volume, one.least, one.each)
    return one.name, one.kind, one.arm.text, *("" if value is None else value.text for value in amounts)


def weights_of(one: FleetAircraft) -> dict[str, str]:
    """What was entered of one aircraft, by the names of `with_weights` without its registration."""
    weight = one.weight
    if weight is None:
        return {}
    values = {name: getattr(weight, name) for name in OF_AIRCRAFT}
    found = {name: str(getattr(value, "text", value)) for name, value in values.items() if value is not None}
    for side in SIDES:
        found |= _side_texts(weight.weighed_side(side), side)
    return found


def _side_texts(weighed: SideWeighed | None, side: str) -> dict[str, str]:
    if weighed is None:
        return {}
    values = {name: getattr(weighed, name) for name in OF_SIDE}
    return {f"{side}.{name}": value.text for name, value in values.items() if value is not None}
