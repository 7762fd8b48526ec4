"""Requirements that notes, papers and days settle."""

from __future__ import annotations

from datetime import date

import pytest

from tempwitness.criteria.outcome import Outcome
from tempwitness.criteria.papers import instrument
from tempwitness.model.forms import Conditions, DayEnd, Duty, Instrument, Method, ShelfLife
from tempwitness.model.lot import Approval, Probe, ProbeCheck
from tempwitness.model.vocabulary import Verdict
from tempwitness.units import Unit
from tests.criteria.cases import Span, answer, case, moment, stages
from tests.support import ZERO, note

TWO_WAYS = Method(form="method", allowed=("ice_bath", "shallow_pan"))
ASKED = Duty(form="duty", question="Did the authority agree?", settled_by="plan")
FIGURE = ASKED.model_copy(update={"otherwise": Verdict.NEEDS_LIMIT})
#: Three days, a mark being due after 24 h of cold.
DAYS = ShelfLife(form="shelf_life", days=3, mark_after="24 h")
DAY_END = DayEnd(form="day_end")


@pytest.mark.parametrize(
    ("used", "expected"),
    [("ice_bath", "met"), ("on_the_counter", "not_met"), ("", "not_shown")],
)
def test_a_method(used: str, expected: str) -> None:
    out = answer(TWO_WAYS, case(stages([("cool", 0, 1)], method=used)), [])
    assert out.verdict.value == expected
    if used:
        assert out.measured == used.replace("_", " ")
        assert out.limit == "one of: ice bath, shallow pan"


def test_the_conditions_of_an_alternative_are_all_that_it_asks() -> None:
    assert (
        answer(Conditions(form="conditions"), case(stages([("cook", 0, 1)])), []).verdict == "met"
    )


def plan_of(granted: str, expires: str | None = None, kind: str = "plan") -> Approval:
    last = None if expires is None else date.fromisoformat(expires)
    return Approval(kind, "County", "7", date.fromisoformat(granted), last)


@pytest.mark.parametrize(
    ("approvals", "expected"),
    [
        # The tests' day is 4 July 2026.
        pytest.param([], "not_shown", id="none"),
        pytest.param([plan_of("2026-07-04", "2026-07-04")], "met", id="for that day alone"),
        pytest.param([plan_of("2026-01-01")], "met", id="without an end"),
        pytest.param([plan_of("2026-01-01", "2026-07-03")], "not_met", id="run out"),
        pytest.param([plan_of("2026-07-05")], "not_shown", id="granted later"),
        pytest.param([plan_of("2026-01-01", kind="other")], "not_shown", id="for something else"),
    ],
)
def test_a_duty_is_settled_by_an_approval_in_force(
    approvals: list[Approval], expected: str
) -> None:
    out = answer(ASKED, case(stages([("cook", 0, 1)]), approvals=approvals), [])
    assert out.verdict.value == expected
    assert (out.question == "Did the authority agree?") == (expected != "met")
    assert out.allowance.startswith("approval used: County, no. 7") == (expected == "met")


def test_a_duty_without_a_number_needs_a_limit() -> None:
    out = answer(FIGURE, case(stages([("freeze", 0, 1)])), [])
    assert out.verdict is Verdict.NEEDS_LIMIT
    assert "the operator's or authority's limit is needed" in out.reason
    agreed = case(stages([("freeze", 0, 1)]), approvals=[plan_of("2026-01-01")])
    assert answer(FIGURE, agreed, []).verdict is Verdict.MET


def check(read: float, expected: float = 32.0, unit: Unit = Unit.F) -> ProbeCheck:
    return ProbeCheck(ZERO, "ice", read, expected, unit, f"ice water: {read:g}")


