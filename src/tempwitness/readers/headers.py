"""The name of a column: what it holds, in which unit, and on which clock.

Names are taken apart, never guessed at: a unit counts only where it is written as one, and a name
that is not known stays unknown.
"""

from __future__ import annotations

import re
from dataclasses import dataclass
from enum import Enum, auto

from tempwitness.units import Unit

__all__ = ["Heading", "Kind", "heading", "unit_alone"]


class Kind(Enum):
    """What the name of a column says it holds."""

    TIME = auto()
    DATE = auto()
    ELAPSED = auto()
    #: A word about the row: piece, place, note …
    WORD = auto()
    #: The temperature of the row.
    TEMPERATURE = auto()
    #: The temperature at one probe of a wide table.
    PROBE = auto()
    #: A number of the row.
    COUNT = auto()
    #: A figure in degrees that is no reading: a setting, an alarm, a mean.
    NO_READING = auto()
    UNKNOWN = auto()


@dataclass(frozen=True, slots=True)
class Heading:
    """The name of a column, taken apart.

    Parameters
    ----------
    kind : Kind
    stem : str
        The name without unit, clock and remarks, as written; for `Kind.WORD` the role.
    unit : Unit, optional
        Scale that is written in it.
    two_units : bool
        Whether it names both scales.
    offset : float, optional
        Offset from UTC that is written in it [s].
    """

    kind: Kind
    stem: str
    unit: Unit | None = None
    two_units: bool = False
    offset: float | None = None


_WORDS = {
    word: word for word in ("piece", "place", "point", "probe", "step", "event", "method", "note")
} | {
    "notes": "note", "comment": "note", "comments": "note", "remark": "note", "remarks": "note",
    "stage": "step", "events": "event",
}  # fmt: skip
_TIME = {
    "time", "date time", "date/time", "datetime", "date & time", "date and time", "timestamp",
    "time stamp", "local time", "local date time", "time of reading", "reading time", "clock",
    "clock time",
}  # fmt: skip
_DATE = {"date", "day", "local date"}
_COUNT = {
    "#", "no", "nr", "record", "record no", "record number",
    "record #", "index", "row", "row no", "row number", "sample", "sample no", "sample number",
    "sample #", "seq", "sequence", "entry", "reading no", "reading number",
    "reading #",
}  # fmt: skip
_LENGTH = r"(?:s|sec|secs|seconds?|m|min|mins|minutes?|h|hr|hrs|hours?)"
_ELAPSED = re.compile(
    rf"elapsed.*|.*\belapsed|run ?time.*|duration.*|(?:time|{_LENGTH}) since .*|"
    rf"time\s*[ ,(\[_]\s*{_LENGTH}\s*[)\]]?|{_LENGTH}"
)
_TEMPERATURE = {"", "temp", "temps", "temperature", "temperatures", "reading", "readings"}
_NO_READING = re.compile(
    r"(?:.* )?(?:max|min|maximum|minimum|avg|average|mean|set|set ?point|target|goal|limit|alarm|"
    r"threshold|dew ?point|wet ?bulb|heat index|delta|difference|estimate|estimated|predicted|"
    r"forecast)(?: .*)?"
)
_NUMBERED = re.compile(r"(?:probe|sensor|channel|ch|thermocouple|tc|t|temp|temperature)[ #.]*\d+")
_TRAILING = re.compile(r"[\s_]*\b(?:temps?|temperatures?)\.?$", re.IGNORECASE)

