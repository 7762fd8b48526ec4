"""The heading under which a requirement is compared with those of other codes."""

from __future__ import annotations

from typing import TYPE_CHECKING

from tempwitness.model.vocabulary import Topic

if TYPE_CHECKING:
    from collections.abc import Sequence

__all__ = ["topic_of"]

_BY_FORM = {
    "fall": Topic.COOLING,
    "time_control": Topic.TIME_CONTROL,
    "shelf_life": Topic.DATE,
    "day_end": Topic.DATE,
    "instrument": Topic.PROBE,
    "monitoring": Topic.RECORDS,
    "paper": Topic.RECORDS,
}

#: The first of them that a requirement speaks of decides.
_BY_STAGE = {
    "cook": Topic.COOK,
    "reheat": Topic.REHEAT,
    "cool": Topic.COOLING,
    "cold_hold": Topic.COLD,
    "freeze": Topic.COLD,
    "thaw": Topic.OTHER,
    "hot_hold": Topic.HOT,
    "rest": Topic.HOT,
    "serve": Topic.HOT,
    "transport": Topic.HOT,
    "prep": Topic.TIME_CONTROL,
    "receive": Topic.OTHER,
}
_HANDLED = frozenset({"prep", "rest", "hot_hold", "serve", "transport"})
_BY_TIME = ("band_clock", "longest", "count")


def topic_of(form: str, stages: Sequence[str], given: str | None = None, op: str = "") -> Topic:
    """Return the one topic of a requirement.

    Parameters
    ----------
    form : str
        Form of its test.
    stages : sequence of str
        Stages of which it speaks; without any it is about papers and equipment.
    given : str, optional
        The topic that its file names, which decides.
    op : str
        Direction of the limit that is kept throughout, if it is of that form: a ceiling on a
        served food is about cold food.

    Examples
    --------
    >>> topic_of("throughout", ["rest", "hot_hold"], op=">=").value
    'hot'
    >>> topic_of("throughout", ["serve"], op="<=").value
    'cold'
    """
    if given:
        return Topic(given)
    if form in _BY_FORM:
        return _BY_FORM[form]
    return _by_stages(form, frozenset(stages), op)


def _by_stages(form: str, stages: frozenset[str], op: str) -> Topic:
    if not stages:
        return Topic.RECORDS
    if stages <= _HANDLED and form in _BY_TIME:
        return Topic.TIME_CONTROL
    if stages <= _HANDLED and op.startswith("<"):
        return Topic.COLD
    if form == "outside_band" and stages & _HANDLED:
        return Topic.HOT
    return next(topic for stage, topic in _BY_STAGE.items() if stage in stages)
