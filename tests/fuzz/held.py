"""What must hold of anything that is read, however broken: a sound log, or a clear refusal."""

from __future__ import annotations

from typing import TYPE_CHECKING

import numpy as np

from tempwitness.errors import TempwitnessError
from tempwitness.quality import qualify
from tempwitness.readers import BareOptions, read_any

if TYPE_CHECKING:
    from pathlib import Path

    from tempwitness.model.logs import Channel, RawLog

__all__ = ["LAMB", "check_log", "check_refusal", "read_or_refuse"]

LAMB = BareOptions(
    food="lamb shoulder", form="intact", weight="9 lb", code="us/food-code/2022", zone="UTC"
)


def read_or_refuse(path: Path, options: BareOptions | None = LAMB) -> RawLog | None:
    """Read a file as the command line does; ``None`` if it was refused as it should be."""
    try:
        log = read_any(path, None if path.suffix == ".toml" else options)
    except TempwitnessError as refusal:
        check_refusal(refusal, path)
        return None
    check_log(log)
    flagged = qualify(log)
    assert [len(flags) for flags in flagged.flags] == [len(channel) for channel in log.channels]
    return log


def check_refusal(refusal: TempwitnessError, path: Path) -> None:
    """A refusal says what, and where."""
    said = str(refusal)
    assert refusal.message.strip(), "a refusal without words"
    where = refusal.location
    assert where is not None, f"no place: {said}"
    # A record's fault may lie in a file that it names; what a bare table lacks, options give.
    named = path.suffix == ".toml" and where.file != path.name
    assert path.name in said or named or where.file == "command line", f"no name: {said}"
    assert "Traceback" not in said


def check_log(log: RawLog) -> None:
    """A log that was read is sound in itself."""
    for channel in log.channels:
        _check_channel(channel)
    assert all(np.isfinite(note.at) for note in log.notes)
    assert all(change.reason for change in log.changes)


def _check_channel(channel: Channel) -> None:
    rows = len(channel)
    assert len(channel.line) == len(channel.value) == len(channel.celsius) == rows
    assert len(channel.probe) in {1, rows}
    assert np.isfinite(channel.at).all()
    assert (np.diff(channel.at) >= 0).all()
    assert not np.isinf(channel.value).any()
    assert channel.text is None or len(channel.text) == rows
    assert (channel.low is None) == (channel.high is None)
    if channel.low is None or channel.high is None:
        return
    empty = np.isnan(channel.value)
    assert (np.isnan(channel.low) <= empty).all()
    assert (np.isnan(channel.high) <= empty).all()
    assert (channel.low <= channel.high)[~empty].all()
