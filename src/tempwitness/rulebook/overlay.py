"""A code as it is written, with what it takes over from the code on which it builds.

``[head.base]`` names that code. A ``[[requirement]]`` of the same id stands in the place of the
base's; an ``[[amend]]`` changes some of its keys, and takes away those that its ``drop`` names,
such as ``when.species``; every other one is taken over with the name of the text it comes from.
What is new in a topic stands after the base's requirements of that topic.

References to ladders are resolved when all is laid out, so that a code which changes a ladder
changes it for every requirement that names it.
"""

from __future__ import annotations

from dataclasses import dataclass, field, replace
from typing import TYPE_CHECKING, Any

from tempwitness.errors import Location, RuleError
from tempwitness.rulebook.files import (
    code_files,
    line_of_table,
    nearest,
    read_toml,
    shown,
    topic_files,
)
from tempwitness.rulebook.folder import kept_by_rules
from tempwitness.rulebook.ladders import ladders_of, with_ladders

if TYPE_CHECKING:
    from collections.abc import Mapping, Sequence
    from pathlib import Path

__all__ = ["Entry", "Laid", "laid_code", "laid_folder"]

Table = dict[str, Any]

_CONFIRMED_BEST_FIRST = ("text", "second-hand", "memory")
_ALL = "*"
_DROP = "drop"
_ONE_OR_OTHER = (("rows", "rows_of"), ("rows_of", "rows"))
#: By which name it is known, and from which text it was taken: neither can be dropped.
_ITS_OWN = ("id", "instrument")


@dataclass(frozen=True, slots=True)
class Entry:
    """One requirement as written, the topic it stands in, and where that is."""

    table: Table
    topic: str
    path: Path
    kind: str
    ordinal: int

    @property
    def where(self) -> Location:
        """File and line of its table."""
        return Location(shown(self.path), line=line_of_table(self.path, self.kind, self.ordinal))


@dataclass(frozen=True, slots=True)
class Laid:
    """A code laid out: its head as written, all its requirements, and the files they come from.

    `ladders` are those of the codes beneath it, for a reference to one that it leaves out.
    """

    head: Table
    entries: tuple[Entry, ...]
    files: tuple[Path, ...]
    extra: tuple[tuple[Path, str], ...]
    ladders: Mapping[str, list[Any]] = field(default_factory=dict)


@kept_by_rules
def laid_code(code_id: str) -> Laid:
    """Lay out a shipped code.

    Raises
    ------
    RuleError
        If no code has that id, a file is not TOML, or what it leaves out or amends is not there.
    """
    return _with_ladders(_laid(code_files(code_id), ()))


def laid_folder(folder: Path) -> Laid:
    """Lay out a code that stands in a folder of its own, outside the shipped rules."""
    return _with_ladders(_laid(topic_files(folder), ()))


@kept_by_rules
def _laid_base(code_id: str, above: tuple[str, ...]) -> Laid:
    """Lay out a code on which others build, once for all of them; nothing changes its tables."""
    return _laid(code_files(code_id), above)


def _laid(files: Sequence[Path], above: tuple[str, ...]) -> Laid:
    topics = {path: read_toml(path) for path in files}
    head = topics[files[0]].get("head", {})
    own = Laid(head, _entries(topics, "requirement"), tuple(files), _extra(topics, files[0]))
    base = head.get("base") if isinstance(head, dict) else None
    if not isinstance(base, dict) or "id" not in base:
        return own
    where = Location(shown(files[0]), key="head.base")
    if base["id"] in above:
        raise RuleError(f"'{base['id']}' builds on itself", location=where)
    under = _laid_base(str(base["id"]), (*above, str(base["id"])))
    kept = _taken_over(under, base, where)
    amended = _amended(kept, _entries(topics, "amend"))
    joined = _joined(amended, own.entries)
    ladders = {**under.ladders, **ladders_of(e.table for e in under.entries)}
    return Laid(head, joined, (*files, *under.files), own.extra, ladders)


def _entries(topics: Mapping[Path, Table], kind: str) -> tuple[Entry, ...]:
    return tuple(
        Entry(table, path.stem, path, kind, ordinal)
        for path, tables in topics.items()
        for ordinal, table in enumerate(tables.get(kind, []))
    )


def _extra(topics: Mapping[Path, Table], head: Path) -> tuple[tuple[Path, str], ...]:
    """Keys that no file of a code may hold."""
    known = {"requirement", "amend"}
    return tuple(
        (path, key)
        for path, tables in topics.items()
        for key in sorted(set(tables) - known - ({"head", "order"} if path == head else set()))
    )


def _with_ladders(laid: Laid) -> Laid:
    own = {str(e.table.get("id")) for e in laid.entries}
    left = {name: rows for name, rows in laid.ladders.items() if name not in own}
    ladders = {**left, **ladders_of(e.table for e in laid.entries)}
    filled = tuple(
        Entry(with_ladders(e.table, ladders), e.topic, e.path, e.kind, e.ordinal)
        for e in laid.entries
    )
    return replace(laid, entries=filled)


