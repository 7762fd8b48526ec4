"""An invented lot of lamb, evaluated by hand: what the tests of the outputs draw from."""

from __future__ import annotations

from tempwitness.model.finding import (
    SCHEMA,
    CodeUsed,
    CorrectionMade,
    DoubtfulReading,
    Evaluation,
    LotSummary,
    OverrideUsed,
    ProbeSummary,
    SourceFile,
    StageSummary,
)
from tempwitness.model.vocabulary import Verdict

from .lamb_findings import ASK, FINDINGS, REHEAT

__all__ = ["lamb_evaluation"]

_LOT = LotSummary(
    id="LAMB-0614",
    food="smoked lamb shoulder",
    species="lamb",
    form="intact",
    weight="9.5 lb",
    pieces=("A", "B"),
    zone="America/New_York",
    event="harvest supper",
    business="Example Catering",
    cook="the morning cook",
    first_entry="2025-06-14T06:00:00-04:00",
    last_entry="2025-06-15T06:00:00-04:00",
)

_CODE = CodeUsed(
    "us/food-code/2022", "FDA Food Code", "2022", "the local health authority", "c0" * 32
)

_DOUBT = DoubtfulReading(
    "lamb.csv",
    "101",
    "2025-06-14T14:15:00-04:00",
    "32.0 °F",
    "fail",
    "spike",
    "fell by 120 °F and came back within ten minutes",
)

_OVERRIDE = OverrideUsed(
    "county.toml",
    "d1" * 32,
    "hot-hold",
    "at least 135 °F (57 °C)",
    "at least 140 °F (60 °C)",
    "Example County",
    "Example County 7-12",
    True,
    "stricter than the state",
)

_STAGES = (
    ("cook", "06:00", "12:30", "noted", "into smoker"),
    ("rest", "12:30", "14:30", "noted", "wrapped into box"),
    ("hot_hold", "14:30", "17:30", "inferred", "the core stays level above 140 °F"),
    ("cool", "17:30", "25:00", "noted", "into ice bath"),
    ("cold_hold", "25:00", "30:00", "noted", "into refrigerator"),
)


def _moment(clock: str) -> str:
    hour, minute = map(int, clock.split(":"))
    return f"2025-06-{14 + hour // 24}T{hour % 24:02d}:{minute:02d}:00-04:00"


def _stages() -> tuple[StageSummary, ...]:
    return tuple(
        StageSummary(
            piece=piece,
            number=number,
            name=name,
            start=_moment(start),
            end=_moment(end),
            closed=name != "cold_hold",
            decided=decided,
            reason=reason,
            question="Did the smoker still heat after 14:30?" if name == "hot_hold" else "",
        )
        for piece in ("A", "B")
        for number, (name, start, end, decided, reason) in enumerate(_STAGES, 1)
    )


def lamb_evaluation() -> Evaluation:
    """Two lamb shoulders of which one cooled too slowly and one was not read."""
    return Evaluation(
        schema=SCHEMA,
        tool="tempwitness 0.1.0",
        lot=_LOT,
        code=_CODE,
        beside=(),
        verdict=Verdict.NOT_MET,
        headline="Piece A took at least 2 h 35 min from 135 °F to 70 °F; 2 h are allowed.",
        do_now=(REHEAT, ASK),
        asked_at="2025-06-15T07:00:00-04:00",
        findings=FINDINGS,
        stages=_stages(),
        unsettled=("Whether the lamb was covered while it rested.",),
        questions=("Does the authority count a closed box as hot holding?",),
        doubts=(_DOUBT,),
        probes=(
            ProbeSummary("P1", "thermocouple", "±1 °F", ("ice point 05:40: 32.4 °F",)),
            ProbeSummary("P2", "thermistor", "±2 °F", ()),
        ),
        corrections=(
            CorrectionMade("P1", None, None, "-0.4 °F", "ice point read 32.4 °F at 05:40"),
        ),
        overrides=(_OVERRIDE,),
        assumptions=(
            "Between two readings of an undisturbed stage the temperature lies between them.",
        ),
        sources=(SourceFile("lamb.csv", "ab" * 32, 289, ("temp_f is in °F.", "time is local.")),),
        caution=("This is not advice from an authority. The local health authority decides.",),
    )
