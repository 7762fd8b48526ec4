"""Ladders that several requirements share are written once and named elsewhere.

A test of form ``reach`` may say ``rows_of = "cook-roast"`` in place of ``rows``: it then takes the
rows of that requirement of the same code.
"""

from __future__ import annotations

from typing import TYPE_CHECKING, Any

if TYPE_CHECKING:
    from collections.abc import Iterable, Mapping

__all__ = ["ladders_of", "with_ladders"]

_REFERENCE = "rows_of"


def ladders_of(requirements: Iterable[Mapping[str, Any]]) -> dict[str, list[Any]]:
    """Return the rows of each requirement that has a ladder of its own."""
    return {
        str(r["id"]): r["test"]["rows"]
        for r in requirements
        if "id" in r and isinstance(r.get("test"), dict) and "rows" in r["test"]
    }


def with_ladders(table: dict[str, Any], ladders: Mapping[str, list[Any]]) -> dict[str, Any]:
    """Return a requirement as written, its references replaced by the rows they name.

    A reference to a ladder that does not exist, or beside rows of its own, stays, and is refused as
    an unknown key.
    """
    filled = {**table, "test": _filled(table.get("test"), ladders)}
    if "test" not in table:
        del filled["test"]
    alternatives = table.get("alternatives")
    if isinstance(alternatives, list):
        filled["alternatives"] = [
            {**a, "test": _filled(a.get("test"), ladders)} if isinstance(a, dict) else a
            for a in alternatives
        ]
    return filled


def _filled(test: object, ladders: Mapping[str, list[Any]]) -> object:
    if not isinstance(test, dict):
        return test
    name = test.get(_REFERENCE)
    if not isinstance(name, str) or name not in ladders or "rows" in test:
        return test
    return {
        **{key: value for key, value in test.items() if key != _REFERENCE},
        "rows": ladders[name],
    }
