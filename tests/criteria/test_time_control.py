"""Time instead of temperature: the paper, the mark, the start and the end; limits of `cases`."""

from __future__ import annotations

from dataclasses import replace
from datetime import date

import pytest

from tempwitness.criteria.case import Case
from tempwitness.model.figures import Limit
from tempwitness.model.forms import TimeControl
from tempwitness.model.logs import Stage
from tempwitness.model.lot import TimeControlPlan
from tempwitness.model.vocabulary import Answer
from tests.criteria.cases import Span, answer, case, limit, moment, plan, stages
from tests.support import Readings

TODAY = date(2026, 7, 4)


def part(name: str, *, start: tuple[Limit, ...] = (), ceiling: Limit | None = None) -> TimeControl:
    """One part of the 4 h procedure, with 3 h allowed to keep it apart from any code's own."""
    return TimeControl.model_validate(
        {
            "form": "time_control",
            "part": name,
            "option": "4h",
            "start": [s.model_dump() for s in start],
            "ceiling": None if ceiling is None else ceiling.model_dump(),
            "at_most": "3 h",
        }
    )


START = part("start", start=(limit(40, "<="), limit(100, ">=")))
END = part("end")
CEILING = part("end", ceiling=limit(70, "<="))


def served(
    hours: str | float = 2,
    *,
    of: TimeControlPlan | None = None,
    closed: bool = True,
    asked: float = 99,
) -> Case:
    """Food that is served from 0:00 on under a time control that starts there."""
    under = plan(0, written=TODAY) if of is None else of
    return case(stages([("serve", 0, hours)], closed=closed, under=under), asked=asked)


def test_without_a_time_control_nothing_applies() -> None:
    plain = case(stages([("serve", 0, 2)]))
    assert answer(END, plain, []).verdict == "not_applicable"
    other = served(of=plan(0, option="6h", written=TODAY))
    assert answer(END, other, []).verdict == "not_applicable"


@pytest.mark.parametrize(
    ("written", "expected"),
    [
        (TODAY, "met"),
        (date(2026, 7, 3), "met"),
        (date(2026, 7, 5), "not_met"),
        (None, "not_shown"),
    ],
)
def test_the_paper_comes_first(written: date | None, expected: str) -> None:
    out = answer(part("written"), served(of=plan(0, written=written)), [])
    assert out.verdict.value == expected
    assert (out.settle is not None) == (expected == "not_shown")


@pytest.mark.parametrize(
    ("mark", "expected"),
    [(Answer.YES, "met"), (Answer.NO, "not_met"), (Answer.UNKNOWN, "not_shown")],
)
def test_the_mark(mark: Answer, expected: str) -> None:
    out = answer(part("marked"), served(of=plan(0, marked=mark)), [])
    assert out.verdict.value == expected


@pytest.mark.parametrize(
    ("readings", "expected"),
    [
        pytest.param([(0, 100)], "met", id="hot"),
        pytest.param([(0, 40)], "met", id="cold"),
        pytest.param([(0, 70)], "not_met", id="neither"),
        pytest.param([(-1, 110), (1, 105)], "met", id="hot on both sides"),
        pytest.param([(-1, 90), (1, 80)], "not_met", id="neither on both sides"),
        pytest.param([(-1, 110), (1, 90)], "not_shown", id="in doubt"),
        pytest.param([(-3, 110), (2, 110)], "not_shown", id="too far apart"),
        pytest.param([(1, 110)], "not_shown", id="only afterwards"),
        pytest.param([], "not_shown", id="never read"),
    ],
)
def test_the_temperature_at_the_start(readings: Readings, expected: str) -> None:
    out = answer(START, served(), readings)
    assert out.verdict.value == expected
    assert (out.settle is not None and out.settle.at == moment(0)) == (expected == "not_shown")


@pytest.mark.parametrize(
    ("hours", "closed", "asked", "expected"),
    [
        pytest.param(3, True, 99, "met", id="just in time"),
        pytest.param("3:00:01", True, 99, "not_met", id="a second late"),
        pytest.param(1, False, 3, "open", id="running"),
        pytest.param(1, False, 3.1, "not_shown", id="its end was never noted"),
        pytest.param(4, False, 4, "not_met", id="running too long"),
    ],
)
def test_the_end(hours: str | float, closed: bool, asked: float, expected: str) -> None:
    out = answer(END, served(hours, closed=closed, asked=asked), [])
    assert (out.verdict.value, out.deadline) == (expected, moment(3))


