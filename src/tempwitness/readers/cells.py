"""One temperature as a hand or an instrument writes it: a figure, a bound, a range, or none.

What stands there is kept. A figure that its writer marked as approximate decides nothing; a bound
or a range is used as far as it goes; a word is no temperature.
"""

from __future__ import annotations

import math
import re
from dataclasses import dataclass, replace
from enum import Enum

from tempwitness.units import Unit, format_degrees

__all__ = ["DITTO_WHY", "Cell", "Kind", "figure", "read_cell", "reading"]

_NONE = frozenset(
    {
        "-", "--", "---", "----", "\u2013", "\u2014", "*", "**", "***", "****", "na", "n/a",
        "nan", "none", "null", "nil", "ol", "0l", "o.l", "hi", "lo", "hhh", "lll", "hhhh", "llll",
        "err", "error", "open", "short", "fault", "fail", "no probe", "no data", "disconnected",
        "#n/a", "#value!", "#ref!", "#div/0!", "#num!", "#name?", "#null!",
    }
)  # fmt: skip
_WORDS = frozenset(
    {
        "ok", "okay", "o.k.", "good", "fine", "yes", "y", "pass", "passed", "checked", "check",
        "hot", "warm", "cold", "cool", "done", "ready", "in temp", "to temp", "\u2713", "\u2714",
        "\u2611",
    }
)  # fmt: skip
_DITTO = frozenset(
    {'"', "''", "\u201d", "\u201c", "\u2033", "\u3003", "do", "do.", "ditto", "same", ".."}
)
_BLANKS = re.compile(r"[\s\u00a0\u2007\u2009\u202f]+")
_ODD = re.compile("[\u00a0\u2007\u2009\u202f\u2212\ufffd\u02da\u2218]|\u00c2\u00b0|\u00c2\u00ba")
_DEGREE = re.compile("[\u00c2\u00e2]?[\u00b0\u00ba\u02da\u2218]|\ufffd(?=[fc]\\b)")
_NUMBER = r"[+-]?\d+(?:[.,]\d+)?(?:e[+-]?\d+)?"
_UNIT = r"(?: ?(?:\u00b0|deg(?:rees?)?\.?)? ?(f|c|fahrenheit|celsius)\.?)?"
_ABOUT = r"(?P<about>~|\u2248|ca\.?|circa|about|approx(?:\.|imately)?|around|roughly)?"
_BELOW = r"<=?|\u2264|below|under|less than|at most"
_ABOVE = r">=?|\u2265|above|over|more than|at least"
_SIDE = rf"(?P<side>{_BELOW}|{_ABOVE})?"
_TO = r" ?(?:-|\u2013|\u2014|to) ?"
_ONE = re.compile(
    rf"{_ABOUT} ?{_SIDE} ?({_NUMBER})(?P<plus>\+)?{_UNIT}(?P<plus2> ?\+)?(?P<doubt> ?\?)?"
)
_RANGE = re.compile(rf"{_ABOUT} ?({_NUMBER}){_UNIT}{_TO}({_NUMBER}){_UNIT}(?P<doubt> ?\?)?")
_STRICT = {"<": -math.inf, "below": -math.inf, "under": -math.inf, "less than": -math.inf}
_STRICT |= {">": math.inf, "above": math.inf, "over": math.inf, "more than": math.inf}
# No probe writes as much; instruments without a reading do.
_MOST = 1e5
DITTO_WHY = "a ditto mark: the reading above it was taken again"
_WRITE = "write a number and F or C, such as '138 F', or '<41 F', '140-145 F', '~165 F'"
_TIDIED = "an unusual minus, blank or degree sign was read as an ordinary one"


class Kind(Enum):
    """What stands in a cell."""

    FIGURE = "figure"
    NONE = "none"
    WORD = "word"
    DITTO = "ditto"


@dataclass(frozen=True, slots=True)
class Cell:
    """A temperature as written.

    Parameters
    ----------
    kind : Kind
    value : float
        The figure, or the bound that a person would read aloud; NaN without one.
    low, high : float
        Bounds that were written, both equal to `value` for one figure.
    unit : Unit, optional
        Scale, where it was written.
    rough : bool
        Whether it was marked as approximate.
    comma : bool
        Whether a comma stands for the decimal point.
    point : bool
        Whether a decimal point stands in it.
    why : str
        Why it is not used as it stands; ``""`` if it is.
    text : str
        The cell itself, where it must be kept.
    """

    kind: Kind
    value: float = math.nan
    low: float = math.nan
    high: float = math.nan
    unit: Unit | None = None
    rough: bool = False
    comma: bool = False
    point: bool = False
    why: str = ""
    text: str = ""

    @property
    def bounded(self) -> bool:
        """Whether bounds were written in place of one figure."""
        return self.low != self.high

    def words(self, unit: Unit) -> str:
        """Say what is used; ``""`` if nothing is."""
        if math.isnan(self.value):
            return ""
        shown = format_degrees(self.value, unit)
        if self.bounded:
            shown = _bounds_words(self, unit)
        return f"about {shown}" if self.rough else shown


