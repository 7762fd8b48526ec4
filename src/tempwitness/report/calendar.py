"""Deadlines as a calendar (RFC 5545) that a phone can read."""

from __future__ import annotations

from hashlib import sha256
from typing import TYPE_CHECKING

from tempwitness.report.localtime import LocalTime
from tempwitness.report.wording import plain

if TYPE_CHECKING:
    from collections.abc import Iterator

    from tempwitness.model.status import Due, Saving, Status

__all__ = ["PRODUCT", "folded", "to_calendar"]

PRODUCT = "-//tempwitness//status//EN"

#: Longest line without its end [octets], RFC 5545 section 3.1.
_LONGEST = 75
_ALARM = "-PT30M"
_DECIDES = "The local health authority decides."


def to_calendar(status: Status) -> str:
    """Write the deadlines of a status as one calendar.

    Law and what can still be saved are written; advice is not. The same deadline keeps its UID
    when it is written again, so that a calendar moves it instead of doubling it.

    Parameters
    ----------
    status : Status

    Returns
    -------
    str
        Lines that end with CR and LF, none longer than 75 octets; moments are in UTC.

    Notes
    -----
    RFC 5545: folding and line ends 3.1, escaping 3.3.11, UTC moments 3.3.5, VEVENT 3.6.1,
    VALARM 3.6.6, UID 3.8.4.7.
    """
    lines = [
        "BEGIN:VCALENDAR",
        "VERSION:2.0",
        f"PRODID:{PRODUCT}",
        "CALSCALE:GREGORIAN",
        "METHOD:PUBLISH",
    ]
    for event in _events(status):
        lines += event
    lines.append("END:VCALENDAR")
    return "".join(f"{folded(line)}\r\n" for line in lines)


def folded(line: str) -> str:
    r"""Fold a line so that no part is longer than 75 octets and no character is cut.

    Examples
    --------
    >>> [len(part.encode()) for part in folded("é" * 50).split("\r\n")]
    [74, 27]
    """
    parts, part, room = [], "", _LONGEST
    for character in line:
        size = len(character.encode("utf-8"))
        if size > room:
            parts.append(part)
            # The space before a folded part counts with it.
            part, room = "", _LONGEST - 1
        part += character
        room -= size
    return "\r\n ".join([*parts, part])


def _events(status: Status) -> Iterator[list[str]]:
    seen = set()
    law = [d for d in (*status.next_readings, *status.clocks, *status.use_by) if d.weight.binds]
    for due in law:
        if due.beside or due in seen:
            continue
        seen.add(due)
        about = _about_due(due)
        key = ("due", due.requirement, str(due.stage_number), *due.pieces[:1])
        yield _event(status, key, due.by, _title(due.pieces, due.title, status), about)
    for one in status.saving:
        if one.by is not None and one.left_s is not None and one.left_s >= 0:
            key = ("saving", one.requirement, one.stage, *one.pieces[:1])
            title = _title(one.pieces, f"Last moment to save it: {one.title}", status)
            yield _event(status, key, one.by, title, _about_saving(one))


def _title(pieces: tuple[str, ...], title: str, status: Status) -> str:
    who = ", ".join(map(plain, pieces or (status.lot,)))
    return f"{who}: {title}"


def _about_due(due: Due) -> str:
    rescue = f"If missed: {due.rescue.do}" if due.rescue else ""
    unsure = "" if due.sure else f"The record leaves open whether it applies: {due.reason}"
    return "\n".join(filter(None, (due.do, rescue, unsure, due.citation, _DECIDES)))


def _about_saving(one: Saving) -> str:
    after = f"After that: {one.otherwise}" if one.otherwise else ""
    return "\n".join(filter(None, (one.first, one.do, after, _DECIDES)))


def _event(status: Status, key: tuple[str, ...], by: str, title: str, about: str) -> list[str]:
    uid = sha256("\n".join((status.lot, *key)).encode()).hexdigest()[:32]
    return [
        "BEGIN:VEVENT",
        f"UID:{uid}@tempwitness",
        f"DTSTAMP:{_stamp(status.asked_at)}",
        f"DTSTART:{_stamp(by)}",
        f"SUMMARY:{_escaped(title)}",
        f"DESCRIPTION:{_escaped(about)}",
        "TRANSP:TRANSPARENT",
        "BEGIN:VALARM",
        "ACTION:DISPLAY",
        f"TRIGGER:{_ALARM}",
        f"DESCRIPTION:{_escaped(title)}",
        "END:VALARM",
        "END:VEVENT",
    ]


def _stamp(moment: str) -> str:
    """Write a moment in UTC; parts of a second are cut off, so that it never comes too late."""
    at = LocalTime("UTC").local(moment)
    return "" if at is None else at.strftime("%Y%m%dT%H%M%SZ")


def _escaped(text: str) -> str:
    lines = [plain(line) for line in text.split("\n")]
    escaped = [line.replace("\\", "\\\\").replace(";", "\\;").replace(",", "\\,") for line in lines]
    return "\\n".join(escaped)
