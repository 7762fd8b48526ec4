"""What each key of a record means, in one line; a key without a line fails the tests."""

from __future__ import annotations

_AT = "when, on the clock of the record's zone"
_FOLD = "which run of an hour that comes twice when the clocks go back"
_PIECE = "the piece it is of; not needed if there is one"
_PROBE = "the probe that took it"
_POINT = "name of the point, if a piece is read at several"
_PLACE = "where the sensor sat; `core` if not said"

WORDS: dict[str, dict[str, str]] = {
    "RecordTable": {
        "schema": "version of this file's form",
        "lot": "name of the lot, as on its label",
        "code": "id of the food code in force; there is no default",
        "zone": "IANA name of the time zone of all clock times",
        "also": "ids of codes to judge beside; they never change the answer",
        "overrides": "files with local changes, counted from the record's folder",
        "business": "kind of permit",
        "event": "what it was cooked for",
        "cook": "who cooked",
        "date": "day on which lists of clock times without dates begin",
        "food": "the food",
        "facts": "answers to what codes ask about the lot",
        "piece": "the pieces, if there are several",
        "probe": "the probes and their checks",
        "file": "files with readings",
        "reading": "readings typed by hand",
        "note": "what was done and when",
        "approval": "variances and approved plans",
        "time_control": "use of time in place of temperature, under a written procedure",
    },
    "FoodTable": {
        "name": "what the cook calls it",
        "species": "kind of food, if the name does not tell",
        "cut": "its shape, if the name does not tell",
        "form": "state before cooking, one or several",
        "weight": "weight of the largest piece",
        "facts": "the same as `[facts]`; each fact once",
    },
    "PieceTable": {"id": "its name", "weight": "its weight"},
    "ProbeTable": {
        "id": "its name",
        "kind": "what sort of probe",
        "scale": "the scales that it shows",
        "reads": "whether it reads food or air",
        "accuracy": "what its maker states, plus or minus",
        "correct": "whether its checks correct its readings",
        "drift": "whether its error may have changed between two checks",
        "check": "its checks",
    },
    "CheckTable": {
        "at": _AT,
        "kind": "in ice water, in boiling water or against a reference",
        "read": "what it showed",
        "expected": "what it should have shown; ice water needs none",
        "elevation": "height above the sea, for boiling water",
        "fold": _FOLD,
    },
    "FileTable": {
        "path": "file, counted from the record's folder",
        "zone": "zone of its clock times, if another",
        "place": _PLACE,
        "piece": _PIECE,
        "probe": _PROBE,
        "point": _POINT,
        "unit": "scale of its temperatures, if its columns do not say",
        "columns": "what its columns hold, by column name",
        "ignore": "columns to leave out",
        "time_format": "pattern of its times, if not ISO 8601",
        "date": "day on which it begins, if it holds clock times only",
        "fold": _FOLD,
        "sheet": "sheet of a workbook",
    },
    "ColumnTable": {
        "as": "what the column holds, if its name does not say",
        "piece": _PIECE,
        "place": _PLACE,
        "probe": _PROBE,
        "point": _POINT,
        "unit": "its scale",
    },
    "ReadingTable": {
        "at": _AT,
        "temp": "what was read",
        "piece": _PIECE,
        "place": _PLACE,
        "probe": _PROBE,
        "point": _POINT,
        "by": "who read it",
        "typed_later": "written down later, not at the time",
        "fold": _FOLD,
    },
    "NoteTable": {
        "at": _AT,
        "step": "stage that begins here",
        "event": "anything else that was done",
        "text": "in the person's own words",
        "piece": "the piece it concerns; all if not said",
        "method": "how, such as `ice_bath`",
        "fold": _FOLD,
    },
    "ApprovalTable": {
        "kind": "what was granted",
        "authority": "by whom",
        "number": "its number",
        "granted": "since when",
        "expires": "until when",
    },
    "TimeControlTable": {
        "at": "when the food left temperature control",
        "option": "which of the two procedures",
        "written": "date of the written procedure",
        "marked": "whether the food was marked with the time",
        "pieces": "the pieces it covers; all if not said",
        "fold": _FOLD,
    },
}
