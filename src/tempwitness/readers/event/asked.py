"""Keys of an event file that carry their own label and question, and what they may hold."""

from __future__ import annotations

import datetime as dt
from typing import Annotated, Any

from pydantic import BeforeValidator, Field

from tempwitness.model.figures import parse_duration
from tempwitness.readers.words import temperature, weighed

__all__ = ["ASKED", "Day", "Heat", "Lasting", "Moment", "Noted", "Weight", "asked", "told"]

#: Name under which a key says that a form may want its answer.
ASKED = "asked"


def asked(label: str, question: str, default: Any = "") -> Any:  # noqa: ANN401 - any default
    """Declare a key that forms ask for: what is left out becomes a question of the packet."""
    return Field(
        default=default, title=label, description=question, json_schema_extra={ASKED: True}
    )


def told(label: str, meaning: str, default: Any = "") -> Any:  # noqa: ANN401 - any default
    """Declare a key that is printed if it is there, and missed by nobody if it is not."""
    return Field(
        default=default, title=label, description=meaning, json_schema_extra={ASKED: False}
    )


def _as_written(value: object, check: Any, what: str) -> str:  # noqa: ANN401 - any reader
    """Check a measure and keep it in the person's own words."""
    text = value.strip() if isinstance(value, str) else str(value)
    if not text:
        raise ValueError(f"empty quotes say nothing; write {what}, or leave the key out")
    check(value if not isinstance(value, str) else text)
    return text


def _moment(value: object) -> object:
    text = str(value).strip()
    try:
        found = dt.datetime.fromisoformat(text if ":" in text else "")
    except ValueError:
        what = f"'{value}' is not a date with a time; write it as \"2026-10-03 05:30\""
        raise ValueError(what) from None
    if found.tzinfo is not None:
        raise ValueError("the zone stands at the top of the file; write the time without an offset")
    return found


def _time(value: object) -> object:
    if isinstance(value, dt.time):
        return value
    try:
        return dt.time.fromisoformat(str(value).strip())
    except ValueError:
        raise ValueError(f"'{value}' is not a time of day; write it as \"05:30\"") from None


def _day(value: object) -> object:
    if isinstance(value, dt.datetime):
        raise ValueError("a day is wanted here, without a time: 2026-10-03")  # noqa: TRY004
    if isinstance(value, dt.date):
        return value
    try:
        return dt.date.fromisoformat(str(value).strip())
    except ValueError:
        raise ValueError(f"'{value}' is not a day; write it as 2026-10-03") from None


def _heat(value: object) -> str:
    number, unit = temperature(value)
    return f"{number:g} °{unit.value}"


def _lasting(value: object) -> str:
    return _as_written(value, parse_duration, 'a time such as "30 min"')


def _weight(value: object) -> str:
    return _as_written(value, weighed, 'a weight such as "9 lb"')


#: A day of the calendar.
Day = Annotated[dt.date, BeforeValidator(_day)]
#: A date with a time, on the clock of the event's zone.
Moment = Annotated[dt.datetime, BeforeValidator(_moment)]
#: A time of day.
Noted = Annotated[dt.time, BeforeValidator(_time)]
#: A temperature with its unit, as it is printed: "255 °F".
Heat = Annotated[str, BeforeValidator(_heat)]
#: A duration, kept as it is written.
Lasting = Annotated[str, BeforeValidator(_lasting)]
#: A weight, kept as it is written.
Weight = Annotated[str, BeforeValidator(_weight)]