# A degree sign that was read in another encoding than it was written in, or stands for one.
_MANGLED = {
    "Ã‚Â°": "°", "Â°": "°", "Âº": "°", "ï¿½": "°", "\ufffd": "°", "º": "°", "˚": "°",
    "℉": "°F", "℃": "°C", "\u00a0": " ",
}  # fmt: skip
_STAND_IN = re.compile(r"[∞*?](?=\s?[FC](?![A-Za-z0-9]))")
_REMARK = re.compile(r"\([^()]*\b(?:s/n|serial)\b[^()]*\)", re.IGNORECASE)
_FACE = re.compile(r"[(\[][ymdhs:/.\s-]*(?:hh|yy)[ymdhs:/.\s-]*[)\]]", re.IGNORECASE)
_CLOCK = re.compile(
    r"(?<![A-Za-z])(?:GMT|UTC)\s*(?:([+-])(\d{1,2})(?::?(\d{2}))?)?(?![A-Za-z0-9])", re.I
)
_DEGREE = r"(?:°|deg(?:rees?)?\.?)"
_SCALE = r"(F|C|fahrenheit|celsius|centigrade)"
_STRONG = re.compile(
    rf"[(\[{{]\s*{_DEGREE}?\s*{_SCALE}\s*[)\]}}]|°\s*{_SCALE}(?![A-Za-z0-9])|"
    rf"(?<![A-Za-z]){_DEGREE}[\s_]*{_SCALE}(?![A-Za-z0-9])|"
    r"(?<![A-Za-z])(fahrenheit|celsius|centigrade)(?![A-Za-z])",
    re.IGNORECASE,
)
# A bare letter is a unit only after a comma or an underscore, after "temp", or all by itself:
# "Probe C" is the third probe.
_WEAK = re.compile(
    r"(?:,\s*|_)([FC])$|(?<=temp)\s*([FC])$|(?<=temperature)\s*([FC])$|^([FC])$", re.IGNORECASE
)
_EDGES = " \t,_-/:;()[]{}"


def heading(name: str) -> Heading:
    """Take the name of a column apart.

    Parameters
    ----------
    name : str
        As it stands in the file.

    Examples
    --------
    >>> heading("Core temp (°F)").unit
    <Unit.F: 'F'>
    >>> heading("Date Time, GMT-05:00").offset
    -18000.0
    """
    text = _mended(name)
    if _ELAPSED.fullmatch(_key(text)) or _ELAPSED.fullmatch(text.lower()):
        return Heading(Kind.ELAPSED, name)
    text, offset = _without_clock(_FACE.sub(" ", text))
    stem, units = _without_unit(text)
    key = _key(stem)
    unit = units.pop() if len(units) == 1 else None
    two = len(units) > 1
    if unit is None and not two:
        for kind, known in ((Kind.TIME, _TIME), (Kind.DATE, _DATE)):
            if key in known:
                return Heading(kind, stem, offset=offset)
        if key in _WORDS:
            return Heading(Kind.WORD, _WORDS[key])
        if _key(text) in _COUNT or text.strip() == "#":
            return Heading(Kind.COUNT, stem)
    return _degrees(stem, key, unit, two=two)


def _degrees(stem: str, key: str, unit: Unit | None, *, two: bool) -> Heading:
    written = unit is not None or two
    if key in _TEMPERATURE and (key or written):
        return Heading(Kind.TEMPERATURE, "temp", unit, two)
    bare = _TRAILING.sub("", stem).strip(_EDGES)
    if (written or bare != stem) and _NO_READING.fullmatch(key):
        return Heading(Kind.NO_READING, stem)
    if written or bare != stem or _NUMBERED.fullmatch(key):
        return Heading(Kind.PROBE, bare or stem, unit, two)
    return Heading(Kind.UNKNOWN, stem)


def unit_alone(text: str) -> bool:
    """Whether a text is a unit of temperature and nothing else.

    Examples
    --------
    >>> unit_alone("(°F)"), unit_alone("138 °F")
    (True, False)
    """
    found = heading(text)
    return found.kind is Kind.TEMPERATURE and found.unit is not None


def _mended(name: str) -> str:
    """Undo what encodings do to the degree sign; leave remarks about serial numbers out."""
    for wrong, right in _MANGLED.items():
        name = name.replace(wrong, right)
    return _REMARK.sub(" ", _STAND_IN.sub("°", name)).strip()


def _without_clock(text: str) -> tuple[str, float | None]:
    match = _CLOCK.search(text)
    if match is None:
        return text, None
    sign, hours, minutes = match.groups()
    size = int(hours or 0) * 3600.0 + int(minutes or 0) * 60.0
    rest = (text[: match.start()] + " " + text[match.end() :]).strip(_EDGES)
    return rest, -size if sign == "-" else size


def _without_unit(text: str) -> tuple[str, set[Unit]]:
    pattern = _STRONG if _STRONG.search(text) else _WEAK
    letters = {next(filter(None, match.groups()))[0].upper() for match in pattern.finditer(text)}
    stem = pattern.sub(" ", text).strip(_EDGES)
    return stem, {Unit(letter) for letter in letters}


def _key(text: str) -> str:
    return re.sub(r"[\s_]+", " ", text).strip(" .,:;/()[]").lower()
