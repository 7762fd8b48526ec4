"""The status of a lot as one screen of text, for a phone as well as for a desk."""

from __future__ import annotations

from typing import TYPE_CHECKING

from tempwitness.model.vocabulary import Clock, Verdict
from tempwitness.report.lines import Lines
from tempwitness.report.localtime import LocalTime
from tempwitness.report.wording import MEANING, WEIGHT, code_name, plain, stage_words

if TYPE_CHECKING:
    from tempwitness.model.status import Due, PieceNow, Saving, Settled, Status

__all__ = ["left_words", "status_text"]

_MINUTE, _DAY = 60, 86400

#: Within it the name of the day is enough [s].
_WEEK = 6 * _DAY
_MOST_ADVICE = 3
_DECIDES = "The local health authority decides. This screen is no proof of anything."


def left_words(seconds: float) -> str:
    """Write how much time is left, never more than there is.

    Examples
    --------
    >>> left_words(5459.0)
    '1 h 30 min'
    >>> left_words(59.0)
    'under 1 min'
    """
    whole = int(max(seconds, 0.0))
    if whole < _MINUTE:
        return "under 1 min"
    if whole >= 2 * _DAY:
        return f"{whole // _DAY} d"
    hours, minutes = divmod(whole // _MINUTE, 60)
    parts = [f"{n} {unit}" for n, unit in ((hours, "h"), (minutes, "min")) if n]
    return " ".join(parts)


def status_text(status: Status, *, width: int = 80, colour: bool = False) -> str:
    """Write a status for reading on a screen.

    Parameters
    ----------
    status : Status
    width : int
        Longest line [characters]; less than 24 counts as 24.
    colour : bool
        Whether verdicts are coloured as well; no meaning hangs on it.

    Returns
    -------
    str
        Lines with a line end after each.
    """
    lines = Lines(width, colour)
    clock = LocalTime(status.zone)
    lines.put(f"{plain(status.lot)}, {clock.short(status.asked_at)}", hang=2)
    lines.put(code_name(status.code), hang=2)
    lines.verdict(status.verdict, MEANING[status.verdict])
    for piece in status.pieces:
        _put_piece(lines, piece, status, clock)
    _put_saving(lines, status, clock)
    _put_running(lines, status, clock)
    _put_use_by(lines, status, clock)
    _put_settled(lines, status, clock)
    lines.blank()
    lines.put(_DECIDES)
    return lines.text()


def _when(moment: str, status: Status, clock: LocalTime) -> str:
    """Write a moment: the time alone if it is today, with the day otherwise."""
    at, now = clock.local(moment), clock.local(status.asked_at)
    if at and now and at.date() == now.date():
        return clock.span(moment, moment).rpartition(" to ")[2]
    if at and now and abs((at - now).total_seconds()) < _WEEK:
        day, time = clock.day(moment).split()[0], clock.span(moment, moment).rpartition(" to ")[2]
        return f"{day} {time}"
    return clock.short(moment)


def _put_piece(lines: Lines, piece: PieceNow, status: Status, clock: LocalTime) -> None:
    lines.blank()
    if not piece.stage or piece.since is None:
        lines.put(f"{plain(piece.piece)}: nothing on record yet", hang=2)
        return
    how = f", {plain(stage_words(piece.method))}" if piece.method else ""
    guessed = ", as the trace looks" if piece.inferred else ""
    if piece.ended is not None:
        stands = f"over since {_when(piece.ended, status, clock)}"
    else:
        stands = f"{stage_words(piece.stage)} since {_when(piece.since, status, clock)}"
    lines.put(f"{plain(piece.piece)}: {stands}{how}{guessed}", hang=2)
    for one in piece.latest:
        doubt = f"; doubted: {plain(one.doubt)}" if one.doubt else ""
        place = plain(one.point) or one.place
        lines.put(
            f"{plain(one.reading)} {place} at {_when(one.at, status, clock)}, "
            f"{left_words(one.age_s)} ago{doubt}",
            indent=2,
            hang=2,
        )
    due = next((d for d in status.next_readings if piece.piece in d.pieces), None)
    if piece.read_now:
        lines.put("READ IT NOW", indent=2)
    elif due is not None:
        advice = "" if due.weight.binds and not due.beside else ", advice only"
        lines.put(f"READ BY {_by(due.by, due.left_s, status, clock)}{advice}", indent=2, hang=2)


def _by(by: str, left_s: float, status: Status, clock: LocalTime) -> str:
    return f"{_when(by, status, clock)} ({left_words(left_s)} left)"


def _who(pieces: tuple[str, ...], status: Status) -> str:
    """Name the pieces, where they are not all of the lot."""
    if not pieces or len(pieces) == len(status.pieces):
        return ""
    return f"{', '.join(map(plain, pieces))}: "


def _put_saving(lines: Lines, status: Status, clock: LocalTime) -> None:
    if not status.saving:
        return
    lines.heading("Can it be saved?")
    for one in status.saving:
        told = f"{_who(one.pieces, status)}{stage_words(one.stage)}: {one.title}"
        lines.verdict(one.verdict, plain(told))
        for sentence in _saving_words(one, status, clock):
            lines.put(sentence, indent=2, hang=2)


def _saving_words(one: Saving, status: Status, clock: LocalTime) -> list[str]:
    broken = "" if one.verdict is Verdict.NOT_MET else "If it was broken: "
    first = [one.first] if one.first else []
    if one.by is None or one.left_s is None:
        return [*first, f"{broken}{one.do}"]
    if one.left_s < 0:
        late = f"Too late since {_when(one.by, status, clock)}."
        return [*first, f"{broken}{late} {one.otherwise}".rstrip()]
    after = f" After that: {one.otherwise}" if one.otherwise else ""
    until = _by(one.by, one.left_s, status, clock)
    return [*first, f"{broken}UNTIL {until}: {one.do}{after}"]


def _put_running(lines: Lines, status: Status, clock: LocalTime) -> None:
    own, advice = _parted(status)
    readings = [d for d in status.next_readings if d not in own and d.weight.binds]
    running = sorted((*own, *readings), key=lambda d: d.left_s)
    if running or status.waiting:
        lines.heading("Running")
    for due in running:
        _put_due(lines, due, status, clock)
    for open_ in status.waiting:
        lines.put(f"{_who(open_.pieces, status)}{open_.title}: {open_.reason}", hang=2)
    if advice:
        lines.heading("Advice, not law here")
    for due in advice[:_MOST_ADVICE]:
        weight = "law elsewhere" if due.weight.binds else WEIGHT[due.weight]
        who = _who(due.pieces, status)
        when = _by(due.by, due.left_s, status, clock)
        lines.put(f"{when} {who}{due.title} ({weight})", hang=2)
    if len(advice) > _MOST_ADVICE:
        lines.put(f"and {len(advice) - _MOST_ADVICE} more in --json")


def _parted(status: Status) -> tuple[list[Due], list[Due]]:
    """Part the clocks of the code's law from everything else."""
    law = [d for d in status.clocks if d.weight.binds and not d.beside]
    return law, [d for d in status.clocks if d not in law]


def _put_due(lines: Lines, due: Due, status: Status, clock: LocalTime) -> None:
    unsure = "" if due.sure else " – if it applies, which the record leaves open"
    head = f"{_by(due.by, due.left_s, status, clock)} {_who(due.pieces, status)}{due.title}"
    lines.put(f"{head}{unsure}", hang=2)
    if due.not_started:
        lines.put("Counted from the last reading, as if its clock started there.", indent=2, hang=2)
    if due.do and due.do != due.title:
        lines.put(due.do, indent=2, hang=2)
    rescue = due.rescue
    if rescue is None:
        return
    until = f" Until {_when(rescue.by, status, clock)}" if rescue.by else ""
    after = f"; then: {rescue.otherwise}" if rescue.otherwise and until else ""
    lines.put(f"If missed: {rescue.do.rstrip('.')}.{until}{after}".rstrip("."), indent=2, hang=2)
    if (
        due.clock is Clock.READING
        and rescue.by
        and clock.seconds(rescue.by) <= clock.seconds(due.by)
    ):
        words = (
            f"Read it well before: what is found broken at {_when(due.by, status, clock)} is lost."
        )
        lines.put(words, indent=2, hang=2)


def _put_use_by(lines: Lines, status: Status, clock: LocalTime) -> None:
    if not status.use_by:
        return
    lines.heading("Use by")
    for due in status.use_by:
        mark = "" if due.weight.binds and not due.beside else ", advice"
        days = _by(due.by, due.left_s, status, clock)
        lines.put(f"{_who(due.pieces, status)}before {days}: {due.title}{mark}", hang=2)


def _put_settled(lines: Lines, status: Status, clock: LocalTime) -> None:
    if not status.settled:
        return
    lines.heading("Settled")
    met = [s for s in status.settled if s.verdict is Verdict.MET]
    for one in status.settled:
        if one.verdict is not Verdict.MET:
            _put_answer(lines, one, status, clock)
    if met:
        lines.verdict(Verdict.MET, f"{len(met)} requirement{'s' if len(met) > 1 else ''}")


def _put_answer(lines: Lines, one: Settled, status: Status, clock: LocalTime) -> None:
    stage = f"{stage_words(one.stage)}: " if one.stage else ""
    lines.verdict(one.verdict, plain(f"{_who(one.pieces, status)}{stage}{one.title}"))
    if one.settle:
        at = f" ({_when(one.settle_at, status, clock)})" if one.settle_at else ""
        gone = one.settle_at and clock.seconds(one.settle_at) < clock.seconds(status.asked_at)
        would = "would have settled it" if gone else "would settle it"
        lines.put(f"{would}: {one.settle}{at}", indent=2, hang=2)
    elif one.verdict is not Verdict.NOT_SHOWN:
        lines.put(one.reason, indent=2, hang=2)
