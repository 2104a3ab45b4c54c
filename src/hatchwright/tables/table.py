"""What a table is: its record, whose fields are its columns, and the one way to look something up in it."""

from __future__ import annotations

from collections.abc import Iterable, Mapping, Sequence
from functools import cache, lru_cache
from operator import attrgetter
from pathlib import Path
from typing import Any, Generic, TypeVar

from msgspec import Struct, field

from hatchwright.errors import TableError
from hatchwright.judged import FLOAT_NOISE
from hatchwright.said import Listed, Said, Value, inch, said
from hatchwright.tables.cited import Cited
from hatchwright.tables.columns import Column, columns_of, unit_of
from hatchwright.tables.row import CITATION, Row, read_rows
from hatchwright.words.tell import tell
from hatchwright.workings import Grade, Source

# Of two sizes of rivet or sheet that differ, the nearest are .0009 apart; .156 must find 5/32 and .063 its own row.
SAME_SIZE_IN = 0.0006
"""Two nominal sizes closer than this are the same size [in]."""

_LISTED, _NEAREST = 16, 5
"""A refusal names all things that there are up to this many; of a longer list so many, the nearest by name."""

_LONGEST_TEXT = 40

_UNIT_WORDS = {"ratio": "-", "per_in": "per in", "lb_per_in3": "lb/in^3", "in_lbf": "in-lbf"}


class Record(Struct, frozen=True, kw_only=True):
    """One row as a value: a field for each column, and what its last four cells say."""

    source: Source
    grade: Grade
    edition: str = ""

    def cited(self, name: str, note: str = "") -> Cited:
        """The number of one field with its unit and source."""
        unit = unit_of(columns_of(type(self))[name].heading)
        return Cited(getattr(self, name), _UNIT_WORDS.get(unit, unit), self.source, self.grade, note)


R = TypeVar("R", bound=Record)


class Order(Struct, frozen=True):
    """How one column must run: `value` rises (or falls) along `along`, for each set of `within` cells.

    Without `within`, for each set of the other cells that name a row.
    """

    value: str
    along: str
    within: tuple[str, ...] | None = None
    falls: bool = False


class ShopTables(Struct, frozen=True, eq=False):
    """A shop's own rows, checked: rows by table name."""

    rows: Mapping[str, tuple[Row, ...]] = field(default_factory=dict)

    @property
    def words(self) -> str:
        """How many rows there are of each table, and out of which documents."""
        rows = tuple(
            said("table.shop_count", n=len(rows), table=name)
            for name, rows in sorted(self.rows.items())
            if rows
        )
        out_of = tuple(f"{key}, {edition}" for key, edition in self.documents.items())
        told = said("table.shop_rows", rows=Listed(rows, ","), documents=Listed(out_of, ";"))
        return tell(told if rows else said("table.no_shop_rows"))

    @property
    def documents(self) -> Mapping[str, str]:
        """The documents that the shop's rows name, with their editions."""
        cells = [row.cells for rows in self.rows.values() for row in rows]
        return {one["source"]: one["edition"] for one in cells}

    @property
    def digest(self) -> str:
        """The same for the same rows only."""
        import hashlib  # loads a library of its own, which no job without such rows needs

        told = sorted((name, [sorted(row.cells.items()) for row in rows]) for name, rows in self.rows.items())
        return hashlib.sha256(repr(told).encode()).hexdigest()