def _bounds_words(cell: Cell, unit: Unit) -> str:
    if math.isinf(cell.low):
        how = "below" if cell.high < cell.value else "at most"
        return f"{how} {format_degrees(cell.value, unit)}"
    if math.isinf(cell.high):
        how = "above" if cell.low > cell.value else "at least"
        return f"{how} {format_degrees(cell.value, unit)}"
    return f"{format_degrees(cell.low, unit).split()[0]} to {format_degrees(cell.high, unit)}"


def read_cell(written: str) -> Cell:
    """Read a cell that is not empty.

    Raises
    ------
    ValueError
        If it is none of the forms, saying why.

    Examples
    --------
    >>> read_cell("140-145 F").high
    145.0
    """
    text = _BLANKS.sub(" ", written.strip()).lower().replace("\u2212", "-")
    text = _DEGREE.sub("\u00b0", text.replace("\u2109", "\u00b0f").replace("\u2103", "\u00b0c"))
    if text in _NONE:
        return Cell(Kind.NONE, why="no temperature stands here")
    if text in _WORDS:
        return Cell(Kind.WORD, why="a word is no temperature")
    if text in _DITTO:
        return Cell(Kind.DITTO, why=DITTO_WHY)
    cell = _one(text, written) or _range(text, written)
    if cell is None:
        raise ValueError(f"'{written}' is not a number")
    odd = _ODD.search(written) is not None
    return replace(cell, why=_TIDIED) if odd and not cell.why else cell


def reading(value: object) -> Cell:
    """Read a temperature of a record, which bears its unit: "138 F", "~165 F", "<41 F".

    Raises
    ------
    ValueError
        If it is none, saying what is accepted.
    """
    if isinstance(value, int | float):
        # Not a TypeError: what a person wrote is wrong, not what a programmer passed.
        raise ValueError(f'{value} has no unit; write "{value} F" or "{value} C"')  # noqa: TRY004
    text = str(value).strip()
    try:
        cell = read_cell(text)
    except ValueError as why:
        what = str(why).replace("is not a number", "is not a temperature with its unit")
        raise ValueError(f"{what}; {_WRITE}") from None
    if cell.kind is Kind.WORD:
        raise ValueError(f"'{text}' is a word and no temperature; {_WRITE}, or a note instead")
    if cell.kind is not Kind.FIGURE:
        raise ValueError(f"'{text}' is not a temperature; {_WRITE}, or leave the entry out")
    if cell.unit is None:
        raise ValueError(f"'{text}' is not a temperature with its unit; {_WRITE}")
    return replace(cell, text=text)


def figure(text: str, written: str) -> float:
    """Read a number whose decimal sign may be a comma.

    Raises
    ------
    ValueError
        If the comma may as well part thousands.
    """
    whole, comma, decimals = text.partition(",")
    if comma and not re.fullmatch(r"\d{1,2}(?:e.*)?", decimals):
        raise ValueError(f"the comma in '{written}' may part thousands or stand for a point")
    return float(f"{whole}.{decimals}") if comma else float(text)


def _unit(*letters: str | None) -> Unit | None:
    said = {letter[0].upper() for letter in letters if letter}
    return Unit(said.pop()) if len(said) == 1 else None


def _one(text: str, written: str) -> Cell | None:
    match = _ONE.fullmatch(text)
    if match is None:
        return None
    number, letter = match[3], match[5]
    value = figure(number, written)
    if abs(value) > _MOST:
        return Cell(Kind.NONE, why="no temperature, but what instruments write without a reading")
    side = match["side"] or ""
    plus = bool(match["plus"] or match["plus2"])
    if plus and side:
        return None
    cell = Cell(
        Kind.FIGURE,
        value,
        value,
        value,
        unit=_unit(letter),
        comma="," in number,
        point="." in number,
    )
    if plus:
        cell = replace(cell, high=math.inf)
    elif side:
        cell = _sided(cell, side)
    if cell.bounded:
        cell = replace(cell, why="one side was written in place of a figure; it is used as a bound")
    return _roughly(cell, match)


def _sided(cell: Cell, side: str) -> Cell:
    # "Below 41" leaves out 41 itself: the next number that the machine knows is the bound.
    bound = math.nextafter(cell.value, _STRICT[side]) if side in _STRICT else cell.value
    if re.fullmatch(_BELOW, side):
        return replace(cell, low=-math.inf, high=bound)
    return replace(cell, low=bound, high=math.inf)


def _roughly(cell: Cell, match: re.Match[str]) -> Cell:
    if match["about"] or match["doubt"]:
        return replace(
            cell, rough=True, why="the figure was marked as approximate, so it decides nothing"
        )
    return cell


def _range(text: str, written: str) -> Cell | None:
    match = _RANGE.fullmatch(text)
    if match is None:
        return None
    first, second = match[2], match[4]
    low, high = figure(first, written), figure(second, written)
    letters = {letter[0] for letter in (match[3], match[5]) if letter}
    if len(letters) > 1:
        raise ValueError(f"'{written}' names two units")
    if low >= high:
        raise ValueError(f"the range '{written}' does not rise from its first figure to its second")
    cell = Cell(
        Kind.FIGURE,
        low,
        low,
        high,
        unit=_unit(*letters),
        comma="," in first + second,
        point="." in first + second,
        why="a range was written in place of a figure; both its ends are used",
    )
    return _roughly(cell, match)
