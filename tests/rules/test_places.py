"""Which code is in force where and when, and what a record hears of it.

Days and texts: Texas 25 TAC 228 adopts the Food Code of 2017 from 8 August 2021 (Texas Register
2024); New York has 10 NYCRR 14-1 for food service and 1 NYCRR 271-2 for retail stores.
"""

from __future__ import annotations

from dataclasses import replace
from datetime import date

import pytest

from tempwitness.errors import RuleError
from tempwitness.model.vocabulary import Business
from tempwitness.rulebook.places import adoptions_of, in_force, load_adoptions
from tempwitness.rulebook.terms import terms_for
from tests.support import channel, staged

DAY = date(2026, 7, 4)


@pytest.mark.parametrize(
    ("place", "business", "code"),
    [
        ("us/tx", None, "us/tx/25-tac-228"),
        ("us/ny", Business.CATERER, "us/ny/14-1"),
        ("us/ny", Business.STORE, "us/ny/271-2"),
        ("gb/sct", None, "gb/sct/2006"),
        ("ca/nb", None, "ca/nb/2009-138"),
    ],
)
def test_code_in_force(place: str, business: Business | None, code: str) -> None:
    assert in_force(place, business, DAY).code == code


def test_a_place_without_its_own_text_stands_under_the_one_around_it() -> None:
    assert in_force("us/tx/some-county", None, DAY).code == "us/tx/25-tac-228"


def test_before_the_adoption_nothing_is_known() -> None:
    with pytest.raises(RuleError, match="on 2021-08-07"):
        in_force("us/tx", None, date(2021, 8, 7))
    assert in_force("us/tx", None, date(2021, 8, 8)).code == "us/tx/25-tac-228"


def test_where_it_hangs_on_the_business_the_record_must_say_it() -> None:
    with pytest.raises(RuleError, match="depends on the kind of business"):
        in_force("us/ny", None, DAY)


def test_a_place_that_nobody_knows_is_refused() -> None:
    with pytest.raises(RuleError, match="no code is known for the place"):
        adoptions_of("atlantis")


def test_every_adoption_names_its_text_and_its_source() -> None:
    adoptions = load_adoptions()
    assert len(adoptions) > 50
    assert all(a.by and a.source and a.name for a in adoptions)


def test_a_record_that_names_its_place_gets_the_code_and_the_grounds() -> None:
    lot = replace(staged([channel([(0, 140.0)])], []).raw.lot, code="", place="us/tx")
    terms = terms_for(lot, DAY, DAY)
    assert terms.code == "us/tx/25-tac-228"
    assert any("25 TAC" in line for line in terms.lines)
    assert terms.doubts == ()


def test_a_code_of_another_place_is_doubted() -> None:
    lot = staged([channel([(0, 140.0)])], []).raw.lot
    lot = replace(lot, code="us/food-code/2022", place="us/tx")
    (doubt,) = terms_for(lot, DAY, DAY).doubts
    assert "us/tx/25-tac-228" in doubt


def test_a_code_that_is_no_longer_in_force_is_doubted() -> None:
    # Ontario's Regulation 562 was revoked by Regulation 493/17 on 1 July 2018.
    lot = replace(staged([channel([(0, 140.0)])], []).raw.lot, code="ca/on/562")
    (doubt,) = terms_for(lot, DAY, DAY).doubts
    assert "until 2018-06-30" in doubt
