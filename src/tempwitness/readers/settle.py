"""What a whole column of times tells of each: the order of day and month, and the clock's hours.

Nothing is taken from one entry that another one contradicts, and where the column fits two
meanings, the question is asked.
"""

from __future__ import annotations

from dataclasses import dataclass
from typing import TYPE_CHECKING

from tempwitness.readers.faces import ACCEPTED, DayOrder, Face, start_of
from tempwitness.readers.zones import UnplacedTimeError

if TYPE_CHECKING:
    from collections.abc import Callable, Sequence
    from datetime import date

__all__ = ["Settled", "refuse_mixed_halves", "settle"]

_HOURS = 3600.0
_WHICH_ORDER = (
    "say which with --day-order day-first or --day-order month-first (for a file of a record, "
    'day_order = "day-first" or "month-first" under [[file]])'
)


@dataclass(frozen=True, slots=True)
class Settled:
    """What was decided for a column.

    Parameters
    ----------
    seconds : list of float
        Clock face [s since 1970-01-01], or since midnight without a date.
    understood : tuple of str
        What was decided, one sentence each.
    forced : int, optional
        Entry that decided the order of day and month; the order of all entries must bear it out.
    comma : bool
        Whether a comma stood between hour and minute.
    """

    seconds: list[float]
    understood: tuple[str, ...] = ()
    forced: int | None = None
    comma: bool = False


def settle(faces: Sequence[Face], *, order: DayOrder | None, to_24: bool) -> Settled:
    """Decide what a column means.

    Parameters
    ----------
    faces : sequence of Face
    order : {"day-first", "month-first"}, optional
        Order of day and month, if it was told.
    to_24 : bool
        Whether it was told that the clock counts to 24.

    Raises
    ------
    UnplacedTimeError
        With the question and what answers it; its row is the position of the entry.
    """
    refuse_mixed_halves(faces)
    said = _refuse_open_hours(faces, to_24=to_24)
    comma = _refuse_signs(faces)
    said += _signs(faces)
    taken, forced = _order(faces, order)
    if taken is not None:
        why = "" if forced is None else f", as '{faces[forced].text}' shows"
        why = " as told" if order is not None else why
        said.append(f"dates are written {taken.replace('-', ' ')}{why}")
    days = [face.on(taken or "day-first") for face in faces]
    for i, day in enumerate(days):
        if day is None and faces[i].dated:
            raise _ask(i, f"'{faces[i].text}' is no date that is written {taken}", ACCEPTED)
    seconds = [_seconds(face, day) for face, day in zip(faces, days, strict=True)]
    return Settled(seconds, tuple(said), forced, comma)


def _seconds(face: Face, day: date | None) -> float:
    return face.clock if day is None else start_of(day) + face.clock


def _ask(row: int, what: str, hint: str, option: str = "") -> UnplacedTimeError:
    return UnplacedTimeError(row, what, hint, option)


def _first(faces: Sequence[Face], test: Callable[[Face], bool]) -> int | None:
    return next((i for i, face in enumerate(faces) if test(face)), None)


def refuse_mixed_halves(faces: Sequence[Face]) -> None:
    """Refuse times with AM or PM beside times without.

    Raises
    ------
    UnplacedTimeError
        At the first one without.
    """
    marked = _first(faces, lambda face: bool(face.half))
    bare = _first(faces, lambda face: not face.half)
    if marked is not None and bare is not None:
        raise _ask(
            bare,
            f"'{faces[bare].text}' does not say AM or PM as '{faces[marked].text}' does, so it may "
            f"be morning or evening",
            "write all of them with AM or PM, or all as a clock that counts to 24 shows them",
        )


