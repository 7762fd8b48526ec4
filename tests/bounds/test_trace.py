"""How single readings are compared, how runs are found and how readings come together."""

from __future__ import annotations

from itertools import groupby

import numpy as np
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from tempwitness.bounds.clip import runs
from tempwitness.bounds.gather import gather
from tempwitness.bounds.trace import Trace
from tempwitness.calibration import correct
from tempwitness.model.figures import Limit
from tempwitness.model.logs import Channel, CorrectedLog, Note, RawLog
from tempwitness.model.lot import Lot, Piece
from tempwitness.model.vocabulary import Place
from tempwitness.quality import qualify
from tests.support import FOOD_CODE, ZERO, channel, lamb, note, seconds


@settings(max_examples=300, deadline=None, derandomize=True)
@given(st.lists(st.booleans(), max_size=9))
def test_runs(mask: list[bool]) -> None:
    expected, position = [], 0
    for holds, members in groupby(mask):
        count = len(list(members))
        if holds:
            expected.append((position, position + count))
        position += count
    firsts, lasts = runs(np.array(mask, dtype=bool))
    assert list(zip(firsts.tolist(), lasts.tolist(), strict=True)) == expected


@pytest.mark.parametrize(
    ("op", "certain", "certainly_not"),
    [
        # Readings known as 134, 135, 136 and as the ranges 134-135, 135-136, 134-136; limit 135.
        (">=", [0, 1, 1, 0, 1, 0], [1, 0, 0, 0, 0, 0]),
        (">", [0, 0, 1, 0, 0, 0], [1, 1, 0, 1, 0, 0]),
        ("<=", [1, 1, 0, 1, 0, 0], [0, 0, 1, 0, 0, 0]),
        ("<", [1, 0, 0, 0, 0, 0], [0, 1, 1, 0, 1, 0]),
    ],
)
@pytest.mark.parametrize("celsius", [False, True])
def test_a_reading_known_as_a_range(
    op: str, certain: list[int], certainly_not: list[int], celsius: bool
) -> None:
    lower = np.array([134.0, 135, 136, 134, 135, 134])
    upper = np.array([134.0, 135, 136, 135, 136, 136])
    one = np.zeros(6, dtype=np.int64)
    calm = np.ones(5, dtype=bool)
    scale = np.full(6, celsius)
    trace = Trace("1", Place.CORE, "", np.arange(6.0), lower, upper, scale, calm, one, one)
    figures = (999.0, 135.0) if celsius else (135.0, 999.0)
    yes, no, *_ = trace.against(*figures, op)
    assert yes.tolist() == [bool(v) for v in certain]
    assert no.tolist() == [bool(v) for v in certainly_not]


def test_each_reading_is_compared_in_its_own_unit() -> None:
    """57 °C is 134.6 °F and keeps the limit 135 °F / 57 °C; 134.9 °F does not."""
    log = _log([channel([(0, 57.0)], celsius=True), channel([(1, 134.9)])])
    (trace,) = gather(log)
    yes, no, *_ = trace.against(135.0, 57.0, ">=")
    assert (yes.tolist(), no.tolist()) == ([True, False], [False, True])


def _log(channels: list[Channel], notes: list[Note] | None = None) -> CorrectedLog:
    pieces = (Piece("1"), Piece("2"))
    lot = Lot(id="t", food=lamb(), code=FOOD_CODE, zone="UTC", pieces=pieces)
    return correct(qualify(RawLog(lot, tuple(channels), tuple(notes or ()), (), ())))


def test_one_point_from_two_files_is_one_trace_in_order_of_time() -> None:
    log = _log([channel([(0, 150.0), (2, 148.0)]), channel([(1, 149.0), (3, 147.0)])])
    (trace,) = gather(log)
    assert trace.lower.tolist() == [150, 149, 148, 147]
    assert trace.channel.tolist() == [0, 1, 0, 1]
    assert trace.row.tolist() == [0, 0, 1, 1]


