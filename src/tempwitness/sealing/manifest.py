"""The list of members with their hashes, in the lines that ``sha256sum -c`` reads."""

from __future__ import annotations

import hashlib
import re
from dataclasses import dataclass
from typing import TYPE_CHECKING

from tempwitness.errors import Location, SealError
from tempwitness.sealing.names import alike, composed, fault_of

if TYPE_CHECKING:
    from collections.abc import Mapping

    from tempwitness.sealing.archive import Opened

__all__ = ["MANIFEST", "Compared", "compared", "listed", "manifest_of", "wrapped_in"]

MANIFEST = "SHA256SUMS.txt"
_LINE = re.compile(r"([0-9a-f]{64}) [ *](.+)")


@dataclass(frozen=True, slots=True)
class Compared:
    """Members beside their manifest.

    Parameters
    ----------
    members : dict of str to bytes
        Those that the manifest lists, by its names, as they are now.
    faults : tuple of str
        What was changed, is missing, was added or renamed: one line for each member.
    """

    members: dict[str, bytes]
    faults: tuple[str, ...]


def manifest_of(members: Mapping[str, bytes]) -> bytes:
    """Return the manifest of members, a line for each in the order of the mapping."""
    lines = [f"{hashlib.sha256(data).hexdigest()}  {name}\n" for name, data in members.items()]
    return "".join(lines).encode()


def wrapped_in(opened: Opened, file: str) -> str:
    """Return the folder around all members, with its stroke; ``""`` without one.

    Raises
    ------
    SealError
        If no manifest is in the archive, or two stand side by side.
    """
    places = [n for n in (*opened.members, *opened.damaged) if n.rpartition("/")[2] == MANIFEST]
    places.sort(key=lambda name: name.count("/"))
    if not places:
        raise SealError(
            f"no {MANIFEST} is in the archive, so it was not sealed here or lost its manifest",
            location=Location(file),
            hint="name an archive that 'tempwitness seal' wrote",
        )
    if len(places) > 1 and places[0].count("/") == places[1].count("/"):
        raise SealError(
            f"two manifests stand in the archive: {places[0]} and {places[1]}",
            location=Location(file),
            hint="verify each sealed archive by itself",
        )
    if places[0] in opened.damaged:
        raise SealError(
            f"{places[0]} cannot be unpacked ({opened.damaged[places[0]]})",
            location=Location(file),
            hint="copy the archive again from where it was sealed",
        )
    return places[0].removesuffix(MANIFEST)


def listed(raw: bytes, file: str) -> dict[str, str]:
    """Read a manifest: the hash of each member by its name.

    Raises
    ------
    SealError
        If a line is none of a manifest, or two speak of one member.
    """
    try:
        lines = raw.decode("utf-8").splitlines()
    except UnicodeDecodeError:
        raise _broken(file, None, "it is not UTF-8 text") from None
    found: dict[str, str] = {}
    seen: set[str] = set()
    for number, line in enumerate(lines, 1):
        match = _LINE.fullmatch(line)
        if match is None:
            raise _broken(file, number, "this is not a hash and the name of a member")
        digest, name = match.groups()
        if fault := fault_of(name):
            raise _broken(file, number, f"the name {name!r} is refused: {fault}")
        if alike(name) in seen:
            raise _broken(file, number, f"'{name}' stands there twice")
        seen.add(alike(name))
        found[name] = digest
    if not found:
        raise _broken(file, None, "it is empty")
    return found


def _broken(file: str, line: int | None, what: str) -> SealError:
    return SealError(
        f"the manifest was changed or damaged: {what}",
        location=Location(f"{file}, {MANIFEST}", line),
        hint="copy the archive again from where it was sealed",
    )


def compared(hashes: Mapping[str, str], opened: Opened, wrap: str) -> Compared:
    """Compare the members of an archive with its manifest.

    Names that differ only in how a letter with its mark is composed are one: systems write them
    differently.
    """
    here = {composed(n): (n, d) for n, d in opened.members.items() if n != wrap + MANIFEST}
    hurt = {composed(n): why for n, why in opened.damaged.items()}
    members, faults, missing = {}, [], {}
    for name, digest in hashes.items():
        key = composed(wrap + name)
        if key in hurt:
            faults.append(f"damaged: {name} ({hurt.pop(key)})")
        elif key not in here:
            missing[name] = digest
        else:
            _, members[name] = here.pop(key)
            if hashlib.sha256(members[name]).hexdigest() != digest:
                faults.append(f"changed: {name}")
    found = {name: hashlib.sha256(data).hexdigest() for name, data in here.values()}
    for name, digest in missing.items():
        new = next((n for n, d in found.items() if d == digest), None)
        if new is None:
            faults.append(f"missing: {name}")
        else:
            del found[new]
            faults.append(f"renamed: {name} is now {new}")
    faults += [f"added: {name}" for name in found]
    faults += [f"added: {key}, which cannot be unpacked ({why})" for key, why in hurt.items()]
    return Compared(members, tuple(faults))
