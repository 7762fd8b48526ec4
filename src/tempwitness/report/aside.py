"""What does not apply, in the words of a kitchen and joined by its reason."""

from __future__ import annotations

from typing import TYPE_CHECKING

from tempwitness.model.vocabulary import Verdict
from tempwitness.report.brief import section
from tempwitness.report.groups import why

if TYPE_CHECKING:
    from tempwitness.model.finding import Evaluation

__all__ = ["reason_words", "ruled_out"]

_SILENT = "the record does not say: "

# Questions of the record by their keys, as a cook would ask them.
_ASKED = {
    "additives to preserve": "whether anything was added to preserve it",
    "air above 90f": "whether it was very hot outdoors",
    "combined dates": "whether food of several dates was put together",
    "commercial opened": "whether it is an opened package from a plant",
    "cooling from": "how warm it was when the cooling began",
    "cured": "whether it was cured",
    "egg service": "when the eggs are served",
    "highly susceptible": "whether the guests fall ill easily",
    "label instructions": "whether the maker's label was followed",
    "origin": "whether it came cooked and sealed from a plant",
    "oven": "in what kind of oven it was cooked",
    "oven line": "whether the oven kept to its line of the table",
    "process": "whether the cook was planned in two parts",
    "received": "in what state it was received",
    "reheat for": "what it was reheated for",
    "rop hours": "how long it stays packed without air",
    "rop way": "how it was packed without air",
    "smoked to preserve": "whether it was smoked to preserve it",
    "started": "whether it went on thawed or frozen",
    "thaw for": "what it was thawed for",
    "thermometer steps": "how finely the thermometer is marked",
    "tphc food": "whether it is cut produce or from an opened can",
    "tphc start": "at what temperature the time control began",
    "undercooked": "whether it was meant to be served undercooked",
    "vacuum packed": "whether it was packed without air",
}


def reason_words(reason: str) -> str:
    """Say in plain words why a requirement does not apply.

    Examples
    --------
    >>> reason_words("the record does not say: cured")
    'the record does not say whether it was cured'
    >>> reason_words("it is for ground food")
    'it is for ground food'
    """
    asked = reason.removeprefix(_SILENT)
    return f"{_SILENT[:-2]} {_ASKED[asked]}" if asked in _ASKED and asked != reason else reason


def ruled_out(evaluation: Evaluation) -> list[tuple[str, tuple[str, ...]]]:
    """Return what the lot as a whole rules out: each reason, with titles and sections."""
    found: dict[str, dict[str, None]] = {}
    for finding in evaluation.findings:
        if finding.verdict is Verdict.NOT_APPLICABLE and not finding.stage:
            named = f"{finding.title} ({section(finding, evaluation)})"
            found.setdefault(reason_words(why(finding)), {})[named] = None
    return [(r[:1].upper() + r[1:], tuple(named)) for r, named in found.items()]
