"""How many rows each region has, where they stand, and which were left out and why."""

from __future__ import annotations

from collections import Counter
from typing import TYPE_CHECKING

if TYPE_CHECKING:
    from collections.abc import Iterable, Iterator

    from tests.published.rows.tables import Region

__all__ = ["by_code", "totals"]


def totals(region: Region) -> str:
    """Return one line about a region."""
    kept = sum(bool(entry.names) for entry in region.encoded)
    numbers = sum(line.figure is not None for row in region.typed.values() for line in row)
    return (
        f"{region.name}: {len(region.typed)} rows with {numbers} numbers, {kept} encoded, "
        f"{len(region.encoded) - kept} left out"
    )


def by_code(tables: Iterable[Region]) -> Iterator[str]:
    """Yield one line for each region and code, then one for each row that was left out."""
    for region in tables:
        yield totals(region)
        rows = Counter(
            code
            for entry in region.encoded
            for code in {name.partition("#")[0] for name in entry.names}
        )
        yield from (f"  {code}: {n} rows" for code, n in sorted(rows.items()))
        for entry in region.encoded:
            if not entry.names:
                yield f"  left out: {entry.row}: {entry.reason}"
