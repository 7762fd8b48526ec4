"""Texts that follow a changed limit, so that no paper prints the old figure as an instruction."""

from __future__ import annotations

import re
from typing import TYPE_CHECKING, Any

from tempwitness.model.figures import Limit, duration_words
from tempwitness.model.forms import Rise
from tempwitness.model.vocabulary import StageName

if TYPE_CHECKING:
    from collections.abc import Callable

    from tempwitness.model.rule import ActionRule, Requirement

__all__ = ["reword", "reword_reheats"]

_DAY = 86400.0


def reword(requirement: Requirement, old: Limit | float, new: Limit | float) -> Requirement:
    """Return a requirement whose title, note, question and actions carry the new figure."""
    say = _replacer(old, new)
    return requirement.model_copy(
        update={
            "title": say(requirement.title),
            "note": say(requirement.note),
            "question": say(requirement.question),
            "actions": tuple(_action(a, say, old, new) for a in requirement.actions),
        }
    )


def reword_reheats(
    requirements: tuple[Requirement, ...], old: Requirement, new: Requirement
) -> tuple[Requirement, ...]:
    """Carry a shorter time for reheating into every action that tells a cook to reheat."""
    if not isinstance(old.test, Rise) or not isinstance(new.test, Rise):
        return requirements
    before, after = old.test.within, new.test.within
    if after >= before:
        return requirements
    say = _replacer(before, after)
    return tuple(
        r if r.id == new.id else _shorten_reheats(r, say, before, after) for r in requirements
    )


def _shorten_reheats(
    requirement: Requirement, say: Callable[[str], str], old: float, new: float
) -> Requirement:
    if StageName.REHEAT in requirement.stages and not isinstance(requirement.test, Rise):
        actions = tuple(_action(a, say, old, new) for a in requirement.actions)
    else:
        actions = tuple(
            a.model_copy(update={"do": say(a.do)}) if "reheat" in a.do.lower() else a
            for a in requirement.actions
        )
    return requirement.model_copy(update={"actions": actions})


def _action(
    action: ActionRule, say: Callable[[str], str], old: Limit | float, new: Limit | float
) -> ActionRule:
    update: dict[str, Any] = {"do": say(action.do), "otherwise": say(action.otherwise)}
    if action.since == "start" and action.within == old and isinstance(new, float):
        update["within"] = new
    return action.model_copy(update=update)


def _replacer(old: Limit | float, new: Limit | float) -> Callable[[str], str]:
    """Return what puts the new figure in place of the old one wherever a text prints it."""
    if isinstance(old, Limit) and isinstance(new, Limit):
        pairs = [
            (rf"(?<![\d.]){old.f} °F \({old.c} °C\)", f"{new.f} °F ({new.c} °C)"),
            (rf"(?<![\d.]){old.f} °F", f"{new.f} °F"),
        ]
    elif isinstance(old, float) and isinstance(new, float):
        pairs = [
            (rf"(?<![\d.]){re.escape(duration_words(old))}(?! \d)\b", duration_words(new)),
            (rf"(?<![\d.]){old / _DAY:g} days\b", f"{new / _DAY:g} days"),
        ]
    else:
        pairs = []

    def say(text: str) -> str:
        for pattern, words in pairs:
            text = re.sub(pattern, words, text)
        return text

    return say