def _refuse_open_hours(faces: Sequence[Face], *, to_24: bool) -> list[str]:
    """Refuse hours of one digit unless the clock is known to count to 24."""
    if to_24:
        marked = _first(faces, lambda face: bool(face.half))
        if marked is not None:
            raise _ask(
                marked,
                f"'{faces[marked].text}' says AM or PM, but the clock is said to count to 24",
                "leave out the time format, or correct the time",
            )
        return ["the clock counts to 24 as told"]
    loose = _first(faces, lambda face: face.loose)
    if loose is None:
        return []
    late = _first(faces, lambda face: not face.half and not 1 <= face.clock // _HOURS <= 12)
    if late is None:
        raise _ask(
            loose,
            f"'{faces[loose].text}' may be morning or evening: no time here is past 12:59",
            "write it with AM or PM, or with two digits as a clock that counts to 24 shows it "
            "(08:05, 20:05)",
            "say that the clock counts to 24 with --time-format 24h (for a file of a record, "
            'time_format = "24h" under [[file]])',
        )
    return [f"the clock counts to 24, as '{faces[late].text}' shows"]


def _refuse_signs(faces: Sequence[Face]) -> bool:
    """Refuse points, commas or nothing between hour and minute where they may mean another thing.

    Returns
    -------
    bool
        Whether a comma stands there.
    """
    odd = _first(faces, lambda face: face.sign != ":")
    if odd is None:
        return False
    sign = faces[odd].sign
    other = _first(faces, lambda face: face.sign != sign)
    if other is not None and sign in (",", ""):
        raise _ask(
            odd,
            f"'{faces[odd].text}' stands beside '{faces[other].text}': it is not plain that both "
            f"are times of a clock",
            "write every time in the same form, as 18:10",
        )
    if any(face.dated or face.half for face in faces) or sign == "":
        return sign == ","
    short = _first(faces, lambda face: face.one_digit and face.sign in (".", ","))
    minutes = [face.clock // 60 % 60 for face in faces]
    quarters = all(minute in (0, 25, 50) for minute in minutes) and any(minutes)
    if short is not None or quarters:
        text = faces[odd if short is None else short].text
        raise _ask(
            odd if short is None else short,
            f"'{text}' may be a time of the clock or a number of hours",
            "write it with a colon, as 17:50",
            "say that it is a time of the clock with --time-format '%H.%M' (for a file of a "
            "record, time_format = '%H.%M' under [[file]])",
        )
    return sign == ","


def _signs(faces: Sequence[Face]) -> list[str]:
    if any(face.sign == "" for face in faces):
        return [f"'{faces[0].text}' and the others are hour and minute without a sign between"]
    if all(face.sign == "." for face in faces):
        return ["a point stands between hour and minute"]
    return []


def _order(faces: Sequence[Face], told: DayOrder | None) -> tuple[DayOrder | None, int | None]:
    """Order of day and month, ``None`` if all dates say it themselves, and what forced it."""
    short = _first(faces, lambda face: face.short)
    if short is not None and told is None:
        raise _ask(
            short,
            f"'{faces[short].text}' has a year of two digits, which may as well be the day",
            ACCEPTED,
            f"{_WHICH_ORDER}; the year is then taken as 20xx",
        )
    pairs = [i for i, face in enumerate(faces) if face.pair is not None]
    if not pairs or told is not None:
        return told if pairs else None, None
    not_day = next((i for i in pairs if faces[i].on("day-first") is None), None)
    not_month = next((i for i in pairs if faces[i].on("month-first") is None), None)
    if not_day is not None and not_month is not None:
        raise _refuse_both(faces, not_day, not_month)
    if not_month is not None:
        return "day-first", not_month
    if not_day is not None:
        return "month-first", not_day
    _refuse_either(faces, pairs)
    return None, None


def _refuse_both(faces: Sequence[Face], not_day: int, not_month: int) -> UnplacedTimeError:
    if not_day == not_month:
        return _ask(not_day, f"'{faces[not_day].text}' is no date", ACCEPTED)
    return _ask(
        not_month,
        f"'{faces[not_month].text}' is written day first and '{faces[not_day].text}' month first",
        f"write the dates in one order; best, {ACCEPTED}",
    )


def _refuse_either(faces: Sequence[Face], pairs: Sequence[int]) -> None:
    for i in pairs:
        early, late = faces[i].on("day-first"), faces[i].on("month-first")
        if early is not None and late is not None and early != late:
            raise _ask(
                i,
                f"'{faces[i].text}' may be the day {early} or {late}, and no date here tells",
                ACCEPTED,
                _WHICH_ORDER,
            )
