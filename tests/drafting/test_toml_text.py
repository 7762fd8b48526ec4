"""What is written as TOML is read back by the standard library's reader as it was."""

from __future__ import annotations

import tomllib
from datetime import date

import pytest
from hypothesis import given
from hypothesis import strategies as st

from tempwitness.drafting.toml_text import Value, entry, key, text
from tempwitness.errors import InputError

HOSTILE = (
    '"',
    "'''",
    '"""',
    "\\",
    "\\u0041",
    "# not a comment",
    'lamb"\n[food]\nname = "x',
    "]]",
    "a = 1",
    "\x00\x1f\x7f\x85",
    "\r\n",
    "\ufeff",
    "\u2028",
    "José 羊 🐑",
    " ",
    "",
)
plain = st.one_of(st.text(), st.sampled_from(HOSTILE))
values: st.SearchStrategy[Value] = st.recursive(
    st.one_of(plain, st.booleans(), st.integers(-(2**63), 2**63 - 1), st.dates()),
    lambda inner: st.one_of(st.lists(inner, max_size=4), st.dictionaries(plain, inner, max_size=4)),
    max_leaves=12,
)


@given(plain, values)
def test_an_entry_reads_back_as_it_was(name: str, held: Value) -> None:
    assert tomllib.loads(entry(name, held)) == {name: held}


@given(plain)
def test_text_stays_on_its_line(words: str) -> None:
    written = text(words)
    assert "\n" not in written
    assert "\r" not in written


@pytest.mark.parametrize("words", HOSTILE)
def test_hostile_text_cannot_leave_its_quotes(words: str) -> None:
    document = f"[a]\n{entry('first', words)}\n[b]\n{entry(words, 'second')}\n"
    assert tomllib.loads(document) == {"a": {"first": words}, "b": {words: "second"}}


def test_the_escapes_are_those_of_the_language() -> None:
    # TOML v1.0.0, "String": the first example of a basic string, as printed there.
    printed = r'"I\'m a string. \"You can quote me\". Name\tJos\u00E9\nLocation\tSF."'
    meant = 'I\'m a string. "You can quote me". Name\tJos\u00e9\nLocation\tSF.'
    assert text(meant) == printed.replace(r"\'", "'").replace(r"\u00E9", "é")


def test_a_key_has_quotes_only_where_it_needs_them() -> None:
    # TOML v1.0.0, "Keys": bare keys hold ASCII letters, digits, underscores and dashes.
    assert [key(k) for k in ("left_f", "a-1", "1234", "Probe 1", "a.b", "ʎǝʞ", "")] == [
        *("left_f", "a-1", "1234", '"Probe 1"', '"a.b"', '"ʎǝʞ"', '""')
    ]


def test_a_day_is_no_text() -> None:
    assert entry("date", date(2026, 7, 4)) == "date = 2026-07-04"


def test_half_a_character_is_refused() -> None:
    with pytest.raises(InputError, match="not a character"):
        text("lamb \udcff")
