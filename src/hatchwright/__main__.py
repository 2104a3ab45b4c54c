"""``python -m hatchwright``: the same as the command ``hatchwright``."""

from __future__ import annotations

from hatchwright.cli.main import main

if __name__ == "__main__":  # a worker process reads this file too
    main()
