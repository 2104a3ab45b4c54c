"""What happens when files that a user hands in are spoilt: real ones of every kind, mutated, through the commands.

Each case is one file with a few mutations, read by the same command that reads it for a user, in this process. Told are
the slowest case, the largest memory, and every fault: an exception that is no refusal, an exit status that is none of
0, 1 and 2, a status of 2 after which a file is there that was not, or is changed, and a case over 2 s or 500 MB.

Jobs that ask for strength are only laid out: what strength costs is no matter of reading.

Run: python studies/mutated_files.py [cases, 2000 by default] [first seed]
"""

from __future__ import annotations

import cmath
import contextlib
import csv
import io
import math
import random
import re
import resource
import signal
import sys
import tempfile
import time
import traceback
from collections import Counter
from collections.abc import Callable, Iterator
from dataclasses import dataclass, field
from pathlib import Path

import ezdxf

from hatchwright.cli.main import main as hatchwright
from hatchwright.errors import HatchwrightError
from hatchwright.tables.catalog import TABLES
from hatchwright.workflow.open_job import open_job

EXAMPLES = Path(__file__).parents[1] / "examples"
LONGEST_S, MOST_MB, GIVEN_UP_S = 2.0, 500, 30

SHELF = b"""schema = 1
units = "in"
[[cutters]]
name = "punch head A"
kind = "round-punch nibbler"
cut_width = ".193"
guide = ".500"
filing_allowance = ".015"
template = "female"
advance = "1/16"
capacity = ".063"
behind = ".55"
body = "1.75"
starter = "9/16"
[[hand_tools]]
name = "hole saw 5/8"
kind = "hole saw"
diameters = ["5/8", "#30", "F"]
behind = ".75"
"""

READINGS = """schema = 1
units = "in"
piece = "square"
size = "3"
template_x = "3.277"
template_y = "3.277"
template_uncertainty = ".0005"
gauge_limit = ".001"
[[cuts]]
turned = false
x = ["2.978", "2.977", "2.978"]
y = ["2.977", "2.978", "2.978"]
diagonals = ["3.870", "3.871"]
[[cuts]]
turned = true
x = ["2.979", "2.978"]
y = ["2.977"]
"""

NASTY = (
    "0", "-0", "-1", "1e-9", "1e9", "1e400", "-1e400", "nan", "inf", "-inf", "true", "false", "1,5", "1,500",
    "1.500,00", "9" * 400, "9" * 5000, "0x" + "f" * 6000, "1" + "0" * 20, "1/0", "0/0", "1 1/1000000007",
    "1979-05-27T07:32:00Z", "[]", "{}", "[[[[1]]]]", '""', '" "', "'a'", '"\\u0000"', '"-30"', '"#99"', '"1e-7"',
    '"3/2"', "#30", "1_000", "0o7", '"' + "x" * 3000 + '"', '"\u202e1.5"', '"\u0661\u0662"', '"mm"', '"5 mm"',
    '"999 in"', "=", '"""', "999999999999999999999",
)  # fmt: skip
FILL = (
    " ", "\t", "[", "]", "{", "}", ".", '"', "'", "#", "=", ",", "-", "a", "0", "1", "\\", "\n", "\r", "a.", "[[", "é",
    "0\n",
)  # fmt: skip
STRAY = ("\0", "\x07", "\x1b[31m", "\x7f", "\ufeff", "\u2028", "\u200b", "“", "½", "\x85", "😀", "\x1a")
NUMBER = re.compile(rb"-?\d*\.?\d+")
VALUE = re.compile(rb"(?<==)[^\n#]+")

Random = random.Random
Mutator = Callable[[Random, bytes], bytes]


def _at(rng: Random, text: bytes) -> int:
    return rng.randrange(len(text) + 1)


def _in_place(pattern: re.Pattern[bytes]) -> Mutator:
    def mutated(rng: Random, text: bytes) -> bytes:
        found = list(pattern.finditer(text))
        if not found:
            return text
        one = rng.choice(found)
        return text[: one.start()] + rng.choice(NASTY).encode() + text[one.end() :]

    return mutated


def _nudged(rng: Random, text: bytes) -> bytes:
    """Another digit somewhere: a file that is most often read, and then judged."""
    found = list(re.finditer(rb"\d", text))
    if not found:
        return text
    at = rng.choice(found).start()
    return text[:at] + str(rng.randrange(10)).encode() + text[at + 1 :]


