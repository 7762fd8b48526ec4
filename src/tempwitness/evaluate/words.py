"""Words that findings and comparisons share."""

from __future__ import annotations

from typing import TYPE_CHECKING

if TYPE_CHECKING:
    from tempwitness.model.rule import CodeHead, Requirement

__all__ = ["citation_words"]


def citation_words(head: CodeHead, requirement: Requirement) -> str:
    """Write the instrument, its year where it has one, and the section.

    Where the section is that of the text on which the code builds, both are named.
    """
    year = head.edition if head.edition[:4].isdigit() else ""
    own = " ".join(w for w in (head.title, year) if w)
    after = f" (as in {requirement.instrument})" if requirement.instrument else ""
    return f"{own}{after}, {requirement.section}"
