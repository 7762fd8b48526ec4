"""Which rule files an evaluation rests on."""

from __future__ import annotations

from typing import TYPE_CHECKING

from tempwitness.rulebook.files import code_ids
from tempwitness.rulebook.folder import rules_folder
from tempwitness.rulebook.overlay import laid_code

if TYPE_CHECKING:
    from collections.abc import Iterable

__all__ = ["rules_used"]

#: Questions, sources, words of foods, and the figures of readings, stages and bounds.
_SHARED = ("bounds", "facts", "quality", "sources", "stages")
_FOODS = "foods.toml"
_PLACES = "places"


def rules_used(codes: Iterable[str], *, by_place: bool) -> dict[str, bytes]:
    """Return the rule files that judge a lot, by their path in the folder of rules, sorted.

    Parameters
    ----------
    codes : iterable of str
        Codes under which it is judged, and those that its local changes name. The codes on which
        they build are added.
    by_place : bool
        Whether the record names its place: then what is in force where is added, and the head of
        every code that is named there.

    Raises
    ------
    RuleError
        If a code is not known.
    """
    root = rules_folder()
    paths = {path for code_id in codes for path in laid_code(code_id).files}
    for room in (*_SHARED, *([_PLACES] if by_place else [])):
        paths |= set((root / room).glob("*.toml"))
    paths.add(root / _FOODS)
    if by_place:
        paths |= {root / "published" / code_id / "code.toml" for code_id in code_ids()}
    named = {path.relative_to(root).as_posix(): path for path in paths}
    return {name: named[name].read_bytes() for name in sorted(named)}
