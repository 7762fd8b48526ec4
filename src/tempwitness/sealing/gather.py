"""A record and all it points at, laid out so that every path in it still leads where it led."""

from __future__ import annotations

import os
from dataclasses import dataclass
from pathlib import Path, PurePosixPath

from tempwitness.errors import Location, SealError
from tempwitness.readers.opening import bytes_of
from tempwitness.readers.written import is_record, pointed_at
from tempwitness.sealing.names import portable_fault

__all__ = ["Gathered", "gathered", "strays"]


@dataclass(frozen=True, slots=True)
class Gathered:
    """The files of one record.

    Parameters
    ----------
    record : str
        Name of the record among the members.
    members : dict of str to bytes
    """

    record: str
    members: dict[str, bytes]


def gathered(path: Path, room: str) -> Gathered:
    """Gather a record, its files of readings and its local changes, as they are on the disk.

    Parameters
    ----------
    path : Path
    room : str
        Folder in the archive.

    Raises
    ------
    InputError
        If the record or a file cannot be opened or understood.
    SealError
        If it is no record, or points at a file in a way that no archive can keep.
    """
    if not is_record(path):
        raise SealError(
            "only a record can be sealed: a bare table does not say what the lot is",
            location=Location(str(path)),
            hint="write a record around it: tempwitness new",
        )
    folder = path.parent.resolve()
    places = {path.name: folder / path.name}
    sources = {path.name: path}
    for name in pointed_at(path):
        _refuse_absolute(name, path)
        places[name] = Path(os.path.normpath(folder / name))
        sources[name] = path.parent / name
    root = Path(os.path.commonpath([place.parent for place in places.values()]))
    members: dict[str, bytes] = {}
    for name, place in places.items():
        member = f"{room}/{place.relative_to(root).as_posix()}"
        if fault := portable_fault(member):
            raise SealError(
                f"the file '{name}' cannot go into an archive: {fault}",
                location=Location(str(path)),
                hint="give it a plain name, here and in the record",
            )
        members[member] = bytes_of(sources[name], name=name)
    first = places[path.name].relative_to(root).as_posix()
    return Gathered(f"{room}/{first}", members)


def _refuse_absolute(name: str, record: Path) -> None:
    if _absolute(name):
        raise SealError(
            f"the record points at '{name}' by a path from the top of this machine, which leads "
            "nowhere on another one",
            location=Location(str(record)),
            hint="lay the file beside the record and name it there without its folders",
        )


def _absolute(name: str) -> bool:
    return Path(name).is_absolute() or name.startswith(("/", "\\")) or ":" in name[:2]


def strays(root: Path, record: str, members: frozenset[str]) -> list[str]:
    """Return what a record in an archive points at that is not one of its members.

    A record that a stranger packed could name any file of this machine; nothing but members is
    opened.

    Parameters
    ----------
    root : Path
        Where the archive was unpacked.
    record : str
        The record among its members.
    members : frozenset of str
    """
    folder = PurePosixPath(record).parent.as_posix()
    found = []
    for name in pointed_at(root / record):
        plain = name.replace("\\", "/")
        place = os.path.normpath(f"{folder}/{plain}").replace("\\", "/")
        if _absolute(name) or place not in members:
            found.append(name)
    return found
