"""An authority's form filled from an event file; the form is made and read by other libraries."""

from __future__ import annotations

from io import BytesIO
from pathlib import Path

import pytest
from pypdf import PdfReader
from reportlab.pdfgen.canvas import Canvas

from tempwitness.errors import InputError
from tempwitness.papers import fill_form
from tempwitness.papers.fill import Filled, sayings
from tempwitness.readers.event.form_map import read_map
from tests.papers.made import supper

MAP = """
schema = 1
[field]
"Event" = "{event.name}"
"Where and when" = "{event.venue}, {event.dates}"
"Cold" = "{food[2].does.cold_hold}"
"Sanitizer" = "{cleaning.sanitizer}"
"Nonprofit" = { when = "event.purpose", is = "nonprofit", set = "Yes" }
"Profit" = { when = "event.purpose", is = "profit", set = "Yes" }
"Short" = "{event.about}"
"""


@pytest.fixture
def form(tmp_path: Path) -> Path:
    path = tmp_path / "form.pdf"
    canvas = Canvas(str(path))
    names = ("Event", "Where and when", "Cold", "Sanitizer", "Signature of applicant")
    for i, name in enumerate(names):
        canvas.acroForm.textfield(name=name, x=72, y=700 - 40 * i, width=300, height=20)
    canvas.acroForm.textfield(name="Short", x=72, y=400, width=60, height=20, maxlen=5)
    canvas.acroForm.checkbox(name="Nonprofit", x=72, y=300)
    canvas.acroForm.checkbox(name="Profit", x=72, y=260)
    canvas.showPage()
    canvas.save()
    return path


def filled(form: Path, text: str = MAP) -> Filled:
    path = form.parent / "map.toml"
    path.write_text(text, encoding="utf-8")
    return fill_form(form, read_map(path), supper(), str(path))


def test_fields_hold_the_answers(form: Path) -> None:
    done = filled(form)
    fields = PdfReader(BytesIO(done.content)).get_fields()
    assert fields is not None
    assert fields["Event"]["/V"] == "Harvest Supper on the Green"
    assert fields["Where and when"]["/V"] == "Mill Green, Sat 3 Oct 2026"
    assert "walk-in refrigerator" in fields["Cold"]["/V"]
    assert fields["Nonprofit"]["/V"] == "/Yes"
    assert fields["Profit"]["/V"] == "/Off"


def test_nothing_is_made_up_cut_short_or_signed(form: Path) -> None:
    done = filled(form)
    fields = PdfReader(BytesIO(done.content)).get_fields()
    assert fields is not None
    assert done.left_blank == ("Sanitizer",)
    assert done.too_long == ("Short",)
    assert done.unmapped == ("Signature of applicant",)
    for name in ("Sanitizer", "Short", "Signature of applicant"):
        assert not fields[name].get("/V")


def test_the_same_form_gives_the_same_bytes(form: Path) -> None:
    assert filled(form).content == filled(form).content


@pytest.mark.parametrize(
    ("old", "new", "says"),
    [
        ('"Event" =', '"Evnt" =', "did you mean 'Event'"),
        ("{event.name}", "{event.names}", "did you mean 'event.name'"),
        ('set = "Yes"', 'set = "On"', "cannot be set to 'On'"),
        ("schema = 1", "schema = 2", "must be one of 1"),
    ],
)
def test_a_slip_in_the_map_is_said(form: Path, old: str, new: str, says: str) -> None:
    with pytest.raises(InputError, match=says):
        filled(form, MAP.replace(old, new, 1))


def test_a_form_without_fields_is_refused(tmp_path: Path) -> None:
    path = tmp_path / "flat.pdf"
    canvas = Canvas(str(path))
    canvas.drawString(72, 700, "Application")
    canvas.showPage()
    canvas.save()
    with pytest.raises(InputError, match="no fields"):
        filled(path)


def test_what_is_no_pdf_is_refused(tmp_path: Path) -> None:
    path = tmp_path / "form.pdf"
    path.write_bytes(b"no form at all")
    with pytest.raises(InputError, match="cannot be read as a PDF"):
        filled(path)


def test_every_food_says_what_is_done_and_what_never_is() -> None:
    said = sayings(supper())
    assert said["food[1].does.cool"] == "not done"
    assert "225 °F" in said["food[2].does.cook"]
    assert said["food[2].process"] == "3: Complex"
    assert said["event.hours"] == "12:00 to 19:00"
