"""Plans: how long a rest lasts, whether a cooling or a reheating will do; estimates, no proof."""

from tempwitness.planning.cool import CoolAsked, CoolPlan, plan_cool
from tempwitness.planning.limits import (
    HotLimit,
    Leg,
    Target,
    cooling_legs,
    hot_limit,
    reheat_target,
)
from tempwitness.planning.readings import Missing, missing_readings
from tempwitness.planning.reheat import ReheatAsked, ReheatPlan, plan_reheat
from tempwitness.planning.rest import Box, MeasuredDecay, RestAsked, RestPlan, box_of, plan_rest
from tempwitness.planning.values import Band, Outlook

__all__ = [
    "Band",
    "Box",
    "CoolAsked",
    "CoolPlan",
    "HotLimit",
    "Leg",
    "MeasuredDecay",
    "Missing",
    "Outlook",
    "ReheatAsked",
    "ReheatPlan",
    "RestAsked",
    "RestPlan",
    "Target",
    "box_of",
    "cooling_legs",
    "hot_limit",
    "missing_readings",
    "plan_cool",
    "plan_reheat",
    "plan_rest",
    "reheat_target",
]
