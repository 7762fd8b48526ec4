"""Every way in which logs break has its small file: what must come of it stands in expected.toml.

The files go through the readers and the quality tests as any log does.
"""

from __future__ import annotations

import tomllib
from datetime import UTC, datetime
from pathlib import Path
from typing import TYPE_CHECKING, Any

import numpy as np
import pytest

from tempwitness.errors import InputError
from tempwitness.model.vocabulary import Flag
from tempwitness.quality import qualify
from tempwitness.readers import BareOptions, read_any
from tempwitness.units import Unit

if TYPE_CHECKING:
    from tempwitness.model.logs import Channel, Doubt, QualifiedLog, RawLog

HERE = Path(__file__).parent
EXPECTED: dict[str, dict[str, Any]] = tomllib.loads((HERE / "expected.toml").read_text("utf-8"))
LAMB: dict[str, Any] = {
    "food": "lamb shoulder",
    "form": "intact",
    "weight": "9 lb",
    "code": "us/food-code/2022",
    "zone": "UTC",
}
REFUSED = sorted(name for name, case in EXPECTED.items() if "refused" in case)
READ = sorted(set(EXPECTED) - set(REFUSED))


def read(name: str) -> RawLog:
    path = HERE / name
    if path.suffix == ".toml":
        return read_any(path)
    return read_any(path, BareOptions(**{**LAMB, **EXPECTED[name].get("options", {})}))


def figure(channel: Channel, row: int) -> str:
    """A reading as it is expected: a figure, a range, or one side of it."""
    low = channel.value[row] if channel.low is None else channel.low[row]
    high = channel.value[row] if channel.high is None else channel.high[row]
    if low == high:
        return f"{low:g}"
    if np.isneginf(low):
        return f"below {high:g}"
    return f"above {low:g}" if np.isposinf(high) else f"{low:g} to {high:g}"


def readings(log: RawLog) -> list[str]:
    """All readings that hold a number, channel by channel."""
    return [
        f"{channel.line[row]}, {datetime.fromtimestamp(channel.at[row], UTC):%Y-%m-%d %H:%M}, "
        f"{figure(channel, row)}, {Unit.C if channel.celsius[row] else Unit.F}"
        for channel in log.channels
        for row in range(len(channel))
        if not np.isnan(channel.value[row])
    ]


def doubted(log: QualifiedLog) -> list[str]:
    """All doubts in order, with the piece where there are several."""
    several = len(log.raw.channels) > 1
    return [_doubt(log.raw.channels[d.channel], d, several=several) for d in log.doubts]


def _doubt(channel: Channel, doubt: Doubt, *, several: bool) -> str:
    first, last = int(channel.line[doubt.first]), int(channel.line[doubt.last])
    rows = doubt.last - doubt.first
    join = "to" if last - first == rows else "and"
    lines = f"{first}" if not rows else f"{first} {join} {last}"
    piece = f"{channel.piece}, " if several else ""
    return f"{piece}{lines}, {Flag(doubt.flag).name.lower()}, {doubt.code}"


def unnamed(expected: list[str], said: list[str]) -> list[str]:
    """Words that nothing holds."""
    return [words for words in expected if not any(words in line for line in said)]


@pytest.mark.parametrize("name", REFUSED)
def test_what_cannot_be_understood_is_refused_with_its_remedy(name: str) -> None:
    with pytest.raises(InputError) as caught:
        read(name)
    said = str(caught.value)
    assert unnamed(EXPECTED[name]["refused"], [said]) == [], said
    assert caught.value.location is not None
    assert caught.value.location.line == EXPECTED[name]["line"]


@pytest.mark.parametrize("name", READ)
def test_what_is_read_is_read_and_doubted_as_expected(name: str) -> None:
    case = EXPECTED[name]
    log = qualify(read(name))
    if "readings" in case:
        assert readings(log.raw) == case["readings"]
    if "doubts" in case:
        assert doubted(log) == case["doubts"]
    if "notes" in case:
        assert [f"{n.line}, {n.text}" for n in log.raw.notes] == case["notes"]


@pytest.mark.parametrize("name", READ)
def test_what_is_changed_or_asked_is_said(name: str) -> None:
    case = EXPECTED[name]
    log = qualify(read(name))
    asked = case.get("questions", [])
    assert unnamed(asked, list(log.questions)) == [], log.questions
    assert len(log.questions) == len(asked), log.questions
    gaps = case.get("remarks", [])
    assert unnamed(gaps, [r.reason for r in log.remarks]) == [], log.remarks
    assert len(log.remarks) == len(gaps)
    if "changes" in case:
        told = [(str(c.line), f"{c.written} {c.used} {c.reason}") for c in log.raw.changes]
        expected = [tuple(entry.split(", ", 1)) for entry in case["changes"]]
        assert [line for line, _ in told] == [line for line, _ in expected]
        for (_, said), (_, words) in zip(told, expected, strict=True):
            assert words in said


def test_nothing_decides_where_a_doubt_stands() -> None:
    # Every flag is one that the vocabulary has, and every doubt has its rows flagged.
    for name in READ:
        log = qualify(read(name))
        for doubt in log.doubts:
            rows = log.flags[doubt.channel][doubt.first : doubt.last + 1]
            assert (rows >= int(Flag.SUSPECT)).all(), name


def test_all_thirty_six_ways_are_there_and_every_file_has_its_expectation() -> None:
    found = {p.name for p in HERE.iterdir() if p.suffix in (".csv", ".toml")} - {"expected.toml"}
    assert found == set(EXPECTED)
    assert {int(name[:2]) for name in found} == set(range(1, 37))
