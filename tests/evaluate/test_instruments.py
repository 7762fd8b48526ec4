"""Thermometers in an evaluation: guard bands, what bears readings out, bounds of what was due.

Requirements here are invented (a hot hold at 100 °F); tolerances are those of the FDA Food Code
2022 4-203.11, 2 °F or 1 °C. Sums by hand.
"""

from __future__ import annotations

from typing import TYPE_CHECKING, Any

import pytest

from tempwitness.criteria.papers import instrument
from tempwitness.model.forms import Instrument
from tempwitness.model.lot import Probe, ProbeCheck
from tempwitness.units import Unit
from tests.evaluate.codes import COLD, HOT, REACH, judged, rule
from tests.support import ZERO, Readings, channel, note, staged

if TYPE_CHECKING:
    from tempwitness.model.finding import Evaluation, Guard

DAY = 86400.0
TOLERANCE = Instrument.model_validate({"form": "instrument", "f": 2, "c": 1, "reads": "food"})


def ice(days_before: float, read: float = 32.0) -> ProbeCheck:
    return ProbeCheck(ZERO - days_before * DAY, "ice", read, 32.0, Unit.F, "ice")


def boiling(read: float, due: float, within: float) -> ProbeCheck:
    return ProbeCheck(
        ZERO - 60, "boiling", read, due, Unit.F, "boiling", due - within, due + within
    )


def asked(
    readings: Readings,
    test: dict[str, object] = HOT,
    **probe: Any,  # noqa: ANN401 - fields of a probe
) -> Evaluation:
    """Four hours of holding, read with the probe "P"."""
    core = channel(readings, probe="P")
    steps = [note(0, "hot_hold"), note(4, event="finished")]
    return judged(staged([core], steps, probes=[Probe("P", **probe)]), rule("a", test))


def guard(found: Evaluation) -> Guard:
    made = found.findings[0].evidence.guard
    assert made is not None
    return made


def test_the_guard_band_of_a_hold() -> None:
    # ±2 °F and steps of 0.1 °F: u 1.155, U 2.31, 100 + 1.645 x 1.155 = 101.90; Φ(1 / 1.155) =
    # Φ(0.866) = 0.807 (tables of the normal distribution).
    found = guard(asked([(0, 120), (4, 101)], accuracy=2.0, resolution=0.1))
    assert (found.probe, found.unit, found.margin) == ("P", "F", 1.0)
    assert (found.u, found.expanded) == (1.16, 2.31)
    assert found.accepted == pytest.approx(101.90)
    assert found.chance == pytest.approx(0.807)
    assert found.parts[0] == "±2 °F by its maker: u 1.15 °F"
    assert "where the probe sat in the food" in found.unknown


def test_beyond_the_limit_the_chance_is_the_other_one() -> None:
    found = asked([(0, 120), (4, 99)], accuracy=2.0, resolution=0.1)
    assert found.findings[0].verdict.value == "not_met"
    assert guard(found).margin == -1.0
    assert guard(found).chance == pytest.approx(0.193)  # 1 - 0.807
    assert found.findings[0].evidence.doubt.startswith("the reading stands 1 °F beyond the limit")
    assert "about 19%" in found.findings[0].evidence.doubt


def test_a_ceiling_is_kept_from_below() -> None:
    # The limit is at most 40 °F: 39 leaves 1 °F, 40 - 1.90 = 38.10.
    found = guard(asked([(0, 35), (4, 39)], COLD, accuracy=2.0, resolution=0.1))
    assert found.margin == 1.0
    assert found.accepted == pytest.approx(38.10)
    assert found.chance == pytest.approx(0.807)


def test_in_celsius_all_figures_are_in_celsius() -> None:
    # ±1 °C and steps of 0.1 °C: √(1/3 + 0.01/12) = 0.578; U 1.16.
    core = channel([(0, 60.0), (4, 45.0)], probe="P", celsius=True)
    steps = [note(0, "hot_hold"), note(4, event="finished")]
    probe = Probe("P", scale="C", accuracy=1.0, accuracy_unit=Unit.C, resolution=0.1,
                  resolution_unit=Unit.C)  # fmt: skip
    found = guard(judged(staged([core], steps, probes=[probe]), rule("a", HOT)))
    assert (found.unit, found.u, found.expanded) == ("C", 0.58, 1.16)


