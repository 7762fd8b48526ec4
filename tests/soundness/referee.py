"""Whether a lot's true history kept what a finding speaks of.

The figures are typed from FDA Food Code 2022, independently of the rule files: 3-202.11(A),
3-401.11(A), (B) Table 3-2, 3-401.13, 3-403.11, 3-501.13, 3-501.14 and 3-501.16.
"""

from __future__ import annotations

from collections.abc import Callable, Sequence
from dataclasses import dataclass
from datetime import datetime
from typing import Protocol

from tempwitness.model.finding import Finding
from tests.soundness.truth import EPS, Floats, Line, always, outside, passage, reached
from tests.support import ZERO

_HOLDS = (
    6720, 5340, 3360, 2160, 1680, 1080, 720, 480, 300, 240, 134, 85, 54, 34, 22, 14, 0,
)  # fmt: skip

Rows = tuple[tuple[float, float], ...]
#: Whether a requirement was kept, counted strictly and leniently.
Kept = tuple[bool, bool]

#: A total time just at its limit is not told apart from one just beyond it [h].
_NEAR = 1e-4


@dataclass(frozen=True, slots=True)
class Span:
    """A stage as noted: name, start and end [h since 0:00]."""

    name: str
    start: float
    end: float


class Lot(Protocol):
    """What the referee must know of a lot."""

    @property
    def spans(self) -> tuple[Span, ...]: ...
    @property
    def grid(self) -> Floats: ...
    @property
    def true(self) -> Floats: ...
    @property
    def read_at(self) -> Floats: ...
    @property
    def read(self) -> Floats: ...
    @property
    def unheated(self) -> tuple[tuple[float, float], ...]: ...
    @property
    def roast_line(self) -> bool: ...


@dataclass(frozen=True, slots=True)
class Printed:
    """The code's figures in one of its two units; rows as (temperature, hours)."""

    celsius: bool
    cold: float
    cooled: float
    hot: float
    roast: float
    cooked: dict[str, Rows]
    hours: dict[str, float]

    @property
    def reheated(self) -> Rows:
        """Row of 3-403.11(A)."""
        return ((self.cooked["cook-poultry-stuffed"][0][0], 15 / 3600),)


def _rows(figures: Sequence[float], holds: Sequence[float]) -> Rows:
    return tuple((f, s / 3600) for f, s in zip(figures, holds, strict=True))


_HOURS = {
    "cool-135-to-70": 2.0,
    "cool-135-to-41": 6.0,
    "reheat-in-2h": 2.0,
    "thaw-raw-4h": 4.0,
    "prep-cooked": 4.0,
    "cook-heat-lost": 4.0,
}
F = Printed(
    False, 41, 70, 135, 130,
    {
        "cook-roast": _rows(
            (130, 131, 133, 135, 136, 138, 140, 142, 144, 145, 147, 149, 151, 153, 155, 157, 158),
            _HOLDS,
        ),
        "cook-intact": _rows((145,), (15,)),
        "cook-tenderised": _rows((145, 150, 155, 158), (180, 60, 17, 0)),
        "cook-poultry-stuffed": _rows((165,), (0,)),
        "cook-plant": _rows((135,), (0,)),
    },
    _HOURS,
)  # fmt: skip
C = Printed(
    True, 5, 21, 57, 54,
    {
        "cook-roast": _rows(
            (54.4, 55.0, 56.1, 57.2, 57.8, 58.9, 60.0, 61.1, 62.2, 62.8, 63.9, 65.0, 66.1, 67.2,
             68.3, 69.4, 70.0),
            _HOLDS,
        ),
        "cook-intact": _rows((63,), (15,)),
        "cook-tenderised": _rows((63, 66, 68, 70), (180, 60, 17, 0)),
        "cook-poultry-stuffed": _rows((74,), (0,)),
        "cook-plant": _rows((57,), (0,)),
    },
    _HOURS,
)  # fmt: skip

_COLD = frozenset(
    {
        "cold-hold",
        "receive-cold",
        "thaw-refrigerated",
        "thaw-ready-to-eat",
        "freeze-cold",
    }
)
#: Total time between the cold and the hot limit, or above the cold one, at most 4 h.
_IN_BAND = frozenset({"prep-cooked", "cook-heat-lost"})
#: What notes and papers settle; judged by a simulation of its own.
PAPERS = frozenset(
    {
        "cool-method",
        "date-mark",
        "date-mark-uncooked",
        "nc-first-heating",
        "receive-no-abuse",
        "stay-frozen",
        "thaw-method",
    }
)
_COLD_STAGES = frozenset({"receive", "cold_hold", "thaw", "prep", "freeze"})


