"""Lines as they are typed: a time, and what was done or read then.

A time alone belongs to the day on which the lot began, or to the day after once the times have
turned past midnight. The day that was understood is written into the record and shown at once.
"""

from __future__ import annotations

import re
from dataclasses import dataclass
from datetime import UTC, datetime
from typing import TYPE_CHECKING

from tempwitness.model.vocabulary import Event, Place, StageName
from tempwitness.readers.cells import reading
from tempwitness.readers.moments import DAY, Moment, face_of, parse_moment, start_of
from tempwitness.readers.nights import NIGHT
from tempwitness.readers.problems import nearest
from tempwitness.readers.words import temperature, word

if TYPE_CHECKING:
    from collections.abc import Sequence
    from datetime import date

    from tempwitness.drafting.draft import Table
    from tempwitness.readers.faces import Face

__all__ = ["Days", "check_line", "reading_line", "step_line"]

_LINE = re.compile(
    r"((?:\d{4}-\d{2}-\d{2}[ T])?\d{1,2}"
    r"(?::\d{2}(?:\s[ap]\.?m\.?(?!\S)|\S*)|\s?[ap]\.?m\.?(?!\S)))(?:\s+(.*))?",
    re.DOTALL | re.IGNORECASE,
)
_SAID = re.compile(r'(?:^|(?<=\s))(\w+)=("[^"]*"|\S+)')
_WITH_DATE = "write this time with its date, such as 2026-07-05 01:30"
_STEP_KEYS = ("piece", "method", "event")
_READING_KEYS = ("piece", "place", "point", "probe")


@dataclass(slots=True)
class Days:
    """The day of each line, from those before it.

    Parameters
    ----------
    begin : date, optional
        Day on which the lot began.
    floor : float, optional
        Clock face [s since 1970-01-01] before which the first time without a date may not lie:
        it could as well be of the day after.
    last : float, optional
        Clock face of the line before.
    halves : bool, optional
        Whether the lines before bear AM or PM; ``None`` before the first.
    """

    begin: date | None
    floor: float | None = None
    last: float | None = None
    halves: bool | None = None

    def place(self, moment: Moment) -> float:
        """Return the clock face of a time with its day; nothing is remembered yet."""
        if moment.dated:
            return moment.seconds
        if self.last is not None:
            return self._after(self.last, moment.seconds)
        if self.begin is None:
            raise ValueError(f"the time has no date; {_WITH_DATE}, or say on which day it began")
        here = start_of(self.begin) + moment.seconds
        if self.floor is not None and here < self.floor:
            raise ValueError(
                "the time lies before the first step, so it may be of the day after; " + _WITH_DATE
            )
        return here

    def check_clock(self, face: Face) -> None:
        """Refuse AM or PM beside hours without: 06:10 after 5:50 PM may be morning or evening."""
        if self.halves is not None and self.halves is not bool(face.half):
            raise ValueError(
                f"'{face.text}' {'says' if face.half else 'does not say'} AM or PM, unlike the "
                "lines before: write all times with it, or all as a clock that counts to 24 "
                "shows them"
            )

    def move(self, at: float, face: Face) -> None:
        """Remember a line that was understood."""
        self.last, self.halves = at, bool(face.half)

    @staticmethod
    def _after(last: float, clock: float) -> float:
        here = last // DAY * DAY + clock
        if here >= last:
            return here
        if last - here > NIGHT:
            return here + DAY
        raise ValueError(f"the time lies before that of the line above; {_WITH_DATE}")


def step_line(line: str, days: Days, pieces: Sequence[str] = ()) -> Table:
    """Read "06:00 cook into the smoker" as a note.

    Parameters
    ----------
    line : str
        Time, a step or an event, then ``piece=``, ``method=``, ``event=`` and free words.
    days : Days
        Day of the line before; moves on.
    pieces : sequence of str
        Pieces that are known; empty if any name will do.

    Raises
    ------
    ValueError
        Saying what cannot be understood.
    """
    face, at, rest = _start(line, days)
    said, words = _said(rest, _STEP_KEYS)
    found, words = _what(words)
    if "event" in said:
        if "event" in found:
            raise ValueError(f"the line names two events, {found['event']} and {said['event']}")
        found["event"] = word(said.pop("event"), Event, "event").value
    _known_piece(said, pieces)
    days.move(at, face)
    spoken = {"text": words} if words else {}
    return {"at": _shown(at, face), **found, **said, **spoken}


