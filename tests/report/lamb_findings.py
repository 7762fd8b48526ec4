"""Findings about the invented lamb, worded by hand."""

from __future__ import annotations

from dataclasses import replace

from tempwitness.model.finding import (
    Action,
    CitedReading,
    Evidence,
    Figure,
    Finding,
    SettlingReading,
    Unread,
)
from tempwitness.model.vocabulary import Confirmed, Verdict, Weight

__all__ = ["ASK", "FINDINGS", "REHEAT"]

REHEAT = Action(
    "Reheat piece A to 165 °F (74 °C) or discard it.", "2025-06-14T20:05:00-04:00", "code"
)
ASK = Action(
    "Ask the authority whether a rest in a closed box counts as hot holding.", None, "authority"
)
_NEXT_TIME = Action("Read the core again two hours after it leaves the box.", None, "practice")

_BASE = Finding(
    requirement="hot-hold",
    title="Hot food is held at 135 °F or above",
    stage="hot_hold",
    stage_number=3,
    stage_start="2025-06-14T14:30:00-04:00",
    stage_end="2025-06-14T17:30:00-04:00",
    piece="A",
    verdict=Verdict.MET,
    weight=Weight.LAW,
    reason="Every reading of the stage stands at or above the limit.",
    measured="least 151 °F at 17:30",
    limit="at least 135 °F (57 °C)",
    evidence=Evidence(
        readings=(CitedReading("2025-06-14T17:30:00-04:00", "151.0 °F", "lamb.csv", 139, "P1"),)
    ),
    action=None,
    citation="FDA Food Code 2022 3-501.16(A)(1)",
    confirmed=Confirmed.TEXT,
    source="fda-food-code-2022",
    figures=(Figure(135.0, 57.0),),
)

_COOL_A = replace(
    _BASE,
    requirement="cool-first-leg",
    title="Cooked food cools from 135 °F to 70 °F within 2 hours",
    stage="cool",
    stage_number=4,
    stage_start="2025-06-14T17:30:00-04:00",
    stage_end="2025-06-15T01:00:00-04:00",
    verdict=Verdict.NOT_MET,
    reason="At least 2 h 35 min passed between 135 °F and 70 °F, and 2 h are allowed.",
    measured="between 2 h 35 min and 2 h 45 min from 135 °F to 70 °F",
    limit="from 135 °F (57 °C) to 70 °F (21 °C) within 2 h",
    evidence=Evidence(
        readings=(
            CitedReading("2025-06-14T18:05:00-04:00", "135.4 °F", "lamb.csv", 146, "P1"),
            CitedReading("2025-06-14T18:10:00-04:00", "133.9 °F", "lamb.csv", 147, "P1"),
            CitedReading("2025-06-14T20:45:00-04:00", "70.6 °F", "lamb.csv", 178, "P1"),
            CitedReading("2025-06-14T20:50:00-04:00", "69.1 °F", "lamb.csv", 179, "P1"),
        ),
        least_s=9300.0,
        most_s=9900.0,
        doubt="The last reading above 70 °F lies within the probe's ±1 °F.",
    ),
    action=REHEAT,
    citation="FDA Food Code 2022 3-501.14(A)(1)",
    figures=(Figure(135.0, 57.0), Figure(70.0, 21.0)),
)

_COOL_B = replace(
    _COOL_A,
    piece="B",
    verdict=Verdict.NOT_SHOWN,
    reason="Nobody read piece B from 18:40 to 21:30; 70 °F may have come in time or not.",
    measured="between 35 min and 3 h 20 min from 135 °F to 70 °F",
    evidence=Evidence(
        readings=(
            CitedReading("2025-06-14T18:40:00-04:00", "124.2 °F", "lamb.csv", 153, "P2"),
            CitedReading("2025-06-14T21:30:00-04:00", "61.3 °F", "lamb.csv", 187, "P2"),
        ),
        least_s=2100.0,
        most_s=12000.0,
        unread=(
            Unread(
                "2025-06-14T18:40:00-04:00",
                "2025-06-14T21:30:00-04:00",
                "the logger lost the probe",
            ),
        ),
        inference="A piece that only cools was not warmer at 21:30 than at 18:40.",
    ),
    action=_NEXT_TIME,
    settle=SettlingReading(
        "2025-06-14T20:10:00-04:00", "a reading of 70 °F or less in the core of piece B"
    ),
)

_REST = replace(
    _BASE,
    requirement="rest-plan",
    title="A rest without heat follows a written plan",
    stage="rest",
    stage_number=2,
    stage_start="2025-06-14T12:30:00-04:00",
    stage_end="2025-06-14T14:30:00-04:00",
    piece="",
    verdict=Verdict.NEEDS_LIMIT,
    reason="The code sets no figure for it, and no plan is on record.",
    measured="2 h",
    limit="",
    evidence=Evidence(),
    action=ASK,
    citation="FDA Food Code 2022 3-502.12(B)",
    confirmed=Confirmed.SECOND_HAND,
    figures=(),
)

_COLD = replace(
    _BASE,
    requirement="cold-hold",
    title="Cold food is held at 41 °F or below",
    stage="cold_hold",
    stage_number=5,
    stage_start="2025-06-15T01:00:00-04:00",
    stage_end="2025-06-15T06:00:00-04:00",
    piece="B",
    verdict=Verdict.OPEN,
    reason="The stage is still running.",
    measured="warmest 40.2 °F",
    limit="at most 41 °F (5 °C)",
    deadline="2025-06-15T13:00:00-04:00",
    action=Action("Read piece B again.", "2025-06-15T13:00:00-04:00", "practice"),
    citation="FDA Food Code 2022 3-501.16(A)(2)",
    confirmed=Confirmed.MEMORY,
    figures=(Figure(41.0, 5.0),),
)

_COOK = replace(
    _BASE,
    requirement="cook-roast",
    title="A whole roast reaches a listed temperature for its listed time",
    stage="cook",
    stage_number=1,
    stage_start="2025-06-14T06:00:00-04:00",
    stage_end="2025-06-14T12:30:00-04:00",
    measured="145 °F or more for 1 h 50 min",
    limit="145 °F (63 °C) for 4 min",
    citation="FDA Food Code 2022 3-401.11(B)(2)",
    allowance="Juices of the tray were used as the written recipe allows.",
    figures=(Figure(145.0, 63.0),),
)

_ADVICE = replace(
    _BASE,
    requirement="rest-uncovered",
    title="A rested roast is held uncovered until it stops steaming",
    weight=Weight.PRACTICE,
    verdict=Verdict.NOT_SHOWN,
    stage="rest",
    stage_number=2,
    stage_start="2025-06-14T12:30:00-04:00",
    stage_end="2025-06-14T14:30:00-04:00",
    reason="The record does not say whether it was covered.",
    measured="",
    limit="",
    figures=(),
    citation="common practice, no source",
    settle=SettlingReading(None, "a note that says whether the roast was covered"),
    action=_NEXT_TIME,
)

_FREEZE = replace(
    _BASE,
    requirement="freeze-hold",
    title="Frozen food stays frozen",
    verdict=Verdict.NOT_APPLICABLE,
    stage="freeze",
    stage_number=0,
    stage_start=None,
    stage_end=None,
    piece="",
    reason="Nothing was frozen.",
    measured="",
    citation="FDA Food Code 2022 3-501.11",
    figures=(),
)

FINDINGS = (_COOK, _REST, _BASE, _COOL_A, _COOL_B, _COLD, _ADVICE, _FREEZE)
