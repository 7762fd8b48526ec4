"""Generated lots: eight probes over a day, at one reading a minute or a second."""

from __future__ import annotations

from datetime import UTC, datetime, timedelta
from typing import TYPE_CHECKING

import numpy as np

if TYPE_CHECKING:
    from pathlib import Path

    from tempwitness.model.logs import Floats

PROBES = tuple("ABCDEFGH")
START = datetime(2026, 7, 4, 5, tzinfo=UTC)
DAY = 86400

_RECORD = """\
schema = 1
lot = "benchmark"
code = "us/food-code/2022"
zone = "UTC"

[food]
name = "brisket"
form = "intact"
weight = "14 lb"

[[file]]
path = "log.csv"
"""
STEPS = {0.0: "cook", 12.0: "rest", 16.0: "hot_hold", 20.0: "cool"}


def temperatures(seconds: Floats, probe: int) -> Floats:
    """Return a plausible day of one probe [°F]: cook, rest, hold, cooling."""
    hours = seconds / 3600.0
    cook = 38.0 + 165.0 * (1.0 - np.exp(-hours / 4.0))
    rest = np.maximum(203.0 - 9.0 * (hours - 12.0), 166.0)
    cool = 36.0 + 130.0 * np.exp(-(hours - 20.0) / 0.9)
    day = np.select([hours < 12.0, hours < 20.0], [cook, rest], cool)
    return np.asarray(day + 0.1 * probe + 0.3 * np.sin(seconds / 700.0 + probe), np.float64)


def write_lot(folder: Path, every: int, *, long: bool = False) -> Path:
    """Write a record and its file of eight probes, read each `every` seconds.

    A wide file has a column a probe, a long one a row a reading.
    """
    seconds = np.arange(0, DAY, every, dtype=np.float64)
    columns = [[f"{v:.1f}" for v in temperatures(seconds, i)] for i in range(len(PROBES))]
    stamps = [
        (START + timedelta(seconds=s)).strftime("%Y-%m-%d %H:%M:%S") for s in seconds.tolist()
    ]
    rows = _long(stamps, columns) if long else _wide(stamps, columns)
    (folder / "log.csv").write_text("\n".join(rows) + "\n", encoding="utf-8")
    record = folder / "record.toml"
    record.write_text(_RECORD + _notes(), encoding="utf-8")
    return record


def _wide(stamps: list[str], columns: list[list[str]]) -> list[str]:
    header = ",".join(("time", *(f"{name}_f" for name in PROBES)))
    return [header, *(",".join(row) for row in zip(stamps, *columns, strict=True))]


def _long(stamps: list[str], columns: list[list[str]]) -> list[str]:
    rows = ["time,piece,temp_f"]
    for stamp, *values in zip(stamps, *columns, strict=True):
        rows += [f"{stamp},{name},{value}" for name, value in zip(PROBES, values, strict=True)]
    return rows


def _notes() -> str:
    parts = []
    for hours, step in STEPS.items():
        at = (START + timedelta(hours=hours)).strftime("%Y-%m-%d %H:%M")
        parts.append(f'\n[[note]]\nat = "{at}"\nstep = "{step}"\n')
    end = (START + timedelta(seconds=DAY - 60)).strftime("%Y-%m-%d %H:%M")
    parts.append(f'\n[[note]]\nat = "{end}"\nevent = "finished"\n')
    return "".join(parts)
