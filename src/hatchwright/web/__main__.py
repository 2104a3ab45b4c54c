"""``python -m hatchwright.web``: show the jobs of a folder in the browser."""

from __future__ import annotations

import argparse
import os
import sys
from pathlib import Path

from hatchwright.errors import HatchwrightError
from hatchwright.said import said
from hatchwright.words.tell import tell


def main() -> int:
    """Read the command line and serve until stopped; the exit status is 2 when refused."""
    parser = argparse.ArgumentParser(prog="hatchwright.web", description=tell(said("command.serve.help")))
    parser.add_argument("--folder", type=Path, required=True, help=tell(said("command.serve.folder")))
    parser.add_argument("--job", help=tell(said("command.serve.job")))
    parser.add_argument("--shop", type=Path, help=tell(said("command.serve.shop")))
    parser.add_argument("--host", default="127.0.0.1", help=tell(said("command.serve.host")))
    parser.add_argument("--port", type=int, help=tell(said("command.serve.port")))
    parser.add_argument(
        "--open", dest="opens_browser", action="store_true", help=tell(said("command.serve.open"))
    )
    parser.add_argument(
        "--until-input-closes", action="store_true", help=tell(said("command.serve.until_input_closes"))
    )
    given = parser.parse_args()
    os.environ.setdefault("OPENBLAS_NUM_THREADS", "1")  # small matrices: threads only wait for each other
    from hatchwright.web.server import serve

    try:
        serve(**vars(given))
    except HatchwrightError as error:
        print(error, file=sys.stderr)
        return 2
    except KeyboardInterrupt:
        pass
    return 0


if __name__ == "__main__":
    sys.exit(main())
