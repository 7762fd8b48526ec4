"""Each fault that fuzzing found, as a small file: what must be said in its place.

What is expected follows from the file itself: it holds no temperature or time that anybody meant.
"""

from __future__ import annotations

import io
import time
import zipfile
from pathlib import Path

import pytest

from tempwitness.cli.exit_codes import ExitCode
from tempwitness.cli.main import main
from tempwitness.errors import InputError, RuleError, TempwitnessError
from tempwitness.readers import BareOptions, read_any
from tempwitness.rulebook.override import load_override
from tests.fuzz.held import LAMB
from tests.fuzz.seeds import LONG, RECORD, SEEDS, TIMES, workbook_bytes

CHICAGO = BareOptions("lamb", "intact", "9 lb", "us/food-code/2022", "America/Chicago")
NINES = "9" * 400
FAR = 'table:number-rows-repeated="900000"', 'table:number-columns-repeated="9000"'


def refused(folder: Path, name: str, data: str | bytes, options: BareOptions = LAMB) -> str:
    path = folder / name
    path.write_bytes(data if isinstance(data, bytes) else data.encode())
    (folder / "long.csv").write_text(LONG, encoding="utf-8")
    with pytest.raises(TempwitnessError) as caught:
        read_any(path, None if path.suffix == ".toml" else options)
    assert caught.value.location is not None
    return str(caught.value)


def inside(seed: str, part: str, old: str, new: str, *, cut: int | None = None) -> bytes:
    """A workbook with something in one of its parts replaced, or the part broken off."""
    out = io.BytesIO()
    with zipfile.ZipFile(io.BytesIO(SEEDS[seed])) as book, zipfile.ZipFile(out, "w") as changed:
        for name in book.namelist():
            data = book.read(name)
            if name == part:
                assert old.encode() in data
                data = data.replace(old.encode(), new.encode(), 1)[:cut]
            changed.writestr(name, data)
    return out.getvalue()


@pytest.mark.parametrize("when", ["9999-12-31T23:59-12:00", "0001-01-01T00:00+12:00"])
@pytest.mark.parametrize("command", ["read", "check"])
def test_a_time_at_the_end_of_the_calendar(
    tmp_path: Path, capsys: pytest.CaptureFixture[str], command: str, when: str
) -> None:
    path = tmp_path / "ends.toml"
    head = RECORD.partition("[[piece]]")[0]
    path.write_text(f'{head}[[reading]]\nat = "{when}"\ntemp = "140 F"\n', encoding="utf-8")
    with pytest.raises(SystemExit) as left:
        main([command, str(path)])
    assert left.value.code == ExitCode.COULD_NOT_RUN
    assert "the year of this time cannot be right" in capsys.readouterr().err


@pytest.mark.parametrize("when", ["9999-12-31 23:59", "0001-01-01T00:00+12:00"])
def test_a_moment_of_asking_at_the_end_of_the_calendar(
    tmp_path: Path, capsys: pytest.CaptureFixture[str], when: str
) -> None:
    (tmp_path / "long.csv").write_text(LONG, encoding="utf-8")
    path = tmp_path / "ends.toml"
    path.write_text(RECORD, encoding="utf-8")
    with pytest.raises(SystemExit) as left:
        main(["check", str(path), "--at", when])
    assert left.value.code == ExitCode.COULD_NOT_RUN
    assert "is not a moment" in capsys.readouterr().err


def test_a_mistyped_year_costs_no_centuries(tmp_path: Path) -> None:
    text = "time,temp_f\n2026-07-04 10:00,140\n7017-07-04 10:05,139\n"
    begin = time.process_time()
    assert "more than a year" in refused(tmp_path, "years.csv", text, CHICAGO)
    # Looking through five thousand years took seconds; two days take milliseconds.
    assert time.process_time() - begin < 1.0


def test_times_weeks_apart_are_each_placed_by_their_own_offset(tmp_path: Path) -> None:
    path = tmp_path / "apart.csv"
    path.write_text("time,temp_f\n2026-01-05 10:00,40\n2026-07-06 10:00,39\n", encoding="utf-8")
    first, last = read_any(path, CHICAGO).channels[0].at.tolist()
    # 182 days; the summer's clock is an hour ahead (Energy Policy Act of 2005, section 110).
    assert last - first == 182 * 86400 - 3600


