"""Which stages stand in one row above a chart."""

from __future__ import annotations

from typing import TYPE_CHECKING

if TYPE_CHECKING:
    from collections.abc import Sequence

    from tempwitness.model.logs import Stage

__all__ = ["Row", "band_rows"]

Row = tuple[str, "list[Stage]"]


def band_rows(stages: Sequence[Stage], pieces: Sequence[str]) -> list[Row]:
    """Return the rows of bands: pieces whose stages are the same share one."""
    rows: dict[tuple[object, ...], tuple[list[str], list[Stage]]] = {}
    for piece in ("", *pieces):
        own = [s for s in stages if s.piece == piece]
        if own:
            key = tuple((s.name, s.start, s.end, s.decided) for s in own)
            rows.setdefault(key, ([], own))[0].append(piece)
    return [(", ".join(filter(None, names)), own) for names, own in rows.values()]
