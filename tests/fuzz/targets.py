"""What is fuzzed: every way in for text that a person or an instrument wrote.

A target takes bytes, hands them to a reader as a file, and accepts two ends only: a log that is
whole, or an error that a person can mend, with the name of the file in it.
"""

from __future__ import annotations

import gzip
import io
import math
from collections.abc import Callable
from dataclasses import dataclass
from pathlib import Path
from typing import TYPE_CHECKING

import numpy as np

from tempwitness.errors import TempwitnessError
from tempwitness.model.vocabulary import Flag
from tempwitness.quality import qualify
from tempwitness.readers import BareOptions, read_bare, read_record
from tempwitness.rulebook.override import load_override

if TYPE_CHECKING:
    from tempwitness.model.logs import Channel, RawLog

__all__ = ["TARGETS", "Target"]

_LAMB = BareOptions(
    food="lamb shoulder", form="intact", weight="9 lb", code="us/food-code/2022", zone="UTC"
)
_ROOT = Path(__file__).resolve().parents[2]


@dataclass(frozen=True)
class Target:
    """A file name under which bytes are read, how, and inputs to begin with."""

    name: str
    read: Callable[[Path], object]
    seeds: tuple[bytes, ...]

    def __call__(self, data: bytes, folder: Path) -> bool:
        """Read the bytes from a file in a folder; tell whether they were understood.

        Raises
        ------
        AssertionError
            If what came out is not whole, or the error does not say where it is.
        """
        path = folder / self.name
        path.write_bytes(data)
        try:
            self.read(path)
        except TempwitnessError as why:
            said = str(why)
            assert said.strip(), "an error without words"
            assert "Traceback" not in said
            named = why.location is None or why.location.file
            assert named, f"an error without its file: {said}"
            return False
        return True


def _bare(path: Path) -> None:
    log = read_bare(path, _LAMB)
    _whole(log)
    flags = qualify(log).flags
    for channel, found in zip(log.channels, flags, strict=True):
        assert len(found) == len(channel)
        unread = np.isnan(channel.value)
        assert bool((found[unread] >= Flag.SUSPECT).all()), "a cell without a number passes"


def _record(path: Path) -> None:
    log = read_record(path)
    _whole(log)
    qualify(log)


def _whole(log: RawLog) -> None:
    for channel in log.channels:
        _columns(channel)
    for note in log.notes:
        assert math.isfinite(note.at)


def _columns(channel: Channel) -> None:
    count = len(channel.at)
    assert len(channel.value) == len(channel.celsius) == len(channel.line) == count
    assert len(channel.probe) in (1, count)
    assert channel.text is None or len(channel.text) == count
    assert bool(np.isfinite(channel.at).all()), "a moment that is no moment"
    assert bool((np.diff(channel.at) >= 0).all()), "readings out of order"
    assert not bool(np.isinf(channel.value).any()), "an endless temperature"
    if channel.low is not None and channel.high is not None:
        both = ~np.isnan(channel.low) & ~np.isnan(channel.high)
        assert bool((channel.low[both] <= channel.high[both]).all()), "bounds the wrong way round"


_ROWS = (
    "2026-07-04 18:00,150.5,A",
    "2026-07-04 18:10,~149,A",
    "2026-07-04 18:20,<148,B",
    "2026-07-04 18:30,140-145,B",
    "2026-07-04 18:40,OK,A",
    "2026-07-04 18:50,--,A",
)
_LONG = "\n".join(("time,temp_f,piece", *_ROWS)) + "\n"
_WIDE = (
    "Recorder 7\n\nDate Time,Left (°F),Pit (°F)\n07/14/2026 5:50 PM,138,225\n"
    "07/14/2026 6:05 PM,141 F,230\n07/14/2026 6:20 PM,61 °C,228\nMax,141,230\n"
)
_SEMICOLONS = "time;temp_c;step\n14.07.2026 18:00;60,5;rest\n14.07.2026 18:30;60,25;\n"
_TABS = "time\ttemp_f\tnote\n18:00\t150\tlid open\n18:10\t,,\t\n23:50\t149\t\n00:10\t148\t\n"
_TURNED = "time,2026-07-04 18:00,2026-07-04 18:30\nA_f,150,149\nair_f,225,230\n"
_SERIALS = "date,time,temp_f\n2026-07-04,18:00,150\n2026-07-04,18:30,149\n"
_COUNTS = "time,temp_f\n1783188000,150\n1783189800,149\n1783191600000,148\n"
_JSON_LINES = '{"time":"2026-07-04 18:00","temp_f":150}\n{"time":"2026-07-04 18:30","temp_f":149}\n'
_JSON = '[{"time":"2026-07-04T18:00Z","temp_c":65.5,"piece":"A"}]'
_TOML = """schema = 1
lot = "t"
code = "us/food-code/2022"
zone = "America/Chicago"
date = 2026-07-04
[food]
name = "lamb shoulder"
form = "intact"
weight = "9 lb 4 oz"
thickness = "4 in"
[[probe]]
id = "A"
kind = "rtd"
accuracy = "1 F"
resolution = "0.1 F"
check = [
  { at = "2026-07-04 08:00", kind = "ice", read = "32.4 F" },
  { at = "2026-07-04 08:10", kind = "boiling", read = "202 F", elevation = "1609 m" },
]
[[reading]]
at = "10:00"
temp = "~141 F"
[[reading]]
at = "23:50"
temp = "<41 F"
[[reading]]
at = "00:10"
temp = "60,5 C"
[[note]]
at = "09:00"
step = "cook"
[[rate]]
up = "0.5 F/min"
reason = "x"
[[passive]]
stage = "cool"
ambient = ["36 F", "41 F"]
per_hour = [0.3, 0.9]
reason = "x"
[[time_control]]
at = "11:00"
option = "4h"
"""


def _packed(text: str) -> bytes:
    return gzip.compress(text.encode("utf-8"), mtime=0)


def _workbook() -> bytes:
    from openpyxl import Workbook  # noqa: PLC0415 - slow to load, and only the seeds need it

    book, out = Workbook(), io.BytesIO()
    sheet = book.active
    assert sheet is not None
    for row in (("time", "temp_f"), ("2026-07-04 18:00", 150), ("2026-07-04 18:30", "~149")):
        sheet.append(row)
    book.save(out)
    return out.getvalue()


def _texts(*texts: str) -> tuple[bytes, ...]:
    return tuple(text.encode("utf-8") for text in texts)


_TABLES = (_LONG, _WIDE, _SEMICOLONS, _TABS, _TURNED, _SERIALS, _COUNTS)

TARGETS: tuple[Target, ...] = (
    Target(
        "log.csv",
        _bare,
        (*_texts(*_TABLES), _LONG.encode("utf-16"), _SEMICOLONS.encode("cp1252"), b"sep=;\r\n"),
    ),
    Target("log.csv.gz", _bare, (_packed(_LONG), _packed(_WIDE))),
    Target("log.json", _bare, _texts(_JSON)),
    Target("log.jsonl", _bare, _texts(_JSON_LINES)),
    Target("log.xlsx", _bare, (_workbook(),)),
    Target("record.toml", _record, _texts(_TOML)),
    Target(
        "county.toml",
        load_override,
        ((_ROOT / "rules" / "local" / "county-example.toml").read_bytes(),),
    ),
)
