"""Questions of ``tempwitness new event``."""

from __future__ import annotations

from typing import TYPE_CHECKING, Any

from tempwitness.cli.new_ask import Asker, refuse, say
from tempwitness.cli.new_lot import ask_code, ask_zone
from tempwitness.errors import InputError
from tempwitness.model.vocabulary import StageName
from tempwitness.readers.event.food import FoodPart, StepPart
from tempwitness.readers.event.people import DayPart
from tempwitness.readers.event.questions import ASKED_OF, STEP_DONE, asked_info
from tempwitness.readers.event.shape import EventTable
from tempwitness.readers.event.typed import typed
from tempwitness.rulebook.foods import classify

if TYPE_CHECKING:
    from collections.abc import Mapping

    from tempwitness.drafting.event import Tables
    from tempwitness.model.base import Written

__all__ = ["ask_event"]

_PARTS = ("event", "organiser", "vendor", "person_in_charge", "structure", "site", "cleaning")
#: Equipment is listed in the file by hand, so a step cannot refer to it yet.
_LATER = frozenset({"equipment", "where"})


def ask_event(asker: Asker, given: Mapping[str, Any], tables: Tables, *, from_last: bool) -> Tables:
    """Ask what an event file needs, then what forms want.

    Parameters
    ----------
    asker : Asker
    given : mapping
        What the options said: ``name``, ``days``, ``code``, ``place``, ``zone``, ``foods``.
    tables : Tables
        What was taken over from the last event.
    from_last : bool
        Whether anything was; then only the event's own answers are asked.

    Raises
    ------
    InputError
        If an option cannot be understood, or needed ones are missing and nobody is there to ask.
    """
    _need(asker, given, tables)
    found: Tables = {"schema": 1, **_code(asker, given, tables)}
    zone = str(given["zone"] or tables.get("zone", ""))
    found["zone"] = ask_zone(asker, zone)
    found |= {k: v for k, v in tables.items() if k not in found and k not in ("code", "place")}
    name = asker.one("Name of the event", "--name", given["name"], str, needed=True)
    found["event"] = {"name": name, **found.get("event", {})}
    found["day"] = _days(asker, given)
    for part in _PARTS:
        found[part] = _part(asker, part, found.get(part, {}))
    kept = list(found.get("food", []))
    names = [*given["foods"]] or ([] if from_last else _names(asker))
    found["food"] = [*kept, *(_food(asker, food) for food in names)]
    return found


def _need(asker: Asker, given: Mapping[str, Any], tables: Tables) -> None:
    if asker.asks:
        return
    missing = [option for option, key in (("--name", "name"), ("--date", "days")) if not given[key]]
    if not (given["code"] or given["place"] or tables.get("code") or tables.get("place")):
        missing.append("--code")
    if not (given["zone"] or tables.get("zone")):
        missing.append("--zone")
    if not given["foods"] and not tables.get("food"):
        missing.append("--food")
    if missing:
        raise InputError(
            "an event file cannot do without these answers, and there is no terminal to ask for "
            f"them: {', '.join(missing)}",
            hint=f"add {', '.join(missing)}, or run it at a terminal",
        )


def _code(asker: Asker, given: Mapping[str, Any], tables: Tables) -> Tables:
    if given["code"] and given["place"]:
        raise refuse("--place", "the code and the place are both given", "keep one of the two")
    if given["place"]:
        return {"place": given["place"]}
    if not given["code"] and tables.get("place"):
        return {"place": tables["place"]}
    return {"code": ask_code(asker, str(given["code"] or tables.get("code", "")))}


def _days(asker: Asker, given: Mapping[str, Any]) -> list[Tables]:
    def day(text: str) -> Any:  # noqa: ANN401 - a date
        return typed(DayPart, "date", text)

    days = [asker.one("", "--date", text, day) for text in given["days"]]
    if not days:
        days = [asker.one("Day, such as 2026-10-03", "--date", "", day, needed=True)]
        while more := asker.one("A further day (Enter for none)", "--date", "", day):
            days.append(more)
    return [{"date": date, **_asked(asker, DayPart, {"date": date}, str(date))} for date in days]


def _part(asker: Asker, name: str, known: Tables) -> Tables:
    info = EventTable.model_fields[name]
    if asker.asks:
        say(f"{info.title} (Enter leaves an answer open)")
    model: Any = info.annotation
    return {**known, **_asked(asker, model, known, "")}


def _asked(asker: Asker, model: type[Written], known: Tables, about: str) -> Tables:
    """Ask every key that forms want and that is not known yet."""
    found: Tables = {}
    for key, info in model.model_fields.items():
        if key not in known and asked_info(info):
            before = f"{about}: " if about else ""
            answer = _one(asker, model, key, f"{before}{info.description}")
            if answer is not None:
                found[key] = answer
    return found


def _one(asker: Asker, model: type[Written], key: str, question: str) -> Any:  # noqa: ANN401
    return asker.one(question, "", "", lambda text: typed(model, key, text))


def _names(asker: Asker) -> list[str]:
    names = [asker.one("First food, such as lamb shoulder", "--food", "", str, needed=True) or ""]
    while more := asker.one("A further food (Enter for none)", "--food", "", str):
        names.append(more)
    return names


def _food(asker: Asker, name: str) -> Tables:
    found: Tables = {"name": name}
    try:
        classify(name)
    except InputError as why:
        if not asker.asks:
            raise refuse("--food", why.message, "name the animal or plant in it") from None
        say(f"  {why.message}")
        found["species"] = asker.one(
            "Kind of food", "", "", lambda text: typed(FoodPart, "species", text), needed=True
        )
    found |= _asked(asker, FoodPart, found, name)
    return found | (_steps(asker, name) if asker.asks else {})


def _steps(asker: Asker, name: str) -> Tables:
    """Ask step by step; an answer of no goes under ``never``, none at all stays open."""
    never: list[str] = []
    steps: list[Tables] = []
    for stage in _IN_ORDER:
        done = asker.one(
            f"{name}: is it {STEP_DONE[stage]}? (yes, no)",
            "",
            "",
            lambda text: typed(FoodPart, "prepackaged", text),
        )
        if done is False:
            never.append(stage.value)
        elif done:
            steps.append(_step(asker, name, stage))
    return {**({"never": never} if never else {}), "step": steps}


def _step(asker: Asker, name: str, stage: StageName) -> Tables:
    found: Tables = {"do": stage.value}
    for key in ASKED_OF[stage]:
        if key not in _LATER:
            question = f"{name}, {stage.words}: {StepPart.model_fields[key].description}"
            answer = _one(asker, StepPart, key, question)
            if answer is not None:
                found[key] = answer
    return found


# As food usually goes; whoever cooks another way moves the steps in the file.
_IN_ORDER = (
    StageName.THAW,
    StageName.COOK,
    StageName.COOL,
    StageName.COLD_HOLD,
    StageName.TRANSPORT,
    StageName.REHEAT,
    StageName.HOT_HOLD,
    StageName.SERVE,
)
