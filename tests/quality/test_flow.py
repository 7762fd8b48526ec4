"""What the quality tests find reaches the answer: moments after the asking, gaps and questions."""

from __future__ import annotations

import math
from dataclasses import replace
from datetime import UTC, datetime
from typing import TYPE_CHECKING

import numpy as np
from hypothesis import given, settings
from hypothesis import strategies as st

from tempwitness import pipeline
from tempwitness.calibration import correct
from tempwitness.model.vocabulary import Event, Flag, Place, StageName
from tempwitness.readers import BareOptions
from tests.quality.made import channel, log, note

if TYPE_CHECKING:
    from pathlib import Path

    from tempwitness.model.finding import Evaluation
    from tempwitness.model.logs import Channel, Note

LAMB = BareOptions(
    food="lamb shoulder", form="intact", weight="9 lb", code="us/food-code/2022", zone="UTC"
)


def checked(folder: Path, rows: list[str], asked: datetime | None = None) -> Evaluation:
    path = folder / "pit.csv"
    path.write_text("\n".join(["time,temp_f,step,event", *rows]), "utf-8")
    return pipeline.check(path, LAMB, at=asked).evaluation


def test_a_hold_in_the_next_century_is_not_shown(tmp_path: Path) -> None:
    rows = ["2126-07-04 10:00,150,hot_hold,", "2126-07-04 12:00,148,,finished"]
    found = checked(tmp_path, rows)
    assert {d.code for d in found.doubts} == {"time"}
    assert found.verdict.value == "not_shown"
    # Whoever asks about that day is told about it.
    later = checked(tmp_path, rows, datetime(2126, 7, 5, tzinfo=UTC))
    assert later.doubts == ()
    assert {f.verdict.value for f in later.binding if f.stage == "hot_hold"} == {"met"}


def test_the_moment_that_was_named_hides_no_reading_that_was_taken(tmp_path: Path) -> None:
    rows = ["2026-07-04 10:00,150,hot_hold,", "2026-07-04 12:00,148,,finished"]
    asked = datetime(2026, 7, 4, 11, tzinfo=UTC)
    assert checked(tmp_path, rows, asked).doubts == ()


def test_gaps_and_questions_are_printed_and_change_no_verdict(tmp_path: Path) -> None:
    rows = [f"2026-07-04 10:{m:02d},150,{'hot_hold' if not m else ''}," for m in range(10)]
    ordered = checked(tmp_path, [*rows, "2026-07-04 12:00,150,,finished"])
    assert any("nothing was read from 2026-07-04 10:09" in line for line in ordered.unsettled)
    # One line was moved up: a question, and the same answer.
    mixed = checked(
        tmp_path, [*rows[:5], rows[6], rows[5], *rows[7:], "2026-07-04 12:00,150,,finished"]
    )
    assert any("bears a later time" in question for question in mixed.questions)
    assert mixed.verdict is ordered.verdict


def test_a_slip_of_the_pen_does_not_vouch_for_the_time_around_it(tmp_path: Path) -> None:
    # 480 may have been 48.0: dropped, 38 and 39 °F would have shown four hours at or below 41.
    kept = [
        "2026-07-04 10:00,38,cold_hold,",
        "2026-07-04 12:00,{},,",
        "2026-07-04 14:00,39,,finished",
    ]

    def verdict(middle: str) -> set[str]:
        found = checked(tmp_path, [row.format(middle) for row in kept])
        return {
            f.verdict.value
            for f in found.binding
            if f.stage == "cold_hold" and "#cold" in f.requirement
        }

    assert verdict("38.5") == {"met"}
    assert verdict("480") == {"not_shown"}
    assert verdict("999") == {"not_shown"}


VALUES = st.one_of(
    st.floats(-60, 260, allow_nan=False).map(lambda v: round(v, 1)),
    st.sampled_from([math.nan, 85.0, 0.0, 32.0, 185.0, -127.0, 999.0, 255.0, 9.9e37, 135.0, 57.2]),
)


@st.composite
def channels(draw: st.DrawFn) -> Channel:
    values = draw(st.lists(VALUES, min_size=0, max_size=25))
    steps = draw(
        st.lists(st.sampled_from([0.0, 1.0, 5.0, 45.0]), min_size=len(values), max_size=len(values))
    )
    made = channel(
        values,
        at=np.cumsum(steps).tolist(),
        place=draw(st.sampled_from(list(Place))),
        celsius=draw(st.booleans()),
    )
    typed = draw(st.booleans())
    return replace(made, source="record") if typed else made


@st.composite
def all_notes(draw: st.DrawFn) -> list[Note]:
    minutes = draw(st.lists(st.integers(0, 500), max_size=4))
    return [
        note(
            m, step=draw(st.sampled_from(list(StageName))), event=draw(st.sampled_from(list(Event)))
        )
        for m in sorted(minutes)
    ]


@settings(max_examples=150, deadline=None)
@given(st.lists(channels(), min_size=1, max_size=3), all_notes())
def test_flags_stand_beside_readings_and_only_weaken(
    given_channels: list[Channel], notes: list[Note]
) -> None:
    before = [c.value.copy() for c in given_channels]
    found = log(*given_channels, notes=notes)
    corrected = correct(found)
    for i, trace in enumerate(given_channels):
        np.testing.assert_array_equal(trace.value, before[i])
        flags = found.flags[i]
        assert set(flags.tolist()) <= {int(f) for f in Flag}
        low, high = corrected.lower[i], corrected.upper[i]
        plain = flags < int(Flag.SUSPECT)
        # A plain reading decides as written, a doubted one not at all, and each has its reason.
        np.testing.assert_array_equal(low[plain], trace.value[plain])
        assert not np.isfinite(low[~plain]).any()
        assert not np.isfinite(high[~plain]).any()
        reasons = np.zeros(len(trace), np.bool_)
        for doubt in found.doubts:
            if doubt.channel == i:
                reasons[doubt.first : doubt.last + 1] = True
        np.testing.assert_array_equal(reasons, ~plain)
