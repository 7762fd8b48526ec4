"""Worked examples of date marks and thermometers.

Sources: FDA Food Code 2022 3-501.17(A) as reproduced in 12 VAC 5-421-830 and Minn. R. 4626.0400
(7 days, the day of preparation being day 1; freezing stops the count); 4-203.11 and 4-203.12 as
reproduced in California Health and Safety Code 114159(c) and 25-A DCMR 1511.
"""

from __future__ import annotations

from datetime import UTC, datetime

import pytest

from tempwitness.model.finding import Finding
from tempwitness.model.logs import Note
from tempwitness.model.lot import Probe, ProbeCheck
from tempwitness.model.vocabulary import Event, StageName
from tempwitness.units import Unit
from tests.support import ZERO, channel, found, judge, note, staged


def moment(text: str) -> float:
    return datetime.fromisoformat(text).replace(tzinfo=UTC).timestamp()


def dated(when: str, *, step: str | None = None, event: str | None = None) -> Note:
    return Note(
        at=moment(when),
        step=None if step is None else StageName(step),
        event=None if event is None else Event(event),
        text="",
        piece=None,
        method="",
        source="test",
        line=1,
    )


def kept_until(last: str, *, prepared: str, frozen: tuple[str, str] | None = None) -> Finding:
    """Cook at noon of a day, mark the date, keep cold until noon of another; perhaps freeze."""
    steps = [
        dated(f"{prepared}T10:00", step="cook"),
        dated(f"{prepared}T12:00", step="prep"),
        dated(f"{prepared}T13:00", step="cold_hold"),
        dated(f"{prepared}T13:00", event="date_marked"),
    ]
    if frozen is not None:
        steps += [
            dated(f"{frozen[0]}T23:59:59", step="freeze"),
            dated(f"{frozen[1]}T09:00", step="thaw"),
        ]
    steps.append(dated(f"{last}T12:00", event="finished"))
    cold = channel([(f"0:0:{moment(f'{prepared}T12:30') - ZERO}", 40.0)])
    return found(judge(staged([cold], steps), asked=moment("2030-01-01")), "date-mark")


@pytest.mark.parametrize(
    ("prepared", "frozen", "last", "after"),
    [
        pytest.param("2024-05-31", None, "2024-06-06", "2024-06-07", id="V-42"),
        # 2024 has a 29 February: 26, 27, 28, 29 February, 1, 2 and 3 March are seven days.
        pytest.param("2024-02-26", None, "2024-03-03", "2024-03-04", id="V-43"),
        # 3 and 4 June are days 1 and 2; 15 to 19 June are days 3 to 7.
        pytest.param(
            "2024-06-03", ("2024-06-04", "2024-06-15"), "2024-06-19", "2024-06-20", id="V-44"
        ),
    ],
)
def test_last_day(prepared: str, frozen: tuple[str, str] | None, last: str, after: str) -> None:
    good = kept_until(last, prepared=prepared, frozen=frozen)
    late = kept_until(after, prepared=prepared, frozen=frozen)
    assert (good.verdict.value, late.verdict.value) == ("met", "not_met")
    assert f"last day {last}" in good.reason


def test_t25_freezing_pauses_the_count_and_mixing_takes_the_oldest() -> None:
    """Two days before the freezer and five after it make seven, however long it lay there."""
    for thawed, last in (("2024-06-15", "2024-06-19"), ("2024-08-15", "2024-08-19")):
        frozen = ("2024-06-04", thawed)
        assert kept_until(last, prepared="2024-06-03", frozen=frozen).verdict.value == "met"
    steps = [
        dated("2024-06-03T13:00", step="cold_hold"),
        dated("2024-06-05T12:00", event="finished"),
    ]
    mixed = staged([channel([(0, 40.0)])], steps, facts={"combined_dates": "yes"})
    asked = found(judge(mixed, asked=moment("2030-01-01")), "date-combined")
    assert asked.verdict.value == "not_shown"
    assert "first" in asked.limit