def test_of_a_cook_the_highest_reading_counts() -> None:
    """REACH asks for 150 °F: 151 reached it, and 170 later leaves no doubt."""
    core = channel([(0, 60), (2, 151), (3, 170), (4, 168)], probe="P")
    log = staged([core], [note(0, "cook"), note(4, event="finished")], probes=[Probe("P")])
    (found,) = judged(log, rule("a", REACH, stages=["cook"])).findings
    assert found.verdict.value == "met"
    assert found.evidence.guard is not None
    assert found.evidence.guard.margin == 20.0
    assert found.evidence.doubt == ""


def test_far_from_the_limit_nothing_is_said() -> None:
    found = asked([(0, 120), (4, 110)], accuracy=2.0, resolution=0.1)
    assert found.findings[0].evidence.doubt == ""
    assert guard(found).chance == 1.0


def test_right_on_the_limit_it_is_even() -> None:
    found = asked([(0, 120), (4, 100)], accuracy=2.0, resolution=0.1)
    assert found.findings[0].verdict.value == "met"
    assert guard(found).chance == 0.5
    assert found.findings[0].evidence.doubt.startswith("the reading stands right on the limit")


@pytest.mark.parametrize("days", [0.5, 29])
def test_a_young_check_vouches_for_the_probe(days: float) -> None:
    found = asked([(0, 120), (4, 120)], checks=(ice(days),))
    assert not [line for line in found.unsettled if "check of probe P" in line]


def test_an_old_check_does_not() -> None:
    """30 days: common practice, no source."""
    found = asked([(0, 120), (4, 120)], checks=(ice(40),))
    assert (
        "the last check of probe P was 40 days before its last reading: how true it read by then "
        "is not known"
    ) in found.unsettled
    assert found.findings[0].verdict.value == "met"


def test_each_probe_of_a_channel_is_named_if_nothing_vouches_for_it() -> None:
    log = staged(
        [channel([(0, 120), (4, 120)], probe="P"), channel([(1, 120)], probe="Q")],
        [note(0, "hot_hold"), note(4, event="finished")],
        probes=[Probe("P", checks=(ice(1),)), Probe("Q")],
    )
    lines = [line for line in judged(log, rule("a", HOT)).unsettled if "check of" in line]
    assert lines == ["no check of probe Q is on record: how true it reads is not known"]


def test_an_ice_check_rests_on_a_good_bath() -> None:
    iced = asked([(0, 120), (4, 120)], checks=(ice(1),))
    assert any("well-made bath" in line for line in iced.assumptions)
    assert not any("bath" in line for line in asked([(0, 120), (4, 120)]).assumptions)


def test_what_is_stated_of_a_probe_is_told() -> None:
    told = asked([(0, 120)], kind="pt100", tolerance_class="B", step=0.1).probes[0]
    assert told.accuracy == "class B of IEC 60751 (sensor)"
    assert told.resolution == "its figures look like steps of 0.1 °F"
    assert told.remark == ""
    other = asked([(0, 120)], kind="the old one", accuracy=2.0, resolution=0.5).probes[0]
    assert (other.accuracy, other.resolution) == ("±2 °F", "it shows steps of 0.5 °F")
    assert other.remark.startswith("'the old one' is no kind that this program knows")


@pytest.mark.parametrize(
    ("read", "within", "verdict"),
    [
        # Due 202.3 °F. Known to 0.9 °F: 203.4 is 0.2 to 2.0 off, 203.5 up to 2.1; 205.2 is 2.0 to
        # 3.8 off and 205.3 at least 2.1.
        (203.4, 0.9, "met"),
        (203.5, 0.9, "not_shown"),
        (205.2, 0.9, "not_shown"),
        (205.3, 0.9, "not_met"),
        (199.4, 0.9, "not_shown"),
        (199.3, 0.9, "not_met"),
        (204.3, 0.0, "met"),
        (204.4, 0.0, "not_met"),
    ],
)
def test_a_thermometer_is_judged_by_all_that_may_have_been_due(
    read: float, within: float, verdict: str
) -> None:
    outcome = instrument(TOLERANCE, Probe("P", checks=(boiling(read, 202.3, within),)))
    assert outcome.verdict.value == verdict
    assert (outcome.settle is not None) == (verdict == "not_shown")


def test_a_check_that_failed_outweighs_one_that_cannot_tell() -> None:
    unsure = boiling(203.5, 202.3, 0.9)
    outcome = instrument(TOLERANCE, Probe("P", checks=(unsure, ice(0, 29.0))))
    assert outcome.verdict.value == "not_met"
    assert "off by -3.0 °F" in outcome.measured
    outcome = instrument(TOLERANCE, Probe("P", checks=(ice(0), unsure)))
    assert outcome.verdict.value == "not_shown"
    assert "off by +0.3 to +2.1 °F" in outcome.measured