def stage_of(found: Finding) -> Span:
    """The stage of a finding."""
    assert found.stage_start is not None
    assert found.stage_end is not None
    start = (datetime.fromisoformat(found.stage_start).timestamp() - ZERO) / 3600
    end = (datetime.fromisoformat(found.stage_end).timestamp() - ZERO) / 3600
    return Span(found.stage, start, end)


def fault(found: Finding, points: Sequence[Lot], printed: Printed, says: str) -> str:
    """Return what is unsound about an answer, or an empty text.

    Of several points all that were read in or around the stage must keep a requirement, and one
    that breaks it is enough: an answer speaks of the points that were read and of nothing else.
    """
    if says not in ("met", "not_met"):
        return ""
    name = found.requirement.split("#")[1]
    span = stage_of(found)
    about = [lot for lot in points if _read_about(lot, span)]
    if name in printed.cooked:
        # An earlier cook may have been enough where nothing was read about this one.
        truths = [_all_cooked(printed.cooked[name], span, about or points, printed)]
    else:
        truths = [kept(name, span, lot, printed) for lot in about]
    if says == "met" and not all(strict for strict, _ in truths):
        return f"{name}: met, but the true history breaks it"
    if says == "not_met" and all(lenient for _, lenient in truths):
        return f"{name}: not met, but the true history keeps it"
    return ""


def _read_about(lot: Lot, span: Span) -> bool:
    return bool(lot.read_at[0] <= span.end + EPS and lot.read_at[-1] >= span.start - EPS)


def kept(name: str, span: Span, lot: Lot, printed: Printed) -> Kept:
    """Judge one requirement of the Food Code on the true history.

    Raises
    ------
    KeyError
        If the referee does not know the requirement.
    """
    whole = _line(lot, printed)
    line = whole.cut(span.start, span.end)
    if name in _COLD:
        return _both(always(line, printed.cold, above=False))
    if name == "hot-hold":
        return _hot(lambda hot: always(line, hot, above=True), span, lot, printed)
    if name == "band-hold":
        return _hot(lambda hot: outside(line, printed.cold, hot), span, lot, printed)
    if name == "thaw-raw-4h":
        return _clock(_raw(lot, span), whole, printed.hours[name], printed.cold, None)
    if name in _IN_BAND:
        parts = list(lot.unheated) if name == "cook-heat-lost" else _after_cook(lot, span)
        return _clock(parts, whole, printed.hours[name], printed.cold, printed.hot)
    if name == "reheat-165" and _unsliced(span, lot, printed, line):
        return _both(kept=True)
    if name == "reheat-165":
        return _reached(printed.reheated, line)
    return _passage(name, span, lot, printed, whole)


def _line(lot: Lot, printed: Printed) -> Line:
    return Line(lot.grid, (lot.true - 32) / 1.8 if printed.celsius else lot.true)


def _both(kept: bool) -> Kept:
    return kept, kept


def _reached(rows: Rows, line: Line) -> Kept:
    return reached(line, rows, slack=EPS), reached(line, rows)


def _hot(keeps: Callable[[float], bool], span: Span, lot: Lot, printed: Printed) -> Kept:
    """Hot enough, or where the record says that the oven's line was kept, as hot as a roast."""
    if keeps(printed.hot):
        return _both(kept=True)
    return _both(_roasted(span, lot, printed) and keeps(printed.roast))


def _roasted(span: Span, lot: Lot, printed: Printed) -> bool:
    """Whether it is a roast that was cooked by the ladder before, in an oven that kept its line."""
    if not lot.roast_line:
        return False
    whole = _line(lot, printed)
    rows = printed.cooked["cook-roast"]
    return any(reached(line, rows) for line in _cooks(lot, whole, before=span.start))


def _unsliced(span: Span, lot: Lot, printed: Printed, line: Line) -> bool:
    """Whether what is left of a whole roast was heated by the ladder again: 3-403.11(E)."""
    return _roasted(span, lot, printed) and reached(line, printed.cooked["cook-roast"])


def _cooks(lot: Lot, whole: Line, *, before: float) -> list[Line]:
    """What the food went through in each cook, and in the rest on which its heat was carried."""
    return [
        whole.cut(s.start, _carried(lot, s.end))
        for s in lot.spans
        if s.name == "cook" and s.start <= before + EPS
    ]


