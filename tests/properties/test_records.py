"""What changes no verdict, and what may change one in one direction only."""

from __future__ import annotations

from dataclasses import replace
from decimal import Decimal

from hypothesis import assume, given, settings
from hypothesis import strategies as st

from tempwitness.model.figures import Limit
from tempwitness.model.forms import (
    BandClock,
    Fall,
    Longest,
    OutsideBand,
    Reach,
    Rise,
    Test,
    Throughout,
)
from tempwitness.model.rule import Code, Requirement
from tempwitness.report.document import to_json
from tempwitness.report.schema import from_json
from tempwitness.rulebook.load import load_code
from tests.properties.records import Record, answers, records, same_stages, with_one_between
from tests.support import FOOD_CODE, ZERO, judge

SOME = settings(max_examples=120, deadline=None, derandomize=True)
FEW = settings(max_examples=40, deadline=None, derandomize=True)
CLEAR = ("met", "not_met")


@FEW
@given(records(), st.integers(1, 60))
def test_other_days_change_nothing(record: Record, days: int) -> None:
    assert answers(record.judged()) == answers(record.judged(shift=24.0 * days))


@FEW
@given(records(), st.integers(2, 4))
def test_readings_dealt_out_to_several_files_change_nothing(record: Record, files: int) -> None:
    whole, dealt = record.judged(), record.judged(split=files)
    assert answers(whole) == answers(dealt)
    assert [f.reason for f in whole.findings] == [f.reason for f in dealt.findings]


@FEW
@given(records(), st.data())
def test_the_order_in_which_notes_are_written_changes_nothing(
    record: Record, data: st.DataObject
) -> None:
    notes = data.draw(st.permutations(record.notes))
    assert answers(record.judged()) == answers(replace(record, notes=tuple(notes)).judged())


@FEW
@given(records())
def test_the_name_of_a_piece_changes_nothing(record: Record) -> None:
    assert answers(record.judged()) == answers(replace(record, piece="left shoulder").judged())


@SOME
@given(records(), st.data())
def test_a_reading_between_two_others_only_decides_what_was_not_shown(
    record: Record, data: st.DataObject
) -> None:
    """Within the assumption nothing new can be read there, so no clear answer may turn."""
    more = with_one_between(record, data)
    one, other = record.judged(), more.judged()
    assume(same_stages(one, other))
    then = answers(other)
    for key, verdict in answers(one).items():
        if verdict in CLEAR:
            assert then[key] == verdict, key


@SOME
@given(records(), st.data())
def test_a_reading_fewer_proves_no_more(record: Record, data: st.DataObject) -> None:
    """Of a reading that lies between its neighbours, so that it broke nothing by itself."""
    inner = [
        k
        for k in range(1, len(record.readings) - 1)
        if min(record.readings[k - 1][1], record.readings[k + 1][1])
        <= record.readings[k][1]
        <= max(record.readings[k - 1][1], record.readings[k + 1][1])
    ]
    assume(inner)
    k = data.draw(st.sampled_from(inner))
    fewer = replace(record, readings=(*record.readings[:k], *record.readings[k + 1 :]))
    one, other = record.judged(), fewer.judged()
    assume(same_stages(one, other))
    before = answers(one)
    for key, verdict in answers(other).items():
        if verdict in CLEAR:
            # A cooling that was given up is judged no further.
            assert before[key] in (verdict, "not_applicable"), key


def _tighter_limit(limit: Limit, by: int) -> Limit:
    up = by if limit.op in (">=", ">") else -by
    return limit.model_copy(update={"f": limit.f + Decimal(up), "c": limit.c + Decimal(up)})


def _tighter(test: Test, by: int) -> Test:
    """The same test, harder to keep."""
    match test:
        case Throughout():
            return test.model_copy(update={"limit": _tighter_limit(test.limit, by)})
        case OutsideBand():
            return test.model_copy(
                update={
                    "cold": _tighter_limit(test.cold, by),
                    "hot": _tighter_limit(test.hot, by),
                }
            )
        case Fall() | Rise():
            return test.model_copy(
                update={"to": _tighter_limit(test.to, by), "within": test.within / (1 + by / 4)}
            )
        case Reach():
            rows = tuple(
                r.model_copy(update={"f": r.f + by, "c": r.c + by, "hold": r.hold * (1 + by)})
                for r in test.rows
            )
            return test.model_copy(update={"rows": rows})
        case BandClock() | Longest():
            return test.model_copy(update={"at_most": test.at_most / (1 + by / 4)})
        case _:
            return test


def stricter(by: int) -> Code:
    """The Food Code with every limit and every time tightened."""
    code = load_code(FOOD_CODE)
    tight: list[Requirement] = [
        r.model_copy(update={"test": _tighter(r.test, by)}) for r in code.requirements
    ]
    return code.model_copy(update={"requirements": tuple(tight), "sha256": f"stricter by {by}"})


@SOME
@given(records(), st.integers(1, 8))
def test_a_stricter_limit_saves_nothing(record: Record, by: int) -> None:
    log = record.log()
    one, strict = answers(judge(log)), answers(judge(log, code=stricter(by)))
    for key, verdict in one.items():
        if verdict == "not_met":
            assert strict[key] != "met", key
    for key, verdict in strict.items():
        if verdict == "met":
            assert one[key] in ("met", "not_applicable"), key


@FEW
@given(records())
def test_an_evaluation_survives_its_document(record: Record) -> None:
    evaluation = record.judged()
    text = to_json(evaluation)
    assert from_json(text) == evaluation
    assert to_json(from_json(text)) == text


@SOME
@given(records(), st.floats(0, 30), st.floats(0, 2000))
def test_what_is_clear_when_asked_stays_clear(record: Record, first: float, later: float) -> None:
    log = record.log()
    end = max([*(t for t, _ in record.readings), *((n.at - ZERO) / 3600 for n in record.notes)])
    asked = ZERO + (end + first) * 3600
    now = answers(judge(log, asked=asked))
    then = answers(judge(log, asked=asked + later * 3600))
    for key, verdict in now.items():
        if verdict in CLEAR:
            assert then[key] == verdict, key


@SOME
@given(records(), st.floats(0, 1))
def test_what_was_broken_stays_broken_as_the_record_goes_on(record: Record, share: float) -> None:
    """A record that stops earlier may know less, but what it shows to be broken is broken."""
    last = max(n.at for n in record.notes)
    cut = ZERO + share * (last - ZERO)
    early = replace(
        record,
        readings=tuple(r for r in record.readings if ZERO + r[0] * 3600 <= cut),
        notes=tuple(n for n in record.notes if n.at <= cut),
    )
    one, whole = early.judged(), record.judged()
    assume(not whole.doubts)
    after = answers(whole)
    for key, verdict in answers(one).items():
        if verdict == "not_met" and key in after:
            assert after[key] != "met", key
