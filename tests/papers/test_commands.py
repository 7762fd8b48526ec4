"""The commands ``packet`` and ``new event``."""

from __future__ import annotations

import tomllib
from pathlib import Path

import pytest
from click.testing import CliRunner, Result
from reportlab.pdfgen.canvas import Canvas

from tempwitness.cli.main import cli
from tempwitness.errors import TempwitnessError
from tempwitness.readers.event import read_event
from tempwitness.readers.event.questions import questions
from tests.drafting.running import new
from tests.papers.made import SUPPER, packet

FAIR = (
    *("event", "-o", "fair.toml", "--name", "Spring Fair", "--date", "2027-04-10"),
    *("--code", "us/food-code/2022", "--zone", "America/Chicago"),
)


def ran(*arguments: str) -> Result:
    return CliRunner().invoke(cli, arguments)


def test_the_packet_is_written_and_what_is_missing_is_said(tmp_path: Path) -> None:
    target = tmp_path / "packet.pdf"
    told = ran("packet", str(SUPPER), "-o", str(target))
    assert told.exit_code == 0
    assert told.stdout == ""
    assert target.read_bytes() == packet()
    assert "still to be answered: 4" in told.stderr
    assert "[cleaning.sanitizer]" in told.stderr


def test_no_file_is_overwritten(tmp_path: Path) -> None:
    target = tmp_path / "packet.pdf"
    target.write_text("mine", encoding="utf-8")
    told = ran("packet", str(SUPPER), "-o", str(target))
    assert isinstance(told.exception, TempwitnessError)
    assert target.read_text(encoding="utf-8") == "mine"


def test_a_form_without_a_map_names_its_fields(tmp_path: Path) -> None:
    form = tmp_path / "form.pdf"
    canvas = Canvas(str(form))
    canvas.acroForm.textfield(name="Booth name", x=72, y=700)
    canvas.showPage()
    canvas.save()
    told = ran("packet", str(SUPPER), "-o", str(tmp_path / "x.pdf"), "--fill", str(form))
    assert told.exit_code == 2
    assert "Booth name" in told.stderr
    chart = tmp_path / "map.toml"
    chart.write_text('schema = 1\n[field]\n"Booth name" = "{vendor.booth}"\n', encoding="utf-8")
    out = tmp_path / "filled.pdf"
    told = ran("packet", str(SUPPER), "-o", str(out), "--fill", str(form), "--map", str(chart))
    assert told.exit_code == 0
    assert out.read_bytes().startswith(b"%PDF-")
    assert "sign it by hand" in told.stderr


def test_a_new_event_from_options_holds_its_questions(tmp_path: Path) -> None:
    told = new(tmp_path, *FAIR, "--food", "lamb shoulder", "--food", "beans")
    assert (told.status, told.out) == (0, "")
    event = read_event(tmp_path / "fair.toml")
    assert [food.name for food in event.table.food] == ["lamb shoulder", "beans"]
    text = (tmp_path / "fair.toml").read_text(encoding="utf-8")
    for question in questions(event.table):
        if question.key.count(".") == 1 and "[" not in question.key:
            assert f"# {question.key.partition('.')[2]} =   # {question.asks}" in text


@pytest.mark.usefixtures("terminal")
def test_a_new_event_by_questions(tmp_path: Path) -> None:
    day = ("07:00", "10:30", "12:00", "x", "19:00")  # an x is no time: it is asked again
    event = ("Mill Green", "12 Mill Lane", "Ostbury", "row B", "outdoors", "240", "", "profit")
    rest = [""] * 60
    typed = "\n".join(
        [
            *("us/food-code/2022", "America/Chicago", "Spring Fair", "2027-04-10", "", *day),
            *(*event, *rest),
        ]
    )
    told = new(tmp_path, "event", "-o", "fair.toml", "--food", "beans", typed=f"{typed}\n")
    assert told.status == 0, told.err
    table = tomllib.loads((tmp_path / "fair.toml").read_text(encoding="utf-8"))
    assert table["event"]["patrons"] == 240
    assert str(table["day"][0]["serve_until"]) == "19:00:00"
    assert "is not a time of day" in told.err
    assert table["event"]["purpose"] == "profit"


def test_the_next_event_takes_over_everything_but_its_days(tmp_path: Path) -> None:
    options = ("--from", str(SUPPER), "--name", "Spring Fair", "--date", "2027-04-10")
    assert new(tmp_path, "event", "-o", "fair.toml", *options).status == 0
    before, after = read_event(SUPPER).table, read_event(tmp_path / "fair.toml").table
    assert after.event.name == "Spring Fair"
    assert after.event.last_event == before.event.name
    assert after.vendor.owner == before.vendor.owner
    assert after.equipment == before.equipment
    assert [s.do for f in after.food for s in f.step] == [s.do for f in before.food for s in f.step]
    assert all(s.start is None for f in after.food for s in f.step)
    assert after.holiday is None
    assert all(t.checked is None for t in after.thermometer)


def test_without_a_terminal_what_is_missing_is_named(tmp_path: Path) -> None:
    told = new(tmp_path, "event", "-o", "fair.toml", "--name", "Spring Fair")
    assert told.status == 2
    for option in ("--date", "--code", "--zone", "--food"):
        assert option in told.err


def test_local_changes_are_found_from_another_folder(tmp_path: Path) -> None:
    (tmp_path / "old").mkdir()
    old = tmp_path / "old" / "event.toml"
    text = SUPPER.read_text(encoding="utf-8")
    old.write_text(text.replace("schema = 1", 'schema = 1\noverrides = ["county.toml"]'), "utf-8")
    options = ("--from", str(old), "--name", "Spring Fair", "--date", "2027-04-10")
    assert new(tmp_path, "event", "-o", "fair.toml", *options).status == 0
    assert read_event(tmp_path / "fair.toml").table.overrides == ("old/county.toml",)


def test_new_event_has_its_own_help() -> None:
    shown = ran("new", "event", "--help")
    assert shown.exit_code == 0
    assert "--from" in shown.output
    assert max(map(len, shown.output.splitlines())) <= 96
