"""A record: one TOML file for a lot, which points at the files with its readings."""

from __future__ import annotations

import hashlib
from dataclasses import dataclass, field, replace
from importlib import import_module
from typing import TYPE_CHECKING

from tempwitness.model.logs import Change, Channel, Floats, Note, RawLog, Source
from tempwitness.model.lot import Food, Lot, Piece, StatedPassive, TimeControlPlan
from tempwitness.model.vocabulary import Answer
from tempwitness.readers import hand
from tempwitness.readers.lot import approvals, food, rates
from tempwitness.readers.names import Names
from tempwitness.readers.nights import refuse_loose_list
from tempwitness.readers.probes import all_probes, listed_probes, refuse_out_of_reach
from tempwitness.readers.timeline import Frame
from tempwitness.readers.written import written_record
from tempwitness.readers.zones import UnplacedTimeError, find_zone

if TYPE_CHECKING:
    from collections.abc import Sequence
    from pathlib import Path

    from tempwitness.readers.problems import Problems
    from tempwitness.readers.shape import RecordTable

__all__ = ["read_record"]


@dataclass(slots=True)
class _Gathered:
    """What the record and its files hold, as it is found."""

    channels: list[Channel] = field(default_factory=list)
    notes: list[Note] = field(default_factory=list)
    plans: tuple[TimeControlPlan, ...] = ()
    sources: list[Source] = field(default_factory=list)
    assumptions: list[str] = field(default_factory=list)
    changes: list[Change] = field(default_factory=list)
    loose: list[tuple[str, Floats]] = field(default_factory=list)
    typed_later: tuple[int, ...] = ()


def read_record(path: Path) -> RawLog:
    """Read a record with all the files it points at.

    Parameters
    ----------
    path : Path
        The TOML file.

    Raises
    ------
    InputError
        If the record or one of its files cannot be understood; it lists all faults found.
    """
    written = written_record(path)
    record, problems = written.table, written.problems
    frame = _frame(record, problems)
    probes = listed_probes(record.probe, frame, problems)
    names = Names(_piece_ids(record, problems), {p.id: p.reads for p, _ in probes.values()})
    found = _Gathered()
    _read_by_hand(record, frame, names, found, problems)
    _read_files(record, path, frame, names, found)
    _refuse_loose(found.loose, problems)
    refuse_out_of_reach(probes, found.channels, problems)
    lot = _lot(record, names, found, problems)
    problems.check()
    digest = hashlib.sha256(written.raw).hexdigest()
    rows = len(record.reading) + len(record.note)
    return RawLog(
        lot=lot,
        channels=tuple(found.channels),
        notes=tuple(sorted(found.notes, key=lambda n: n.at)),
        probes=all_probes(probes, found.channels, names),
        sources=(Source(path.name, digest, rows, _understood(record)), *found.sources),
        assumptions=(*found.assumptions, *names.assumed),
        typed_later=found.typed_later,
        changes=tuple(found.changes),
    )


def _frame(record: RecordTable, problems: Problems) -> Frame:
    try:
        zone = find_zone(record.zone)
    except ValueError as why:
        problems.stop(str(why), key="zone")
    return Frame(zone, record.date)


def _piece_ids(record: RecordTable, problems: Problems) -> tuple[str, ...]:
    ids = tuple(piece.id for piece in record.piece)
    for i, name in enumerate(ids):
        if name in ids[:i]:
            problems.add(
                f"there are two pieces '{name}'", "give each its own id", key=f"piece[{i + 1}].id"
            )
    return ids


