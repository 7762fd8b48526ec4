"""Questions that codes ask about a lot beyond the food itself, and the answers they know.

They stand in ``rules/facts/``. A question that is not answered stays open; it is never a no.
"""

from __future__ import annotations

from dataclasses import dataclass
from typing import TYPE_CHECKING

from tempwitness.errors import Location, RuleError
from tempwitness.rulebook.files import read_toml, rules_folder, shown
from tempwitness.rulebook.folder import kept_by_rules

if TYPE_CHECKING:
    from collections.abc import Mapping

__all__ = ["UNKNOWN", "Fact", "load_facts"]

#: The answer of somebody who does not know, to any question.
UNKNOWN = "unknown"


@dataclass(frozen=True, slots=True)
class Fact:
    """One question, and what may be answered.

    Parameters
    ----------
    asks : str
        The question as a person would put it.
    answers : tuple of str
        Answers that are known; empty for a number.
    number : bool
        Whether a number answers it.
    """

    asks: str
    answers: tuple[str, ...]
    number: bool

    def takes(self, text: str) -> bool:
        """Whether a text is one of its answers."""
        return text in self.answers or (self.number and _is_number(text))


def _is_number(text: str) -> bool:
    """Whether a text is a plain number of zero or more."""
    return text.replace(".", "", 1).isdecimal() and text.isascii()


@kept_by_rules
def load_facts() -> Mapping[str, Fact]:
    """Read the questions.

    Raises
    ------
    RuleError
        If one has no words, has both answers and a number or neither, or stands twice.
    """
    found: dict[str, Fact] = {}
    for path in sorted((rules_folder() / "facts").glob("*.toml")):
        for name, table in read_toml(path).items():
            where = Location(shown(path), key=name)
            if name in found:
                raise RuleError(f"the question '{name}' stands in two files", location=where)
            found[name] = _fact(table, where)
    return found


def _fact(table: object, where: Location) -> Fact:
    if (
        not isinstance(table, dict)
        or set(table) not in ({"asks", "answers"}, {"asks", "number"})
        or not isinstance(table["asks"], str)
    ):
        raise RuleError(
            "a question has 'asks' and either 'answers' or 'number = true'",
            location=where,
            hint='asks = "Was it cured?"\nanswers = ["no", "yes"]',
        )
    answers = tuple(str(a) for a in table.get("answers", ()))
    return Fact(table["asks"], (*answers, UNKNOWN), number=bool(table.get("number")))
