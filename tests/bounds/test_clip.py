"""What is certain and what is possible, against every pattern written out (see `referee`)."""

from __future__ import annotations

from itertools import pairwise
from typing import Literal

import numpy as np
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from tempwitness.bounds.clip import Clip, clip, longest_certain, longest_possible
from tests.bounds.referee import OPS, Read, Setting, allowed, longest, patterns, total

MANY = settings(max_examples=400, deadline=None, derandomize=True)


@st.composite
def readings(draw: st.DrawFn) -> tuple[Read, ...]:
    hours = draw(st.lists(st.integers(0, 9), max_size=7, unique=True))
    level = st.one_of(st.none(), st.integers(-2, 2))
    return tuple(Read(h, draw(level), draw(st.booleans())) for h in sorted(hours))


@st.composite
def asked(draw: st.DrawFn) -> Setting:
    reads = draw(readings())
    start = draw(st.integers(0, 9))
    return Setting(
        reads,
        disturbed=frozenset(draw(st.sets(st.integers(0, 5), max_size=2))),
        start=start,
        end=draw(st.integers(start, min(start + 5, 10))),
        interval=draw(st.integers(1, 4)),
        op=draw(st.sampled_from(sorted(OPS))),
        passive_from=draw(st.sampled_from([float("inf"), float("inf"), 0.0, 2.0, 4.0])),
    )


def cut(setting: Setting) -> Clip:
    trace = setting.trace()
    infer: Literal["yes", "no"] | None = None
    if setting.infer:
        # "Not cooler than" speaks for a limit that must be kept above, and against one below.
        infer = "yes" if setting.op in (">=", ">") else "no"
    return clip(trace, trace.state(setting.limit()), setting.window(), infer=infer)


@MANY
@given(asked())
def test_each_point_and_each_stretch_says_what_all_patterns_share(setting: Setting) -> None:
    body = cut(setting)
    assert body.at[0] == setting.start
    assert body.at[-1] == setting.end
    for k, moment in enumerate(body.at.tolist()):
        may = allowed(setting, moment)
        assert (bool(body.yes[k]), bool(body.no[k])) == (may == {True}, may == {False})
    for k, (left, right) in enumerate(pairwise(body.at.tolist())):
        inner = [t / 2 for t in range(int(2 * left) + 1, int(2 * right))]
        may = frozenset().union(*(allowed(setting, t) for t in inner))
        if inner:
            got = (bool(body.between_yes[k]), bool(body.between_no[k]))
            assert got == (may == {True}, may == {False})


@MANY
@given(asked())
def test_totals_and_longest_stretches(setting: Setting) -> None:
    body = cut(setting)
    every = list(patterns(setting))
    totals = [total(p) for p in every]
    runs_of = [longest(p) for p in every]
    assert float(body.lengths[body.between_yes].sum()) == min(totals)
    assert float(body.lengths[~body.between_no].sum()) == max(totals)
    assert longest_certain(body)[0] == min(runs_of)
    assert longest_possible(body) == max(runs_of)
    assert body.always == all(all(p) for p in every)
    assert body.never == (not any(any(p) for p in every))


@MANY
@given(asked())
def test_the_longest_certain_stretch_is_where_it_is_said_to_be(setting: Setting) -> None:
    body = cut(setting)
    held, first, last = longest_certain(body)
    if held >= 0:
        assert body.at[last] - body.at[first] == held
        inside = [t / 2 for t in range(int(2 * body.at[first]), int(2 * body.at[last]) + 1)]
        assert all(allowed(setting, t) == {True} for t in inside)


@MANY
@given(asked())
def test_inference_is_marked_where_the_bracket_does_not_reach(setting: Setting) -> None:
    """What is inferred holds with passive physics and is open without it."""
    body = cut(setting)
    without = Setting(
        setting.reads, setting.disturbed, setting.start, setting.end, setting.interval, setting.op
    )
    for k in np.flatnonzero(body.inferred).tolist():
        middle = float(body.at[k] + 0.5)
        assert len(allowed(setting, middle)) == 1
        assert len(allowed(without, middle)) == 2
    if not setting.infer:
        assert not body.inferred.any()


@MANY
@given(asked())
def test_points_name_their_readings(setting: Setting) -> None:
    body = cut(setting)
    hours = [r.at for r in setting.reads]
    for moment, index in zip(body.at.tolist(), body.reading.tolist(), strict=True):
        assert (index >= 0) == (moment in hours)
        assert index < 0 or hours[index] == moment


@pytest.mark.parametrize(
    ("window", "points"),
    [
        # Readings at 2 and 6, interval 4. By hand: which points remain and what each says.
        pytest.param((2, 6), [(2, True), (6, True)], id="on both readings"),
        pytest.param((3, 5), [(3, True), (5, True)], id="between two readings"),
        pytest.param((4, 4), [(4, True), (4, True)], id="a moment between"),
        pytest.param((2, 2), [(2, True)], id="a moment on a reading"),
        pytest.param((0, 1), [(0, False), (1, False)], id="before the first"),
        pytest.param((7, 9), [(7, False), (9, False)], id="after the last"),
        pytest.param((0, 2), [(0, False), (2, True)], id="up to the first"),
        pytest.param((6, 8), [(6, True), (8, False)], id="from the last"),
        pytest.param((0, 8), [(0, False), (2, True), (6, True), (8, False)], id="around both"),
    ],
)
def test_edges_of_the_window(window: tuple[int, int], points: list[tuple[int, bool]]) -> None:
    body = cut(Setting((Read(2, 1), Read(6, 1)), frozenset(), *window, interval=4, op=">="))
    assert list(zip(body.at.tolist(), body.yes.tolist(), strict=True)) == points
    assert not body.no.any()


def test_no_reading_at_all_says_nothing() -> None:
    body = cut(Setting((), frozenset(), 0, 3, interval=4, op=">="))
    assert not (body.yes | body.no).any()
    assert not (body.between_yes | body.between_no).any()
    assert longest_certain(body)[0] == -1
    assert longest_possible(body) == 3


def test_the_interval_itself_still_brackets_and_a_second_more_does_not() -> None:
    trace = Setting((Read(0, 1), Read(4, 1)), frozenset(), 0, 4, interval=4, op=">=").trace()
    state = trace.state(Setting((), frozenset(), 0, 4, 4, ">=").limit())
    at_most = Setting((), frozenset(), 0, 4, 4, ">=").window()
    assert clip(trace, state, at_most).always
    shorter = type(at_most)(0, 4, 3.999)
    assert not clip(trace, state, shorter).always


def test_two_readings_of_one_moment_that_contradict_each_other_keep_nothing() -> None:
    reads = (Read(0, 1), Read(2, 1), Read(2, -1), Read(4, 1))
    body = cut(Setting(reads, frozenset(), 0, 4, interval=4, op=">="))
    assert not body.always
    assert body.no.tolist() == [False, True, True, False]
    assert longest_certain(body)[0] == 0  # nothing but single moments
