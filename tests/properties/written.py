"""Records as files: written down in one way or another, then checked."""

from __future__ import annotations

import tempfile
from dataclasses import dataclass
from datetime import datetime, timedelta
from pathlib import Path
from random import Random
from typing import TYPE_CHECKING
from zoneinfo import ZoneInfo

from tempwitness.pipeline import check
from tests.properties.records import Record
from tests.support import FOOD_CODE

if TYPE_CHECKING:
    from tempwitness.model.finding import Evaluation
    from tempwitness.model.logs import Note

#: 0:00 of the test records.
START = datetime(2026, 7, 4, 5, 0, tzinfo=ZoneInfo("UTC"))


@dataclass(frozen=True)
class Written:
    """How a record is written down."""

    zone: str = "UTC"
    wide: bool = False
    celsius: bool = False
    files: int = 1
    shuffled: int | None = None
    also: tuple[str, ...] = ()
    county: str = ""

    def evaluate(self, record: Record) -> Evaluation:
        """Write the files, then check them."""
        with tempfile.TemporaryDirectory() as folder:
            path = Path(folder) / "record.toml"
            lines = self._rows(record)
            names = [f"log{k}.csv" for k in range(self.files)]
            unit = "c" if self.celsius else "f"
            header = f"time,1_{unit}" if self.wide else f"time,temp_{unit},piece"
            for k, name in enumerate(names):
                text = "\n".join([header, *lines[k :: self.files]]) + "\n"
                (Path(folder) / name).write_text(text, encoding="utf-8")
            used = [n for k, n in enumerate(names) if lines[k :: self.files]]
            path.write_text(self._record(record, used), encoding="utf-8")
            (Path(folder) / "county.toml").write_text(self.county, encoding="utf-8")
            return check(path, at=START + timedelta(days=90)).evaluation

    def _clock(self, hours: float) -> str:
        moment = START + timedelta(hours=hours)
        return moment.astimezone(ZoneInfo(self.zone)).strftime("%Y-%m-%d %H:%M:%S")

    def _rows(self, record: Record) -> list[str]:
        rows = []
        for hours, value in record.readings:
            shown = repr(round((value - 32) / 1.8, 9)) if self.celsius else repr(value)
            rows.append(f"{self._clock(hours)},{shown}" + ("" if self.wide else ",1"))
        if self.shuffled is not None:
            Random(self.shuffled).shuffle(rows)  # noqa: S311 - a test, no secret
        return rows

    def _record(self, record: Record, files: list[str]) -> str:
        facts = ", ".join(f'{k} = "{v}"' for k, v in record.facts)
        parts = [
            f'schema = 1\nlot = "t"\ncode = "{FOOD_CODE}"\nzone = "{self.zone}"\n',
            f"also = {list(self.also)}\n".replace("'", '"'),
            'overrides = ["county.toml"]\n' if self.county else "",
            '[food]\nname = "lamb shoulder"\nform = "intact"\nweight = "9 lb"\n',
            f"facts = {{ {facts} }}\n" if facts else "",
            '[[piece]]\nid = "1"\n',
            *(f'[[file]]\npath = "{name}"\n' for name in files),
            *(self._note(n) for n in record.notes),
        ]
        return "\n".join(parts)

    def _note(self, note: Note) -> str:
        hours = (note.at - START.timestamp()) / 3600
        step = f'step = "{note.step}"' if note.step else f'event = "{note.event}"'
        return f'[[note]]\nat = "{self._clock(hours)}"\n{step}\n'