class Table(Struct, Generic[R], frozen=True, eq=False):
    """One CSV file: its record, what names a row, how its columns run, and what a refusal says.

    Args:
        record: what a row becomes; its fields are the columns.
        name: file name without its ending.
        named_by: how many columns name a row, from the first on; no two rows agree in all of them.
        orders: how its columns must run.
        is_open: whether a shop may add rows of its own.
        title: what people call it, when the file name does not say.
        asks: the fields that a refusal puts in a sentence of the table's own when they are what was asked for.
        otherwise: whether the catalog says for this table what to do about a row that is not there.
        words: the name that its sentences have in the catalog, when it shares them with other tables.
    """

    record: type[R]
    name: str
    named_by: int = 1
    orders: tuple[Order, ...] = ()
    is_open: bool = True
    title: str = ""
    asks: tuple[str, ...] = ()
    otherwise: bool = False
    words: str = ""

    @property
    def about(self) -> Said:
        """What it holds, in one line."""
        return said(f"table.{self.name}.about")

    @property
    def columns(self) -> Mapping[str, Column]:
        """Its columns by field, without the citation."""
        return columns_of(self.record)

    @property
    def key(self) -> tuple[str, ...]:
        """The headings that name a row."""
        return tuple(one.heading for one in self.columns.values())[: self.named_by]

    @property
    def values(self) -> tuple[str, ...]:
        """The headings between the key and the citation."""
        return tuple(one.heading for one in self.columns.values())[self.named_by :]

    @property
    def headings(self) -> tuple[str, ...]:
        """All headings in order."""
        return self.key + self.values + CITATION

    def within(self, order: Order) -> tuple[str, ...]:
        """The headings whose cells an order is held for, set by set."""
        others = tuple(heading for heading in self.key if heading != order.along)
        return others if order.within is None else order.within

    def rows(self, shop: ShopTables | None = None) -> tuple[Row, ...]:
        """All rows as written: the shop's own first, then the table's that they do not replace."""
        built_in = _built_in(self)
        own = shop.rows.get(self.name, ()) if shop else ()
        if not own:
            return built_in
        replaced = {self.name_of(row) for row in own}
        return own + tuple(row for row in built_in if self.name_of(row) not in replaced)

    def name_of(self, row: Row) -> tuple[str | float, ...]:
        """What names a row: its key cells, however they are written."""
        return tuple(row.meant(heading) for heading in self.key)

    def all(self, shop: ShopTables | None = None, /, **wanted: str | float | None) -> tuple[R, ...]:
        """The records whose fields are what is wanted, the shop's first; a field of None may be anything."""
        return _fitting(self, shop, tuple(wanted.items()))

    def some(self, shop: ShopTables | None = None, /, **wanted: str | float | None) -> tuple[R, ...]:
        """The records whose fields are what is wanted, the shop's first, and at least one.

        Raises:
            TableError: there is none; it lists what there is.
        """
        if found := self.all(shop, **wanted):
            return found
        rows, listed, by = self.all(shop), [], ""
        for name, value in wanted.items():
            column = self.columns[name]
            listed, by = _by_nearness(column, [getattr(row, name) for row in rows], value), column.label
            rows = _those(rows, name, value)
            if not rows:
                break
        raise self.refusal(self._asked(wanted), listed, by=by)

    def one(self, shop: ShopTables | None = None, /, **wanted: str | float | None) -> R:
        """The first record whose fields are what is wanted.

        Raises:
            TableError: there is none; it lists what there is.
        """
        return self.some(shop, **wanted)[0]

    def at_least(
        self,
        name: str,
        least: float,
        shop: ShopTables | None = None,
        /,
        *,
        above: bool = False,
        within: bool = False,
        same: bool = False,
        **wanted: str | float | None,
    ) -> R:
        """The record at a number or next above it.

        Args:
            above: whether a row at the number itself is passed over.
            within: whether a number below the first row is refused.
            same: whether a nominal size in inches is that of the row nearest to it, as .813 mm is .032 in.
        Raises:
            TableError: no row is that large, or the number lies below the first.
        """
        rows = sorted(self.some(shop, **wanted), key=attrgetter(name))
        if same:
            listed = (float(getattr(row, name)) for row in rows)
            nearest = min(listed, key=lambda size: abs(size - least))
            least = nearest if abs(nearest - least) < SAME_SIZE_IN else least
        noise = FLOAT_NOISE if above else -FLOAT_NOISE
        found = [row for row in rows if getattr(row, name) - least >= noise]
        if found and not (within and least < getattr(rows[0], name) - FLOAT_NOISE):
            return found[0]
        column = self.columns[name]
        first, last = (_given(column, getattr(rows[end], name)) for end in (0, -1))
        ends = first if first == last else said("table.span", first=first, last=last)
        raise self.refusal(
            self._asked({**wanted, name: least}, above=name if above else ""), [ends], by=column.label
        )

    def refusal(self, asked: Value, listed: Iterable[Value], *, by: str = "") -> TableError:
        """What is said of a row that is not there: what was asked for, what there is (by what), what to do."""
        there = list(dict.fromkeys(listed))
        more = len(there) - _NEAREST
        shown = there if len(there) <= _LISTED else [*there[:_NEAREST], said("table.more", more=more)]
        rows = Listed(tuple(shown), ",")
        listed_by: Said = said("table.nothing")
        if there:
            listed_by = said("table.listed_by", by=by, rows=rows) if by else said("table.listed", rows=rows)
        otherwise = said("table.add_row") if self.is_open else None
        if self.otherwise:
            otherwise = said(f"table.{self._words}.otherwise")
        return TableError(
            said("table.none", noun=said(f"table.{self._words}.noun"), asked=asked),
            where=self.title or self.name.replace("_", " "),
            remedy=said("table.remedy", listed=listed_by, otherwise=otherwise) if otherwise else listed_by,
        )

    @property
    def _words(self) -> str:
        return self.words or self.name

    def _asked(self, wanted: Mapping[str, str | float | None], above: str = "") -> Value:
        given: dict[str, Value] = {
            name: _given(self.columns[name], value) for name, value in wanted.items() if value is not None
        }
        if above:
            given[above] = said("table.above", value=given[above])
        if self.asks and set(given) == set(self.asks):
            return said(f"table.{self._words}.asks", **given)
        each = (said("table.field", label=self.columns[name].label, value=one) for name, one in given.items())
        return Listed(tuple(each), ",") if given else said("table.anything")


