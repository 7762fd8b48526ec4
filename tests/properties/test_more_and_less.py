"""What a reading more, a reading less, a stricter county and another code may change, and cannot.

Every property goes over files and the whole flow, and over both answers of every finding.
"""

from __future__ import annotations

from dataclasses import replace
from decimal import Decimal

from hypothesis import assume, given, settings
from hypothesis import strategies as st

from tempwitness.model.figures import Limit
from tempwitness.model.finding import Evaluation
from tempwitness.model.rule import Requirement
from tempwitness.rulebook.load import load_code
from tests.properties.records import Record, answers, records, same_stages, with_one_between
from tests.properties.written import Written
from tests.support import FOOD_CODE

SOME = settings(max_examples=80, deadline=None, derandomize=True)
CLEAR = ("met", "not_met")

Both = dict[tuple[str, str, int, str], str]


def both(evaluation: Evaluation) -> Both:
    """Verdict of each finding, and its strict one."""
    found: Both = {}
    for f in evaluation.findings:
        key = (f.requirement, f.stage, f.stage_number)
        found[*key, "first"] = f.verdict.value
        if f.strict is not None:
            found[*key, "strict"] = f.strict.verdict.value
    return found


def _between(record: Record, k: int) -> bool:
    """Whether a reading lies between its neighbours, so that it broke nothing by itself."""
    near = (record.readings[k - 1][1], record.readings[k + 1][1])
    return min(near) <= record.readings[k][1] <= max(near)


@SOME
@given(records(), st.data())
def test_a_reading_on_the_line_only_decides_what_was_not_shown(
    record: Record, data: st.DataObject
) -> None:
    more = with_one_between(record, data)
    one, other = Written().evaluate(record), Written().evaluate(more)
    assume(same_stages(one, other))
    then = both(other)
    for key, verdict in both(one).items():
        if verdict in CLEAR:
            assert then[key] == verdict, key


@SOME
@given(records(), st.data())
def test_a_reading_less_that_broke_nothing_makes_nothing_met(
    record: Record, data: st.DataObject
) -> None:
    inner = [k for k in range(1, len(record.readings) - 1) if _between(record, k)]
    assume(inner)
    k = data.draw(st.sampled_from(inner))
    fewer = replace(record, readings=(*record.readings[:k], *record.readings[k + 1 :]))
    one, other = Written().evaluate(record), Written().evaluate(fewer)
    assume(same_stages(one, other))
    before = both(one)
    for key, verdict in both(other).items():
        if verdict in CLEAR:
            # A cooling that was given up is judged no further.
            assert before.get(key, "not_applicable") in (verdict, "not_applicable"), key


def _change(requirement: Requirement, by: int) -> str:
    """A stricter figure for a requirement, as a county writes it; empty if it has none."""
    test = requirement.test
    figure = ""
    for key in ("limit", "to"):
        limit = getattr(test, key, None)
        if isinstance(limit, Limit):
            figure = f"{key} = {_tighter(limit, by)}"
    if test.form in ("band_clock", "longest", "time_control"):
        figure = f'at_most = "{round(test.at_most * (1 - by / 10))} s"'
    if test.form == "outside_band":
        figure = f"limit = {_tighter(test.hot, by)}"
    if not figure:
        return ""
    return f'[[change]]\nrequirement = "{FOOD_CODE}#{requirement.id}"\n{figure}\nreason = "so"\n'


def _tighter(limit: Limit, by: int) -> str:
    step = Decimal(by if limit.op[0] == ">" else -by)
    return f'{{ f = {limit.f + step}, c = {limit.c + step}, op = "{limit.op}" }}'


def county(by: int) -> str:
    """A county that is stricter in everything that it may change."""
    head = (
        '[override]\nid = "local/strict"\ntitle = "Strict"\nauthority = "Strict County"\n'
        'citation = "Strict 1"\nfrom = 2026-01-01\nto = 2026-12-31\n'
    )
    return head + "".join(_change(r, by) for r in load_code(FOOD_CODE).requirements)


@SOME
@given(records(), st.integers(1, 8))
def test_a_stricter_county_saves_nothing(record: Record, by: int) -> None:
    plain = Written().evaluate(record)
    strict = Written(county=county(by)).evaluate(record)
    assert strict.overrides
    assert all(o.in_force for o in strict.overrides)
    one, other = both(plain), both(strict)
    for key, verdict in one.items():
        if verdict == "not_met":
            assert other.get(key) != "met", key
    for key, verdict in other.items():
        if verdict == "met":
            assert one.get(key) in ("met", "not_applicable"), key


@SOME
@given(records())
def test_a_code_beside_changes_nothing(record: Record) -> None:
    alone = Written().evaluate(record)
    beside = Written(also=("us/plant/come-up", "trade/smoking")).evaluate(record)
    own = answers(alone)
    assert {key: verdict for key, verdict in answers(beside).items() if key in own} == own
    assert (alone.verdict, alone.headline) == (beside.verdict, beside.headline)
