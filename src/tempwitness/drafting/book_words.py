"""Words of the record's workbook: what each sheet and each column is for."""

from __future__ import annotations

__all__ = ["HINTS", "READ_ME", "SHEET_WORDS", "WIDTHS"]

READ_ME = (
    "One workbook is one lot: one food, from the refrigerator to the last leftover.",
    "Fill in what you know. A cell that you leave empty stays an open question; nothing is assumed "
    "in its place, and it is never taken for a no.",
    "Only the white cells are read. Keep the names of sheets and columns, and the first cell of "
    "the sheet 'Lot'. Rows may stay empty, and may be added.",
    "Times: 2026-07-04 18:10. A time alone (18:10) is enough if the day stands in 'Lot', under "
    "'date'; the list must then run on in order.",
    "Temperatures bear their unit: 165 F or 74 C. Bare figures take the unit that 'Lot' names "
    "under 'readings_unit'. What the hand marks is kept: ~165 F, <41 F, 140-145 F.",
    "Weights: 9 lb, 9 lb 4 oz, 4.1 kg. Several words in one cell are parted by semicolons.",
    "A note begins a stage (step) or says what was done (event). Steam, touch and looks are "
    "remarks: they prove no temperature.",
    "Judge it:   tempwitness check FILE.xlsx",
    "Print it:   tempwitness report FILE.xlsx -o report.pdf",
    "Seal it:    tempwitness seal FILE.xlsx -o lot.zip",
    "The local health authority decides; this program does not overrule it.",
)

SHEET_WORDS = {
    "Lot": "What the lot is, and under which code. Bold keys are needed.",
    "Facts": "What codes ask beyond the food itself. Leave empty what you do not know.",
    "Pieces": "One row a piece, if the lot has several or if their weights are known.",
    "Probes": "One row a thermometer. An unnamed probe has no check that could speak for it.",
    "Checks": "Ice, boiling or reference checks, each with the id of its probe.",
    "Readings": "One row a reading, in the order in which they were taken.",
    "Notes": "One row a step that begins, or a thing that was done.",
    "Files": "Files of loggers beside this workbook, if there are any.",
    "Columns": "Only where the name of a logger's column does not say what it holds.",
    "Time control": "Only under a written procedure with time in place of temperature.",
    "Approvals": "What an authority granted: variances, plans.",
    "Rates": "How fast the food can change at most, if you know it.",
    "Passive": "Stages in which the food only follows its surroundings.",
}

#: Hint above a column, or beside a key of the lot.
HINTS = {
    "lot": "name of the lot: 2026-07-04 lamb shoulders",
    "code": "food code in force; the local authority says which. Or name the place",
    "place": "where it is served, in place of the code: us/wa",
    "zone": "of the clock on the wall: America/Chicago",
    "also": "further codes to judge beside, parted by ;",
    "overrides": "files of local changes, parted by ;",
    "business": "kind of business",
    "event": "printed at the head of the report",
    "cook": "printed at the head of the report",
    "date": "first day of the lot, for times without a date",
    "food.name": "as the cook calls it: lamb shoulder, bone in",
    "food.species": "only if the name leaves it open",
    "food.cut": "shape: whole roasts have limits of their own",
    "food.form": "before cooking; several parted by ;",
    "food.weight": "of the largest piece: 9 lb",
    "food.thickness": "smallest, where the probe sits: 4 in",
    "food.shape": "around the probe",
    "readings_unit": "of temperatures that are typed as bare figures",
    "id": "name",
    "weight": "9 lb",
    "kind": "what sort",
    "scale": "scales it shows",
    "reads": "what it is for",
    "accuracy": "plus or minus: 1 F",
    "resolution": "its step: 0.1 F",
    "class": "of its sensor",
    "correct": "correct by checks?",
    "drift": "of a failed check",
    "probe": "which probe",
    "at": "when",
    "read": "what it showed: 32.4 F",
    "expected": "of a reference: 140 F",
    "elevation": "boiling: 5280 ft",
    "station_pressure": "boiling: 834 hPa",
    "fold": "hour that comes twice",
    "temp": "how warm: 165 F",
    "piece": "which piece",
    "point": "which spot of it",
    "by": "initials",
    "typed_later": "typed in afterwards?",
    "step": "stage that begins",
    "text": "in your own words",
    "method": "how: ice_bath",
    "path": "file beside this one",
    "unit": "F or C",
    "ignore": "columns left out",
    "time_format": "if times are odd",
    "day_order": "of 7/4/2026",
    "sheet": "of a workbook",
    "file": "no. in 'Files'",
    "column": "its name in the file",
    "as": "time, temp, step …",
    "option": "written procedure",
    "written": "day it was written",
    "marked": "time on the food?",
    "pieces": "parted by ;",
    "authority": "who granted it",
    "number": "its number",
    "granted": "day",
    "expires": "day",
    "stage": "stage",
    "up": "0.4 F/min",
    "down": "0.4 F/min",
    "reason": "why",
    "ambient": "36 F; 41 F",
    "per_hour": "0.3; 0.9",
}

#: Hints of keys that mean something else in one sheet.
HINTS |= {
    "Readings.place": "core if left empty",
    "Files.place": "where its probe sat",
    "Columns.place": "where the probe sat",
    "Files.zone": "if not the lot's",
    "Files.date": "day of its first row",
    "Checks.kind": "ice, boiling …",
    "Approvals.kind": "variance, plan …",
    "Notes.event": "what was done",
}

#: Width of a column [characters]; others take the usual one.
WIDTHS = {
    "at": 21,
    "temp": 12,
    "text": 46,
    "reason": 46,
    "path": 24,
    "kind": 18,
    "read": 20,
    "time_format": 20,
    "authority": 24,
    "method": 20,
    "station_pressure": 19,
}