def _taken_over(under: Laid, base: Table, where: Location) -> list[Entry]:
    """Return the base's requirements without those that are left out, marked as its own text."""
    out = {str(name) for name in base.get("without", ())}
    names = {n for e in under.entries for n in _names(e.table)}
    for name in (*sorted(out), *(n for n in base.get("read", ()) if n != _ALL)):
        _must_be_in(str(name), names, where)
    source = f"{under.head.get('title', '')} {under.head.get('edition', '')}".strip()
    return [
        Entry(
            _marked(_without(e.table, out), base, source, under.head),
            e.topic,
            e.path,
            e.kind,
            e.ordinal,
        )
        for e in under.entries
        if e.table.get("id") not in out
    ]


def _names(table: Table) -> list[str]:
    others = table.get("alternatives", [])
    return [str(t.get("id")) for t in (table, *others) if isinstance(t, dict)]


def _without(table: Table, out: set[str]) -> Table:
    others = table.get("alternatives")
    if not isinstance(others, list) or not out & set(_names(table)):
        return table
    return {**table, "alternatives": [a for a in others if a.get("id") not in out]}


def _marked(table: Table, base: Table, source: str, under: Table) -> Table:
    """Name the text that a requirement was taken from, and say how far it is confirmed here.

    An edition that repeats an older one's words is the text that its adopters took over; a law
    that stands beside another one is not.
    """
    read = base.get("read", ())
    known = table.get("confirmed", "memory")
    if _ALL not in read and table.get("id") not in read:
        cap = base.get("confirmed", "second-hand")
        known = max((known, cap), key=_rank)
    says_it_itself = under.get("base", {}).get("says_it_itself", False)
    instrument = "" if says_it_itself else table.get("instrument")
    return {**table, "instrument": instrument or source, "confirmed": known}


def _rank(confirmed: object) -> int:
    known = _CONFIRMED_BEST_FIRST
    return known.index(str(confirmed)) if confirmed in known else len(known)


def _amended(kept: list[Entry], changes: Sequence[Entry]) -> list[Entry]:
    found = {str(e.table.get("id")): i for i, e in enumerate(kept)}
    result = list(kept)
    for change in changes:
        name = str(change.table.get("id", "?"))
        _must_be_in(name, set(found), change.where)
        old = result[found[name]]
        own = {key: value for key, value in change.table.items() if key != _DROP}
        table = _laid_over(_dropped(old.table, change), own)
        if "section" in change.table:
            table["instrument"] = ""
        result[found[name]] = Entry(table, old.topic, change.path, "amend", change.ordinal)
    return result


def _dropped(old: Table, change: Entry) -> Table:
    """Take away the keys that an amendment drops; each must be there."""
    paths = change.table.get(_DROP, [])
    if not isinstance(paths, list) or not all(isinstance(path, str) for path in paths):
        raise RuleError(
            f"requirement '{old.get('id')}': '{_DROP}' is a list of keys",
            location=replace(change.where, key=_DROP),
            hint=f'{_DROP} = ["when.species"]',
        )
    for path in paths:
        old = _one_dropped(old, path.split("."), path, change)
    return old


def _one_dropped(table: Table, keys: list[str], path: str, change: Entry) -> Table:
    key, *rest = keys
    inner = table.get(key)
    if key not in table or path in _ITS_OWN or (rest and not isinstance(inner, dict)):
        near = nearest(key, sorted(table)) if key not in table else []
        hint = f"did you mean {' or '.join(near)}?" if near else "see `tempwitness rules explain`"
        raise RuleError(
            f"requirement '{change.table.get('id')}' has no key '{path}' that could be dropped",
            location=replace(change.where, key=_DROP),
            hint=hint,
        )
    if rest and isinstance(inner, dict):
        return {**table, key: _one_dropped(inner, rest, path, change)}
    return {name: value for name, value in table.items() if name != key}


def _laid_over(old: Table, new: Table) -> Table:
    """Lay one table over another: tables within it key by key, everything else whole.

    Rows of its own and a ladder that is named stand for one another.
    """
    barred = {other for key, other in _ONE_OR_OTHER if key in new}
    return {
        **{key: value for key, value in old.items() if key not in barred},
        **{
            key: _laid_over(old[key], value) if _both_tables(old.get(key), value) else value
            for key, value in new.items()
        },
    }


def _both_tables(old: object, new: object) -> bool:
    if not isinstance(old, dict) or not isinstance(new, dict):
        return False
    # A test of another form has other keys: it stands whole in the place of the old one.
    return new.get("form", old.get("form")) == old.get("form")


def _joined(base: Sequence[Entry], own: Sequence[Entry]) -> tuple[Entry, ...]:
    """Put own requirements in the place of the base's, or at the end of their topic."""
    replaced = {str(e.table.get("id")): e for e in own}
    result = [replaced.pop(str(e.table.get("id")), e) for e in base]
    topics = [e.topic for e in base]
    new = [e for e in own if str(e.table.get("id")) in replaced]
    for entry in reversed(new):
        at = len(base)
        if entry.topic in topics:
            at = len(topics) - topics[::-1].index(entry.topic)
        result.insert(at, entry)
    return tuple(result)


def _must_be_in(name: str, known: set[str], where: Location) -> None:
    if name in known:
        return
    near = nearest(name, sorted(known))
    raise RuleError(
        f"the code it builds on has no requirement '{name}'",
        location=where,
        hint=f"did you mean {' or '.join(near)}?" if near else "see `tempwitness rules show`",
    )
