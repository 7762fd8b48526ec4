"""The whole flow in one call: read, qualify, correct, stage, evaluate."""

from __future__ import annotations

from dataclasses import dataclass, replace
from datetime import UTC, date, datetime
from pathlib import Path
from typing import TYPE_CHECKING
from zoneinfo import ZoneInfo

from tempwitness import clock
from tempwitness.calibration import correct
from tempwitness.evaluate import Asking, evaluate
from tempwitness.quality import qualify
from tempwitness.readers import read_any
from tempwitness.readers.written import is_record
from tempwitness.rulebook.load import load_code
from tempwitness.rulebook.terms import terms_for
from tempwitness.stages import monitoring_intervals, stage

if TYPE_CHECKING:
    from collections.abc import Sequence

    from tempwitness.model.finding import Evaluation, OverrideUsed
    from tempwitness.model.logs import RawLog, StagedLog
    from tempwitness.model.rule import Code
    from tempwitness.model.status import Status
    from tempwitness.model.under import UnderCode
    from tempwitness.readers.options import BareOptions

__all__ = ["Checked", "Standing", "check", "present", "staged", "standing"]


@dataclass(frozen=True, slots=True, eq=False)
class Checked:
    """An evaluation and the log on which it rests."""

    evaluation: Evaluation
    log: StagedLog


@dataclass(frozen=True, slots=True, eq=False)
class Standing:
    """The status of a lot and the evaluation on which it rests."""

    status: Status
    evaluation: Evaluation


def present() -> datetime:
    """Return the present moment, for commands that put it on record."""
    return clock.now()


def staged(raw: RawLog, latest: float | None = None) -> StagedLog:
    """Qualify, correct and stage a raw log.

    Parameters
    ----------
    raw : RawLog
    latest : float, optional
        The latest moment at which anything can have been read [s since 1970-01-01 UTC]; readings
        beyond it are doubted.
    """
    return stage(correct(qualify(raw, latest)))


def check(
    path: Path,
    options: BareOptions | None = None,
    *,
    at: datetime | None = None,
    under_all: bool = False,
    as_known: bool = False,
    now: datetime | None = None,
) -> Checked:
    """Check one record, or one bare table of readings.

    Parameters
    ----------
    path : Path
        A TOML record, or a table of readings.
    options : BareOptions, optional
        What a record would say, for a bare table.
    at : datetime, optional
        Moment of asking, aware; the present if omitted.
    under_all : bool
        Whether the lot is judged under all shipped codes as well, the first answer alone.
    as_known : bool
        Whether what is on record after the moment of asking is left out.
    now : datetime, optional
        What to take for the present, aware: that of an archive which is judged again later.

    Returns
    -------
    Checked

    Raises
    ------
    TempwitnessError
        If the record, a readings file, a rule or an override cannot be understood.
    """
    raw = read_any(path, options)
    today = now or clock.now()
    asked = at or today
    if as_known:
        raw = _as_known(raw, asked.timestamp())
    log = staged(raw, max(asked, today).timestamp())
    days = _days(log, today)
    terms = terms_for(raw.lot, *days)
    if (cold := load_code(terms.code).head.cold) is not None:
        log = stage(log.corrected, cold)
    code, used = _with_overrides(load_code(terms.code), path, raw.lot.overrides, days)
    names = dict.fromkeys((*code.head.companions, *raw.lot.also))
    names.pop(terms.code, None)
    asking = Asking(asked.timestamp(), explicit=at is not None)
    found = evaluate(
        log,
        code,
        intervals=monitoring_intervals(),
        asking=asking,
        beside=[load_code(name) for name in names],
        overrides=used,
    )
    return Checked(
        replace(
            found,
            assumptions=(*found.assumptions, *terms.lines),
            unsettled=(*terms.doubts, *found.unsettled),
            under=_under_all(log, asking) if under_all else (),
        ),
        log,
    )


def standing(
    path: Path, options: BareOptions | None = None, *, at: datetime | None = None
) -> Standing:
    """Say how a lot stands at a moment, from what was on record by then.

    Parameters
    ----------
    path : Path
        A TOML record, or a table of readings.
    options : BareOptions, optional
        What a record would say, for a bare table.
    at : datetime, optional
        Moment of asking, aware; the present if omitted.

    Raises
    ------
    TempwitnessError
        If the record, a readings file, a rule or an override cannot be understood.
    """
    from tempwitness.outlook import status  # noqa: PLC0415 - no other command asks for it

    moment = at or clock.now()
    found = check(path, options, at=moment, as_known=True)
    return Standing(status(found.evaluation, found.log, moment.timestamp()), found.evaluation)


def _as_known(raw: RawLog, moment: float) -> RawLog:
    from tempwitness.outlook import known_at  # noqa: PLC0415 - as above

    return known_at(raw, moment)


def _under_all(log: StagedLog, asking: Asking) -> tuple[UnderCode, ...]:
    """Judge a lot under all shipped codes; their room is loaded only for that."""
    from tempwitness.evaluate.under import under_codes  # noqa: PLC0415 - few ask for it
    from tempwitness.rulebook.files import code_ids  # noqa: PLC0415

    codes = [load_code(code_id) for code_id in code_ids()]
    return under_codes(log, codes, intervals=monitoring_intervals(), asking=asking)


def _with_overrides(
    code: Code, record: Path, names: Sequence[str], days: tuple[date, date]
) -> tuple[Code, tuple[OverrideUsed, ...]]:
    """Apply the local changes that a record names; their room is loaded only if there are any."""
    if not names:
        return code, ()
    from tempwitness.rulebook.override import (  # noqa: PLC0415 - most records name none
        apply_overrides,
        load_override,
    )

    return apply_overrides(code, [load_override(_beside(record, name)) for name in names], *days)


def _beside(record: Path, name: str) -> Path:
    """Resolve a path that a record names, which counts from the record's folder."""
    return record.parent / name if is_record(record) else Path(name)


def _days(log: StagedLog, today: datetime) -> tuple[date, date]:
    """First and last local day of the lot's stages."""
    moments = [t for s in log.stages for t in (s.start, s.end)]
    moments = moments or [float(t) for c in log.raw.channels if len(c) for t in c.at[[0, -1]]]
    moments = moments or [today.timestamp()]
    zone = ZoneInfo(log.raw.lot.zone)
    first, last = (datetime.fromtimestamp(t, UTC) for t in (min(moments), max(moments)))
    return first.astimezone(zone).date(), last.astimezone(zone).date()
