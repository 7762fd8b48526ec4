"""Pieces and probes by name: those the record lists, or those the readings mention."""

from __future__ import annotations

from dataclasses import dataclass, field

from tempwitness.model.vocabulary import Place
from tempwitness.readers.problems import Problems, nearest

__all__ = ["ONLY_PIECE", "Names"]

ONLY_PIECE = "1"
_SHARED = (Place.AIR, Place.MEDIUM)


@dataclass(slots=True)
class Names:
    """Which pieces and probes there are.

    Parameters
    ----------
    listed_pieces : tuple of str
        Pieces that the record lists; empty if it leaves them to the readings.
    listed_probes : dict of str to str
        Probes that the record lists, with what each reads (``food`` or ``air``).
    """

    listed_pieces: tuple[str, ...] = ()
    listed_probes: dict[str, str] = field(default_factory=dict)
    met_pieces: dict[str, None] = field(default_factory=dict)
    met_probes: dict[str, None] = field(default_factory=dict)
    assumed: dict[str, None] = field(default_factory=dict)
    unnamed: bool = False

    def piece(
        self,
        name: str | None,
        where: Place,
        problems: Problems,
        *,
        line: int | None = None,
        column: str | None = None,
        key: str | None = None,
    ) -> str:
        """Piece of a reading; ``""`` for air and medium, which belong to all."""
        if where in _SHARED and not name:
            return ""
        if not name:
            name = self._only_piece(problems, line=line, column=column, key=key)
        if self.listed_pieces and name not in self.listed_pieces:
            problems.add(
                f"there is no piece '{name}' in this lot{nearest(name, self.listed_pieces)}",
                f"the record lists {', '.join(self.listed_pieces)}",
                line=line,
                column=column,
                key=key,
            )
        self.met_pieces.setdefault(name)
        return "" if where in _SHARED else name

    def _only_piece(
        self, problems: Problems, *, line: int | None, column: str | None, key: str | None
    ) -> str:
        if len(self.listed_pieces) > 1:
            problems.add(
                "the reading does not say of which piece it is",
                f"name one of {', '.join(self.listed_pieces)}",
                line=line,
                column=column,
                key=key,
            )
        self.unnamed = True
        return self.listed_pieces[0] if self.listed_pieces else ONLY_PIECE

    def probe(
        self,
        name: str | None,
        where: Place,
        problems: Problems,
        *,
        line: int | None = None,
        column: str | None = None,
        key: str | None = None,
    ) -> str:
        """Probe of a reading; ``""`` when it is not named and there is more than one."""
        if not name:
            name = self._only_probe(where)
        elif self.listed_probes and name not in self.listed_probes:
            problems.add(
                f"there is no probe '{name}' in this record{nearest(name, self.listed_probes)}",
                f"the record lists {', '.join(self.listed_probes)}",
                line=line,
                column=column,
                key=key,
            )
        self.met_probes.setdefault(name)
        return name

    def _only_probe(self, where: Place) -> str:
        wanted = "air" if where is Place.AIR else "food"
        fitting = [probe for probe, reads in self.listed_probes.items() if reads == wanted]
        if len(fitting) != 1 or len(self.listed_probes) != 1:
            return ""
        self.assumed.setdefault(
            f"readings that name no probe were taken with '{fitting[0]}', the only one listed"
        )
        return fitting[0]

    def pieces(self, problems: Problems) -> tuple[str, ...]:
        """All pieces of the lot, in the order in which they were listed or met."""
        met = list(self.met_pieces)
        if self.unnamed and not self.listed_pieces and len(met) > 1:
            named = [name for name in met if name != ONLY_PIECE]
            problems.add(
                f"some readings name a piece ({', '.join(named)}) and some do not",
                "name the piece of every reading, or list the pieces in the record",
            )
        return self.listed_pieces or tuple(met) or (ONLY_PIECE,)