def _read_by_hand(
    record: RecordTable, frame: Frame, names: Names, found: _Gathered, problems: Problems
) -> None:
    lists = (
        ("reading", record.reading),
        ("note", record.note),
        ("time_control", record.time_control),
    )
    placed = {name: hand.times(rows, name, frame, problems) for name, rows in lists if rows}
    hand.refuse_two_clocks(placed, problems)
    found.loose += [(name, p.local) for name, p in placed.items() if p.loose]
    found.assumptions += [p.assumption for p in placed.values() if p.assumption]
    found.assumptions += [words for p in placed.values() for words in p.understood]
    found.changes += hand.changes(record.reading)
    if record.reading:
        at = placed["reading"].at
        found.channels += hand.channels(record.reading, at, names, problems)
        late = [i + 1 for i, r in enumerate(record.reading) if r.typed_later]
        if late:
            found.assumptions.append(f"typed in later, not at the time: reading {_list(late)}")
            found.typed_later = tuple(late)
    if record.note:
        found.notes += hand.notes(record.note, placed["note"].at, names, problems)
    if record.time_control:
        found.plans = _plans(record, placed["time_control"].at.tolist(), names, problems)


def _refuse_loose(loose: Sequence[tuple[str, Floats]], problems: Problems) -> None:
    try:
        refuse_loose_list(loose)
    except UnplacedTimeError as wrong:
        problems.stop(wrong.what, wrong.hint)


def _list(numbers: Sequence[int]) -> str:
    return ", ".join(str(n) for n in numbers)


def _plans(
    record: RecordTable, at: Sequence[float], names: Names, problems: Problems
) -> tuple[TimeControlPlan, ...]:
    plans = []
    for i, (table, start) in enumerate(zip(record.time_control, at, strict=True)):
        for name in table.pieces or ():
            if names.listed_pieces and name not in names.listed_pieces:
                problems.add(
                    f"there is no piece '{name}' in this lot",
                    f"the record lists {', '.join(names.listed_pieces)}",
                    key=f"time_control[{i + 1}].pieces",
                )
        pieces = None if table.pieces is None else frozenset(table.pieces)
        plans.append(
            TimeControlPlan(start, table.option, table.written, Answer(table.marked), pieces)
        )
    return tuple(plans)


def _read_files(
    record: RecordTable, path: Path, frame: Frame, names: Names, found: _Gathered
) -> None:
    if not record.file:
        return
    read_file = import_module("tempwitness.readers.files").read_file
    for table in record.file:
        part = read_file(path.parent, table, frame, names)
        found.channels += part.channels
        found.notes += part.notes
        found.sources.append(part.source)
        found.assumptions += part.assumptions
        found.changes += part.changes
        found.loose += [] if part.loose is None else [(table.path, part.loose)]


def _lot(record: RecordTable, names: Names, found: _Gathered, problems: Problems) -> Lot:
    weights = {piece.id: piece.weight for piece in record.piece}
    if not record.code and not record.place:
        problems.add(
            "the record names neither the code nor the place",
            'write code = "us/food-code/2022", or place = "us/wa"',
            key="code",
        )
    doubled = sorted(set(record.facts) & set(record.food.facts))
    if doubled:
        problems.add(
            f"stated twice, under [facts] and [food.facts]: {', '.join(doubled)}",
            "keep one of the two",
            key="facts",
        )
    return Lot(
        id=record.lot,
        food=_food(record, problems),
        code=record.code,
        place=record.place,
        zone=record.zone,
        pieces=tuple(Piece(name, weights.get(name)) for name in names.pieces(problems)),
        also=record.also,
        overrides=record.overrides,
        business=record.business,
        event=record.event,
        cook=record.cook,
        facts={**record.facts, **record.food.facts},
        approvals=approvals(record.approval, problems),
        time_control=found.plans,
        rates=rates(record.rate, problems),
        passive=tuple(
            StatedPassive(p.stage, p.ambient, p.per_hour, p.reason) for p in record.passive
        ),
    )


def _food(record: RecordTable, problems: Problems) -> Food:
    made = food(
        record.food.name,
        species=record.food.species,
        cut=record.food.cut,
        forms=record.food.form,
        weight=record.food.weight,
        problems=problems,
    )
    return replace(made, thickness=record.food.thickness, shape=record.food.shape)


def _understood(record: RecordTable) -> tuple[str, ...]:
    said = [f"{len(record.reading)} readings and {len(record.note)} notes typed into the record"]
    return (*said, f"clock times are those of {record.zone}")
