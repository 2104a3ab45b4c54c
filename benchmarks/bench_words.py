"""Time of the catalog of words, as ratios to plain work of the standard library timed in the same run.

Loading is set against splitting the same files into lines, telling a sentence against `str.format` of the same text.
Milliseconds and microseconds are printed for information; only the ratios mean anything from one machine to another.
"""

from __future__ import annotations

import time
from importlib.resources import files
from timeit import repeat

from hatchwright.said import inch, said
from hatchwright.words.catalog import HOME, entries, language, pieces
from hatchwright.words.tell import tell

_TOLD = 2_000


def best(work: str, times: int, names: dict[str, object]) -> float:
    """Least processor time of several runs [s]."""
    return min(repeat(work, timer=time.process_time, number=times, repeat=7, globals=names)) / times


def main() -> None:
    """Print what a process pays once, what all entries cost, and what one sentence costs."""
    folder = files("hatchwright.words") / HOME
    texts = [one.read_text(encoding="utf-8") for one in folder.iterdir() if one.name.endswith(".po")]
    sentence = said("rivet_count.side", side="X+", cut=inch(4.1), n=20, needed=26, reading="table 4-9")
    form = "".join(f"{before}{{{hole}}}" if hole else before for before, hole, _ in _pieces(sentence.id))
    plain = {"side": "X+", "cut": "4.100", "n": "20", "needed": "26", "reading": "table 4-9"}
    names: dict[str, object] = {
        "texts": texts, "language": language, "entries": entries, "tell": tell, "sentence": sentence,
        "form": form, "plain": plain,
    }  # fmt: skip
    lines = best("for text in texts: text.splitlines()", 10, names)
    print(f"{len(language(HOME))} entries, split into lines    {1e3 * lines:7.2f} ms  ratio   1.0")
    for name, work in (
        ("ready to be told", "language.cache_clear(); language(HOME)"),
        ("every entry read", "list(entries())"),
    ):
        taken = best(work, 3, names)
        print(f"{len(language(HOME))} entries, {name:20s}{1e3 * taken:7.2f} ms  ratio {taken / lines:5.1f}")
    filled = best("form.format(**plain)", _TOLD, names)
    print(f"a sentence, str.format          {1e6 * filled:7.2f} us  ratio   1.0")
    taken = best("tell(sentence)", _TOLD, names)
    print(f"a sentence, told                {1e6 * taken:7.2f} us  ratio {taken / filled:5.1f}")


def _pieces(id: str) -> tuple[tuple[str, str | None, str], ...]:
    return pieces(id)


if __name__ == "__main__":
    main()
