"""Which folder of rules is in force: the shipped one, or one that a sealed archive carries.

What is read from rules is kept in memory for each folder apart, so that one evaluation under the
rules of an archive leaves nothing behind for the next one under the shipped rules.
"""

from __future__ import annotations

from contextlib import contextmanager
from contextvars import ContextVar
from functools import cache, wraps
from pathlib import Path
from typing import TYPE_CHECKING, Any, ParamSpec, TypeVar

from tempwitness.errors import RuleError

if TYPE_CHECKING:
    from collections.abc import Callable, Iterator

__all__ = ["kept_by_rules", "rules_at", "rules_folder", "shipped_rules"]

Given = ParamSpec("Given")
Answer = TypeVar("Answer")
_OTHER: ContextVar[Path | None] = ContextVar("other_rules", default=None)
#: What was read, by folder; within it by function and arguments.
_KEPT: dict[Path, dict[tuple[Any, ...], Any]] = {}


def rules_folder() -> Path:
    """Return the folder of the rule files that are in force here.

    Raises
    ------
    RuleError
        If no rules were shipped.
    """
    return _OTHER.get() or shipped_rules()


@cache
def shipped_rules() -> Path:
    """Return the packaged folder, else the repository's."""
    package = Path(__file__).resolve().parents[1]
    candidates = (package / "_rules", package.parents[1] / "rules")
    for folder in candidates:
        if (folder / "published").is_dir():
            return folder
    raise RuleError(
        f"the rule files are missing: looked in {' and '.join(str(c) for c in candidates)}",
        hint="install the package again; the wheel carries its rule files",
    )


@contextmanager
def rules_at(folder: Path) -> Iterator[None]:
    """Put the rules of a folder in force within a block, and forget them after it.

    Parameters
    ----------
    folder : Path
        A folder of the same shape as the shipped one.
    """
    place = folder.resolve()
    before = _OTHER.set(place)
    try:
        yield
    finally:
        _OTHER.reset(before)
        _KEPT.pop(place, None)


def kept_by_rules(read: Callable[Given, Answer]) -> Callable[Given, Answer]:
    """Keep what a function read from rules, for each folder of rules apart.

    Parameters
    ----------
    read : callable
        Its arguments must be hashable.
    """

    @wraps(read)
    def kept(*arguments: Given.args, **named: Given.kwargs) -> Answer:
        known = _KEPT.setdefault(rules_folder(), {})
        key = (read, arguments, *sorted(named.items()))
        if key not in known:
            known[key] = read(*arguments, **named)
        found: Answer = known[key]
        return found

    return kept
