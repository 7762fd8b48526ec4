"""Whether a lot's true history kept the invented code of `form_rules`, reckoned on the fine curve.

The figures are typed here again. Both counts are given as in `truth`: *met* must hold under the
strict one, *not met* must fail under the lenient one.
"""

from __future__ import annotations

from itertools import pairwise

import numpy as np

from tests.soundness.histories import History
from tests.soundness.referee import Kept, Span
from tests.soundness.truth import EPS, Line, reached

#: A total time just at its limit is not told apart from one just beyond it [h].
NEAR = 1e-4

_COLD_STAGES = ("cold_hold", "freeze", "thaw")
_HEATING = ("cook", "reheat")
_WARM = ("cook", "rest", "hot_hold", "serve", "reheat", "cool")
_SERVED = ("prep", "rest", "hot_hold", "serve", "transport")
_LADDER = ((140.0, (0.5, 80 / 60)), (150.0, (0.1, 20 / 60)), (162.0, (30 / 3600, 0.0)))


def judged_spans(lot: History) -> list[Span]:
    """The stages as they count: food put away warm cools, and is held cold once it was read so."""
    spans: list[Span] = []
    came: str | None = None
    for span in lot.spans:
        warm = came in _WARM and span.name in ("cold_hold", "cool")
        if span.name == "cool" or warm:
            spans += _cooled(lot, span, spans)
        else:
            spans.append(span)
        if span.name not in ("prep", "transport"):
            came = spans[-1].name
    return spans


def _cooled(lot: History, span: Span, before: list[Span]) -> list[Span]:
    began = before[-1].start if before and before[-1].name == "cool" else span.start
    cold = (lot.read <= 41) & (lot.read_at >= began) & (lot.read_at <= span.end)
    if span.name == "cold_hold" and bool((cold & (lot.read_at <= span.start)).any()):
        return [span]
    # Food that was read cold as a cooling began is cooling under that name all the same.
    if not cold.any() or not span.start < float(lot.read_at[cold][0]) < span.end:
        return [Span("cool", span.start, span.end)]
    moment = float(lot.read_at[cold][0])
    return [Span("cool", span.start, moment), Span("cold_hold", moment, span.end)]


def kept(name: str, span: Span, lot: History, fat: str | None) -> Kept:
    """Judge one requirement at one stage on the true history."""
    whole = Line(lot.grid, lot.true)
    if name.startswith("once"):
        return _once(name, span, lot, whole)
    if name.startswith("band"):
        return _band(name, span, lot, whole)
    if name.startswith("written"):
        return _written(name, span, lot)
    if name in ("heat-sum", "ladder-by"):
        return _cooked(name, lot, whole, fat)
    return _passage(name, span, lot, whole)


def _up_to(lot: History, span: Span, names: tuple[str, ...]) -> list[Span]:
    own = [s for s in judged_spans(lot) if s.name in names and s.start <= span.start + EPS]
    return [Span(s.name, s.start, min(s.end, max(span.end, s.start))) for s in own]


def _away(lot: History, span: Span, whole: Line, hot: bool) -> list[list[tuple[float, float]]]:
    """Stretches beyond the limit, by runs of stages that follow each other and count."""
    runs: list[list[tuple[float, float]]] = []
    ended = -np.inf
    for part in _up_to(lot, span, ("hot_hold", "serve") if hot else ("cold_hold",)):
        line = whole.cut(part.start, max(part.end, part.start + 1e-9))
        within = line.spans(135.0 if hot else 41.0, above=hot)
        edges = [part.start, *(t for one in within for t in one), part.end]
        gaps = [(a, b) for a, b in list(pairwise(edges))[::2] if b - a > NEAR]
        if part.start - ended > EPS:
            runs.append([])
        ended = part.end
        if runs[-1] and gaps and abs(runs[-1][-1][1] - gaps[0][0]) < EPS:
            gaps[0] = (runs[-1].pop()[0], gaps[0][1])
        runs[-1] += gaps
    return [run for run in runs if run]


def _once(name: str, span: Span, lot: History, whole: Line) -> Kept:
    """One occasion: from the first moment beyond the limit to the last, however it wavered.

    Food that no reading shows back within its limit, in the same run of stages, is out on the same
    occasion; the time of it then counts whole. To be broken, it must truly have been beyond for
    too long at once, or twice.
    """
    away = _away(lot, span, whole, hot=name == "once-hot")
    beyond = True
    if name == "once-cold":
        parts = _up_to(lot, span, ("cold_hold",))
        lines = [whole.cut(p.start, max(p.end, p.start + 1e-9)) for p in parts]
        beyond = all(float(line.value.max()) <= 46.0 + EPS for line in lines)
    each = [stretch for run in away for stretch in run]
    lenient = beyond and len(each) <= 1 and all(b - a <= 2.0 - NEAR for a, b in each)
    whole_runs = [run[-1][1] - run[0][0] for run in away]
    return beyond and len(away) <= 1 and all(t <= 2.0 + NEAR for t in whole_runs), lenient


