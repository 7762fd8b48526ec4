"""Plans as text and as JSON."""

from __future__ import annotations

import json
import math
import os
import shutil
import textwrap
from dataclasses import asdict
from enum import Enum
from typing import TYPE_CHECKING, Any

from tempwitness.model.figures import duration_words
from tempwitness.planning.values import Outlook, degrees_words, mass_words
from tempwitness.report.localtime import LocalTime
from tempwitness.report.wording import stage_words
from tempwitness.units import Unit

if TYPE_CHECKING:
    from collections.abc import Sequence

    from tempwitness.model.finding import LotSummary
    from tempwitness.planning import (
        Band,
        CoolAsked,
        CoolPlan,
        ReheatAsked,
        ReheatPlan,
        RestAsked,
        RestPlan,
    )
    from tempwitness.planning.readings import Missing

__all__ = ["cool_text", "missing_json", "missing_text", "reheat_text", "rest_text", "to_json"]

_WORDS = {
    Outlook.HOLDS: "should do",
    Outlook.DOUBTFUL: "doubtful",
    Outlook.FAILS: "will hardly do",
}
_CLOSING = (
    "An estimate. It proves nothing to an inspector; readings do. The local health authority "
    "decides."
)
_STEP = 300.0  # durations are not known better [s]


def rest_text(asked: RestAsked, plan: RestPlan) -> str:
    """Return the plan of a rest, wrapped to the terminal."""
    limit = degrees_words(asked.limit, asked.unit)
    return _page(
        f"Rest of {_hours(asked.hours)}: {_WORDS[plan.outlook]}",
        [
            f"outside stays at {limit} or above for {_band(plan.outside)}",
            f"core stays at {limit} or above for {_band(plan.core)}",
            f"first reading {_hours(plan.first_check)} after the start",
            f"alarm of the core probe at {_alarm(plan.alarm, asked.unit)}",
        ],
        plan.advice,
        plan.assumptions,
    )


def cool_text(asked: CoolAsked, plan: CoolPlan) -> str:
    """Return the plan of a cooling, wrapped to the terminal."""
    lines = [
        f"{leg.leg.title} [{leg.leg.requirement}]: {_WORDS[leg.outlook]}; it takes "
        f"{_band(leg.takes)}"
        for leg in plan.legs
    ]
    if plan.pans is not None:
        lines.append(f"full-size pans: {plan.pans.count}")
    if plan.ice is not None:
        lines.append(f"ice: {mass_words(plan.ice, asked.unit)}")
    return _page(f"Cooling: {_WORDS[plan.outlook]}", lines, plan.advice, plan.assumptions)


def reheat_text(asked: ReheatAsked, plan: ReheatPlan) -> str:
    """Return the plan of a reheating, wrapped to the terminal."""
    target = asked.target
    lines = [
        f"{target.title} [{target.requirement}]: {_WORDS[plan.outlook]}; the coldest part takes "
        f"{_band(plan.takes)}; allowed {_hours(plan.allowed)}"
    ]
    return _page(f"Reheating: {_WORDS[plan.outlook]}", lines, plan.advice, plan.assumptions)


def to_json(plan: RestPlan | CoolPlan | ReheatPlan) -> str:
    """Return a plan as one JSON document; what is infinite is null. Hours, °C, metres, kg."""
    return json.dumps(_plain({"estimate": True, **asdict(plan)}), ensure_ascii=False)


def _plain(value: Any) -> Any:  # noqa: ANN401 - whatever a plan holds
    if isinstance(value, dict):
        return {key: _plain(part) for key, part in value.items()}
    if isinstance(value, list | tuple):
        return [_plain(part) for part in value]
    if isinstance(value, Enum):
        return value.value
    return None if isinstance(value, float) and not math.isfinite(value) else value


def missing_text(missing: Sequence[Missing], lot: LotSummary) -> str:
    """Return the readings that a record lacked, wrapped to the terminal."""
    clock = LocalTime(lot.zone)
    if not missing:
        lines = [_item("No reading is missing that would settle what the code's law asks.", "")]
    else:
        count = f"{len(missing)} reading{'s are' if len(missing) > 1 else ' is'} missing"
        lines = [_item(f"Lot {lot.id}: {count}; next time, take them", "")]
    for one in missing:
        at = clock.full(one.at) if one.at else "no single moment"
        where = ", ".join(part for part in (stage_words(one.stage), f"piece {one.piece}") if part)
        lines += ["", _item(f"{at} ({where}): {'; '.join(one.wanted)}", "- ")]
        lines += [_item(f"would have settled: {title}", "    ") for title in one.closes]
    closing = "What it would have read nobody knows. The local health authority decides."
    return "\n".join([*lines, "", _item(closing, "")])


def missing_json(missing: Sequence[Missing]) -> str:
    """Return the readings that a record lacked as one JSON document."""
    return json.dumps([asdict(one) for one in missing], ensure_ascii=False)


def _hours(hours: float) -> str:
    return duration_words(_STEP * max(1, round(hours * 3600 / _STEP)))


def _band(band: Band) -> str:
    """Return a band of hours in words, to five minutes."""
    if not math.isfinite(band.likely):
        return "longer than any time"
    if band.most == 0:
        return "no time"
    return f"about {_hours(band.likely)} ({_hours(band.least)} to {_hours(band.most)})"


def _alarm(celsius: float, unit: Unit) -> str:
    """Return a whole degree, rounded up: an alarm may be early."""
    whole = math.ceil(celsius * 1.8 + 32 if unit is Unit.F else celsius)
    return f"{whole} {unit.symbol}"


def _page(
    head: str, lines: Sequence[str], advice: Sequence[str], assumptions: Sequence[str]
) -> str:
    parts = [_item(head, ""), *(_item(line, "  ") for line in lines), ""]
    parts += ["To do", *(_item(line, "  - ") for line in advice), ""]
    parts += ["Assumed", *(_item(line, "  - ") for line in assumptions), ""]
    return "\n".join([*parts, _item(_CLOSING, "")])


def _item(text: str, lead: str) -> str:
    width = min(shutil.get_terminal_size((80, 24)).columns, 100)
    columns = int(os.environ.get("COLUMNS", width) or width)
    return textwrap.fill(
        text, max(30, min(columns, 100)), initial_indent=lead, subsequent_indent=" " * len(lead)
    )
