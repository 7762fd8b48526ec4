"""How fast food can change: the factors, worked rates, and what a record may say of them.

The factors are the greatest slope of the temperature in the middle of a body after a step at its
surface. They are worked out here from the series solutions of the heat equation (Incropera and
DeWitt, Fundamentals of Heat and Mass Transfer, section 5.5 and 5.6, from memory).
"""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import replace
from typing import Literal

import numpy as np
import pytest
from scipy.special import j1, jn_zeros

from tempwitness.model.logs import Stage
from tempwitness.model.lot import Food, Lot, Piece, StatedRate
from tempwitness.model.vocabulary import Cut, Decided, Form, Species, StageName
from tempwitness.strict.figures import rate_figures
from tempwitness.strict.rates import stage_rate, what_bounds

_IN = 0.0254


def _flat(time: np.ndarray) -> np.ndarray:
    n = np.arange(200)
    root = (n + 0.5) * np.pi
    return np.asarray((2 * (-1.0) ** n * root * np.exp(-np.outer(time, root**2))).sum(axis=1))


def _long(time: np.ndarray) -> np.ndarray:
    root = jn_zeros(0, 200)
    return np.asarray((2 * root / j1(root) * np.exp(-np.outer(time, root**2))).sum(axis=1))


def _ball(time: np.ndarray) -> np.ndarray:
    n = np.arange(1, 200)
    root = n * np.pi
    return np.asarray(
        (2 * (-1.0) ** (n + 1) * root**2 * np.exp(-np.outer(time, root**2))).sum(axis=1)
    )


@pytest.mark.parametrize(("shape", "slope"), [("flat", _flat), ("long", _long), ("any", _ball)])
def test_factors_are_the_greatest_slopes(
    shape: str, slope: Callable[[np.ndarray], np.ndarray]
) -> None:
    greatest = slope(np.linspace(0.02, 0.5, 20001)).max()
    assert rate_figures().factor[shape] == pytest.approx(greatest, abs=0.002)
    assert rate_figures().factor[shape] >= greatest


def _lot(food: Food, *rates: StatedRate) -> Lot:
    return Lot("t", food, "us/food-code/2022", "UTC", (Piece("1"),), rates=rates)


def _lamb(
    *,
    cut: Cut | None = Cut.ROAST,
    thickness: float | None = None,
    shape: Literal["any", "flat", "long"] = "any",
) -> Food:
    forms = frozenset({Form.INTACT})
    return Food("lamb leg", Species.LAMB, forms, cut, thickness=thickness, shape=shape)


def _stage(name: StageName, *, method: str = "", decided: Decided = Decided.NOTED) -> Stage:
    return Stage(name, 1, "1", 0.0, 3600.0, closed=True, decided=decided, reason="", method=method)


@pytest.mark.parametrize(
    ("shape", "radius", "span", "per_minute"),
    [
        # 117 K between 4 °C food and 121 °C air are 210.6 °F. A ball of 3.5 kg at 1040 kg/m³ has
        # a radius of 0.0930 m: 210.6 × 5.921 × 1.45e-7 / 0.0930² × 60 = 1.254.
        ("any", 0.0930, 210.6, 1.254),
        # A long piece of 50 mm radius: 210.6 × 3.801 × 1.45e-7 / 0.05² × 60 = 2.786.
        ("long", 0.05, 210.6, 2.786),
        # A slab of 4 in, 2 in on each side: 100 × 1.850 × 1.45e-7 / 0.0508² × 60 = 0.6237.
        ("flat", 0.0508, 100.0, 0.6237),
    ],
)
def test_worked_rates(
    shape: Literal["any", "flat", "long"], radius: float, span: float, per_minute: float
) -> None:
    figures = replace(rate_figures(), surface={StageName.COOK: (0.0, span)})
    food = _lamb(shape=shape, thickness=2 * radius)
    rate = stage_rate(_lot(food), _stage(StageName.COOK), figures)
    assert rate.up * 60 == pytest.approx(per_minute, rel=0.001)
    assert rate.down == rate.up


