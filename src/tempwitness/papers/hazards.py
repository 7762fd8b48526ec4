"""What each step is watched for, how, and where it is written down: words of the trade, no figure.

Limits and what to do when one is missed come from the code; what stands here is common practice.
"""

from __future__ import annotations

from dataclasses import dataclass

from tempwitness.model.vocabulary import Point, StageName

__all__ = ["HAZARDS", "POINT_WORDS", "VERIFIED", "Watched"]


@dataclass(frozen=True, slots=True)
class Watched:
    """What can go wrong at a step, and how it is watched.

    Parameters
    ----------
    hazard : str
    watch : str
        What is looked at, and how.
    often : str
        How often, where the event file does not say.
    record : str
        Sheet on which it is written.
    """

    hazard: str
    watch: str
    often: str
    record: str


HAZARDS = {
    StageName.RECEIVE: Watched(
        "Growth before it came; food from an unknown source",
        "Probe between two packs; look at packs and dates",
        "every delivery, before signing",
        "receiving log, invoice",
    ),
    StageName.COLD_HOLD: Watched(
        "Growth of bacteria; juice of raw meat on cooked food",
        "Probe the warmest pack; raw below cooked",
        "not said",
        "cold holding log",
    ),
    StageName.THAW: Watched(
        "Growth in the outside while the middle is frozen",
        "Probe the warmest piece, or the water",
        "not said",
        "thawing log",
    ),
    StageName.PREP: Watched(
        "Growth while it lies warm; raw juice on cooked food; unclean hands",
        "Clock out of and back into the cold; clean boards",
        "each batch",
        "preparation log",
    ),
    StageName.COOK: Watched(
        "Bacteria that survive the cook, deep in meat that was pierced above all",
        "Probe in the thickest part of the slowest piece",
        "not said",
        "cooking log",
    ),
    StageName.REST: Watched(
        "Spores that survive the cook grow if it cools too far",
        "Probe left in the piece that cools fastest",
        "not said",
        "hot holding log",
    ),
    StageName.HOT_HOLD: Watched(
        "Spores that survive the cook grow if it cools too far",
        "Probe the coldest spot; stir before reading",
        "not said",
        "hot holding log",
    ),
    StageName.SERVE: Watched(
        "Growth on the line; bare hands on ready food",
        "Probe the coldest pan; gloves or tongs",
        "not said",
        "serving log",
    ),
    StageName.TRANSPORT: Watched(
        "Growth on the way; raw juice on cooked food",
        "Probe on leaving and on arrival",
        "both ends of every trip",
        "transport log",
    ),
    StageName.COOL: Watched(
        "Spores that survive the cook grow; toxin that no heat destroys",
        "Probe in the middle of the thickest portion",
        "not said",
        "cooling log",
    ),
    StageName.REHEAT: Watched(
        "Bacteria that grew while it cooled and lay cold",
        "Probe the middle of the coldest pan",
        "not said",
        "reheating log",
    ),
    StageName.FREEZE: Watched(
        "Growth before it is frozen",
        "Probe before it goes in; date on every pack",
        "each batch",
        "freezing log",
    ),
}

POINT_WORDS = {
    Point.COLDEST: "coldest part",
    Point.WARMEST: "warmest part",
    Point.EVERY: "every part",
    Point.SURFACE: "surface",
    Point.AIR: "air",
    Point.MEDIUM: "water",
    Point.CORE: "core",
}

VERIFIED = "log signed each shift; probe checked in ice"