def shop_first(records: Sequence[R]) -> Sequence[R]:
    """The shop's own records alone where there are any, else all."""
    return [one for one in records if one.grade is Grade.SHOP] or records


def _those(records: tuple[R, ...], name: str, wanted: str | float | None) -> tuple[R, ...]:
    """The records whose field is what is wanted, however a word is written and a nominal size is rounded."""
    if wanted is None:
        return records
    held = [(one, getattr(one, name)) for one in records]
    if isinstance(wanted, str):
        word = wanted.strip().casefold()
        return tuple(one for one, told in held if isinstance(told, str) and told.casefold() == word)
    near = SAME_SIZE_IN if unit_of(name) == "in" else FLOAT_NOISE
    return tuple(one for one, number in held if number is not None and abs(number - wanted) < near)


def _given(column: Column, value: object) -> Value:
    if isinstance(value, float | int) and not isinstance(value, bool) and unit_of(column.heading) == "in":
        return inch(value, fine=round(value, 3) != value)
    return column.amount(value)[:_LONGEST_TEXT] or "''"


def _by_nearness(column: Column, values: Iterable[Any], wanted: str | float | None) -> list[Value]:
    """What a column holds, numbers in their order, a long list of words nearest first."""
    there = list(dict.fromkeys(values))
    if column.kind is float:
        there.sort()
    if len(there) <= _LISTED or not isinstance(wanted, str):
        return [_given(column, value) for value in there]
    from difflib import get_close_matches  # for who asked for what no table has

    words = [column.amount(value) for value in there]
    near: list[Value] = [*get_close_matches(wanted, words, n=_NEAREST, cutoff=0.0)]
    return near + [word for word in words if word not in near]


@lru_cache(maxsize=2048)
def _fitting(
    table: Table[Any], shop: ShopTables | None, wanted: tuple[tuple[str, str | float | None], ...]
) -> tuple[Any, ...]:
    found = _records(table, shop)
    for name, value in wanted:
        found = _those(found, name, value)
    return found


@lru_cache(maxsize=128)
def _records(table: Table[Any], shop: ShopTables | None) -> tuple[Any, ...]:
    columns = table.columns
    needed = [one.heading for one in columns.values() if one.is_needed]
    return tuple(
        table.record(
            **{name: column.read(row.cells[column.heading]) for name, column in columns.items()},
            source=row.source,
            grade=row.grade,
            edition=row.cells["edition"],
        )
        for row in table.rows(shop)
        if all(row.cells[heading] for heading in needed)
    )


@cache
def _built_in(table: Table[Any]) -> tuple[Row, ...]:
    return read_rows(Path(__file__).with_name(f"{table.name}.csv"), table.headings)