def _flipped(rng: Random, text: bytes) -> bytes:
    if not text:
        return text
    at = rng.randrange(len(text))
    return text[:at] + bytes([text[at] ^ (1 << rng.randrange(8))]) + text[at + 1 :]


def _cut(rng: Random, text: bytes) -> bytes:
    at = _at(rng, text)
    return text[:at] + text[at + rng.choice((1, 1, 2, 8, 60, 400)) :]


def _ended(rng: Random, text: bytes) -> bytes:
    return text[: _at(rng, text)]


def _copied(rng: Random, text: bytes) -> bytes:
    lines = text.splitlines(keepends=True) or [b""]
    first = rng.randrange(len(lines))
    some = lines[first : first + rng.choice((1, 1, 2, 6, 20))] * rng.choice((1, 1, 2, 30))
    at = rng.randrange(len(lines) + 1)
    return b"".join([*lines[:at], *some, *lines[at:]])


def _swapped(rng: Random, text: bytes) -> bytes:
    lines = text.splitlines(keepends=True) or [b""]
    one, other = rng.randrange(len(lines)), rng.randrange(len(lines))
    lines[one], lines[other] = lines[other], lines[one]
    return b"".join(lines)


def _filled(rng: Random, text: bytes) -> bytes:
    at, many = _at(rng, text), rng.choice((1, 2, 3, 50, 3000, 60_000))
    return text[:at] + (rng.choice(FILL) * many).encode() + text[at:]


def _strayed(rng: Random, text: bytes) -> bytes:
    at = _at(rng, text)
    return text[:at] + rng.choice((*STRAY, *NASTY)).encode("utf-8", "surrogatepass") + text[at:]


MUTATORS: tuple[Mutator, ...] = (
    _nudged, _nudged, _nudged, _nudged, _in_place(NUMBER), _in_place(NUMBER), _in_place(VALUE), _in_place(VALUE),
    _flipped, _cut, _ended, _copied, _swapped, _filled, _strayed,
)  # fmt: skip


def mutated(rng: Random, text: bytes) -> bytes:
    """One to four mutations, one most often."""
    for _ in range(rng.choice((1, 1, 1, 2, 3, 4))):
        text = rng.choice(MUTATORS)(rng, text)
    return text


@dataclass(frozen=True)
class Kind:
    """A kind of file: whole ones, its name in the folder, and the command that reads it.

    Args:
        share: of all cases, in hundredths.
        arguments: of the command; None for what is only laid out.
    """

    name: str
    share: int
    whole: tuple[bytes, ...]
    file: str
    arguments: tuple[str, ...] | None


def _jobs(*names: str) -> tuple[bytes, ...]:
    return tuple((EXAMPLES / f"{name}.toml").read_bytes() for name in names)


def _drawings() -> tuple[bytes, ...]:
    """An outline as one polyline in inches, and as loose lines and arcs in millimeters, beside a word."""
    made = []
    for unit, scale in ((1, 1.0), (4, 25.4)):
        document = ezdxf.new("R2010")
        document.header["$INSUNITS"] = unit
        space = document.modelspace()
        r, w, h = 0.5 * scale, 2.5 * scale, 2.0 * scale
        sides = ((r, 0, w - r, 0), (w, r, w, h - r), (w - r, h, r, h), (0, h - r, 0, r))
        if unit == 1:
            quarter = 0.41421356237
            rows = [row for x, y, u, v in sides for row in ((x, y, 0.0), (u, v, quarter))]
            space.add_lwpolyline(rows, format="xyb", close=True)
        else:
            for (x, y, u, v), hub, first in zip(
                sides, ((w - r, r), (w - r, h - r), (r, h - r), (r, r)), (270, 0, 90, 180), strict=True
            ):
                space.add_line((x, y), (u, v))
                space.add_arc(hub, r, first, first + 90)
        space.add_text("note", dxfattribs={"layer": "WORDS"})
        written = io.StringIO()
        document.write(written)
        made.append(written.getvalue().encode())
    return tuple(made)


