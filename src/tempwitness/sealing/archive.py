"""The archive as a file: written the same everywhere, and read as if a stranger had packed it.

Members are stored without compression and dated 1 January 1980, the first day that the format
knows, so that the same contents give the same bytes on every machine. Archives that another tool
packed anew may be compressed by the one method that ISO/IEC 21320-1 allows beside storing.
"""

from __future__ import annotations

import io
import stat
import struct
import zipfile
import zlib
from dataclasses import dataclass, field
from typing import TYPE_CHECKING, NoReturn

from tempwitness.errors import Location, SealError
from tempwitness.sealing.names import alike, fault_of, tidied

if TYPE_CHECKING:
    from collections.abc import Iterable, Iterator, Mapping

__all__ = ["MOST_BYTES", "MOST_MEMBERS", "Opened", "packed", "unpacked"]

MOST_MEMBERS = 4000
#: Of all members together; a season of loggers at one second is below this.
MOST_BYTES = 256 << 20
#: Of the list of members at the end of the archive.
_MOST_LISTED = 4 << 20
_FIRST_DAY = (1980, 1, 1, 0, 0, 0)
_UNIX = 3
_PLAIN_FILE = (stat.S_IFREG | 0o644) << 16
_METHODS = (zipfile.ZIP_STORED, zipfile.ZIP_DEFLATED)
_ENCRYPTED = 0x1
_UTF8 = 0x800
_END = b"PK\x05\x06"
_END_SIZE = 22
_LONGEST_COMMENT = 0xFFFF
_CHUNK = 1 << 20
#: What a Mac puts beside the members when it packs a folder.
_MAC = ("__MACOSX/", ".DS_Store")


@dataclass(slots=True)
class Opened:
    """What an archive holds.

    Parameters
    ----------
    members : dict of str to bytes
        By their names as they stand in the archive.
    damaged : dict of str to str
        Members that could not be unpacked, and why.
    aside : list of str
        What a Mac put there, which belongs to nothing.
    """

    members: dict[str, bytes] = field(default_factory=dict)
    damaged: dict[str, str] = field(default_factory=dict)
    aside: list[str] = field(default_factory=list)


def packed(members: Mapping[str, bytes]) -> bytes:
    """Return the bytes of an archive, its members in the order of the mapping."""
    target = io.BytesIO()
    with zipfile.ZipFile(target, "w", zipfile.ZIP_STORED) as archive:
        for name, data in members.items():
            info = zipfile.ZipInfo(name, _FIRST_DAY)
            info.create_system = _UNIX
            info.external_attr = _PLAIN_FILE
            archive.writestr(info, data)
    return target.getvalue()


def unpacked(raw: bytes, file: str) -> Opened:
    """Return the members of an archive, all of them in memory and nothing on the disk.

    Parameters
    ----------
    raw : bytes
    file : str
        Its name, for messages.

    Raises
    ------
    SealError
        If it is no archive, is too large, or holds a member that no honest seal has: one that
        leads out of the archive, a link, two of one name, one that is encrypted.
    """
    _refuse_endless_list(raw, file)
    try:
        archive = zipfile.ZipFile(io.BytesIO(raw))
    except (zipfile.BadZipFile, OSError, ValueError, EOFError, struct.error) as why:
        raise _no_archive(file, str(why)) from None
    with archive:
        infos = archive.infolist()
        if len(infos) > MOST_MEMBERS:
            _refuse(file, f"it holds more than {MOST_MEMBERS} members")
        opened, left = Opened(), MOST_BYTES
        for name, info in _checked(infos, file):
            if info.is_dir() or name.endswith("/"):
                continue
            if name.startswith(_MAC[0]) or name.rpartition("/")[2] == _MAC[1]:
                opened.aside.append(name)
                continue
            try:
                data = _content(archive, info, left)
            except (zipfile.BadZipFile, zlib.error, OSError, EOFError, struct.error) as why:
                opened.damaged[name] = str(why) or type(why).__name__
                continue
            if len(data) > left:
                _refuse(file, f"unpacked it is larger than {MOST_BYTES >> 20} MiB")
            left -= len(data)
            opened.members[name] = data
    return opened


def _content(archive: zipfile.ZipFile, info: zipfile.ZipInfo, left: int) -> bytes:
    """Unpack a member, but not far beyond what is left: its own word on its size may lie."""
    parts, size = [], 0
    with archive.open(info) as stream:
        while size <= left and (part := stream.read(_CHUNK)):
            parts.append(part)
            size += len(part)
    return b"".join(parts)


def _checked(infos: Iterable[zipfile.ZipInfo], file: str) -> Iterator[tuple[str, zipfile.ZipInfo]]:
    """Yield members with tidied names; refuse what must not be unpacked."""
    seen: dict[str, str] = {}
    for info in infos:
        name = tidied(_named(info))
        if fault := fault_of(name.removesuffix("/")):
            _refuse(file, f"the member {name!r} is not unpacked: {fault}")
        if info.orig_filename.partition("\0")[1]:
            _refuse(file, f"the member {name!r} is not unpacked: it holds a control character")
        kind = stat.S_IFMT(info.external_attr >> 16)
        if kind not in (0, stat.S_IFREG, stat.S_IFDIR):
            _refuse(file, f"the member {name!r} is not unpacked: it is a link or a device")
        if info.flag_bits & _ENCRYPTED:
            _refuse(file, f"the member {name!r} is encrypted")
        if info.compress_type not in _METHODS:
            _refuse(
                file,
                f"the member {name!r} is packed by a method that is not read here",
                "pack it again by the ordinary method (deflate)",
            )
        same = alike(name.removesuffix("/"))
        if same in seen:
            _refuse(file, f"two members go by one name: {seen[same]!r} and {name!r}")
        seen[same] = name
        yield name, info


def _named(info: zipfile.ZipInfo) -> str:
    """Return a member's name; tools that do not say so mostly write UTF-8 as well."""
    if info.flag_bits & _UTF8:
        return info.filename
    try:
        return info.filename.encode("cp437").decode("utf-8")
    except UnicodeError:
        return info.filename


def _refuse_endless_list(raw: bytes, file: str) -> None:
    """Look at the archive's own word on its list before anything reads that list."""
    at = len(raw) - _END_SIZE
    if raw[at : at + len(_END)] != _END or not raw.endswith(b"\0\0"):
        at = raw.rfind(_END, max(0, len(raw) - _END_SIZE - _LONGEST_COMMENT))
    if at < 0 or at + _END_SIZE > len(raw):
        raise _no_archive(file, "its end is missing")
    count, size = struct.unpack_from("<HL", raw, at + 10)
    if count > MOST_MEMBERS:
        _refuse(file, f"it holds more than {MOST_MEMBERS} members")
    if size > _MOST_LISTED:
        _refuse(file, "its list of members is too long")


def _no_archive(file: str, why: str) -> SealError:
    return SealError(
        f"this is no ZIP archive, or it was damaged or broken off ({why})",
        location=Location(file),
        hint="copy it again from where it was sealed",
    )


def _refuse(
    file: str, what: str, hint: str = "no archive that was sealed here looks so"
) -> NoReturn:
    raise SealError(what, location=Location(file), hint=hint)
