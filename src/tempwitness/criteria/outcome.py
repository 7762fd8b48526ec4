"""What a criterion answers, before it is put into words for a finding."""

from __future__ import annotations

from dataclasses import dataclass, replace
from functools import lru_cache
from typing import TYPE_CHECKING, Any

from tempwitness.model.vocabulary import Verdict

if TYPE_CHECKING:
    from tempwitness.bounds.trace import Trace
    from tempwitness.model.vocabulary import Clock

__all__ = ["Cite", "Outcome", "Settling", "not_applicable"]


@dataclass(frozen=True, slots=True)
class Cite:
    """A reading on which an outcome rests."""

    trace: Trace
    index: int


@dataclass(frozen=True, slots=True)
class Settling:
    """The one reading that would have decided, and when [s]; any time if ``None``."""

    what: str
    at: float | None = None


@dataclass(slots=True)
class Outcome:
    """Answer of one criterion for one stage of one piece.

    Parameters
    ----------
    least, most : float, optional
        Bounds of the duration in question [s].
    began : float, optional
        Earliest moment at which the limit may have been broken or the clock may have begun [s].
    deadline : float, optional
        Latest moment by which the requirement can still be kept [s].
    clock : Clock, optional
        What that moment counts.
    settle, against : Settling, optional
        The one reading that would have shown that it was kept, and the one that it was broken.
    unread : tuple of (float, float, str)
        Stretches that stay unknown, and why.
    figures : tuple of (float, float)
        Figures of the test that was judged, in °F and in °C as printed.
    margin : float, optional
        Distance of the deciding reading from the limit, positive on the safe side [its unit].
    floor : bool
        Whether that limit is a least; else it is a most.
    closest : Cite, optional
        The deciding reading, where it is not the first of `cites`.

    Notes
    -----
    Not frozen, because freezing triples the cost of making one; `but` makes a changed copy.
    """

    verdict: Verdict
    reason: str
    measured: str = ""
    limit: str = ""
    least: float | None = None
    most: float | None = None
    began: float | None = None
    deadline: float | None = None
    clock: Clock | None = None
    cites: tuple[Cite, ...] = ()
    unread: tuple[tuple[float, float, str], ...] = ()
    inference: str = ""
    settle: Settling | None = None
    against: Settling | None = None
    allowance: str = ""
    question: str = ""
    margin: float | None = None
    floor: bool = True
    closest: Cite | None = None
    figures: tuple[tuple[float, float], ...] = ()

    def but(self, **changes: Any) -> Outcome:  # noqa: ANN401 - a value for any field
        """Return a copy with some fields changed."""
        return replace(self, **changes)


@lru_cache(maxsize=1024)
def not_applicable(reason: str) -> Outcome:
    """Return the outcome of a requirement that does not bear on this stage.

    Most requirements of a code do not bear on a lot, for the same few reasons: each is made once.
    """
    return Outcome(Verdict.NOT_APPLICABLE, reason)
