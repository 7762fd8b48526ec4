"""Print which published rows stand in which code: ``python -m tests.published.coverage``."""

from __future__ import annotations

import sys

from tests.published.rows.tables import read_tables
from tests.published.rows.totals import by_code


def main() -> None:
    """Print one line for each region and code, and the rows that were left out."""
    sys.stdout.write("".join(f"{line}\n" for line in by_code(read_tables())))


if __name__ == "__main__":
    main()