def test_food_under_time_control_may_not_return() -> None:
    def then(name: str) -> str:
        first, second = stages([("serve", 0, 2), (name, 2, 5)])
        under = Stage(
            first.name, 1, "1", first.start, first.end, closed=True, decided=first.decided,
            reason="", time_control=plan(0, written=TODAY),
        )  # fmt: skip
        return answer(END, case((under, second)), []).verdict.value

    assert then("cold_hold") == "not_met"
    assert then("hot_hold") == "not_met"
    assert then("serve") == "met"


def test_the_time_does_not_start_anew() -> None:
    """Food Code 3-501.19(B): served or discarded within the time since it was first taken out."""

    out, on = stages([("serve", 0, 2), ("serve", 2, 4)], under=plan(0, written=TODAY))
    again = case((out, replace(on, time_control=plan(2, written=TODAY))))
    found = answer(END, again, [])
    assert found.verdict.value == "not_shown"
    assert found.settle is not None


def test_one_time_control_over_two_stages_is_judged_at_the_last() -> None:
    """4 h after it was taken out, with 3 h allowed: neither stage alone took so long."""
    both = stages([("serve", 0, 2), ("transport", 2, 4)], under=plan(0, written=TODAY))
    assert answer(END, case(both), []).verdict.value == "not_applicable"
    assert answer(END, case(both, 2), []).verdict.value == "not_met"


@pytest.mark.parametrize(
    ("spans", "expected"),
    [
        pytest.param([("prep", 0, 2), ("cook", 2, 2.5)], "not_shown", id="it may be served"),
        pytest.param([("prep", 0, 2), ("cook", 2, 4)], "not_met", id="there when time was out"),
        pytest.param([("prep", 0, 3.5), ("cook", 3.5, 4)], "not_met", id="cooked too late"),
    ],
)
def test_food_may_be_cooked_and_served_within_the_time(spans: list[Span], expected: str) -> None:
    """FDA Food Code 2022 3-501.19(B)(3): cooked and served, or served as it is, or discarded."""
    first, second = stages(spans, under=plan(0, written=TODAY))
    one = case((first, replace(second, time_control=None)))
    assert answer(END, one, []).verdict.value == expected


@pytest.mark.parametrize(
    ("readings", "expected"),
    [
        pytest.param([(0, 40), (2, 70)], "met", id="at the ceiling"),
        pytest.param([(0, 40), (2, 70.1)], "not_met", id="above it"),
        pytest.param([(-1, 80), (1, 75), (2, 60)], "not_met", id="above it at a reading"),
        pytest.param([(-1, 75), (3, 75)], "not_met", id="above it on both sides"),
        pytest.param([(0, 75), (1, 60), (2, 60)], "not_met", id="above it at the start"),
        pytest.param([(0, 40), (1, 75), (2, 60)], "not_met", id="above it once"),
        pytest.param([(0, 40)], "not_shown", id="not read to the end"),
        pytest.param([], "not_shown", id="never read"),
    ],
)
def test_the_ceiling(readings: Readings, expected: str) -> None:
    out = answer(CEILING, served(), readings)
    assert out.verdict.value == expected
    assert out.limit == "served or discarded within 3 h, never above 70 °F (70 °C)"


def test_a_reading_at_the_end_belongs_to_what_follows() -> None:
    """75 °F as it is served on: it may have stayed at 70 °F or below until then."""
    first, second = stages([("transport", 0, 2), ("serve", 2, 3)], under=plan(0, written=TODAY))
    served_on = case((first, replace(second, time_control=None)))
    out = answer(CEILING, served_on, [(0, 40), (2, 75)])
    assert out.verdict.value == "not_shown"
    assert answer(CEILING, served_on, [(0, 40), (1, 75), (2, 60)]).verdict == "not_met"


def test_the_reading_at_the_start_is_cited() -> None:
    read = answer(START, served(), [(0, 100)])
    assert read.measured == "100 °F"
    assert [c.index for c in read.cites] == [0]
    around = answer(START, served(), [(-1, 110), (1, 105)])
    assert (around.measured, around.cites) == ("bracketed by readings", ())
