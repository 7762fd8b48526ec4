"""The second answer: for every temperature history that the readings allow.

Readings, error and rates are those of worked examples whose figures come from a mixed-integer
program (see `tests/bounds/test_envelope.py`), or arithmetic in the test's own words. The rates are
stated by the record; they are smaller than what conduction allows for the thin food assumed here.
FDA Food Code 2022: 3-501.16(A) 135 °F (57 °C) or above, 41 °F (5 °C) or less; 3-501.14(A) 135 to
70 °F within 2 h and to 41 °F within 6 h; 3-401.11(B) the ladder for roasts ends at 158 °F.
"""

from __future__ import annotations

from dataclasses import dataclass
from typing import TYPE_CHECKING

import pytest

from tempwitness.errors import InputError
from tempwitness.pipeline import check

if TYPE_CHECKING:
    from pathlib import Path

    from tempwitness.model.finding import Evaluation, Finding, Strict

#: ±1.5 °F by its maker and half of a step of 1 °F: 2 °F in all.
_PROBE = '[[probe]]\nid = "A"\naccuracy = "1.5 F"\nresolution = "1 F"\n'


@dataclass(frozen=True)
class Told:
    """A record in short: stages and readings by clock time, rates, and more of it as TOML."""

    steps: dict[str, str]
    readings: dict[str, str]
    rates: tuple[str, str] | None = None
    end: str = "finished"
    more: str = ""
    food: str = ""
    probe: str = _PROBE

    def evaluate(self, folder: Path) -> Evaluation:
        head = 'schema = 1\nlot = "t"\ncode = "us/food-code/2022"\nzone = "UTC"\n'
        food = f'[food]\nname = "lamb chops"\nform = "intact"\nweight = "9 lb"\n{self.food}\n'
        parts = [head, food, self.probe, self.more]
        if self.rates is not None:
            up, down = self.rates
            parts.append(f'[[rate]]\nup = "{up}"\ndown = "{down}"\nreason = "a test"\n')
        for clock, step in self.steps.items():
            key = "event" if step == self.end else "step"
            parts.append(f'[[note]]\nat = "2026-07-04 {clock}"\n{key} = "{step}"\n')
        for clock, value in self.readings.items():
            parts.append(f'[[reading]]\nat = "2026-07-04 {clock}"\ntemp = "{value}"\n')
        path = folder / "record.toml"
        path.write_text("\n".join(parts), encoding="utf-8")
        return check(path).evaluation


def _finding(evaluation: Evaluation, requirement: str) -> Finding:
    (found,) = [
        f for f in evaluation.findings if f.requirement.endswith(f"#{requirement}") and f.strict
    ]
    return found


def _strict(told: Told, folder: Path, requirement: str) -> Strict:
    strict = _finding(told.evaluate(folder), requirement).strict
    assert strict is not None
    return strict


_NO_HEAT = '[[rate]]\nstage = "cool"\nup = "0 F/min"\nreason = "in the refrigerator"\n'
_HOLD = {"10:00": "hot_hold", "10:30": "finished"}


def test_two_readings_far_apart_do_not_show_what_lies_between(tmp_path: Path) -> None:
    """141 °F twice in half an hour, ±2, half a degree a minute: as low as 131.5 °F."""
    told = Told(_HOLD, {"10:00": "141 F", "10:30": "141 F"}, ("0.5 F/min", "0.5 F/min"))
    finding = _finding(told.evaluate(tmp_path), "hot-hold")
    assert finding.verdict.value == "met"
    assert finding.strict is not None
    assert finding.strict.verdict.value == "not_shown"
    assert finding.strict.margin == pytest.approx(-3.5, abs=0.01)
    assert "as low as 131.5 °F, about 10:15" in finding.strict.reason


def test_a_warmer_pair_shows_it(tmp_path: Path) -> None:
    """3.5 °F more in each reading reach 135 just so; 4 more keep half a degree of room."""
    readings = {"10:00": "145 F", "10:30": "145 F"}
    strict = _strict(Told(_HOLD, readings, ("0.5 F/min", "0.5 F/min")), tmp_path, "hot-hold")
    assert strict.verdict.value == "met"
    assert strict.margin == pytest.approx(0.5, abs=0.01)


