"""The charts of a page with their titles, their descriptions, their key and their tables."""

from __future__ import annotations

from typing import TYPE_CHECKING

from tempwitness.report.html.chart import shapes
from tempwitness.report.html.chart.draw import Size, drawing
from tempwitness.report.html.markup import Markup, element, joined
from tempwitness.report.html.parts import table
from tempwitness.report.plot.told import described, key_words, limits_table, lines_table
from tempwitness.report.plot.view import NOTHING_TO_DRAW, Plot

if TYPE_CHECKING:
    from tempwitness.model.finding import Evaluation
    from tempwitness.model.logs import StagedLog
    from tempwitness.report.groups import Group
    from tempwitness.report.html.parts import Ids
    from tempwitness.report.localtime import LocalTime
    from tempwitness.report.plot.view import View

__all__ = ["Figures"]

#: A screen wider than a hand's breadth, and a narrow one, which the style sheet chooses between.
_WHOLE = (Size(760, 420, 10, "broad"), Size(320, 420, 3, "narrow"))
_PART = (Size(760, 240, 10, "broad"), Size(320, 260, 3, "narrow"))
_MOST_PARTS = 6
_MOST_PIECES = 24


class Figures:
    """Draws the charts of one lot."""

    def __init__(self, evaluation: Evaluation, log: StagedLog, clock: LocalTime, ids: Ids) -> None:
        self.plot = Plot(evaluation, log)
        self.clock = clock
        self.ids = ids
        self.lot = evaluation.lot.id
        self._drawn: dict[tuple[tuple[str, ...], str | None], int] = {}

    def whole(self) -> Markup:
        """Return the chart of the whole record with its key and its tables."""
        view = self.plot.whole()
        if view is None:
            return element("p", NOTHING_TO_DRAW)
        tables = (lines_table(self.plot, view, self.clock), limits_table(view, self.clock))
        return joined(
            [
                self._figure(view, f"Temperatures of lot {self.lot}, the whole record", _WHOLE),
                self._key(),
                *(table(self.ids, made) for made in tables if made.rows),
            ]
        )

    def part(self, group: Group, number: int) -> Markup:
        """Return the chart of a finding: of the first few, and the same stages once."""
        key = (tuple(f.piece for f in group.findings), group.first.stage_start)
        if key in self._drawn:
            told = f"The chart of this stage stands with number {self._drawn[key]}."
            return element("p", told, class_="small")
        if len(self._drawn) >= _MOST_PARTS:
            return Markup("")
        view = self.plot.part(group.findings)
        if view is None:
            return Markup("")
        self._drawn[key] = number
        subject = group.subject(len(self.plot.pieces))
        return self._figure(view, f"Temperatures of number {number}: {subject}", _PART)

    def _figure(self, view: View, name: str, sizes: tuple[Size, ...]) -> Markup:
        told = described(self.plot, view, self.clock)
        drawn = []
        for size in sizes:
            place = self.ids.next("chart")
            said = (
                element("title", shapes.bare(name), id=f"{place}-title"),
                element("desc", shapes.bare(told), id=f"{place}-desc"),
            )
            drawn.append(drawing(self.plot, view, self.clock, size, said))
        axes = f"{name}; {self.plot.axis_words(self.clock.zone)}."
        return element("figure", *drawn, element("figcaption", axes))

    def _key(self) -> Markup:
        pieces = self.plot.pieces[:_MOST_PIECES]
        samples = [
            (_piece(place), f"piece {piece}" if piece else "core")
            for place, piece in enumerate(pieces)
        ]
        samples += zip(_shared_samples(), key_words(), strict=True)
        items = (element("li", _sample(drawn), words) for drawn, words in samples)
        heading = element("h3", "What the signs of the chart mean")
        return joined([heading, element("ul", joined(items), class_="key")])


def _sample(drawn: Markup) -> Markup:
    svg = Markup('<svg class="chart sample" viewBox="0 0 30 12" aria-hidden="true">')
    return Markup(f"{svg}{drawn}</svg> ")


def _piece(place: int) -> Markup:
    dashes = shapes.DASHES[place % len(shapes.DASHES)]
    drawn = shapes.polyline([(1, 6), (29, 6)], "core", dashes)
    return joined([drawn, shapes.marker(place, (15, 6))])


def _shared_samples() -> tuple[Markup, ...]:
    return (
        shapes.line((1, 6), (29, 6), "air"),
        shapes.line((1, 6), (29, 6), "limit"),
        shapes.hatching(1, 1, (28, 10)),
        shapes.doubted((15, 6)),
        shapes.line((15, 0), (15, 12), "midnight"),
        shapes.label((12, 10), "?", room=20),
    )