def _carried(lot: Lot, end: float) -> float:
    rest = [s for s in lot.spans if s.name == "rest" and abs(s.start - end) < EPS]
    return rest[0].end if rest else end


def _all_cooked(rows: Rows, span: Span, points: Sequence[Lot], printed: Printed) -> Kept:
    """Any of several cooks is enough in which every point got hot enough."""
    each = []
    for lot in points:
        whole = _line(lot, printed)
        lines = _cooks(lot, whole, before=float("inf"))
        lines.append(whole.cut(span.start, _carried(lot, span.end)))
        each.append([_reached(rows, line) for line in lines])
    cooks = list(zip(*each, strict=True))
    strict = any(all(one for one, _ in cook) for cook in cooks)
    return strict, any(all(one for _, one in cook) for cook in cooks)


def _of(lot: Lot, names: tuple[str, ...], until: Span) -> list[Span]:
    return [s for s in lot.spans if s.name in names and s.start <= until.start + EPS]


def _raw(lot: Lot, until: Span) -> list[tuple[float, float]]:
    """Thawing and preparation before the food was first cooked."""
    first = min((s.start for s in lot.spans if s.name == "cook"), default=float("inf"))
    own = _of(lot, ("thaw", "prep"), until)
    return [(s.start, s.end) for s in own if s.start < first]


def _after_cook(lot: Lot, until: Span) -> list[tuple[float, float]]:
    first = min((s.start for s in lot.spans if s.name == "cook"), default=float("inf"))
    return [(s.start, s.end) for s in _of(lot, ("prep",), until) if s.start > first]


def _clock(
    parts: list[tuple[float, float]], whole: Line, cap: float, cold: float, hot: float | None
) -> Kept:
    """At most so many hours above one limit, or between two."""
    total = 0.0
    for start, end in parts:
        line = whole.cut(start, max(end, start + 1e-9))
        total += end - start - line.time(cold, above=False)
        total -= 0.0 if hot is None else line.time(hot, above=True)
    return total <= cap + _NEAR, total <= cap - _NEAR


def _passage(name: str, span: Span, lot: Lot, printed: Printed, whole: Line) -> Kept:
    passages = {
        "cool-135-to-70": (printed.hot, printed.cooled),
        "cool-135-to-41": (printed.hot, printed.cold),
        "reheat-in-2h": (printed.cold, printed.reheated[0][0]),
    }
    first, second = passages[name]
    cap = printed.hours[name]
    line = whole.cut(span.start, span.end)
    if name == "reheat-in-2h" and _unsliced(span, lot, printed, line):
        return _both(kept=True)
    strict, lenient = passage(
        whole,
        (span.start, _cooled_on(span, lot) if first > second else span.end),
        first,
        second,
        falling=first > second,
        since=_since(name, span, lot),
    )
    return strict <= cap + EPS, lenient <= cap - EPS


def _cooled_on(span: Span, lot: Lot) -> float:
    """End of the time in which a cooling may come to its limit: food read cold is cooling on."""
    end = span.end
    for noted in lot.spans:
        cooling = noted.name == "cool" and noted.start < end - EPS
        if noted.start <= end + EPS and (cooling or noted.name in ("cold_hold", "freeze")):
            end = max(end, noted.end)
    return end


def _since(name: str, span: Span, lot: Lot) -> float:
    """Moment before which a clock cannot have started.

    Hot food put to cool starts its clock after it was last heated. Cold food put to reheat may
    have warmed on its way there; food that comes warm from a cooling starts with the reheat.
    """
    earlier = [s for s in lot.spans if s.end <= span.start + EPS]
    if name != "reheat-in-2h":
        heated = [s for s in earlier if s.name in ("cook", "reheat")]
        return heated[-1].start if heated else 0.0
    if not earlier or earlier[-1].name not in _COLD_STAGES:
        return span.start
    return span.start if _still_cooling(lot, earlier) else 0.0


def _still_cooling(lot: Lot, earlier: list[Span]) -> bool:
    """Whether hot food was put away and never read cold there, so that it was cooling on."""
    if len(earlier) < 2 or earlier[-2].name in _COLD_STAGES:
        return False
    last = earlier[-1]
    # A reading with which the next stage begins belongs to that one.
    inside = (lot.read_at >= last.start) & (lot.read_at < last.end)
    # Both scales: 5 °C is 41 °F.
    return not bool((lot.read[inside] <= F.cold + EPS).any())
