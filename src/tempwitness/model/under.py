"""The answer for one lot under one of many codes."""

from __future__ import annotations

from dataclasses import dataclass

from tempwitness.model.vocabulary import (  # noqa: TC001 - the schema is made from them
    Confirmed,
    Verdict,
    Weight,
)

__all__ = ["UnderCode"]


@dataclass(frozen=True, slots=True)
class UnderCode:
    """What a lot is under one code, and the row that decides it.

    Parameters
    ----------
    place : str
        Where the code holds; empty for one that holds nowhere by itself.
    verdict : Verdict
        By its law alone where it has any, else by all of it.
    weight : Weight, optional
        Weight of the deciding row; ``None`` where nothing speaks of this food.
    requirement, row : str
        Id and title of the deciding requirement.
    others : int
        How many more rows have the same verdict.
    dated : str
        That the code was not in force when the lot was made; empty where it was, as far as known.
    """

    id: str
    title: str
    edition: str
    place: str
    verdict: Verdict
    weight: Weight | None = None
    requirement: str = ""
    row: str = ""
    stage: str = ""
    piece: str = ""
    reason: str = ""
    limit: str = ""
    citation: str = ""
    confirmed: Confirmed | None = None
    others: int = 0
    dated: str = ""
