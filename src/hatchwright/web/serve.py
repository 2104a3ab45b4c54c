"""``python -m hatchwright.web.serve``: the process behind ``hatchwright serve``, which has checked what it is given."""

from __future__ import annotations

import argparse
import os
import sys
from pathlib import Path

from hatchwright.errors import HatchwrightError


def main() -> int:
    """Serve until stopped; the exit status is 2 when refused."""
    parser = argparse.ArgumentParser()
    parser.add_argument("folder", type=Path)
    parser.add_argument("--host", required=True)
    parser.add_argument("--port", type=int, required=True)
    parser.add_argument("--name", dest="names", action="append", default=[])
    parser.add_argument("--cert", type=Path)
    parser.add_argument("--cert-key", type=Path)
    parser.add_argument("--shop", type=Path)
    given = parser.parse_args()
    os.environ.setdefault("OPENBLAS_NUM_THREADS", "1")  # small matrices: threads only wait for each other
    from hatchwright.web.shop_server import serve_shop

    certificate = (given.cert, given.cert_key) if given.cert else None
    try:
        serve_shop(
            given.folder, host=given.host, port=given.port, names=tuple(given.names), certificate=certificate,
            shop=given.shop,
        )  # fmt: skip
    except HatchwrightError as error:
        print(error, file=sys.stderr)
        return 2
    except KeyboardInterrupt:
        pass
    return 0


if __name__ == "__main__":
    sys.exit(main())
