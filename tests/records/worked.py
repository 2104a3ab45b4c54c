"""A folder of jobs that was worked in, and what lies in it."""

from __future__ import annotations

import subprocess
import sys
from collections.abc import Iterator
from contextlib import contextmanager
from pathlib import Path

from hatchwright.records.kinds import Kind
from hatchwright.records.store import sha256_of
from hatchwright.workflow.job_folder import Hand, JobFolder, version_of

CARD = b"%PDF-1.7 a card"
ENTRIES = 4
"""Two people, a revision, a signature."""


def worked_in(shop, text: str) -> Path:
    """Two jobs, a fleet, a kept step, and a signed revision with its papers."""
    folder = shop.store.place.parent
    for name in ("alder.toml", "birch.toml"):
        (folder / name).write_text(text, encoding="utf-8")
    (folder / "twelve.fleet").write_text('title = "Twelve"\n', encoding="utf-8")
    (folder / "RING.DXF").write_bytes(b"an outline that a job reads")
    jobs = JobFolder(folder)
    jobs.enter("alder.toml", Hand("page", 1, "", version_of(text)), lambda was: f"{was}\n# looked at\n")
    job = (folder / "alder.toml").read_bytes()
    said = {"sha256": sha256_of(job)}
    shop.says(Kind.REVISION, "alder.toml", {"file": said}, signs=False, kept={sha256_of(job): job})
    papers = [{"name": "card.pdf", "sha256": sha256_of(CARD)}]
    shop.says(Kind.SIGNED, "alder.toml", {"file": said, "papers": papers}, kept={sha256_of(CARD): CARD})
    return folder


def files_below(folder: Path) -> dict[str, bytes]:
    """Every file of a folder of jobs but its database and what was set aside, by its path."""
    found = {str(path.relative_to(folder)): path.read_bytes() for path in folder.rglob("*") if path.is_file()}
    return {path: content for path, content in found.items() if not path.startswith(("records/", "before-"))}


_WRITER = """
import hashlib, sys
from datetime import UTC, datetime
from pathlib import Path
from hatchwright.records.kinds import Kind
from hatchwright.records.store import Store
store = Store.opened(Path(sys.argv[1]))
while True:
    entry = store.add(Kind.REVISION, "alder.toml", {}, author="A. Mechanic", now=datetime.now(UTC))
    print(entry.seq, entry.hash, flush=True)
    hashlib.pbkdf2_hmac("sha256", b"", b"", 50_000)  # nobody records without a breath: SQLite knows no turns
"""


@contextmanager
def writing_in(folder: Path) -> Iterator[Iterator[str]]:
    """Another program records all the time; gives number and hash of each entry that it knows to be on disk."""
    writer = subprocess.Popen([sys.executable, "-c", _WRITER, str(folder)], stdout=subprocess.PIPE, text=True)
    try:
        yield (line.strip() for line in iter(writer.stdout.readline, ""))
    finally:
        writer.kill()
        writer.stdout.close()
        writer.wait()
