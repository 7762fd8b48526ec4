"""Write readings files and records in a few words, and read them."""

from __future__ import annotations

from datetime import UTC, datetime
from typing import TYPE_CHECKING, Any

from tempwitness.readers import BareOptions, read_bare, read_record

if TYPE_CHECKING:
    from pathlib import Path

    from tempwitness.model.logs import Channel, RawLog

LAMB: dict[str, Any] = {
    "food": "lamb shoulder",
    "form": "intact",
    "weight": "9 lb",
    "code": "us/food-code/2022",
    "zone": "America/Chicago",
}

HEAD = """
schema = 1
lot = "lamb-shoulder-1"
code = "us/food-code/2022"
zone = "America/Chicago"
{more}
[food]
name = "lamb shoulder"
form = "intact"
weight = "9 lb"
"""


def utc(text: str) -> float:
    """Seconds since 1970-01-01 of a moment in UTC, by the standard library."""
    return datetime.fromisoformat(text).replace(tzinfo=UTC).timestamp()


def bare(folder: Path, text: str | bytes, name: str = "pit.csv", **options: Any) -> RawLog:  # noqa: ANN401
    """Read a readings file of this content."""
    path = folder / name
    path.write_bytes(text.encode("utf-8") if isinstance(text, str) else text)
    return read_bare(path, BareOptions(**{**LAMB, **options}))


def record(
    folder: Path, body: str, *, more: str = "", files: dict[str, str] | None = None
) -> RawLog:
    """Read a record of this content beside these files."""
    for name, text in (files or {}).items():
        (folder / name).write_text(text, encoding="utf-8")
    path = folder / "lamb.toml"
    path.write_text(HEAD.format(more=more) + body, encoding="utf-8")
    return read_record(path)


def rows(channel: Channel) -> list[tuple[float, float, bool]]:
    """Moment, value and scale of every reading."""
    return list(
        zip(channel.at.tolist(), channel.value.tolist(), channel.celsius.tolist(), strict=True)
    )


def shapes(log: RawLog) -> dict[tuple[str, str, str], list[tuple[float, float, bool]]]:
    """Readings by piece, place and point, whichever file or column they came from."""
    found: dict[tuple[str, str, str], list[tuple[float, float, bool]]] = {}
    for channel in log.channels:
        found.setdefault((channel.piece, channel.place.value, channel.point), []).extend(
            rows(channel)
        )
    return {key: sorted(found[key]) for key in sorted(found)}
