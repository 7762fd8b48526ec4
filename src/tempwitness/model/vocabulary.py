"""The words of the trade that the program uses, one meaning each."""

from __future__ import annotations

from enum import IntEnum, StrEnum

__all__ = [
    "Answer",
    "Business",
    "Clock",
    "Confirmed",
    "Cut",
    "Decided",
    "Event",
    "Flag",
    "Form",
    "Place",
    "Point",
    "Species",
    "StageName",
    "Topic",
    "Verdict",
    "Weight",
    "worst",
]


class Verdict(StrEnum):
    """Answer to one requirement, or to a whole lot."""

    MET = "met"
    NOT_MET = "not_met"
    NOT_SHOWN = "not_shown"
    OPEN = "open"
    NEEDS_LIMIT = "needs_limit"
    NOT_APPLICABLE = "not_applicable"

    @property
    def words(self) -> str:
        """The verdict as it is printed."""
        return self.value.replace("_", " ")


_WORST_FIRST = (
    Verdict.NOT_MET,
    Verdict.NOT_SHOWN,
    Verdict.OPEN,
    Verdict.NEEDS_LIMIT,
    Verdict.MET,
    Verdict.NOT_APPLICABLE,
)


def worst(verdicts: list[Verdict]) -> Verdict:
    """Return the verdict that decides for all of them; none at all is not applicable.

    Examples
    --------
    >>> worst([Verdict.MET, Verdict.NOT_SHOWN, Verdict.OPEN]).value
    'not_shown'
    """
    return min(verdicts, key=_WORST_FIRST.index, default=Verdict.NOT_APPLICABLE)


class StageName(StrEnum):
    """What is being done with the food."""

    RECEIVE = "receive"
    COLD_HOLD = "cold_hold"
    THAW = "thaw"
    PREP = "prep"
    COOK = "cook"
    REST = "rest"
    HOT_HOLD = "hot_hold"
    SERVE = "serve"
    TRANSPORT = "transport"
    COOL = "cool"
    REHEAT = "reheat"
    FREEZE = "freeze"

    @property
    def words(self) -> str:
        """The stage as it is printed."""
        return self.value.replace("_", " ")


class Decided(StrEnum):
    """How a stage came to be in the record."""

    NOTED = "noted"
    INFERRED = "inferred"


class Event(StrEnum):
    """What a person did to the food, apart from beginning a stage."""

    STIRRED = "stirred"
    SLICED = "sliced"
    SHREDDED = "shredded"
    PORTIONED = "portioned"
    PROBE_MOVED = "probe_moved"
    HEAT_LOST = "heat_lost"
    HEAT_BACK = "heat_back"
    TOPPED_UP = "topped_up"
    DATE_MARKED = "date_marked"
    TIME_MARKED = "time_marked"
    DISCARDED = "discarded"
    FINISHED = "finished"
    REMARK = "remark"

    @property
    def disturbs(self) -> bool:
        """Whether the temperature between the readings around it is no longer bracketed."""
        return self in _DISTURBING

    @property
    def ends(self) -> bool:
        """Whether the lot's last stage ends here."""
        return self in (Event.DISCARDED, Event.FINISHED)


_DISTURBING = frozenset(
    {
        Event.STIRRED,
        Event.SLICED,
        Event.SHREDDED,
        Event.PORTIONED,
        Event.PROBE_MOVED,
        Event.HEAT_LOST,
        Event.TOPPED_UP,
    }
)


class Place(StrEnum):
    """Where a reading was taken."""

    CORE = "core"
    SURFACE = "surface"
    AIR = "air"
    MEDIUM = "medium"


