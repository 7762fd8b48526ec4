"""Run the command line with ``python -m tempwitness``."""

from __future__ import annotations

from tempwitness.cli.main import main

if __name__ == "__main__":
    main()
