"""A comparison as plain values, for JSON."""

from __future__ import annotations

from typing import TYPE_CHECKING, Any

from tempwitness.model.vocabulary import Weight
from tempwitness.rulebook.comparison.wording import TITLES

if TYPE_CHECKING:
    from collections.abc import Sequence

    from tempwitness.rulebook.comparison.tables import Cell, Row, TopicTable

__all__ = ["document"]

_HEAD = ("id", "title", "edition", "place", "effective_from", "effective_to", "superseded_by")


def document(codes: Sequence[dict[str, Any]], found: Sequence[TopicTable]) -> dict[str, Any]:
    """Return a comparison as dictionaries, lists, texts and nothing else.

    An empty list of entries says that nothing was found, not that the code has no rule.
    """
    return {
        "codes": [_code(code) for code in codes],
        "tables": [
            {
                "topic": table.topic.value,
                "title": TITLES[table.topic],
                "rows": [_row(row) for row in table.rows],
            }
            for table in found
        ],
        "authority": "The local health authority decides which text applies and what it means.",
    }


def _code(code: dict[str, Any]) -> dict[str, Any]:
    head = code["head"]
    weights = [w.value for w in Weight if any(r["weight"] == w for r in code["requirements"])]
    return {**{key: head.get(key) for key in _HEAD}, "weights": weights}


def _row(row: Row) -> dict[str, Any]:
    return {
        "what": " ".join(part for part in (row.kind, row.detail) if part),
        "stages": row.stages,
        "foods": row.foods,
        "conditions": list(row.case),
        "cells": {code: _cell(cell) for code, cell in row.cells.items()},
        "strictest": None if row.strictest is None else list(row.strictest),
    }


def _cell(cell: Cell) -> dict[str, Any]:
    return {
        "entries": [
            {
                "limit": entry.limit,
                "section": entry.section,
                "weight": entry.weight,
                "confirmed": entry.confirmed,
                "also": [said for said in entry.said if said != entry.weight],
                "other_ways": list(entry.ways),
            }
            for entry in cell.entries
        ],
        "requirements": list(cell.requirements),
        "elsewhere": cell.elsewhere or None,
    }