@pytest.mark.parametrize(
    ("name", "text"),
    [
        ("digits.toml", f"schema = {'9' * 5000}"),
        ("nested.toml", f"a = {'[' * 20000}"),
        ("weight.toml", RECORD.replace("9 lb", f"{NINES} lb")),
        ("accuracy.toml", RECORD.replace("1.8 F", f"{NINES} F")),
        ("rate.toml", RECORD.replace("60 F/h", f"{NINES} F/h")),
        ("passive.toml", RECORD.replace("[0.2, 0.6]", "[0.2, inf]")),
        ("nul.toml", RECORD.replace("long.csv", "long\\u0000.csv")),
    ],
)
def test_a_record_that_no_person_writes(tmp_path: Path, name: str, text: str) -> None:
    assert len(refused(tmp_path, name, text)) > 40


def test_so_many_digits_are_no_temperature(tmp_path: Path) -> None:
    path = tmp_path / "digits.csv"
    path.write_text(f"time,temp_f\n2026-07-04 10:00,{NINES}\n2026-07-04 10:05,140\n")
    log = read_any(path, LAMB)
    assert [str(v) for v in log.channels[0].value.tolist()] == ["nan", "140.0"]
    assert [(c.line, c.used) for c in log.changes] == [(2, "")]


def test_a_device_has_no_end(tmp_path: Path) -> None:
    device = Path("/dev/zero")
    text = RECORD.replace("long.csv", str(device))
    expected = "it is a device" if device.is_char_device() else "cannot be opened"
    assert expected in refused(tmp_path, "device.toml", text)


def test_a_cell_at_the_far_corner_of_a_sheet(tmp_path: Path) -> None:
    data = inside("book.xlsx", "xl/worksheets/sheet1.xml", 'r="A2"', 'r="XFD1048576"')
    assert "row 1048576 and column 16384" in refused(tmp_path, "far.xlsx", data)


@pytest.mark.parametrize("name", ["cookD5", "a2", "A2A", "A-2", f"A{'9' * 30}"])
def test_a_cell_of_an_impossible_name(tmp_path: Path, name: str) -> None:
    data = inside("book.xlsx", "xl/worksheets/sheet1.xml", 'r="A2"', f'r="{name}"')
    assert "no cell is named" in refused(tmp_path, "names.xlsx", data)


def test_a_part_in_an_unknown_encoding(tmp_path: Path) -> None:
    data = inside("book.ods", "content.xml", "UTF-8", "UTF78")
    assert "unknown encoding" in refused(tmp_path, "encoding.ods", data)


def test_a_cell_that_is_repeated_over_a_whole_sheet(tmp_path: Path) -> None:
    rows, columns = FAR
    data = inside(
        "book.ods",
        "content.xml",
        "</table:table>",
        f'<table:table-row {rows}><table:table-cell {columns} office:value-type="float" '
        f'office:value="5"/></table:table-row></table:table>',
    )
    # Six rows and the repeated ones.
    assert "row 900006 and column 9000" in refused(tmp_path, "far.ods", data)


def test_the_empty_rest_of_a_sheet_is_no_cell(tmp_path: Path) -> None:
    # So spreadsheet programs write what lies below the last row.
    rows, columns = FAR
    rest = f"<table:table-row {rows}><table:table-cell {columns}/></table:table-row>"
    data = inside("book.ods", "content.xml", "</table:table>", f"{rest}</table:table>")
    path = tmp_path / "rest.ods"
    path.write_bytes(data)
    assert sum(len(channel) for channel in read_any(path, LAMB).channels) == LONG.count("\n2026")


@pytest.mark.parametrize(
    ("seed", "part"), [("book.ods", "content.xml"), ("book.xlsx", "xl/worksheets/sheet1.xml")]
)
def test_a_part_of_a_workbook_that_is_broken_off(tmp_path: Path, seed: str, part: str) -> None:
    data = inside(seed, part, "<", "<", cut=-60)
    assert part in refused(tmp_path, f"broken-{seed}", data)


def test_a_directory_of_a_zip_that_is_broken(tmp_path: Path) -> None:
    whole = workbook_bytes([["time", "temp_f"], [TIMES[0], "140"]], ".ods")
    # Each entry of the central directory begins with these four bytes (APPNOTE.TXT 4.3.12).
    at = whole.index(b"PK\x01\x02")
    data = whole[:at] + b"\0\0\0\0" + whole[at + 4 :]
    assert "cannot be read" in refused(tmp_path, "broken.ods", data)


@pytest.mark.parametrize("text", ["change = 5", "add = ['x']", "change = {}", f"a = {'[' * 20000}"])
def test_an_override_that_holds_no_tables(tmp_path: Path, text: str) -> None:
    path = tmp_path / "county.toml"
    path.write_text(text, encoding="utf-8")
    with pytest.raises(RuleError, match="county"):
        load_override(path)


def test_an_override_of_an_impossible_name(tmp_path: Path) -> None:
    with pytest.raises((RuleError, InputError), match="cannot be read"):
        load_override(tmp_path / "a\0b.toml")
