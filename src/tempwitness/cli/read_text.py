"""What was understood of a file, as text and as a JSON document."""

from __future__ import annotations

from dataclasses import asdict
from typing import TYPE_CHECKING, Any

from tempwitness.cli.read_rows import count, moment, rows, zone_of

if TYPE_CHECKING:
    from collections.abc import Iterator, Sequence
    from zoneinfo import ZoneInfo

    from tempwitness.cli.read_rows import Row
    from tempwitness.model.logs import Change, CorrectedLog, Note

__all__ = ["as_document", "as_text"]

_HEADS = ("time", "reading", "judged as", "piece", "place", "probe", "flag", "from")
_SCHEMA = "tempwitness/readings/1"


def as_text(log: CorrectedLog, limit: int | None) -> Iterator[str]:
    """Yield the lines of the text: the lot, how it was read, then row by row."""
    yield from _head(log)
    yield from _listed("How it was read", _understood(log))
    yield from _listed("Assumed", log.raw.assumptions)
    yield from _listed("Changed or left out", [_change(change) for change in log.raw.changes])
    yield from _listed("Probe checks", _corrections(log))
    yield from _listed("Notes", [_note(log, note) for note in log.raw.notes])
    yield from _listed("Gaps", [remark.reason for remark in log.qualified.remarks])
    yield from _listed("To ask whoever kept the log", log.qualified.questions)
    total = count(log)
    shown = total if limit is None else min(limit, total)
    yield f"Readings ({total}{'' if shown == total else f', the first {shown} shown'})"
    yield from _table(list(rows(log, limit)))
    doubted = sum(d.last - d.first + 1 for d in log.qualified.doubts)
    if not doubted:
        yield "No reading is doubted."


def _head(log: CorrectedLog) -> Iterator[str]:
    lot = log.raw.lot
    if not lot.food.name:
        yield f"{lot.id}: readings only; food and code are not said, and nothing is judged"
        yield f"  pieces: {', '.join(piece.id for piece in lot.pieces)}; times of {lot.zone}"
        yield ""
        return
    forms = ", ".join(sorted(lot.food.forms)) if lot.food.forms else "form not stated"
    weight = str(lot.food.weight) if lot.food.weight else "weight not stated"
    cut = f", {lot.food.cut.value.replace('_', ' ')}" if lot.food.cut else ""
    species = lot.food.species.value.replace("_", " ")
    yield f"Lot {lot.id}: {lot.food.name} ({species}{cut}), {forms}, {weight}"
    yield f"  pieces: {', '.join(piece.id for piece in lot.pieces)}"
    code = ", ".join((lot.code, *lot.also)) if lot.code else "not said"
    yield f"  code: {code}; clock times are those of {lot.zone}"
    if lot.facts:
        yield f"  facts: {', '.join(f'{k} = {v}' for k, v in sorted(lot.facts.items()))}"
    yield ""


def _listed(title: str, lines: Sequence[str]) -> Iterator[str]:
    if lines:
        yield title
        yield from (f"  {line}" for line in lines)
        yield ""


def _understood(log: CorrectedLog) -> list[str]:
    found = []
    for source in log.raw.sources:
        found.append(f"{source.name}: {source.rows} rows, SHA-256 {source.sha256[:12]}…")
        found += [f"  {line}" for line in source.understood]
    return found


def _change(change: Change) -> str:
    lines = ""
    if change.line:
        last = f"-{change.line + change.rows - 1}" if change.rows > 1 else ""
        lines = f", line{'s' if last else ''} {change.line}{last}"
    column = f", column '{change.column}'" if change.column else ""
    used = f"'{change.used}'" if change.used else "nothing"
    written = f"'{change.written}'" if change.written else "the row"
    return f"{change.source}{lines}{column}: {written} → {used}: {change.reason}"


def _corrections(log: CorrectedLog) -> list[str]:
    return [
        f"{made.probe or 'unnamed probe'}: {made.reason} ({_added(made.least, made.most)})"
        for made in log.corrections
    ]


def _added(least: float, most: float) -> str:
    if least == most:
        return f"{least:+.4g} °F" if least else "nothing added"
    if least == float("-inf"):
        return "unknown"
    return f"between {least:+.4g} and {most:+.4g} °F"


def _note(log: CorrectedLog, note: Note) -> str:
    begun = note.step.words if note.step else ""
    how = f" by {note.method.replace('_', ' ')}" if note.method else ""
    done = note.event.value.replace("_", " ") if note.event else ""
    said = "; ".join(part for part in (f"{begun}{how}".strip(), done, note.text) if part)
    whose = f" (piece {note.piece})" if note.piece else ""
    return f"{moment(note.at, zone_of(log))}  {said}{whose}  [{note.source}, line {note.line}]"


def _table(shown: list[Row]) -> Iterator[str]:
    cells = [_HEADS, *(_cells(row) for row in shown)]
    wide = [max(len(line[i]) for line in cells) for i in range(len(_HEADS))]
    kept = [i for i in range(len(_HEADS)) if len(cells) == 1 or any(line[i] for line in cells[1:])]
    for i, line in enumerate(cells):
        yield "  " + "  ".join(line[k].ljust(wide[k]) for k in kept).rstrip()
        if i and shown[i - 1].reason:
            yield f"      {shown[i - 1].reason}"


def _cells(row: Row) -> tuple[str, ...]:
    place = f"{row.place} {row.point}".rstrip()
    flag = "" if row.flag == "pass" else row.flag
    origin = f"{row.source}:{row.line}"
    return (row.at, row.written, row.used, row.piece, place, row.probe, flag, origin)


def as_document(log: CorrectedLog, limit: int | None) -> dict[str, Any]:
    """Return the same as a JSON document with stable keys."""
    lot = log.raw.lot
    zone = zone_of(log)
    return {
        "schema": _SCHEMA,
        "lot": lot.id,
        "food": lot.food.name or None,
        "species": lot.food.species.value if lot.food.name else None,
        "cut": lot.food.cut.value if lot.food.cut else None,
        "form": sorted(lot.food.forms) if lot.food.forms else None,
        "weight": str(lot.food.weight) if lot.food.weight else None,
        "pieces": [piece.id for piece in lot.pieces],
        "code": lot.code or None,
        "also": list(lot.also),
        "zone": lot.zone,
        "facts": dict(sorted(lot.facts.items())),
        "assumptions": list(log.raw.assumptions),
        "changes": [asdict(change) for change in log.raw.changes],
        "sources": [asdict(source) for source in log.raw.sources],
        "corrections": [
            {"probe": made.probe, "added": _added(made.least, made.most), "reason": made.reason}
            for made in log.corrections
        ],
        "notes": [_note_document(note, zone) for note in log.raw.notes],
        "gaps": [remark.reason for remark in log.qualified.remarks],
        "questions": list(log.qualified.questions),
        "total": count(log),
        "readings": [asdict(row) for row in rows(log, limit)],
    }


def _note_document(note: Note, zone: ZoneInfo) -> dict[str, Any]:
    return {
        "at": moment(note.at, zone),
        "step": note.step.value if note.step else None,
        "event": note.event.value if note.event else None,
        "text": note.text,
        "piece": note.piece,
        "method": note.method,
        "source": note.source,
        "line": note.line,
    }
