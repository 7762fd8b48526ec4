"""From the clock on the wall to UTC, with the hours that come twice and those that are skipped.

A repeated hour is settled by what was written (an offset, or which of the two is meant) or by the
order of the rows when both runs are there. Otherwise it is asked for; nothing is shifted.
"""

from __future__ import annotations

from dataclasses import dataclass
from datetime import UTC, datetime
from typing import TYPE_CHECKING
from zoneinfo import ZoneInfo

import numpy as np

if TYPE_CHECKING:
    from collections.abc import Sequence

    from tempwitness.model.logs import Bools, Floats, Ints

__all__ = ["UnplacedTimeError", "find_zone", "to_utc"]

# Zones change their offset months apart; a quarter of a day never holds two changes.
_STEP = 21600.0
_MARGIN = 172800.0
# Times further apart than this are looked at by themselves: a mistyped year costs no centuries.
_APART = 864000.0
# The calendar of the zones: years 1 to 9999, less a day for the offset.
_FIRST, _LAST = (
    datetime(1, 1, 2, tzinfo=UTC).timestamp(),
    datetime(9999, 12, 30, tzinfo=UTC).timestamp(),
)


class UnplacedTimeError(ValueError):
    """A time that cannot be placed.

    Parameters
    ----------
    row : int
        Which one.
    what : str
        Why.
    hint : str
        What would settle it, whoever wrote it.
    option : str
        What else would settle it if it stands in a file; ``""`` if nothing.
    """

    def __init__(self, row: int, what: str, hint: str, option: str = "") -> None:
        super().__init__(what)
        self.row = row
        self.what = what
        self.hint = hint
        self.option = option

    @property
    def remedy(self) -> str:
        """What would settle a time of a file."""
        return f"{self.option}, or {self.hint}" if self.option else self.hint


@dataclass(frozen=True, slots=True)
class _Span:
    """A stretch with one offset; the local hours it covers."""

    offset: float
    start: float
    end: float


def find_zone(name: str) -> ZoneInfo:
    """Return an IANA zone.

    Raises
    ------
    ValueError
        If there is none of that name.
    """
    try:
        return ZoneInfo(name)
    except (KeyError, ValueError, OSError):
        raise ValueError(
            f"'{name}' is not a time zone; write its IANA name, such as 'America/Chicago' or "
            f"'Europe/London'"
        ) from None


def _offset_at(zone: ZoneInfo, moment: float) -> float:
    offset = datetime.fromtimestamp(moment, zone).utcoffset()
    return 0.0 if offset is None else offset.total_seconds()


