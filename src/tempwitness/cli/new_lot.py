"""Questions of ``tempwitness new`` about the lot itself."""

from __future__ import annotations

from datetime import date
from typing import TYPE_CHECKING

from tempwitness.cli.new_ask import Asker, refuse, say
from tempwitness.drafting.draft import Draft
from tempwitness.drafting.machine import machine_zone
from tempwitness.errors import InputError
from tempwitness.model.vocabulary import Cut, Form, Species
from tempwitness.rulebook.foods import classify

if TYPE_CHECKING:
    from tempwitness.cli.new_given import Given
    from tempwitness.drafting.draft import Table

__all__ = ["ask_code", "ask_lot", "ask_zone"]

# Birds and dishes without meat are cooked to one limit whatever was done to them.
_FORM_IS_NOTHING = frozenset(
    {
        Species.CHICKEN,
        Species.TURKEY,
        Species.DUCK,
        Species.OTHER_POULTRY,
        Species.EGG,
        Species.PLANT,
    }
)
_FORMS = {
    Form.INTACT: "whole muscle, nothing driven into it",
    Form.INJECTED: "pumped with brine or marinade",
    Form.TENDERISED: "pierced with blades or needles, or scored through",
    Form.GROUND: "minced, or shaped from mince",
    Form.STUFFED: "filled before cooking",
}
_WHY_FORM = (
    "What was done before cooking decides the cooking limit: what pierces meat carries what is on "
    "its surface inside."
)
_BUSINESSES = {
    "temporary_event": "a stand at a fair or a festival",
    "caterer": "",
    "mobile": "a truck or a cart",
    "restaurant": "",
    "contest": "",
    "private": "at home, for one's own guests",
}
_ESSENTIAL = ("food", "lot", "code", "zone")


def ask_lot(asker: Asker, given: Given) -> Draft:
    """Ask what the lot is.

    Raises
    ------
    InputError
        If an option cannot be understood, or needed ones are missing and nobody is there to ask.
    """
    _need(asker, given)
    draft = Draft()
    name = asker.one("Food, such as lamb shoulder", "--food", given.food, str, needed=True) or ""
    draft.food = {"name": name, **_species(asker, given, name, draft)}
    lot = asker.one("Name of the lot", "--lot", given.lot, str, needed=True, default=name) or ""
    draft.food |= _form(asker, given, draft) | _weight(asker, given)
    draft.head = {
        "lot": lot,
        "code": ask_code(asker, given.code),
        "zone": ask_zone(asker, given.zone),
    }
    draft.head |= _business(asker, given)
    draft.head |= {k: v for k in ("event", "cook") if (v := getattr(given, k).strip())}
    draft.head |= _date(asker, given)
    draft.facts = dict(_fact(text) for text in given.fact)
    return draft


def _need(asker: Asker, given: Given) -> None:
    missing = [f"--{name}" for name in _ESSENTIAL if not getattr(given, name).strip()]
    if missing and not asker.asks:
        raise InputError(
            f"a record cannot do without these answers, and there is no terminal to ask for them: "
            f"{', '.join(missing)}",
            hint=f"add {', '.join(missing)}, or run it at a terminal",
        )


def _species(asker: Asker, given: Given, name: str, draft: Draft) -> Table:
    from tempwitness.readers.words import word  # noqa: PLC0415 - a module of few words

    said: Table = {}
    cut = asker.one("", "--cut", given.cut, lambda t: word(t, Cut, "cut")) if given.cut else None
    if cut is not None:
        said["cut"] = cut.value
    try:
        species, shape = classify(name)
    except InputError as why:
        return _told_species(asker, given, why) | said
    if given.species:
        return _told_species(asker, given, None) | said
    draft.kind = ", ".join(w.value.replace("_", " ") for w in (species, shape) if w)
    say(f"  by its name this is {draft.kind}")
    if species is Species.MIXED:
        say("  a mixed dish is judged as the strictest of what is in it")
    return said