def _band(name: str, span: Span, lot: History, whole: Line) -> Kept:
    total = 0.0
    for part in _up_to(lot, span, _SERVED):
        line = whole.cut(part.start, max(part.end, part.start + 1e-9))
        total += part.end - part.start
        total -= line.time(41.0, above=False) + line.time(135.0, above=True)
    del name  # a time that is reached but not passed is not drawn
    return total <= 3.0 + NEAR, total <= 3.0 - NEAR


def _written(name: str, span: Span, lot: History) -> Kept:
    taken = [t for t in lot.read_at.tolist() if span.start - EPS <= t <= span.end + EPS]
    if name == "written-twice":
        return len(taken) >= 2, True  # what was not written down may have been taken
    gaps = [b - a for a, b in pairwise([span.start, *taken, span.end])]
    return max(gaps) <= 1.0 + EPS, True


def _cooked(name: str, lot: History, whole: Line, fat: str | None) -> Kept:
    """Any cook is enough, with the rest on which its heat was carried."""
    strict = lenient = False
    for number, span in enumerate(lot.spans):
        if span.name != "cook":
            continue
        end = span.end
        if number + 1 < len(lot.spans) and lot.spans[number + 1].name == "rest":
            end = lot.spans[number + 1].end
        line = whole.cut(span.start, end)
        if name == "heat-sum":
            done = _heat(line)
            strict, lenient = strict or done >= 40 / 60 * 0.999, lenient or done >= 40 / 60 * 1.001
        else:
            rows = _column(fat)
            strict = strict or reached(line, rows, slack=EPS)
            lenient = lenient or reached(line, rows)
    return strict, lenient


def _heat(line: Line) -> float:
    """Hours at 70 °C that are as much, in steps of a second or less; from 60 °C on."""
    total = 0.0
    for (a, b), (low, high) in zip(pairwise(line.at), pairwise(line.value), strict=True):
        count = max(2, int((b - a) * 3600) + 1)
        shares = (np.arange(count) + 0.5) / count
        celsius = (low + (high - low) * shares - 32.0) / 1.8
        rates = np.where(celsius >= 60.0, 10.0 ** ((celsius - 70.0) / 7.5), 0.0)
        total += float(rates.mean()) * float(b - a)
    return total


def _column(fat: str | None) -> tuple[tuple[float, float], ...]:
    """One column up to 1 %, the longer of both up to 12 %, the last one at 12 % or unsaid."""
    amount = 100.0 if fat is None else float(fat)
    if amount <= 1.0:
        return tuple((at, holds[0]) for at, holds in _LADDER)
    if amount >= 12.0:
        return tuple((at, holds[1]) for at, holds in _LADDER)
    return tuple((at, max(holds)) for at, holds in _LADDER)


def _passage(name: str, span: Span, lot: History, whole: Line) -> Kept:
    """From the end of the stage that starts the clock to the first moment at the second limit."""
    names = {
        "fall-cooked": _HEATING,
        "fall-heat-ended": (*_HEATING, "hot_hold"),
        "rise-left-cold": _COLD_STAGES,
    }[name]
    rising = name == "rise-left-cold"
    cap = 2.0 if rising else 3.0
    inside = whole.cut(span.start, max(span.end, span.start + 1e-9))
    there = inside.spans(165.0 if rising else 70.0, above=rising)
    arrived = there[0][0] if there else np.inf
    earlier = [s for s in judged_spans(lot) if s.end <= span.start + EPS]
    if rising:
        # Food that was heated after it had been cold did not come from there.
        heats = [k for k, s in enumerate(earlier) if s.name in (*_HEATING, "hot_hold")]
        earlier = earlier[heats[-1] + 1 :] if heats else earlier
    ends = [s.end for s in earlier if s.name in names]
    started = ends[-1] if ends else -np.inf
    # Until the food was put to cool it may have been kept hot, unsaid.
    latest = span.start if name == "fall-heat-ended" or not ends else started
    return arrived - started <= cap + NEAR, arrived - latest <= cap - NEAR
