"""The same lot written down in other ways gets the same answers, from the files on.

Each property writes a record and its readings as files and asks for the whole evaluation.
"""

from __future__ import annotations

from typing import TYPE_CHECKING

from hypothesis import given, settings
from hypothesis import strategies as st

from tempwitness.evaluate.strict import limits_of
from tempwitness.rulebook.load import load_code
from tests.properties.records import Answers, Record, answers, records
from tests.properties.written import Written
from tests.support import FOOD_CODE

if TYPE_CHECKING:
    from tempwitness.model.rule import Requirement

FEW = settings(max_examples=60, deadline=None, derandomize=True)

#: Zones without a change of clocks in July, on both sides and at half an hour.
_ZONES = ("UTC", "America/Chicago", "Asia/Kolkata", "Pacific/Auckland")
#: Requirements that count calendar days: another zone may begin another day.
_BY_DAYS = frozenset(
    f"{FOOD_CODE}#{r.id}"
    for r in load_code(FOOD_CODE).requirements
    if r.test.form in ("shelf_life", "day_end")
)


def _same_days(given_: Answers) -> Answers:
    return {key: verdict for key, verdict in given_.items() if key[0] not in _BY_DAYS}


@FEW
@given(records(), st.sampled_from(_ZONES))
def test_another_zone_changes_nothing(record: Record, zone: str) -> None:
    """The same moments on another clock; only what counts calendar days may differ."""
    here, there = Written().evaluate(record), Written(zone=zone).evaluate(record)
    assert _same_days(answers(here)) == _same_days(answers(there))


@FEW
@given(records(), st.integers(0, 1000))
def test_the_order_of_rows_changes_nothing(record: Record, seed: int) -> None:
    mixed = Written(shuffled=seed).evaluate(record)
    assert answers(Written().evaluate(record)) == answers(mixed)


@FEW
@given(records(), st.integers(2, 3))
def test_several_files_change_nothing(record: Record, files: int) -> None:
    dealt = Written(files=files).evaluate(record)
    assert answers(Written().evaluate(record)) == answers(dealt)


@FEW
@given(records())
def test_a_wide_table_changes_nothing(record: Record) -> None:
    assert answers(Written().evaluate(record)) == answers(Written(wide=True).evaluate(record))


@FEW
@given(records())
def test_the_other_unit_changes_an_answer_only_where_print_differs(record: Record) -> None:
    """A figure in °F and its partner in °C leave a strip; only readings within it may decide anew.

    Where no reading lies in the strip of any figure of a requirement, its answer stays.
    """
    in_f, in_c = Written().evaluate(record), Written(celsius=True).evaluate(record)
    one, other = answers(in_f), answers(in_c)
    codes = [load_code(c) for c in (FOOD_CODE, *load_code(FOOD_CODE).head.companions)]
    strips = {f"{c.head.id}#{r.id}": _strips(r) for c in codes for r in c.requirements}
    for key in one.keys() & other.keys():
        if one[key] == other[key]:
            continue
        near = any(
            low - 1e-6 <= value <= high + 1e-6
            for low, high in strips[key[0]]
            for _, value in record.readings
        )
        assert near, (key, one[key], other[key], strips[key[0]])


def _strips(requirement: Requirement) -> list[tuple[float, float]]:
    pairs = ((f, c * 1.8 + 32) for f, c in limits_of(requirement))
    return [(min(pair), max(pair)) for pair in pairs if abs(pair[0] - pair[1]) > 1e-9]
