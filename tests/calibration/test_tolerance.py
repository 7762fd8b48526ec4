"""Tolerance classes of sensors, against the formulas that the standards print.

IEC 60751: class AA 0.1 + 0.0017 |t|, A 0.15 + 0.002 |t|, B 0.3 + 0.005 |t|, C 0.6 + 0.01 |t|.
IEC 60584-1: type K class 1 the greater of 1.5 and 0.004 |t|, class 2 of 2.5 and 0.0075 |t|; type T
class 1 of 0.5 and 0.004 |t|, class 2 of 1 and 0.0075 |t|. All in °C; sums by hand.
"""

from __future__ import annotations

import numpy as np
import pytest

from tempwitness.calibration.accuracy import accuracy, class_of
from tempwitness.model.lot import Probe
from tempwitness.rulebook.thermometers import kind_of, probe_figures
from tempwitness.units import Unit


@pytest.mark.parametrize(
    ("kind", "name", "celsius", "tolerance"),
    [
        ("rtd", "AA", 100.0, 0.27),  # 0.1 + 0.17
        ("rtd", "A", 57.2, 0.264),  # 0.15 + 0.1144
        ("rtd", "A", 93.3, 0.337),  # 0.15 + 0.1866
        ("rtd", "B", 57.2, 0.586),  # 0.3 + 0.286
        ("rtd", "B", 93.3, 0.7665),  # 0.3 + 0.4665
        ("rtd", "B", -20.0, 0.4),  # 0.3 + 0.1
        ("rtd", "C", 100.0, 1.6),  # 0.6 + 1
        ("thermocouple_k", "1", 93.3, 1.5),
        ("thermocouple_k", "1", 375.0, 1.5),
        ("thermocouple_k", "1", 400.0, 1.6),  # 0.004 x 400
        ("thermocouple_k", "2", 93.3, 2.5),
        ("thermocouple_k", "2", 333.0, 2.5),
        ("thermocouple_k", "2", 400.0, 3.0),  # 0.0075 x 400
        ("thermocouple_t", "1", 93.3, 0.5),
        ("thermocouple_t", "2", 200.0, 1.5),  # 0.0075 x 200
    ],
)
def test_a_class_has_the_tolerance_of_its_standard(
    kind: str, name: str, celsius: float, tolerance: float
) -> None:
    sensor = probe_figures().classes[kind, name]
    assert sensor.tolerance(np.array([celsius])) == pytest.approx([tolerance], abs=0.0005)


def test_grades_of_other_standards_are_not_mixed_in() -> None:
    """The American grades of platinum are 0.13 + 0.0017 |t| and 0.25 + 0.0042 |t|."""
    at = np.array([0.0])
    found = {float(c.tolerance(at)[0]) for c in probe_figures().classes.values()}
    assert not {0.13, 0.25} & found


@pytest.mark.parametrize(
    ("words", "kind"),
    [
        ("Pt100", "rtd"),
        ("platinum RTD, four wires", "rtd"),
        ("leave-in thermistor", "thermistor"),
        ("type K thermocouple", "thermocouple_k"),
        ("Thermocouple T", "thermocouple_t"),
        ("thermocouple pen", "thermocouple"),
        ("bimetal dial", "dial"),
        ("infrared", "infrared"),
    ],
)
def test_kinds_are_known_by_their_words(words: str, kind: str) -> None:
    found = kind_of(words)
    assert found is not None
    assert found.id == kind


@pytest.mark.parametrize("words", ["", "leave-in probe", "chart", "the blue one"])
def test_other_words_name_no_kind(words: str) -> None:
    assert kind_of(words) is None


def test_what_the_maker_states_comes_before_the_class() -> None:
    probe = Probe("p", kind="pt100", tolerance_class="A", accuracy=0.5, accuracy_unit=Unit.C)
    found = accuracy(probe, np.array([135.0]))
    assert found.f == pytest.approx([0.9])  # 0.5 °C x 1.8
    assert not found.assumed


def test_a_class_counts_at_the_temperature_of_the_reading() -> None:
    # 134.96 °F is 57.2 °C: 0.2644 °C x 1.8 = 0.476 °F; 32 °F: 0.15 x 1.8 = 0.27 °F.
    found = accuracy(Probe("p", kind="pt100", tolerance_class="A"), np.array([134.96, 32.0]))
    assert found.f == pytest.approx([0.476, 0.27], abs=0.0005)
    assert "bounds the sensor alone" in found.words
    assert not found.assumed


def test_outside_its_range_a_class_says_nothing() -> None:
    """A film sensor of class A is good from -30 to 300 °C: at -40 °C 2 °F are assumed."""
    found = accuracy(Probe("p", kind="pt100", tolerance_class="A"), np.array([-40.0, 32.0]))
    assert found.f == pytest.approx([2.0, 0.27])
    assert found.assumed
    assert "beyond -30 to 300 °C" in found.words


def test_without_a_word_the_printed_tolerance_is_assumed() -> None:
    # FDA Food Code 2022 4-203.11: 2 °F, or 1 °C = 1.8 °F; 4-203.12 for air: 3 °F.
    at = np.array([135.0])
    assert accuracy(Probe("p"), at).f == pytest.approx([2.0])
    assert accuracy(Probe("p", scale="C"), at).f == pytest.approx([1.8])
    assert accuracy(Probe("p", reads="air"), at).f == pytest.approx([3.0])
    assert "is assumed" in accuracy(Probe("p"), at).words


def test_a_class_without_its_kind_is_none() -> None:
    assert class_of(Probe("p", kind="dial", tolerance_class="A")) is None
    assert class_of(Probe("p", tolerance_class="A")) is None