def _told_species(asker: Asker, given: Given, why: InputError | None) -> Table:
    if why is not None and asker.asks and not given.species:
        say(f"  {why.message}")
    choices = [(s.value, "") for s in Species]
    question = "Kind of food, by number or word"
    if why is not None and not asker.asks and not given.species:
        raise refuse("--species", why.message, "add --species, such as --species lamb")
    (found,) = asker.pick(question, "--species", given.species, choices, needed=True)
    return {"species": found}


def _form(asker: Asker, given: Given, draft: Draft) -> Table:
    kind = draft.food.get("species") or draft.kind.partition(",")[0].replace(" ", "_")
    if not given.form and Species(str(kind)) in _FORM_IS_NOTHING:
        return {}
    if asker.asks and not given.form:
        say(_WHY_FORM)
    question = "Before cooking it was, by number or word, commas between (Enter to leave open)"
    choices = [(form.value, meaning) for form, meaning in _FORMS.items()]
    while True:
        found = asker.pick(question, "--form", ",".join(given.form), choices, several=True)
        if Form.INTACT.value not in found or len(found) == 1:
            break
        if given.form:
            raise refuse("--form", "food cannot be intact and something else at once")
        say("  food cannot be intact and something else at once")
    return {} if not found else {"form": found[0] if len(found) == 1 else list(found)}


def _weight(asker: Asker, given: Given) -> Table:
    from tempwitness.readers.words import weighed  # noqa: PLC0415 - a module of few words

    def read(text: str) -> str:
        weighed(text)
        return text

    question = "Weight of the largest piece: 9 lb, 9 lb 4 oz or 4.1 kg (Enter to leave open)"
    found = asker.one(question, "--weight", given.weight, read)
    return {"weight": found} if found else {}


def ask_code(asker: Asker, given: str) -> str:
    """Ask for the id of a code; an option that names one is the answer."""
    from tempwitness.rulebook.files import code_ids  # noqa: PLC0415
    from tempwitness.rulebook.raw import raw_code  # noqa: PLC0415

    choices = []
    for code_id in code_ids():
        code = raw_code(code_id)
        law = any(r["weight"] == "law" for r in code["requirements"])
        title = f"{code['head']['title']}, {code['head']['edition']}"
        choices.append((code_id, title if law else f"{title} (advice only, no law)"))
    (found,) = asker.pick("Food code in force, by number", "--code", given, choices, needed=True)
    return found


def ask_zone(asker: Asker, given: str) -> str:
    """Ask for the time zone; an option that names one is the answer."""
    from tempwitness.readers.zones import find_zone  # noqa: PLC0415 - it loads numpy

    question = "Time zone of the clock, such as America/Chicago"
    found = asker.one(question, "--zone", given, find_zone, needed=True, default=machine_zone())
    return found.key if found else ""


def _business(asker: Asker, given: Given) -> Table:
    question = "Kind of kitchen, by number or word (Enter to leave open)"
    found = asker.pick(question, "--business", given.business, list(_BUSINESSES.items()))
    return {"business": found[0]} if found else {}


def _date(asker: Asker, given: Given) -> Table:
    question = "Day on which it began, such as 2026-07-04 (Enter if all times have their dates)"
    found = asker.one(question, "--date", given.date, _day)
    return {"date": found} if found else {}


def _day(text: str) -> date:
    try:
        if len(text) == len("2026-07-04"):
            return date.fromisoformat(text)
    except ValueError:
        pass
    raise ValueError(f"'{text}' is not a day; write it as 2026-07-04")


def _fact(text: str) -> tuple[str, str]:
    from tempwitness.readers.problems import nearest  # noqa: PLC0415
    from tempwitness.rulebook.facts import load_facts  # noqa: PLC0415

    key, sign, answer = text.partition("=")
    facts = load_facts()
    if not sign or key not in facts:
        raise refuse(
            "--fact",
            f"'{text}' is not KEY=ANSWER with a key that codes ask for{nearest(key, facts)}",
            "tempwitness check --full names the open ones",
        )
    known = facts[key]
    if not known.takes(answer):
        wanted = "a number" if known.number else ", ".join(known.answers)
        raise refuse("--fact", f"{key} = '{answer}' is not an answer; known are {wanted}")
    return key, answer