@pytest.mark.parametrize(("read", "answer"), [("132 F", "not_met"), ("133 F", "not_shown")])
def test_one_reading_disproves_only_beyond_its_error(
    tmp_path: Path, read: str, answer: str
) -> None:
    """133 + 2 may have been 135 °F; 132 + 2 was not."""
    readings = {"10:00": "150 F", "10:15": read, "10:30": "150 F"}
    told = Told(_HOLD, readings, ("5 F/min", "5 F/min"))
    finding = _finding(told.evaluate(tmp_path), "hot-hold")
    assert finding.verdict.value == "not_met"
    assert finding.strict is not None
    assert finding.strict.verdict.value == answer


def test_celsius_is_judged_by_the_celsius_figure(tmp_path: Path) -> None:
    """58 °C twice in 10 min, ±2 °F = 1.11 °C, 0.18 °F/min = 0.1 °C/min: 58 - 1.11 - 0.5 = 56.39.

    That is below 57 °C; with 59 °C it is 57.39 and above, 0.39 °C of room.
    """
    steps = {"10:00": "hot_hold", "10:10": "finished"}
    rates = ("0.18 F/min", "0.18 F/min")
    low = Told(steps, {"10:00": "58 C", "10:10": "58 C"}, rates)
    assert _strict(low, tmp_path, "hot-hold").margin == pytest.approx(-0.61, abs=0.01)
    high = Told(steps, {"10:00": "59 C", "10:10": "59 C"}, rates)
    strict = _strict(high, tmp_path, "hot-hold")
    assert (strict.verdict.value, strict.unit) == ("met", "C")
    assert strict.margin == pytest.approx(0.39, abs=0.01)


def test_readings_that_cannot_both_be_true_are_named(tmp_path: Path) -> None:
    """150 and 100 °F ten minutes apart, ±2 at 1.5 °F/min: 50 is more than 15 + 4."""
    steps = {"10:00": "hot_hold", "10:10": "finished"}
    told = Told(steps, {"10:00": "150 F", "10:10": "100 F"}, ("1.5 F/min", "1.5 F/min"))
    strict = _strict(told, tmp_path, "hot-hold")
    assert strict.verdict.value == "not_shown"
    assert "10:00 and 10:10 cannot both be true" in strict.reason


def test_the_time_of_a_fall_is_bounded_by_rates(tmp_path: Path) -> None:
    """From 140 °F at 10:00 down at most 1 °F/min, ±2: at 10:03 it was not below 135 yet.

    The clock may start from 10:03 on. At 11:50 it reads 66, up to 68 °F, so that it was at 70 at
    most by 11:48: the fall took at most 1 h 45 min.
    """
    steps = {"10:00": "cool", "11:50": "finished"}
    told = Told(steps, {"10:00": "140 F", "11:50": "66 F"}, ("1 F/min", "1 F/min"))
    strict = _strict(told, tmp_path, "cool-135-to-70")
    assert strict.verdict.value == "met"
    assert strict.most_s == pytest.approx(105 * 60, abs=0.1)


def test_a_fall_that_took_too_long_in_every_history(tmp_path: Path) -> None:
    """At 10:00 it reads 132, at most 134 °F, and nothing warms it: the clock runs.

    At 12:05 it reads 75, at least 73 °F, a minute and a half above 70: at least 2 h 6 min 30 s.
    """
    steps = {"09:50": "cook", "10:00": "cool", "13:00": "finished"}
    readings = {"09:50": "150 F", "10:00": "132 F", "12:05": "75 F", "13:00": "60 F"}
    told = Told(steps, readings, ("5 F/min", "2 F/min"), more=_NO_HEAT)
    strict = _strict(told, tmp_path, "cool-135-to-70")
    assert strict.verdict.value == "not_met"
    assert strict.least_s == pytest.approx(126.5 * 60, abs=0.1)


def test_a_rate_that_is_stated_for_a_closed_box_shows_a_long_rest(tmp_path: Path) -> None:
    """Seven hours unread: nothing warms it, so it was never cooler than 152 - 2 at the end."""
    steps = {"04:00": "cook", "10:00": "rest", "17:00": "finished"}
    readings = {"09:59": "203 F", "10:00": "203 F", "17:00": "152 F"}
    box = '[[rate]]\nstage = "rest"\nup = "0 F/min"\nreason = "closed box without heat"\n'
    plain = _strict(Told(steps, readings), tmp_path, "hot-hold")
    assert plain.verdict.value == "not_shown"
    closed = _strict(Told(steps, readings, more=box), tmp_path, "hot-hold")
    assert closed.verdict.value == "met"
    assert closed.margin == pytest.approx(15.0, abs=0.01)