def reading_line(line: str, days: Days, pieces: Sequence[str] = ()) -> Table:
    """Read "14:00 165 F" as a reading.

    Parameters
    ----------
    line : str
        Time, temperature with its unit, then ``piece=``, ``place=``, ``point=`` and ``probe=``.
    days, pieces
        As for `step_line`; with several pieces the line must name one.

    Raises
    ------
    ValueError
        Saying what cannot be understood.
    """
    face, at, rest = _start(line, days)
    said, words = _said(rest, _READING_KEYS)
    reading(words)
    where = Place.CORE
    if "place" in said:
        where = word(said["place"], Place, "place of a probe")
        said["place"] = where.value
    _known_piece(said, pieces)
    if pieces and "piece" not in said and where not in (Place.AIR, Place.MEDIUM):
        if len(pieces) > 1:
            raise ValueError(f"the line does not say of which piece; add piece={_quoted(pieces)}")
        said["piece"] = pieces[0]
    days.move(at, face)
    return {"at": _shown(at, face), "temp": words, **said}


def check_line(line: str, begin: date | None) -> Table:
    """Read "05:30 32 F" as an ice check; without a date it is of the day on which the lot began.

    Raises
    ------
    ValueError
        Saying what cannot be understood.
    """
    face, at, rest = _start(line, Days(begin))
    temperature(rest)
    return {"at": _shown(at, face), "kind": "ice", "read": rest}


def _start(line: str, days: Days) -> tuple[Face, float, str]:
    match = _LINE.fullmatch(line.strip())
    if match is None:
        raise ValueError(f"'{line.strip()}' does not begin with a time such as 06:00")
    face = face_of(match[1])
    moment = parse_moment(match[1])
    days.check_clock(face)
    return face, days.place(moment), (match[2] or "").strip()


def _said(rest: str, known: Sequence[str]) -> tuple[dict[str, str], str]:
    """Take what is said as key=value out of a line."""
    said: dict[str, str] = {}
    for name, held in _SAID.findall(rest):
        if name not in known:
            raise ValueError(
                f"'{name}=' is not understood{nearest(name, known)}; understood are "
                f"{', '.join(f'{k}=' for k in known)}"
            )
        if name in said:
            raise ValueError(f"'{name}=' stands twice in the line")
        said[name] = held.strip('"')
        if not said[name]:
            raise ValueError(f"'{name}=' says nothing")
    return said, " ".join(_SAID.sub("", rest).split())


def _what(words: str) -> tuple[dict[str, str], str]:
    """Take the step or event from the front of a line, which may be two words: hot hold."""
    steps = {s.value: "step" for s in StageName}
    known = {**steps, **{e.value: "event" for e in Event}}
    parts = words.split()
    for length in (2, 1):
        name = "_".join(parts[:length]).lower().replace("-", "_")
        if len(parts) >= length and name in known:
            return {known[name]: name}, " ".join(parts[length:])
    first = parts[0] if parts else ""
    raise ValueError(
        f"'{first}' is not a step{nearest(first, known)}; steps are {', '.join(steps)}; other "
        f"things that were done are {', '.join(e.value for e in Event)}"
    )


def _known_piece(said: dict[str, str], pieces: Sequence[str]) -> None:
    name = said.get("piece")
    if name is not None and pieces and name not in pieces:
        raise ValueError(
            f"there is no piece '{name}'{nearest(name, pieces)}; the files name {', '.join(pieces)}"
        )


def _quoted(pieces: Sequence[str]) -> str:
    return " or piece=".join(f'"{p}"' if " " in p else p for p in pieces)


def _shown(at: float, face: Face) -> str:
    """Write a clock face with its day, to the second only where a second was written."""
    shown = datetime.fromtimestamp(at, UTC).replace(tzinfo=None)
    fine = "auto" if shown.microsecond else "seconds" if shown.second else "minutes"
    return f"{shown.isoformat(sep=' ', timespec=fine)}{_offset(face.offset)}"


def _offset(offset: float | None) -> str:
    if offset is None:
        return ""
    minutes = round(abs(offset) / 60)
    return f"{'-' if offset < 0 else '+'}{minutes // 60:02d}:{minutes % 60:02d}"