def test_without_a_thickness_the_shape_of_the_cut_is_assumed_and_said() -> None:
    figures = rate_figures()
    known = stage_rate(_lot(_lamb()), _stage(StageName.REST), figures)
    stated = stage_rate(_lot(_lamb(thickness=3 * _IN)), _stage(StageName.REST), figures)
    assert known.up == stated.up
    assert "assumed: half of 3 in" in what_bounds(_lamb(), figures)
    assert "half of the stated thickness" in what_bounds(_lamb(thickness=0.1), figures)


@pytest.mark.parametrize("cut", [None, Cut.PAN])
def test_food_of_unknown_thickness_has_no_bound(cut: Cut | None) -> None:
    rate = stage_rate(_lot(_lamb(cut=cut)), _stage(StageName.REST), rate_figures())
    assert not rate.known
    assert "no thickness" in rate.words


@pytest.mark.parametrize(
    "name", [StageName.PREP, StageName.SERVE, StageName.THAW, StageName.FREEZE]
)
def test_food_that_is_moved_cut_thawed_or_frozen_has_no_bound(name: StageName) -> None:
    assert not stage_rate(_lot(_lamb()), _stage(name), rate_figures()).known


@pytest.mark.parametrize("decided", Decided)
def test_food_that_is_heated_from_within_has_no_bound(decided: Decided) -> None:
    stage = _stage(StageName.REHEAT, method="microwave", decided=decided)
    assert not stage_rate(_lot(_lamb()), stage, rate_figures()).known


def test_an_inferred_stage_has_the_widest_range() -> None:
    figures = rate_figures()
    noted = stage_rate(_lot(_lamb()), _stage(StageName.REST), figures)
    stage = _stage(StageName.REST, decided=Decided.INFERRED)
    inferred = stage_rate(_lot(_lamb()), stage, figures)
    assert inferred.up > noted.up
    assert inferred.up == stage_rate(_lot(_lamb()), None, figures).up


def test_a_record_may_tighten_a_rate_and_is_told_so() -> None:
    stated = StatedRate(0.0, 0.4 / 60, StageName.REST, "closed box without heat")
    lot, rest = _lot(_lamb(), stated), _stage(StageName.REST)
    rate = stage_rate(lot, rest, rate_figures(), noted=StageName.REST)
    assert (rate.up, rate.down) == (0.0, 0.4 / 60)
    assert "closed box without heat" in rate.words
    elsewhere = stage_rate(lot, _stage(StageName.COOK), rate_figures(), noted=StageName.COOK)
    assert elsewhere.up > 0


def test_what_is_stated_of_a_step_is_meant_of_the_time_for_which_it_was_noted() -> None:
    """A cook that seems to go over into a hold was noted as a cook: it is as quick as one."""
    stated = StatedRate(0.0, 0.4 / 60, StageName.HOT_HOLD, "a steady cabinet")
    lot, held = _lot(_lamb(), stated), _stage(StageName.HOT_HOLD)
    plain = stage_rate(_lot(_lamb()), held, rate_figures())
    for noted in (StageName.COOK, None):
        assert stage_rate(lot, held, rate_figures(), noted=noted) == plain


def test_a_record_may_not_loosen_a_rate() -> None:
    stated = StatedRate(1.0, 1.0, None, "it felt quick")
    plain = stage_rate(_lot(_lamb()), _stage(StageName.REST), rate_figures())
    rate = stage_rate(_lot(_lamb(), stated), _stage(StageName.REST), rate_figures())
    assert (rate.up, rate.down) == (plain.up, plain.down)
    assert "looser and was not taken" in rate.words


def test_every_pair_of_figures_in_print_lies_within_the_rounding() -> None:
    """A trace in both scales is judged in °F, widened by the most that print may have rounded."""
    from tempwitness.evaluate.strict import limits_of  # noqa: PLC0415 - only this test asks it
    from tempwitness.rulebook.files import code_ids  # noqa: PLC0415
    from tempwitness.rulebook.load import load_code  # noqa: PLC0415

    widest = rate_figures().widest_rounding
    pairs = [p for c in code_ids() for r in load_code(c).requirements for p in limits_of(r)]
    assert len(pairs) > 20
    for f, c in pairs:
        assert abs(c * 1.8 + 32 - f) <= widest, (f, c)