def test_pieces_points_and_places_stay_apart() -> None:
    log = _log(
        [
            channel([(0, 150.0)]),
            channel([(0, 150.0)], point="B"),
            channel([(0, 150.0)], piece="2"),
            channel([(0, 150.0)], place=Place.SURFACE),
            channel([(0, 250.0)], place=Place.AIR),
        ]
    )
    names = [(t.piece, t.place.value, t.point) for t in gather(log)]
    assert names == [
        ("1", "core", ""), ("1", "core", "B"), ("2", "core", ""), ("1", "surface", ""),
        ("", "air", ""),
    ]  # fmt: skip


def test_a_reading_that_says_nothing_is_left_out_and_a_doubtful_one_breaks_the_bracket() -> None:
    one = channel([(0, 150.0), (1, np.nan), (2, 149.0), (3, 230.0), (4, 148.0)])
    (trace,) = gather(_log([one]))
    # The empty cell at 1 is gone; 230 °F of food that holds water is doubted.
    assert (trace.at - ZERO).tolist() == [seconds(h) for h in (0, 2, 3, 4)]
    assert trace.lower.tolist() == [150, 149, -np.inf, 148]
    assert trace.upper.tolist() == [150, 149, np.inf, 148]


@pytest.mark.parametrize(
    ("moment", "calm"),
    [
        pytest.param("0:30", [False, True], id="between the first two"),
        pytest.param(1, [True, False], id="at a reading: what follows is another food"),
        pytest.param("1:30", [True, False], id="between the last two"),
        pytest.param(0, [False, True], id="at the first reading"),
        pytest.param(2, [True, True], id="at the last reading"),
        pytest.param(-1, [True, True], id="before all"),
    ],
)
def test_where_a_disturbance_breaks_the_trace(moment: str | float, calm: list[bool]) -> None:
    notes = [note(moment, event="stirred")]
    (trace,) = gather(_log([channel([(0, 150.0), (1, 149.0), (2, 148.0)])], notes))
    assert trace.undisturbed.tolist() == calm


@pytest.mark.parametrize(
    ("event", "breaks"),
    [
        ("stirred", True), ("sliced", True), ("shredded", True), ("portioned", True),
        ("probe_moved", True), ("heat_lost", True), ("topped_up", True), ("heat_back", False),
        ("date_marked", False), ("time_marked", False), ("remark", False), ("discarded", False),
        ("finished", False),
    ],
)  # fmt: skip
def test_which_events_disturb(event: str, breaks: bool) -> None:
    """The list is the project's own: anything that moves the food or the probe, or its heat."""
    two = channel([(0, 150.0), (1, 149.0)])
    (trace,) = gather(_log([two], [note("0:30", event=event)]))
    assert trace.undisturbed.tolist() == [not breaks]


def test_a_disturbance_of_one_piece_leaves_the_others_alone() -> None:
    pieces = [channel([(0, 150.0), (1, 149.0)], piece=p) for p in ("1", "2")]
    calm = [t.undisturbed.tolist() for t in gather(_log(pieces, [note("0:30", event="sliced",
            piece="2")]))]  # fmt: skip
    assert calm == [[True], [False]]


@pytest.mark.parametrize(
    ("op", "values", "yes", "no"),
    [
        # By hand, limit 135: the coldest counts where it must be warm, the warmest where cold.
        (">=", (140, 134), False, True),
        (">=", (140, 136), True, False),
        ("<=", (140, 134), False, True),
        ("<=", (135, 134), True, False),
    ],
)
def test_readings_of_one_moment_speak_together(
    op: str, values: tuple[float, float], yes: bool, no: bool
) -> None:
    """Two files with a reading at 1:00; what stands before and after stands alone."""
    one, other = ([(1, v)] for v in values)
    (trace,) = gather(_log([channel([(0, 150.0), (2, 120.0)]), channel(one), channel(other)]))
    got = trace.state(Limit.model_validate({"f": 135, "c": 57, "op": op}))
    warm = op == ">="
    assert got[0].tolist() == [warm, yes, yes, not warm]
    assert got[1].tolist() == [not warm, no, no, warm]


def test_a_doubtful_reading_of_the_same_moment_speaks_for_no_other() -> None:
    (trace,) = gather(_log([channel([(1, 150.0)]), channel([(1, 230.0)])]))
    yes, no, *_ = trace.state(Limit.model_validate({"f": 135, "c": 57, "op": ">="}))
    assert sorted(yes.tolist()) == [False, True]
    assert not no.any()
