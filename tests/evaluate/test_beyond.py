"""What the record does not speak of is named."""

from __future__ import annotations

from tests.support import channel, judge, note, staged


def test_a_point_that_was_not_read_in_a_stage_is_named() -> None:
    flat = channel([(0, 40), (5, 200), (6, 190), (8, 150)], point="flat")
    thin = channel([(0, 42), (5, 203)], point="thin")
    steps = [note(0, "cook"), note(5, "rest"), note(6, "hot_hold"), note(8, event="finished")]
    lines = judge(staged([flat, thin], steps)).unsettled
    assert [line for line in lines if "was not read in" in line] == [
        "the point thin of piece 1 was not read in: hot hold; what is said of these stages speaks "
        "of the other points"
    ]


def test_an_end_that_nobody_noted_is_named() -> None:
    log = staged([channel([(0, 150), (2, 140)])], [note(0, "hot_hold")])
    assert any("ended is not on record" in line for line in judge(log).unsettled)
    ended = staged(
        [channel([(0, 150), (2, 140)])], [note(0, "hot_hold"), note(2, event="finished")]
    )
    assert not any("ended is not on record" in line for line in judge(ended).unsettled)


def test_stages_that_nobody_noted_are_named_in_the_answer() -> None:
    trace = channel([(0, 38), (6, 150), (8, 200), (9, 180), (10, 160)])
    said = "Nobody noted the stages"
    assert said in judge(staged([trace], [])).headline
    assert said not in judge(staged([trace], [note(0, "cook")])).headline


def test_a_piece_without_a_cook_beside_one_with_a_cook_is_not_shown() -> None:
    one = channel([(0, 40), (5, 200), (6, 190), (8, 150)], piece="1")
    other = channel([(5, 190), (6, 185), (8, 150)], piece="2")
    steps = [
        note(0, "cook", piece="1"),
        note(5, "hot_hold", piece="1"),
        note(5, "hot_hold", piece="2"),
        note(8, event="finished"),
    ]
    found = judge(staged([one, other], steps, pieces=("1", "2")))
    cooks = {
        f.piece: f.verdict.value for f in found.findings if f.requirement.endswith("cook-roast")
    }
    assert cooks == {"1": "met", "2": "not_shown"}
    assert found.verdict.value == "not_shown"