class Point(StrEnum):
    """Which point of the food a requirement speaks of.

    Of the coldest, the warmest and every point the outside of the food may disprove what the core
    cannot; of ``core`` it says nothing.
    """

    COLDEST = "coldest"
    WARMEST = "warmest"
    EVERY = "every"
    SURFACE = "surface"
    AIR = "air"
    MEDIUM = "medium"
    CORE = "core"

    @property
    def places(self) -> frozenset[Place]:
        """Readings that can prove it; other readings of the food can only disprove."""
        if self is Point.SURFACE:
            return frozenset({Place.SURFACE})
        if self is Point.AIR:
            return frozenset({Place.AIR})
        if self is Point.MEDIUM:
            return frozenset({Place.MEDIUM})
        return frozenset({Place.CORE})


class Clock(StrEnum):
    """What a deadline counts."""

    READING = "reading"
    FALL = "fall"
    RISE = "rise"
    BAND = "band"
    ABSENCE = "absence"
    STAGE = "stage"
    TIME_CONTROL = "time_control"
    SHELF_LIFE = "shelf_life"
    DAY_END = "day_end"

    @property
    def stopped_by_reading(self) -> bool:
        """Whether a reading in time can settle it; the others end with a note."""
        return self in _STOPPED_BY_READING


_STOPPED_BY_READING = frozenset({Clock.READING, Clock.FALL, Clock.RISE, Clock.BAND, Clock.ABSENCE})


class Business(StrEnum):
    """Kind of business, as far as codes tell them apart."""

    TEMPORARY_EVENT = "temporary_event"
    CATERER = "caterer"
    MOBILE = "mobile"
    RESTAURANT = "restaurant"
    STORE = "store"
    PLANT = "plant"
    CONTEST = "contest"
    PRIVATE = "private"


class Topic(StrEnum):
    """Under which heading requirements of several codes are compared."""

    COOK = "cook"
    HOT = "hot"
    COLD = "cold"
    COOLING = "cooling"
    REHEAT = "reheat"
    TIME_CONTROL = "time_control"
    DATE = "date"
    PROBE = "probe"
    RECORDS = "records"
    OTHER = "other"


class Weight(StrEnum):
    """What stands behind a requirement."""

    LAW = "law"
    GUIDANCE = "guidance"
    STANDARD = "standard"
    PLANT = "plant"
    PRACTICE = "practice"
    HOUSE = "house"

    @property
    def binds(self) -> bool:
        """Whether it can make a lot not met; everything else is advice."""
        return self is Weight.LAW


class Confirmed(StrEnum):
    """How a printed number was confirmed."""

    TEXT = "text"
    SECOND_HAND = "second-hand"
    MEMORY = "memory"


class Species(StrEnum):
    """Kind of food, as far as codes tell them apart."""

    BEEF = "beef"
    VEAL = "veal"
    LAMB = "lamb"
    GOAT = "goat"
    PORK = "pork"
    FARMED_GAME = "farmed_game"
    WILD_GAME = "wild_game"
    CHICKEN = "chicken"
    TURKEY = "turkey"
    DUCK = "duck"
    OTHER_POULTRY = "other_poultry"
    RATITE = "ratite"
    FISH = "fish"
    EGG = "egg"
    PLANT = "plant"
    MIXED = "mixed"


class Form(StrEnum):
    """State in which the food goes into the cook."""

    INTACT = "intact"
    INJECTED = "injected"
    TENDERISED = "tenderised"
    GROUND = "ground"
    STUFFED = "stuffed"


class Cut(StrEnum):
    """Shape of the food, as far as codes tell them apart."""

    ROAST = "roast"
    STEAK = "steak"
    RIBS = "ribs"
    WHOLE_BIRD = "whole_bird"
    BIRD_PART = "bird_part"
    SAUSAGE = "sausage"
    PAN = "pan"


class Answer(StrEnum):
    """Answer to a question that the record may leave open."""

    YES = "yes"
    NO = "no"
    UNKNOWN = "unknown"


class Flag(IntEnum):
    """Quality flag of one reading, with the numbers that QARTOD gives them."""

    PASS = 1
    NOT_EVALUATED = 2
    SUSPECT = 3
    FAIL = 4
    MISSING = 9
