"""An invented code of the forms that the Food Code does not have, and lots on which to judge it."""

from __future__ import annotations

from dataclasses import dataclass, replace
from functools import cache
from typing import Any

import numpy as np

from tempwitness.model.logs import StagedLog
from tempwitness.model.rule import Code, Requirement
from tempwitness.rulebook.load import load_code
from tests.soundness import histories
from tests.soundness.histories import History
from tests.support import FOOD_CODE, channel, staged

#: What was done: clocks with and without a stage that starts them, and breaks between two holds.
LOTS = (
    ("cook", "rest", "cool"),
    ("cook", "hot_hold", "cool", "cold_hold", "reheat"),
    ("cook", "hot_hold", "rest", "cool"),
    ("cook", "prep", "cool"),
    ("cook", "transport", "hot_hold", "serve"),
    ("hot_hold", "serve"),
    ("hot_hold", "prep", "serve"),
    ("cold_hold", "serve"),
    ("cold_hold", "prep", "serve", "hot_hold"),
    ("cold_hold", "reheat", "serve"),
    ("cold_hold", "prep", "reheat", "hot_hold"),
    ("cook", "cool", "reheat", "serve"),
    ("cold_hold", "cook", "hot_hold", "reheat"),
    ("cold_hold", "cook", "cool", "reheat"),
    ("cook", "rest"),
    ("cook", "cool", "cold_hold"),
    ("reheat", "hot_hold", "cool"),
    ("hot_hold", "cold_hold", "serve"),
    ("cool",),
    ("reheat",),
)

_HOT = {"f": "135", "c": "57", "op": ">="}
_COLD = {"f": "41", "c": "5", "op": "<="}
_BAND = {"low": {**_COLD, "op": ">"}, "high": {**_HOT, "op": "<"}, "at_most": "3 h"}
_SERVED = ["prep", "rest", "hot_hold", "serve", "transport"]
_FALL = {"form": "fall", "start": _HOT, "to": {"f": "70", "c": "21", "op": "<="}, "within": "3 h"}
_KILLS = {"f": "158", "c": "70"}

#: By the name of each requirement its stages and its test.
TESTS: dict[str, tuple[list[str], dict[str, Any]]] = {
    "once-hot": (
        ["hot_hold", "serve"],
        {
            **{"form": "once", "limit": _HOT, "at_most": "2 h", "op": "<"},
            "over": ["hot_hold", "serve"],
        },
    ),
    "once-cold": (
        ["cold_hold"],
        {
            **{"form": "once", "limit": _COLD, "at_most": "2 h"},
            "beyond": {"f": "46", "c": "7.8", "op": "<="},
        },
    ),
    "ladder-by": (
        ["cook"],
        {
            **{"form": "reach_by", "by": "fat_percent", "columns": ["1", "12"], "carry": ["rest"]},
            "rows": [
                {"f": "140", "c": "60", "holds": ["30 min", "80 min"]},
                {"f": "150", "c": "65.6", "holds": ["6 min", "20 min"]},
                {"f": "162", "c": "72.2", "holds": ["30 s", "0 s"]},
            ],
        },
    ),
    "heat-sum": (
        ["cook"],
        {
            **{"form": "lethality", "at": _KILLS, "hold": "40 min", "z_c": "7.5"},
            **{"counts_from": {"f": "140", "c": "60"}, "carry": ["rest"]},
        },
    ),
    "written-every": (["hot_hold", "cool"], {"form": "monitoring", "every": "1 h"}),
    "written-twice": (["cook", "serve"], {"form": "monitoring", "at_least": 2}),
    "fall-cooked": (["cool"], {**_FALL, "clock": "cooked", "op": "<"}),
    "fall-heat-ended": (["cool"], {**_FALL, "clock": "heat_ended"}),
    "rise-left-cold": (
        ["reheat"],
        {
            **{"form": "rise", "start": _COLD, "to": {"f": "165", "c": "74", "op": ">="}},
            **{"within": "2 h", "clock": "left_cold"},
        },
    ),
    "band-over": (["hot_hold", "serve"], {"form": "band_clock", **_BAND, "over": _SERVED}),
    "band-strict": (_SERVED, {"form": "band_clock", **_BAND, "op": "<"}),
}


@cache
def invented() -> Code:
    """The code: each test as a law of its own."""
    like = load_code(FOOD_CODE)
    made = tuple(
        Requirement.model_validate(
            {
                **{"id": name, "title": name, "section": name, "weight": "law", "stages": stages},
                **{"test": test, "confirmed": "memory", "source": ["own-reading"]},
                "point": "warmest" if name.startswith(("fall", "once-cold")) else "coldest",
            }
        )
        for name, (stages, test) in TESTS.items()
    )
    return like.model_copy(update={"requirements": made, "sha256": "invented"})


@dataclass(frozen=True, slots=True)
class FormLot:
    """A lot, and the fat that its record states in percent."""

    history: History
    fat: str | None

    def log(self) -> StagedLog:
        """The staged log."""
        one = self.history
        facts = {} if self.fat is None else {"fat_percent": self.fat}
        return staged([channel(one.readings)], one.notes, food=one.food, facts=facts)


def form_lot(seed: int) -> FormLot:
    """Return a random lot that obeys the printed assumption."""
    rng = np.random.default_rng(seed)
    spans = histories.spans_of(rng, LOTS)
    told = histories.Told(spans, histories.disturbances(rng, spans), ())
    fat = [None, "0.5", "1", "6", "12", "20"][int(rng.integers(6))]
    lot = replace(histories.point(rng, told), food=histories.FOODS[0])
    return FormLot(lot, fat)