@pytest.mark.parametrize(
    ("probe", "expected"),
    [
        # Invented tolerance: ±3 °F, or ±1.5 °C for a probe that shows °C.
        pytest.param(Probe("A", checks=(check(35),)), "met", id="just within"),
        pytest.param(Probe("A", checks=(check(28.9),)), "not_met", id="beyond, below"),
        pytest.param(Probe("A", checks=(check(32), check(35.1))), "not_met", id="the worst counts"),
        pytest.param(Probe("A", checks=(check(35.1), check(32))), "not_met", id="in any order"),
        # 35 °F instead of 32 is 1.67 °C: too much for a probe that shows °C as well.
        pytest.param(Probe("A", scale="both", checks=(check(35),)), "not_met", id="by its scale"),
        pytest.param(
            Probe("A", scale="C", checks=(check(1.5, 0, Unit.C),)), "met", id="in its own unit"
        ),
        pytest.param(Probe("A"), "not_applicable", id="never checked"),
        pytest.param(Probe("A", reads="air", checks=(check(40),)), "not_applicable", id="of air"),
    ],
)
def test_an_instrument(probe: Probe, expected: str) -> None:
    test = Instrument.model_validate({"form": "instrument", "reads": "food", "f": 3, "c": 1.5})
    assert instrument(test, probe).verdict.value == expected


def test_an_instrument_says_by_how_much_it_is_off() -> None:
    test = Instrument.model_validate({"form": "instrument", "reads": "food", "f": 3, "c": 1.5})
    out = instrument(test, Probe("A", checks=(check(36.04), check(31))))
    assert out.measured == "ice water: 36.04: off by +4.0 °F"
    assert out.limit == "within ±3 °F, or ±1.5 °C if it shows °C"


def kept(*spans: Span, marked: bool = True, number: int | None = None) -> Outcome:
    """Food that was cooked on day 1 (4 July, 05:00 is hour 0) and kept."""
    every = stages(spans)
    notes = [note(1, event="date_marked")] if marked else []
    return answer(DAYS, case(every, number or len(every), notes=notes), [])


@pytest.mark.parametrize(
    ("until", "expected"),
    [
        # Day 1 is 4 July, day 3 is 6 July; it ends 24 + 24 + 19 = 67 h after 05:00 of day 1.
        pytest.param(20, "not_applicable", id="not yet a day in the cold"),
        pytest.param(66.9, "met", id="the last day"),
        pytest.param(67.1, "not_met", id="a day too many"),
    ],
)
def test_days_count_from_the_day_of_preparation(until: float, expected: str) -> None:
    out = kept(("cook", 0, 1), ("cold_hold", 1, until))
    assert out.verdict.value == expected
    if expected != "not_applicable":
        assert out.limit == "at most 3 days, the day of preparation being day 1"
        assert "prepared 2026-07-04, last day 2026-07-06" in out.reason


def test_frozen_days_do_not_count() -> None:
    """Frozen from the evening of day 1 over two whole days: the last day moves by two."""
    frozen: tuple[Span, ...] = (("cook", 0, 1), ("cold_hold", 1, 14), ("freeze", 14, 68))
    assert kept(*frozen, ("cold_hold", 68, 110)).verdict.value == "met"
    # 115 h after 05:00 of 4 July is midnight of 8 July, the last day with two frozen ones.
    assert kept(*frozen, ("cold_hold", 68, 114.9)).verdict.value == "met"
    assert kept(*frozen, ("cold_hold", 68, 115.1)).verdict.value == "not_met"


def test_a_day_frozen_from_midnight_to_midnight_does_not_count() -> None:
    """5 July lasts from 19 to 43 h; the last day is then 7 July, which ends at 91 h."""
    whole: tuple[Span, ...] = (("cook", 0, 1), ("cold_hold", 1, 19), ("freeze", 19, 43))
    assert kept(*whole, ("cold_hold", 43, 90.9)).verdict.value == "met"
    assert kept(*whole, ("cold_hold", 43, 91.1)).verdict.value == "not_met"


@pytest.mark.parametrize(("until", "expected"), [(80, "not_shown"), (91.1, "not_met")])
def test_food_put_to_freeze_warm_may_have_been_frozen(until: float, expected: str) -> None:
    """Put to freeze at 1:00 and not read cold: if 5 July was frozen, 7 July is the last day."""
    every = stages([("cook", 0, 1), ("cool", 1, 60), ("cold_hold", 60, until)])
    notes = [note(1, "freeze"), note(1, event="date_marked")]
    assert answer(DAYS, case(every, 3, notes=notes), []).verdict.value == expected