def test_what_disturbs_the_food_breaks_the_bounds(tmp_path: Path) -> None:
    more = '[[note]]\nat = "2026-07-04 10:15"\nevent = "stirred"\n'
    readings = {"10:00": "150 F", "10:30": "150 F"}
    told = Told(_HOLD, readings, ("0.1 F/min", "0.1 F/min"), more=more)
    strict = _strict(told, tmp_path, "hot-hold")
    assert strict.verdict.value == "not_shown"
    assert "nothing bounds" in strict.reason


def test_a_single_finish_reading_shows_a_short_hold(tmp_path: Path) -> None:
    """Chops, 3-401.11(A)(1): 145 °F for 15 s. 148 °F at least fall to 145 in six minutes."""
    steps = {"10:00": "cook", "10:40": "serve", "11:00": "finished"}
    food = 'cut = "steak"'
    told = Told(steps, {"10:30": "150 F"}, ("5 F/min", "0.5 F/min"), food=food)
    finding = _finding(told.evaluate(tmp_path), "cook-intact")
    assert finding.strict is not None
    assert finding.strict.verdict.value == "met"


def test_passive_food_is_bounded_by_its_surroundings(tmp_path: Path) -> None:
    """140 °F, and 60 two hours later, ±1, in 36 to 41 °F, 0.3 to 0.9 of the difference an hour.

    It is at 135 °F or above until 36 + 103 exp(-0.9 t) = 135, 2.641 min. It is at 70 °F or below
    from 36 + 25 exp(0.9 (2 - t)) = 70 on, 99.501 min. So the fall took at most 96.860 min.
    """
    steps = {"10:00": "cool", "12:00": "finished"}
    law = (
        '[[passive]]\nstage = "cool"\nambient = ["36 F", "41 F"]\nper_hour = [0.3, 0.9]\n'
        'reason = "broth, stirred all the time"\n'
    )
    told = Told(
        steps,
        {"10:00": "140 F", "12:00": "60 F"},
        more=law,
        food='cut = "pan"',
        probe='[[probe]]\nid = "A"\naccuracy = "0.5 F"\nresolution = "1 F"\n',
    )
    evaluation = told.evaluate(tmp_path)
    assert any("broth, stirred all the time" in line for line in evaluation.strict_basis)
    strict = _finding(evaluation, "cool-135-to-70").strict
    assert strict is not None
    assert strict.verdict.value == "met"
    assert strict.most_s == pytest.approx(96.860 * 60, abs=0.1)


def test_the_answer_of_a_requirement_without_readings_is_one(tmp_path: Path) -> None:
    evaluation = Told(_HOLD, {"10:00": "150 F", "10:30": "150 F"}).evaluate(tmp_path)
    for finding in evaluation.findings:
        if finding.requirement.endswith("#probe-accuracy") or finding.stage == "":
            assert finding.strict is None
    assert any(f.strict is not None for f in evaluation.findings)


def _passive(ambient: str, per_hour: str) -> str:
    return (
        f'[[passive]]\nstage = "cool"\nambient = {ambient}\nper_hour = {per_hour}\nreason = "x"\n'
    )


@pytest.mark.parametrize(
    ("more", "words"),
    [
        ('[[rate]]\nreason = "x"\n', "neither how fast the food can warm"),
        ('[[rate]]\nup = "-1 F/min"\nreason = "x"\n', "not a rate of change"),
        ('[[rate]]\nup = "1 F"\nreason = "x"\n', "not a rate of change"),
        (_passive('"38 F"', "[0.3, 0.9]"), "a list of two"),
        (_passive('["41 F", "36 F"]', "[0.3, 0.9]"), "lower one"),
        (_passive('["36 F", "41 F"]', "[0, 0.9]"), "above 0"),
    ],
)
def test_what_cannot_be_understood_is_refused(tmp_path: Path, more: str, words: str) -> None:
    with pytest.raises(InputError, match=words):
        Told(_HOLD, {"10:00": "150 F", "10:30": "150 F"}, more=more).evaluate(tmp_path)


@pytest.mark.parametrize("thickness", ["4", "0 in", "four in"])
def test_a_thickness_needs_its_unit(tmp_path: Path, thickness: str) -> None:
    told = Told(_HOLD, {"10:00": "150 F"}, food=f'thickness = "{thickness}"')
    with pytest.raises(InputError, match="not a thickness"):
        told.evaluate(tmp_path)
