"""``python -m hatchwright.web``: show the jobs of a folder in the browser."""

from __future__ import annotations

import argparse
import os
import sys
from pathlib import Path

from hatchwright.errors import HatchwrightError


def main() -> int:
    """Read the command line and serve until stopped.

    Returns:
        int: exit status, 2 when refused.
    """
    parser = argparse.ArgumentParser(
        prog="hatchwright.web", description="Show the jobs of a folder in the browser."
    )
    parser.add_argument("--folder", type=Path, required=True, help="folder that holds the job files")
    parser.add_argument("--job", help="file name of the job to open first")
    parser.add_argument("--shop", type=Path, help="folder of the shop's own tables")
    parser.add_argument("--host", default="127.0.0.1", help="address of this machine to listen at")
    parser.add_argument("--port", type=int, default=0, help="port, 0 for a free one")
    parser.add_argument("--open", action="store_true", help="open the address in the browser too")
    parser.add_argument(
        "--until-input-closes",
        action="store_true",
        help="stop when the standard input closes, as it does when the program that started this one is gone",
    )
    given = parser.parse_args()
    os.environ.setdefault(
        "OPENBLAS_NUM_THREADS", "1"
    )  # small matrices: more threads only wait for each other
    from hatchwright.web.server import serve

    try:
        serve(
            given.folder,
            given.job,
            host=given.host,
            port=given.port,
            shop=given.shop,
            opens_browser=given.open,
            until_input_closes=given.until_input_closes,
        )
    except HatchwrightError as error:
        print(error, file=sys.stderr)
        return 2
    except KeyboardInterrupt:
        pass
    return 0


if __name__ == "__main__":
    sys.exit(main())