def test_a_mark_is_due_after_a_day() -> None:
    just = kept(("cook", 0, 1), ("cold_hold", 1, 25), marked=False)
    assert just.verdict.value == "not_applicable"
    more = kept(("cook", 0, 1), ("cold_hold", 1, 25.1), marked=False)
    assert more.verdict.value == "not_shown"
    assert kept(("cook", 0, 1), ("cold_hold", 1, 25.1)).verdict.value == "met"
    # The time in the cold is added over several stages.
    parts: tuple[Span, ...] = (("cook", 0, 1), ("cold_hold", 1, 20), ("serve", 20, 21))
    assert kept(*parts, ("cold_hold", 21, 27), marked=False).verdict.value == "not_shown"


def test_food_that_was_not_cooked_here_counts_from_its_first_stage() -> None:
    out = kept(("receive", 0, 1), ("cold_hold", 1, 67.1))
    assert out.verdict.value == "not_met"


def day(
    *spans: Span, event: tuple[float, str] | None = None, asked: float = 999, closed: bool = True
) -> Outcome:
    """A day of service; midnight of the tests' day in UTC is 19 h after 0:00."""
    notes = [] if event is None else [note(event[0], event=event[1])]
    return answer(DAY_END, case(stages(spans, closed=closed), notes=notes, asked=asked), [])


def test_what_is_left_goes_by_midnight() -> None:
    served: Span = ("serve", 0, 10)
    gone = day(served, event=(10, "discarded"))
    assert (gone.verdict.value, gone.measured) == ("met", "discarded 15:00")
    assert day(served, event=(10, "finished")).measured == "finished 15:00"
    assert day(("serve", 0, 19), event=(19, "finished")).verdict.value == "met"
    assert day(("serve", 0, 19.1), event=(19.1, "finished")).verdict.value == "not_met"
    kept_on = day(served, ("cold_hold", 10, 20), event=(20, "discarded"))
    assert kept_on.verdict.value == "not_met"
    assert "cold hold" in kept_on.reason


def test_without_a_note_the_day_decides_between_open_and_not_shown() -> None:
    open_ = day(("serve", 0, 10), asked=19, closed=False)
    assert (open_.verdict.value, open_.deadline) == ("open", moment(19))
    over = day(("serve", 0, 10), asked=19.1, closed=False)
    assert over.verdict.value == "not_shown"
    assert over.settle is not None
    assert over.settle.at == moment(19)


@pytest.mark.parametrize(
    ("marked", "expected"),
    [
        # Cooked until hour 1; 24 h in the cold are over at hour 25.
        pytest.param(1, "met", id="as it is put away"),
        pytest.param(25, "met", id="just in time"),
        pytest.param(25.1, "not_shown", id="too late, or marked before and not noted"),
        pytest.param(0.5, "not_shown", id="before it was cooked"),
    ],
)
def test_a_date_mark_is_made_after_preparation_and_before_it_is_due(
    marked: float, expected: str
) -> None:
    """FDA Food Code 2022 3-501.17(A): what is held for more than 24 h carries the mark."""
    every = stages([("cook", 0, 1), ("cold_hold", 1, 60)])
    one = case(every, 2, notes=[note(marked, event="date_marked")])
    assert answer(DAYS, one, []).verdict.value == expected


def test_time_in_which_it_cooled_unread_may_make_the_mark_due() -> None:
    """Put away at hour 1 and read cold at 20 only: at hour 30 it was held for up to 29 h."""
    every = stages([("cook", 0, 1), ("cool", 1, 20), ("cold_hold", 20, 30)])
    assert answer(DAYS, case(every, 3), []).verdict.value == "not_shown"


@pytest.mark.parametrize(("asked", "expected"), [(66.9, "open"), (67.1, "not_shown")])
def test_food_whose_end_nobody_noted_is_asked_for_by_its_last_day(
    asked: float, expected: str
) -> None:
    """The last of three days ends 24 + 24 + 19 = 67 h after 05:00 of the first."""
    every = stages([("cook", 0, 1), ("cold_hold", 1, 60)], closed=False)
    one = case(every, 2, notes=[note(2, event="date_marked")], asked=asked)
    assert answer(DAYS, one, []).verdict.value == expected
