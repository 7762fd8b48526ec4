"""What a bare readings file does not say and the command line must."""

from __future__ import annotations

from dataclasses import dataclass
from typing import TYPE_CHECKING, Literal

if TYPE_CHECKING:
    from datetime import date

__all__ = ["BareOptions"]


@dataclass(frozen=True, slots=True)
class BareOptions:
    """Facts about the lot for a readings file that comes without a record.

    An empty text means that it was not given; what is missing is asked for when the file is read.

    Parameters
    ----------
    food : str
        The food as the cook calls it.
    form : str or tuple of str
        State before cooking: ``intact``, or one or more of ``injected``, ``tenderised`` …
    weight : str
        Weight of the largest piece with its unit, such as ``"9 lb"``.
    code : str
        Id of the food code in force.
    zone : str
        IANA name of the time zone of the clock times, such as ``"America/Chicago"``.
    also, overrides : tuple of str
        Further codes to judge beside, and files with local changes.
    lot : str, optional
        Name of the lot; the file's stem when absent.
    ignore : tuple of str
        Columns that are left out on purpose.
    unit : {"F", "C"}, optional
        Unit of the columns of temperatures whose names do not say it.
    time_format : str, optional
        Pattern of the time column (``strptime`` signs) when its form is not plain; ``24h`` for a
        clock that counts to 24, or how a count is kept: ``epoch-s``, ``epoch-ms``,
        ``serial-1900``, ``serial-1904``.
    day_order : {"day-first", "month-first"}, optional
        Order of day and month in dates such as 7/4/2026.
    date : date, optional
        Day on which a log begins that holds clock times only.
    fold : {"first", "second"}, optional
        Which of the two runs of the repeated hour is meant when the clocks go back.
    species, cut : str, optional
        Kind of food and its shape, when the name does not tell.
    place : str
        Where the food is served, in place of the code: ``us/wa``.
    business : str, optional
        Kind of business, where the code in force depends on it: ``caterer``.
    """

    food: str = ""
    form: str | tuple[str, ...] = ()
    weight: str = ""
    code: str = ""
    zone: str = ""
    also: tuple[str, ...] = ()
    overrides: tuple[str, ...] = ()
    lot: str | None = None
    ignore: tuple[str, ...] = ()
    unit: Literal["F", "C"] | None = None
    time_format: str | None = None
    day_order: Literal["day-first", "month-first"] | None = None
    date: date | None = None
    fold: Literal["first", "second"] | None = None
    species: str | None = None
    cut: str | None = None
    place: str = ""
    business: str | None = None
