"""Print the speed of the program beside its targets: ``python -m tests.benchmarks [RUNS]``.

Processor times, user and system, of whole processes or calls; medians of RUNS runs (7).
"""

from __future__ import annotations

import sys
import tempfile
from dataclasses import dataclass
from datetime import timedelta
from pathlib import Path
from typing import TYPE_CHECKING

import pandas as pd

from tempwitness.evaluate import Asking, evaluate
from tempwitness.evaluate.under import under_codes
from tempwitness.pipeline import check, staged
from tempwitness.quality import qualify
from tempwitness.readers import read_any
from tempwitness.report import to_event_pdf, to_html, to_pdf
from tempwitness.rulebook.files import code_ids
from tempwitness.rulebook.load import load_code
from tempwitness.stages import monitoring_intervals
from tests.benchmarks.logs import START, write_lot
from tests.benchmarks.memory import lot_in_memory
from tests.benchmarks.timing import call_time, in_turns

if TYPE_CHECKING:
    from collections.abc import Iterator

CODE = "us/food-code/2022"
LATER = START + timedelta(days=30)
MANY = 40
VERDICTS = frozenset({0, 1, 3})


@dataclass(frozen=True, slots=True)
class Line:
    """One measure: what was measured, beside what, and what was wanted."""

    what: str
    ours: float
    beside: float
    target: float
    scale: str = "×"

    def __str__(self) -> str:
        value = self.ours / self.beside if self.scale == "×" else self.ours
        kept = "kept" if value <= self.target else "MISSED"
        unit = {"×": " ×", "s": " s", "ms": " ms"}[self.scale]
        factor = 1000.0 if self.scale == "ms" else 1.0
        times = f"{self.ours * 1000:9.2f} ms"
        if self.scale == "×":
            times += f" beside {self.beside * 1000:9.2f} ms"
        wanted = f"(at most {self.target * factor:g}{unit})"
        return f"{self.what:<58} {value * factor:7.2f}{unit:<3} {wanted:<16} {kept:<6} {times}"


def light_commands(runs: int) -> Iterator[Line]:
    """Measure `--help` and `rules show` beside importing click alone."""
    times = in_turns(
        runs,
        {
            "click": ["-c", "import click"],
            "--help": ["-m", "tempwitness", "--help"],
            "rules show": ["-m", "tempwitness", "rules", "show", CODE],
        },
    )
    for name in ("--help", "rules show"):
        yield Line(f"tempwitness {name} / import click", times[name], times["click"], 2.0)


def one_lot(runs: int, folder: Path) -> Iterator[Line]:
    """Measure `check` of a day at one reading a minute beside pandas reading the same file."""
    record = write_lot(folder, 60)
    times = in_turns(
        runs,
        {
            "pandas": ["-c", _pandas(record)],
            "check": ["-m", "tempwitness", "check", "--json", str(record)],
        },
        VERDICTS,
    )
    yield Line("check, 24 h, 8 probes, 1 min / pandas", times["check"], times["pandas"], 1.3)


def long_lot(runs: int, folder: Path, *, long: bool) -> Iterator[Line]:
    """Measure `check` of a day at one reading a second beside pandas reading the same file."""
    record = write_lot(folder, 1, long=long)
    layout = "691,200 rows" if long else "86,400 rows of 8"
    times = in_turns(
        runs,
        {
            "pandas": ["-c", _pandas(record)],
            "check": ["-m", "tempwitness", "check", "--json", str(record)],
        },
        VERDICTS,
    )
    what = f"check, 24 h, 8 probes, 1 s, {layout} / pandas"
    yield Line(what, times["check"], times["pandas"], 1.5)
    ours = call_time(lambda: qualify(read_any(record)), 3)
    table = call_time(lambda: pd.read_csv(folder / "log.csv"), 3)
    yield Line("  of which reading and flags, in a warm process / read_csv", ours, table, 1.5)


