"""From the bytes of a text file to UTF-8, with what was done said in words.

Figures, separators and times are plain ASCII in each of the encodings that are accepted; what the
encoding decides is how words and the degree sign are spelled.
"""

from __future__ import annotations

import codecs
import gzip
import zlib
from dataclasses import dataclass
from io import BytesIO
from typing import TYPE_CHECKING

if TYPE_CHECKING:
    from tempwitness.readers.problems import Problems

__all__ = ["GZIP_SUFFIX", "Utf8", "as_utf8", "unzipped"]

GZIP_SUFFIX = ".gz"
_UTF8_BOM = codecs.BOM_UTF8
_UTF16_BOMS = {codecs.BOM_UTF16_LE: "utf-16-le", codecs.BOM_UTF16_BE: "utf-16-be"}
# A packed file may claim any length; a log of a year at one second is below this.
_LONGEST = 1 << 30


@dataclass(frozen=True, slots=True)
class Utf8:
    """A text file as UTF-8 without a byte-order mark, and how it was encoded."""

    data: bytes
    encoding: str


def as_utf8(raw: bytes, problems: Problems) -> Utf8:
    """Find out the encoding of a text: UTF-8, UTF-16 with its mark, or Windows-1252.

    Raises
    ------
    InputError
        If it is none of them, or could be two of them.
    """
    for mark, name in _UTF16_BOMS.items():
        if raw.startswith(mark):
            return _from_utf16(raw[len(mark) :], name, problems)
    data = raw.removeprefix(_UTF8_BOM)
    # A few NUL bytes among text are broken lines, which are named where the rows are split.
    head = data[:4096]
    if 4 * head.count(0) > len(head):
        problems.stop(
            "the file is not UTF-8 text (it looks like UTF-16 or a binary file)",
            "save it as CSV in UTF-8, or as .xlsx if it is a workbook",
        )
    try:
        if not data.isascii():
            data.decode("utf-8")
    except UnicodeDecodeError as why:
        return _from_windows(raw, data, why.start, problems)
    return Utf8(data, "UTF-8")


def _from_utf16(raw: bytes, name: str, problems: Problems) -> Utf8:
    try:
        text = raw.decode(name)
    except UnicodeDecodeError as why:
        line = raw[: why.start].decode(name, "ignore").count("\n") + 1
        problems.stop(
            "the file begins as UTF-16 text and is broken off or mixed with something else",
            "save it again as CSV in UTF-8",
            line=line,
        )
    return Utf8(text.encode("utf-8"), "UTF-16")


def _from_windows(raw: bytes, data: bytes, wrong: int, problems: Problems) -> Utf8:
    """Take a text that is not UTF-8 for Windows-1252 if nothing in it says otherwise.

    A text that also holds whole signs of UTF-8 is a UTF-8 text with broken bytes.
    """
    line = data.count(b"\n", 0, wrong) + 1
    marked = raw.startswith(_UTF8_BOM) or not data.decode("utf-8", "ignore").isascii()
    try:
        text = "" if marked else data.decode("cp1252")
    except UnicodeDecodeError:
        text = ""
    if not text:
        problems.stop("the text is not UTF-8", "save the file as UTF-8", line=line)
    return Utf8(text.encode("utf-8"), "Windows-1252")


def unzipped(raw: bytes, problems: Problems) -> bytes:
    """Return the content of a gzip file.

    Raises
    ------
    InputError
        If it is none, is broken off, or is too long to be a log.
    """
    try:
        with gzip.GzipFile(fileobj=BytesIO(raw)) as packed:
            data = packed.read(_LONGEST + 1)
    except (OSError, EOFError, zlib.error) as why:
        problems.stop(
            f"the file cannot be unpacked ({why})", "copy it again, or unpack it and check the text"
        )
    if len(data) > _LONGEST:
        problems.stop(
            f"unpacked, the file is longer than {_LONGEST >> 20} MiB: no log is that long",
            "unpack it and keep the days of this lot",
        )
    return data
