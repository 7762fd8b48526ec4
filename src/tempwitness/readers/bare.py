"""A readings file without a record; what the record would say comes from the command line."""

from __future__ import annotations

import os
from dataclasses import replace
from enum import StrEnum
from importlib import import_module
from pathlib import Path
from typing import TypeVar

from tempwitness.errors import InputError, Location
from tempwitness.model.logs import RawLog
from tempwitness.model.lot import Food, Lot, Piece
from tempwitness.model.vocabulary import Business, Cut, Form, Species
from tempwitness.readers.columns import Said
from tempwitness.readers.encoding import GZIP_SUFFIX
from tempwitness.readers.files import read_rows
from tempwitness.readers.lot import food
from tempwitness.readers.names import Names
from tempwitness.readers.options import BareOptions
from tempwitness.readers.probes import all_probes
from tempwitness.readers.problems import Problems
from tempwitness.readers.timeline import Frame
from tempwitness.readers.words import weighed, word
from tempwitness.readers.written import is_record
from tempwitness.readers.zones import find_zone
from tempwitness.units import Unit

__all__ = ["read_any", "read_bare"]

Word = TypeVar("Word", bound=StrEnum)
_COMMAND_LINE = "command line"
_UTC = "UTC"
_EXAMPLES = {
    "food": "--food 'lamb shoulder'",
    "code": "--code us/food-code/2022",
    "zone": "--zone America/Chicago",
}
# Asked for meat alone, so named beside the others only while the food is not known.
_OF_MEAT = {"form": "--form intact (for meat other than poultry)"}
# Whole muscle of these may stand under another limit when it was injected or cut into.
_FORM_MATTERS = frozenset(
    {
        Species.BEEF,
        Species.VEAL,
        Species.LAMB,
        Species.GOAT,
        Species.PORK,
        Species.FARMED_GAME,
        Species.WILD_GAME,
        Species.FISH,
        Species.MIXED,
    }
)


def read_any(path: Path, options: BareOptions | None = None, *, only_shown: bool = False) -> RawLog:
    """Read a record or a bare file, told apart by the suffix.

    Parameters
    ----------
    path : Path
    options : BareOptions, optional
        What the command line says.
    only_shown : bool
        Whether the readings are only shown and not judged: a bare file then needs no food, form or
        code, and a zone only if its times bear no offset from UTC.

    Raises
    ------
    InputError
        If it cannot be understood, or if a bare file comes without what it needs.
    """
    if is_record(path):
        found: RawLog = import_module("tempwitness.readers.record").read_record(path)
        return found if options is None else _beside(found, path, options)
    return read_bare(path, options or BareOptions(), only_shown=only_shown)


def _beside(log: RawLog, path: Path, options: BareOptions) -> RawLog:
    """Further codes and local changes may be asked for beside a record; all else it says itself."""
    if replace(options, also=(), overrides=()) != BareOptions():
        raise InputError(
            "a record says itself what the lot is; of these options only --also and --override "
            "go with one",
            location=Location(str(path)),
            hint="write the others into the record, or leave them out",
        )
    folder = path.parent
    changes = tuple(Path(os.path.relpath(o, folder)).as_posix() for o in options.overrides)
    lot = replace(log.lot, also=log.lot.also + options.also, overrides=log.lot.overrides + changes)
    return replace(log, lot=lot)


def read_bare(path: Path, options: BareOptions, *, only_shown: bool = False) -> RawLog:
    """Read a CSV, TSV or workbook together with what the command line says of the lot.

    Parameters
    ----------
    path : Path
    options : BareOptions
    only_shown : bool
        As for `read_any`.

    Raises
    ------
    InputError
        Naming every option that is missing, or what in the file cannot be understood.
    """
    asked = Problems(_COMMAND_LINE)
    if not only_shown:
        _refuse_missing(options, asked)
    what = _food(options, asked) if options.food else Food("", Species.MIXED)
    if not only_shown:
        _refuse_formless(what, asked)
    frame = _frame(options, asked)
    asked.check()
    problems = Problems(path.name if path.is_absolute() else str(path))
    names = Names()
    unit = None if options.unit is None else Unit(options.unit)
    said = Said(unit=unit, ignore=options.ignore)
    part = read_rows(path, problems, said, names, frame, pattern=options.time_format)
    pieces = names.pieces(problems)
    problems.check()
    return RawLog(
        lot=_lot(options, what, path, pieces),
        channels=part.channels,
        notes=tuple(sorted(part.notes, key=lambda n: n.at)),
        probes=all_probes({}, part.channels, names),
        sources=(part.source,),
        assumptions=part.assumptions,
        changes=part.changes,
    )


def _lot(options: BareOptions, what: Food, path: Path, pieces: tuple[str, ...]) -> Lot:
    return Lot(
        id=options.lot or Path(path.name.removesuffix(GZIP_SUFFIX)).stem,
        food=what,
        code=options.code,
        place=options.place,
        zone=options.zone or _UTC,
        pieces=tuple(Piece(name) for name in pieces),
        also=options.also,
        overrides=options.overrides,
        business=None if options.business is None else Business(options.business),
    )


def _refuse_missing(options: BareOptions, asked: Problems) -> None:
    missing = [name for name in _EXAMPLES if not getattr(options, name)]
    if options.place and "code" in missing:
        missing.remove("code")
    if missing:
        if not options.form:
            missing.append("form")
        names = ", ".join(f"--{name}" for name in missing)
        asked.stop(
            f"a readings file alone does not say what the lot is; missing: {names}",
            "add "
            + " ".join({**_EXAMPLES, **_OF_MEAT}[name] for name in missing)
            + ", or write a record: tempwitness new",
        )


def _refuse_formless(what: Food, asked: Problems) -> None:
    if what.forms is None and what.species in _FORM_MATTERS:
        asked.add(
            f"missing: --form; for {what.species.value.replace('_', ' ')} the limit differs "
            f"between intact meat and meat that was injected, tenderised, ground or stuffed",
            "add --form intact, or --form injected and so on",
        )


def _food(options: BareOptions, asked: Problems) -> Food:
    found = food(
        options.food,
        species=_word(options.species, Species, "species", asked),
        cut=_word(options.cut, Cut, "cut", asked),
        forms=_forms(options, asked),
        weight=None,
        problems=asked,
    )
    return _weighed(found, options, asked)


def _weighed(found: Food, options: BareOptions, asked: Problems) -> Food:
    if not options.weight:
        return found
    try:
        weight = weighed(options.weight)
    except ValueError as why:
        asked.add(f"--weight: {why}")
        return found
    return Food(found.name, found.species, found.forms, found.cut, weight)


def _forms(options: BareOptions, asked: Problems) -> tuple[Form, ...] | None:
    given = [options.form] if isinstance(options.form, str) else list(options.form)
    words = [part for text in given for part in text.split(",") if part.strip()]
    forms = [_word(text, Form, "form", asked) for text in words]
    found = tuple(form for form in forms if form is not None)
    if Form.INTACT in found and len(set(found)) > 1:
        asked.add("--form: food cannot be intact and something else at once")
    return found or None


def _word(text: str | None, kind: type[Word], option: str, asked: Problems) -> Word | None:
    if text is None:
        return None
    try:
        return word(text, kind, option)
    except ValueError as why:
        asked.add(f"--{option}: {why}")
        return None


def _frame(options: BareOptions, asked: Problems) -> Frame:
    try:
        zone = find_zone(options.zone) if options.zone else None
    except ValueError as why:
        asked.stop(f"--zone: {why}")
    return Frame(zone, options.date, options.fold, options.day_order)