def library(runs: int) -> Iterator[Line]:
    """Measure one evaluation in memory, and how it grows with the readings."""
    code, intervals = load_code(CODE), monitoring_intervals()

    def evaluation(readings: int, *, strict: bool) -> float:
        log = staged(lot_in_memory(readings))
        asking = Asking(LATER.timestamp())
        return call_time(
            lambda: evaluate(log, code, intervals=intervals, asking=asking, strict=strict),
            max(runs * 5, 20),
        )

    day = evaluation(1440, strict=False)
    yield Line("evaluation in memory, 1,440 readings, one code", day, 0.0, 0.001, "ms")
    both = evaluation(1440, strict=True)
    yield Line("  with the strict answers", both, 0.0, 0.001, "ms")
    long = evaluation(14400, strict=False)
    yield Line("  ten times as many readings / ten times the time", long, 10.0 * day, 1.0)


def many_codes(runs: int, folder: Path) -> Iterator[Line]:
    """Measure a lot under many codes beside the same lot under one."""
    record, intervals = write_lot(folder, 60), monitoring_intervals()
    asking, code = Asking(LATER.timestamp()), load_code(CODE)
    names = code_ids()
    codes = [load_code(name) for name in names[:: len(names) // MANY][:MANY]]
    lot = check(record, at=LATER).log
    once = call_time(lambda: check(record, at=LATER), runs)
    more = call_time(lambda: under_codes(lot, codes, intervals=intervals, asking=asking), runs)
    yield Line(f"check of a record under {MANY} codes / under one", once + more, once, 3.0)
    log = staged(lot_in_memory(1440))
    one = call_time(lambda: evaluate(log, code, intervals=intervals, asking=asking), runs * 3)
    forty = call_time(lambda: under_codes(log, codes, intervals=intervals, asking=asking), runs * 3)
    yield Line(f"  {MANY} codes / one with its strict answers, in memory", forty, one, 3.0)


def paper(runs: int, folder: Path) -> Iterator[Line]:
    """Measure the report of a full lot after its evaluation."""
    checked = check(write_lot(folder, 60), at=LATER)
    taken = call_time(lambda: to_pdf(checked.evaluation, checked.log), max(runs // 2, 3))
    yield Line("PDF of 24 h, 8 probes, 1 min, after the evaluation", taken, 0.0, 0.5, "s")
    taken = call_time(lambda: to_html(checked.evaluation, checked.log), max(runs // 2, 3))
    yield Line("  the same as an HTML page", taken, 0.0, 0.5, "s")


def event(folder: Path) -> Iterator[Line]:
    """Measure the document of 200 lots beside that of 50, and each lot by itself."""
    checked = check(write_lot(folder, 600), at=LATER)
    lots = [(checked.evaluation, checked.log)] * 200
    few = call_time(lambda: to_event_pdf(lots[:50]), 1)
    many = call_time(lambda: to_event_pdf(lots), 1)
    yield Line("PDF of an event, 200 lots / four times that of 50", many, 4.0 * few, 1.3)


def _pandas(record: Path) -> str:
    return f"import pandas as pd; pd.read_csv({str(record.with_name('log.csv'))!r})"


def measures(runs: int) -> Iterator[Line]:
    """Yield all measures, each in a folder of its own."""
    yield from light_commands(runs)
    with tempfile.TemporaryDirectory() as folder:
        yield from one_lot(runs, Path(folder))
    for long in (True, False):
        with tempfile.TemporaryDirectory() as folder:
            yield from long_lot(min(runs, 5), Path(folder), long=long)
    yield from library(runs)
    with tempfile.TemporaryDirectory() as folder:
        yield from many_codes(runs, Path(folder))
    with tempfile.TemporaryDirectory() as folder:
        yield from paper(runs, Path(folder))
    with tempfile.TemporaryDirectory() as folder:
        yield from event(Path(folder))


if __name__ == "__main__":
    for line in measures(int(sys.argv[1]) if len(sys.argv) > 1 else 7):
        sys.stdout.write(f"{line}\n")
        sys.stdout.flush()