def _drilled() -> tuple[bytes, ...]:
    """Every hole of DOGWOOD as drawn: X and Y in inches, and radius and angle in millimeters with a decimal comma."""
    layout = open_job(EXAMPLES / "dogwood.toml")
    center = complex(*layout.center_in)
    places = {hole.number: complex(*hole.place) for hole in layout.holes}
    across = "\n".join(f"{number};{z.real:.3f};{z.imag:.3f};.190;.002" for number, z in places.items())
    around = "\n".join(
        f"{number}\t{25.4 * abs(z - center):.2f}\t{math.degrees(cmath.phase(z - center)):.3f}°".replace(
            ".", ","
        )
        for number, z in places.items()
    )
    return f"No;X;Y;Dia;u\n{across}\n".encode(), f"Hole\tRadius\tAngle\n\tmm\tdeg\n{around}\n".encode()


def _shop_table(name: str, count: int = 12) -> bytes:
    """The first rows of one of the package's own tables, as a shop would have copied them."""
    table = next(one for one in TABLES if one.name == name)
    cited = {"source": "OUR-BOOK", "place": "page 1", "edition": "2025", "basis": "the shop's own"}
    written = io.StringIO()
    rows = csv.DictWriter(written, table.headings, lineterminator="\n")
    rows.writeheader()
    rows.writerows({**row.cells, **cited} for row in table.rows()[:count])
    return written.getvalue().encode()


def kinds() -> tuple[Kind, ...]:
    """Every kind of file that a user hands in."""
    tables = ("rule_limits", "nutplate_ears", "sheet_stock", "screw_sizes")
    return (
        Kind("job", 25, _jobs("alder", "birch", "cypress", "dogwood", "elder"), "job.toml", ("check", "job.toml")),
        Kind("job with loads", 10, _jobs("finch", "heron", "juniper"), "job.toml", None),
        Kind("drawing", 20, _drawings(), "opening.dxf", ("check", "drawn.toml")),
        *(
            Kind(f"shop table {name}", 3, (_shop_table(name),), f"shop/{name}.csv",
                 ("check", "elder.toml", "--shop", "shop"))
            for name in tables
        ),
        Kind("readings", 9, (READINGS.encode(),), "readings.toml",
             ("trial", "alder.toml", "readings.toml", "--take-over")),
        Kind("drilled holes", 5, _drilled(), "drilled.csv",
             ("measure", "dogwood.toml", "drilled.csv", "--u", ".003", "--enter")),
        Kind("machine", 9, ((EXAMPLES / "machines" / "machine.toml").read_bytes(),), "machine.toml",
             ("toolpath", "alder.toml", "--machine", "machine.toml", "--out", "out")),
        Kind("shelf", 5, (SHELF,), "shelf.toml", ("cutters", "elder.toml", "shelf.toml")),
        Kind("bars", 5, (b"6.002|5.998", b"152.4 mm|152.45 mm", b"6 1/64|5 63/64"), "bars", ("trial", "dogwood.toml")),
    )  # fmt: skip


@dataclass
class Tally:
    """What came of it."""

    cases: Counter[str] = field(default_factory=Counter)
    faults: dict[str, str] = field(default_factory=dict)
    slowest: tuple[float, str] = (0.0, "")
    largest_mb: int = 0

    def fault(self, what: str, case: str) -> None:
        """Keep the first case of each fault."""
        self.cases[f"FAULT {what}"] += 1
        self.faults.setdefault(what, case)


class GivenUp(BaseException):
    """A case that was stopped."""


def _give_up(*_: object) -> None:
    raise GivenUp


@contextlib.contextmanager
def _within_time() -> Iterator[None]:
    signal.signal(signal.SIGVTALRM, _give_up)
    signal.setitimer(signal.ITIMER_VIRTUAL, GIVEN_UP_S)
    try:
        yield
    finally:
        signal.setitimer(signal.ITIMER_VIRTUAL, 0.0)


def run(arguments: tuple[str, ...] | None, folder: Path) -> int:
    """The exit status of a command in a folder; of laying out `job.toml` for None."""
    if arguments is None:
        try:
            open_job(folder / "job.toml")
        except HatchwrightError as error:
            str(error)
            return 2
        return 0
    argv = sys.argv
    sys.argv = ["hatchwright", *arguments]
    try:
        with (
            contextlib.redirect_stdout(io.StringIO()),
            contextlib.redirect_stderr(io.StringIO()),
            contextlib.chdir(folder),
        ):
            hatchwright()
    except SystemExit as ended:
        return ended.code if isinstance(ended.code, int) else 0 if ended.code is None else -1
    finally:
        sys.argv = argv
    return 0