def _change_between(zone: ZoneInfo, before: float, after: float) -> float:
    """First second at which the later offset holds."""
    old = _offset_at(zone, before)
    while after - before > 1:
        middle = float((before + after) // 2)
        before, after = (middle, after) if _offset_at(zone, middle) == old else (before, middle)
    return after


def _spans(zone: ZoneInfo, first: float, last: float) -> list[_Span]:
    start = float(np.floor(first)) - _MARGIN
    ticks = np.arange(start, last + _MARGIN + _STEP, _STEP).clip(_FIRST, _LAST).tolist()
    offsets = [_offset_at(zone, tick) for tick in ticks]
    spans: list[_Span] = []
    begin = -np.inf
    for i in range(1, len(ticks)):
        if offsets[i] != offsets[i - 1]:
            change = _change_between(zone, ticks[i - 1], ticks[i])
            spans.append(_Span(offsets[i - 1], begin, change + offsets[i - 1]))
            begin = change + offsets[i]
    return [*spans, _Span(offsets[-1], begin, np.inf)]


def to_utc(
    local: Floats,
    zone: ZoneInfo,
    *,
    fold: Sequence[str | None],
    groups: Sequence[Ints],
) -> Floats:
    """Place clock times in UTC.

    Parameters
    ----------
    local : Floats
        Clock face [s since 1970-01-01].
    zone : ZoneInfo
        Where the clock hung.
    fold : sequence of {"first", "second", None}
        Which run of a repeated hour is meant; one entry for all rows, or one for each.
    groups : sequence of Ints
        Rows that were written one after the other, each in its order.

    Raises
    ------
    UnplacedTimeError
        If a time does not exist or comes twice and nothing settles which is meant.
    """
    if not len(local):
        return local.copy()
    runs = _near(local)
    if len(runs) == 1:
        spans = _spans(zone, float(local.min()), float(local.max()))
        if len(spans) == 1:
            return local - spans[0].offset
    early = np.full(len(local), np.nan)
    late = np.full(len(local), np.nan)
    for rows in runs:
        near = local[rows]
        spans = _spans(zone, float(near.min()), float(near.max()))
        if len(spans) == 1:
            early[rows] = near - spans[0].offset
        else:
            early[rows], late[rows] = _both(near, spans)
    _refuse_skipped(local, np.isnan(early), zone)
    twice = ~np.isnan(late)
    if bool(twice.any()):
        second = _choose(local, twice, fold=fold, groups=groups, zone=zone)
        early[second] = late[second]
    return early


def _near(local: Floats) -> list[Ints] | list[slice]:
    """Rows whose times lie near each other; nearly always one run of all rows."""
    if local.max() - local.min() <= _APART:
        return [slice(None)]
    order = np.argsort(local, kind="stable")
    cuts = np.flatnonzero(np.diff(local[order]) > _APART) + 1
    return list(np.split(order, cuts)) if len(cuts) else [slice(None)]


def _both(local: Floats, spans: Sequence[_Span]) -> tuple[Floats, Floats]:
    """Each time in UTC, and once more if it came twice; NaN where there is none."""
    early = np.full(len(local), np.nan)
    late = np.full(len(local), np.nan)
    for span in spans:
        inside = (local >= span.start) & (local < span.end)
        again = inside & ~np.isnan(early)
        late[again] = local[again] - span.offset
        early[inside & ~again] = local[inside & ~again] - span.offset
    return early, late


def _refuse_skipped(local: Floats, skipped: Bools, zone: ZoneInfo) -> None:
    if bool(skipped.any()):
        row = int(np.flatnonzero(skipped)[0])
        raise UnplacedTimeError(
            row,
            f"{_face(local[row])} did not exist in {zone.key}: the clocks were put forward over it",
            "write the time with its offset from UTC, such as -05:00, or correct the clock time",
        )


def _choose(
    local: Floats,
    twice: Bools,
    *,
    fold: Sequence[str | None],
    groups: Sequence[Ints],
    zone: ZoneInfo,
) -> Bools:
    """Rows that mean the second run of a repeated hour."""
    second = np.zeros(len(local), np.bool_)
    told = list(fold) * len(local) if len(fold) == 1 else list(fold)
    for group in groups:
        rows = group[twice[group]]
        open_rows = np.array([r for r in rows if told[r] is None], dtype=np.int64)
        second[[r for r in rows if told[r] == "second"]] = True
        if not len(open_rows):
            continue
        split = _split(local, open_rows, group)
        if split is None:
            row = int(open_rows[0])
            raise UnplacedTimeError(
                row,
                f"{_face(local[row])} came twice in {zone.key} when the clocks were put back, and "
                f"the order of the rows does not tell which is meant",
                'say fold = "first" or fold = "second" (before or after the clocks were put '
                "back; --fold on the command line), or write times with their offset from UTC",
            )
        second[open_rows[split:]] = True
    return second


def _split(local: Floats, rows: Ints, group: Ints) -> int | None:
    """Where the second run begins, if one step back shows that both runs are there."""
    steps, all_steps = np.diff(local[rows]), np.diff(local[group])
    back = np.flatnonzero(steps < 0)
    if np.count_nonzero(all_steps < 0) != len(back):
        # The rows are not in order elsewhere either: their order proves nothing.
        return None
    if not len(back) and len(group) > 3:
        # Readings an hour apart repeat their clock time without a step back.
        usual = float(np.median(np.abs(all_steps)))
        back = np.flatnonzero(steps == 0) if usual >= 3600.0 else back
    within_a_day = float(local[rows].max() - local[rows].min()) < 86400.0
    return int(back[0]) + 1 if len(back) == 1 and within_a_day else None


def _face(seconds: float) -> str:
    from_epoch = np.datetime64(int(seconds), "s")
    return str(from_epoch).replace("T", " ")