@pytest.mark.parametrize(
    ("readings", "expected"),
    [
        # Cold when it went into the freezer, or read cold there: 16 days are not counted.
        pytest.param([(6, 70.0), (6.9, 41.0)], "met", id="cold-before"),
        pytest.param([(6, 70.0), (8, 30.0)], "met", id="cold-in-the-freezer"),
        # Never read cold: whether it lay frozen all the time is not shown.
        pytest.param([], "not_shown", id="never-read"),
    ],
)
def test_t25_food_that_cools_in_the_freezer_is_not_counted_against(
    readings: list[tuple[float, float]], expected: str
) -> None:
    steps = [
        note(0, "cook"),
        note(4, "cool"),
        note(4, event="date_marked"),
        note(7, "freeze"),
        note(20 * 24, "thaw"),
        note(22 * 24, event="finished"),
    ]
    core = channel([(0, 60.0), (3, 160.0), (4, 200.0), *readings])
    assert found(judge(staged([core], steps)), "date-mark").verdict.value == expected


def checked(
    read: float, expected: float, *, scale: str, reads: str = "food", kind: str = "ice"
) -> str:
    """Verdict on a thermometer by one check."""
    unit = Unit.F if scale == "F" else Unit.C
    probe = Probe(
        id="a",
        scale="F" if scale == "F" else "both" if scale == "both" else "C",
        reads="air" if reads == "air" else "food",
        checks=(
            ProbeCheck(
                at=moment("2026-07-04T04:00"),
                kind="ice" if kind == "ice" else "boiling" if kind == "boiling" else "reference",
                read=read,
                expected=expected,
                unit=unit,
                text=f"{read} in {kind}",
            ),
        ),
    )
    log = staged([channel([(0, 140.0)], probe="a")], [], probes=[probe])
    return found(judge(log), f"thermometer-{reads}").verdict.value


@pytest.mark.parametrize(
    ("read", "scale", "expected"),
    [
        pytest.param(34.0, "F", "met", id="V-45-34.0"),
        pytest.param(34.1, "F", "not_met", id="V-45-34.1"),
        pytest.param(30.0, "F", "met", id="V-45-30.0"),
        pytest.param(29.9, "F", "not_met", id="V-45-29.9"),
        pytest.param(1.0, "C", "met", id="V-46-1.0-C"),
        pytest.param(1.1, "C", "not_met", id="V-46-1.1-C"),
        pytest.param(1.0, "both", "met", id="V-46-1.0-both"),
        pytest.param(1.1, "both", "not_met", id="V-46-1.1-both"),
    ],
)
def test_ice_point(read: float, scale: str, expected: str) -> None:
    assert checked(read, 32.0 if scale == "F" else 0.0, scale=scale) == expected


@pytest.mark.parametrize(
    ("read", "expected"),
    [
        pytest.param(203.0, "met", id="V-47-3.0"),
        pytest.param(203.1, "not_met", id="V-47-3.1"),
        pytest.param(197.0, "met", id="V-47-minus-3.0"),
        pytest.param(196.9, "not_met", id="V-47-minus-3.1"),
    ],
)
def test_air_thermometer_against_a_reference(read: float, expected: str) -> None:
    assert checked(read, 200.0, scale="F", reads="air", kind="reference") == expected


@pytest.mark.parametrize(
    ("read", "expected"),
    [
        # Water boils at 202.3 °F at 5280 ft: standard atmosphere and IAPWS-IF97 region 4.
        pytest.param(203.5, "met", id="V-48-203.5"),
        pytest.param(204.4, "not_met", id="V-48-204.4"),
        pytest.param(200.3, "met", id="V-48-200.3"),
        pytest.param(200.2, "not_met", id="V-48-200.2"),
    ],
)
def test_boiling_point_at_a_height(read: float, expected: str) -> None:
    assert checked(read, 202.3, scale="F", kind="boiling") == expected
