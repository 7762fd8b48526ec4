"""What a food's name says of its species and cut."""

from __future__ import annotations

import re
from dataclasses import dataclass
from typing import Any

from tempwitness.errors import InputError, Location
from tempwitness.model.vocabulary import Cut, Form, Species
from tempwitness.rulebook.files import read_toml, rules_folder
from tempwitness.rulebook.folder import kept_by_rules

__all__ = ["classify", "form_named"]

_BIRDS = frozenset({Species.CHICKEN, Species.TURKEY, Species.DUCK, Species.OTHER_POULTRY})
_WORD = re.compile(r"[^\W\d_]+")
_LONGEST = 3


@dataclass(frozen=True, slots=True)
class _Words:
    """The words of the food file, each phrase as a tuple of words in the singular."""

    species: dict[tuple[str, ...], Species]
    implied: dict[tuple[str, ...], Species]
    cut: dict[tuple[str, ...], Cut]
    bird_cut: dict[tuple[str, ...], Cut]
    ask: dict[tuple[str, ...], str]
    form: dict[tuple[str, ...], Form]


def classify(name: str) -> tuple[Species, Cut | None]:
    """Return species and cut of a food by the words of its name.

    Parameters
    ----------
    name : str
        As the cook calls it: "smoked lamb shoulder".

    Returns
    -------
    Species
        ``MIXED`` where several animals, or an animal and a plant, are named: it is judged as the
        strictest.
    Cut or None
        ``None`` where the name does not say.

    Raises
    ------
    InputError
        If no word is known, or a word leaves open what the law needs to know.

    Examples
    --------
    >>> classify("smoked lamb shoulder")
    (<Species.LAMB: 'lamb'>, <Cut.ROAST: 'roast'>)
    """
    words, phrases = _words(), _phrases(name)
    for phrase in phrases:
        if phrase in words.ask:
            raise _unknown(f"the food '{name}' leaves a question open: {words.ask[phrase]}")
    species = _species(phrases, words)
    if species is None:
        raise _unknown(f"the food '{name}' is not known by its name")
    return species, _cut(species, phrases, words)


def form_named(name: str) -> Form | None:
    """Return the state before cooking that a food's name speaks of, if any.

    Examples
    --------
    >>> form_named("ground beef").value
    'ground'
    >>> form_named("brisket, not injected") is None
    True
    """
    singles = [_singular(w) for w in _WORD.findall(name.lower())]
    for before, word in zip(["", *singles], singles, strict=False):
        found = _words().form.get((word,))
        if found is not None and before not in ("not", "never", "no", "non"):
            return found
    return None


def _species(phrases: list[tuple[str, ...]], words: _Words) -> Species | None:
    """Return the species named, else the one that the cut implies.

    A plant beside anything that may be meat is a mixed dish: the doubt goes to the stricter side.
    """
    named = {words.species[p] for p in phrases if p in words.species}
    implied = {words.implied[p] for p in phrases if p in words.implied}
    if named == {Species.PLANT} and (implied or any(p in words.cut for p in phrases)):
        return Species.MIXED
    found = named or implied
    if len(found) > 1:
        return Species.MIXED
    return next(iter(found), None)


def _cut(species: Species, phrases: list[tuple[str, ...]], words: _Words) -> Cut | None:
    if species is Species.PLANT:
        return Cut.PAN
    table = words.bird_cut if species in _BIRDS else words.cut
    return next((table[p] for p in phrases if p in table), None)


def _phrases(name: str) -> list[tuple[str, ...]]:
    """Return every run of one to three words of a name in the singular, the longest and last first.

    The last word of a name decides: a lamb shoulder chop is a chop.
    """
    singles = tuple(_singular(w) for w in _WORD.findall(name.lower()))
    return [
        singles[start : start + length]
        for length in range(_LONGEST, 0, -1)
        for start in range(len(singles) - length, -1, -1)
    ]


def _singular(word: str) -> str:
    if word.endswith("oes"):
        return word[:-2]
    return word[:-1] if len(word) > 3 and word.endswith("s") and not word.endswith("ss") else word


@kept_by_rules
def _words() -> _Words:
    tables = read_toml(rules_folder() / "foods.toml")
    return _Words(
        species={p: Species(k) for k, p in _entries(tables["species"])},
        implied={p: Species(k) for k, p in _entries(tables["implied"])},
        cut={p: Cut(k) for k, p in _entries(tables["cut"])},
        bird_cut={p: Cut(k) for k, p in _entries(tables["bird_cut"])},
        ask={_split(word): text for word, text in tables["ask"].items()},
        form={p: Form(k) for k, p in _entries(tables["form"])},
    )


def _entries(table: dict[str, Any]) -> list[tuple[str, tuple[str, ...]]]:
    return [(key, _split(phrase)) for key, phrases in table.items() for phrase in phrases]


def _split(phrase: str) -> tuple[str, ...]:
    return tuple(_singular(word) for word in phrase.split())


def _unknown(message: str) -> InputError:
    names = ", ".join(species.value for species in Species)
    return InputError(
        message,
        location=Location("record", key="food.species"),
        hint=f"say it in the record: species = one of {names}",
    )
