"""Where the rule files are, and how one is read; nothing heavy is imported here."""

from __future__ import annotations

import re
from decimal import Decimal
from functools import lru_cache
from typing import TYPE_CHECKING, Any

import tomli

from tempwitness.errors import Location, RuleError
from tempwitness.rulebook.folder import kept_by_rules, rules_folder

if TYPE_CHECKING:
    from pathlib import Path

__all__ = [
    "code_files",
    "code_ids",
    "line_of_table",
    "nearest",
    "read_toml",
    "rules_folder",
    "shown",
    "topic_files",
]

_TOML_PLACE = re.compile(r" \(at line (\d+), column \d+\)$")
_HEAD_FILE = "code.toml"


@kept_by_rules
def shown(path: Path) -> str:
    """Return the name of a file as it is printed: relative to the rules folder if inside it."""
    try:
        return f"rules/{path.resolve().relative_to(rules_folder()).as_posix()}"
    except ValueError:
        return str(path)


def code_ids() -> list[str]:
    """Return the ids of the shipped codes, sorted."""
    return list(_code_ids())


@kept_by_rules
def _code_ids() -> tuple[str, ...]:
    published = rules_folder() / "published"
    heads = published.rglob(_HEAD_FILE)
    return tuple(sorted(head.parent.relative_to(published).as_posix() for head in heads))


def code_files(code_id: str) -> list[Path]:
    """Return the files of a code: its head, then its topics in the order they are judged.

    Raises
    ------
    RuleError
        If no code has that id, or its `order` and its files do not agree.
    """
    _must_be_known(code_id)
    folder = rules_folder() / "published" / code_id
    return topic_files(folder)


def topic_files(folder: Path) -> list[Path]:
    """Return the files of the code in a folder, head first, in the order of its `order`."""
    head = folder / _HEAD_FILE
    order = read_toml(head).get("order", [])
    if not isinstance(order, list) or not all(isinstance(name, str) for name in order):
        raise RuleError(
            "'order' must list the names of the topic files without '.toml'",
            location=Location(shown(head), key="order"),
            hint='order = ["cooking", "holding"]',
        )
    present = {path.stem for path in folder.glob("*.toml")} - {head.stem}
    differ = sorted(present.symmetric_difference(order))
    if differ or len(set(order)) != len(order):
        raise RuleError(
            f"'order' and the files beside it do not agree: {', '.join(differ) or 'repeated name'}",
            location=Location(shown(head), key="order"),
            hint="name every topic file of the folder once, in the order in which it is judged",
        )
    return [head, *(folder / f"{name}.toml" for name in order)]


def read_toml(path: Path) -> dict[str, Any]:
    """Read a TOML file; numbers with a point stay exact decimals.

    Raises
    ------
    RuleError
        If it cannot be opened, is not UTF-8 or is not TOML, with the line.
    """
    try:
        return tomli.loads(path.read_text(encoding="utf-8"), parse_float=Decimal)
    except tomli.TOMLDecodeError as error:
        raise _not_toml(path, str(error)) from None
    except UnicodeDecodeError:
        raise RuleError(
            "the file is not UTF-8 text",
            location=Location(shown(path)),
            hint="save it again as UTF-8",
        ) from None
    except OSError as error:
        raise RuleError(
            f"the file cannot be read: {error.strerror}", location=Location(shown(path))
        ) from None
    except (ValueError, RecursionError):
        # A path with a NUL sign, a number of thousands of digits, lists within lists without end.
        raise RuleError(
            "the file cannot be read: its path or what it holds is no text that a person writes",
            location=Location(shown(path)),
        ) from None


def line_of_table(path: Path, table: str, ordinal: int) -> int | None:
    """Return the line of the n-th ``[[table]]`` of a file, counted from 0, or ``None``."""
    state = path.stat()
    found = _lines_of_tables(path, table, state.st_mtime_ns, state.st_size)
    return found[ordinal] if ordinal < len(found) else None


@lru_cache(maxsize=64)
def _lines_of_tables(path: Path, table: str, changed: int, size: int) -> tuple[int, ...]:
    """Return the lines of all ``[[table]]`` headers; read again when the file has changed."""
    del changed, size
    header = f"[[{table}]]"
    lines = path.read_text(encoding="utf-8").splitlines()
    return tuple(n for n, text in enumerate(lines, 1) if text.split("#")[0].strip() == header)


def nearest(name: str, known: list[str]) -> list[str]:
    """Return up to three known names that look like the one that was written."""
    from difflib import get_close_matches  # noqa: PLC0415 - only a mistake needs it

    return get_close_matches(name, known, n=3, cutoff=0.4)


def _must_be_known(code_id: str) -> None:
    known = code_ids()
    if code_id in known:
        return
    near = nearest(code_id, known)
    raise RuleError(
        f"no code has the id '{code_id}'",
        hint=f"did you mean {' or '.join(near)}?" if near else f"known codes: {', '.join(known)}",
    )


def _not_toml(path: Path, message: str) -> RuleError:
    place = _TOML_PLACE.search(message)
    what = _TOML_PLACE.sub("", message)
    return RuleError(
        f"this is not valid TOML: {what[:1].lower()}{what[1:]}",
        location=Location(shown(path), line=int(place[1]) if place else None),
        hint="each key stands once in its table, text stands in quotes, lists in [ ]",
    )