def files_under(folder: Path) -> dict[Path, bytes]:
    """Every file and what is in it."""
    return {path: path.read_bytes() for path in folder.rglob("*") if path.is_file()}


def furnished(folder: Path) -> None:
    """The whole files that stand beside the spoilt one."""
    for name in ("alder", "dogwood", "elder"):
        (folder / f"{name}.toml").write_bytes((EXAMPLES / f"{name}.toml").read_bytes())
    text = (EXAMPLES / "elder.toml").read_text(encoding="utf-8")
    opening = re.search(r"\[opening\]\n(?:[^\[\n].*\n)*", text)
    assert opening
    drawn = '[opening]\nshape = "dxf"\nfile = "opening.dxf"\nplace = ["3.75", "5.20"]\n'
    (folder / "drawn.toml").write_text(text.replace(opening[0], drawn), encoding="utf-8")


def read(kind: Kind, text: bytes, folder: Path) -> int:
    """The exit status of the command that reads a file of a kind; its folder is furnished first."""
    furnished(folder)
    return run(_laid(kind, text, folder), folder)


def _laid(kind: Kind, text: bytes, folder: Path) -> tuple[str, ...] | None:
    """The file in its place, and the arguments of the command that reads it."""
    if kind.name == "bars":
        bars = text.decode("utf-8", "replace").replace("\0", "").split("|")
        return (*(kind.arguments or ()), f"--bar-short-side={bars[0]}", f"--bar-long-side={bars[-1]}")
    path = folder / kind.file
    path.parent.mkdir(exist_ok=True)
    path.write_bytes(text)
    return kind.arguments


def tried(kind: Kind, seed: int, tally: Tally) -> None:
    """Spoil one file and have it read."""
    rng = Random(f"{kind.name} {seed}")
    text, case = mutated(rng, rng.choice(kind.whole)), f"{kind.name}, seed {seed}"
    with tempfile.TemporaryDirectory() as name:
        folder = Path(name)
        furnished(folder)
        arguments = _laid(kind, text, folder)
        before, began = files_under(folder), time.process_time()
        try:
            with _within_time():
                status = run(arguments, folder)
        except GivenUp:
            tally.fault(f"given up after {GIVEN_UP_S} s", case)
            status = -1
        except BaseException as error:
            if isinstance(error, KeyboardInterrupt):
                raise
            last = traceback.extract_tb(error.__traceback__)[-1]
            tally.fault(f"{type(error).__name__} at {Path(last.filename).name}:{last.lineno}", case)
            status = -1
        took, mb = time.process_time() - began, resource.getrusage(resource.RUSAGE_SELF).ru_maxrss // 1024
        tally.cases[f"{kind.name}: {status}"] += 1
        if status not in (0, 1, 2, -1):
            tally.fault(f"exit status {status}", case)
        if status == 2 and files_under(folder) != before:
            tally.fault("something written at status 2", case)
        if took > LONGEST_S:
            tally.fault("over 2 s", f"{case}: {took:.1f} s")
        if mb > tally.largest_mb:
            tally.largest_mb = mb
            if mb > MOST_MB:
                tally.fault("over 500 MB", f"{case}: {mb} MB")
        tally.slowest = max(tally.slowest, (took, case))


def study(count: int, first: int = 0) -> Tally:
    """Try so many cases, each kind by its share."""
    tally, all_kinds = Tally(), kinds()
    order = [kind for kind in all_kinds for _ in range(kind.share)]
    for seed in range(first, first + count):
        tried(order[Random(seed).randrange(len(order))], seed, tally)
    return tally


def main() -> None:
    """Count, and print what was found."""
    count, first = map(int, (*sys.argv[1:], *("2000", "0")[len(sys.argv) - 1 :]))
    tally = study(count, first)
    for name, times in sorted(tally.cases.items()):
        print(f"{times:6d}  {name}")
    for what, case in tally.faults.items():
        print(f"FAULT {what}: first {case}")
    print(f"slowest {tally.slowest[0]:.2f} s ({tally.slowest[1]}), largest memory {tally.largest_mb} MB")


if __name__ == "__main__":
    main()
