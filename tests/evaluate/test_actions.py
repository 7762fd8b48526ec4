"""What to do, by when and on whose word."""

from __future__ import annotations

import pytest

from tempwitness.evaluate import Asking, evaluate
from tempwitness.model.finding import Action
from tempwitness.model.vocabulary import StageName
from tempwitness.stages import monitoring_intervals
from tests.evaluate.codes import COLD, COOLED, HOT, REACH, code, judged, rule
from tests.support import LATER, ZERO, Readings, channel, note, staged

RESCUE: dict[str, object] = {
    "on": ["not_met"],
    "do": "Reheat it.",
    "otherwise": "Discard it.",
    "within": "4 h",
    "since": "break",
    "basis": "practice",
}
#: Last kept at 1:00, broken at 2:00.
BROKEN: Readings = [(0, 120), (1, 110), (2, 95), (3, 95)]


Act = dict[str, object]


def action(
    readings: Readings,
    *actions: Act,
    asked: float = 99,
    steps: tuple[tuple[float, str], ...] = (),
    test: dict[str, object] = HOT,
) -> Action | None:
    """The action of a hold from 0:00 on, judged by one requirement with these actions."""
    notes = [note(0, "hot_hold"), *(note(t, s) for t, s in steps)]
    requirement = rule("a", test, actions=list(actions))
    log = staged([channel(readings)], notes)
    return judged(log, requirement, asked=ZERO + asked * 3600).findings[0].action


@pytest.mark.parametrize(
    ("asked", "by", "words"),
    [
        # The earliest moment of the break is 1:00, so the 4 h run out at 5:00 (10:00 UTC).
        pytest.param(3, True, "Reheat it. After 10:00: discard it.", id="while it can be saved"),
        pytest.param(5, True, "Reheat it. After 10:00: discard it.", id="at the last moment"),
        pytest.param(
            5.01, False, "Discard it. The time for saving it ran out at 10:00.", id="too late"
        ),
    ],
)
def test_the_time_for_saving_counts_from_the_earliest_break(
    asked: float, by: bool, words: str
) -> None:
    do_now = action(BROKEN, RESCUE, asked=asked)
    assert do_now == Action(words, "2026-07-04T10:00:00+00:00" if by else None, "practice")


def test_a_reheat_on_record_is_said_with_the_longest_wait() -> None:
    """Broken after 1:00 at the earliest; put to reheat at 3:30: at most 2 h 30 min later."""
    readings: Readings = [*BROKEN, (3.5, 95), (5, 155)]
    do_now = action(readings, RESCUE, steps=((3.5, "reheat"),), asked=99)
    assert do_now is not None
    assert do_now.do == (
        "It was put to reheat at 08:30, at most 2 h 30 min later. The reheat is judged by itself "
        "below."
    )
    assert do_now.by is None


@pytest.mark.parametrize(
    ("since", "by"),
    [
        pytest.param("start", "10:00", id="the clock of a fall starts at 1:00"),
        pytest.param("last", "07:00", id="the last reading is at 2:00"),
    ],
)
def test_deadlines_from_other_moments(since: str, by: str) -> None:
    within = {"start": "4 h", "last": "0 h"}[since]
    act = {"on": ["open"], "do": "Cool it.", "within": within, "since": since}
    cool: Readings = [(0, 120), (1, 101), (2, 80)]
    log = staged([channel(cool)], [note(0, "cool")])
    one = rule("a", COOLED, stages=["cool"], actions=[act])
    (found,) = judged(log, one, asked=ZERO + 2.5 * 3600).findings
    assert found.verdict.value == "open"
    assert found.action is not None
    assert found.action.by == f"2026-07-04T{by}:00+00:00"


def test_an_action_fits_the_verdict_and_the_stage() -> None:
    for_rest: Act = {"on": ["not_met"], "do": "Rest.", "stages": ["rest"]}
    for_doubt: Act = {"on": ["not_shown"], "do": "Read.", "basis": "authority"}
    plain: Act = {"on": ["not_met"], "do": "Discard it."}
    assert action(BROKEN, for_rest, for_doubt, plain) == Action("Discard it.", None, "code")
    # Asked long afterwards: nothing shows that the hold was kept to its end.
    doubtful: Readings = [(0, 120), (9, 120)]
    assert action(doubtful, for_rest, for_doubt, plain) == Action("Read.", None, "authority")
    assert action(BROKEN, for_rest) is None


def test_what_is_kept_needs_no_action() -> None:
    act = {"on": ["met", "not_met"], "do": "Carry on."}
    log = staged([channel([(0, 120), (3, 120)])], [note(0, "hot_hold"), note(3, event="finished")])
    assert judged(log, rule("a", HOT, actions=[act])).findings[0].action is None


def test_without_an_action_a_question_is_put_to_the_authority() -> None:
    duty: dict[str, object] = {"form": "duty", "question": "Is it agreed?"}
    assert action(BROKEN, test=duty) == Action(
        "Ask the health authority: Is it agreed?", None, "authority"
    )


def test_what_is_to_be_done_stands_worst_first_and_once() -> None:
    act = {"on": ["not_met", "not_shown"], "do": "Discard it."}
    read = {"on": ["not_shown"], "do": "Take a reading."}
    log = staged([channel([(0, 120), (2, 120)])], [note(0, "hot_hold"), note(9, "serve")])
    found = judged(
        log,
        rule("a", HOT, actions=[read]),
        rule("b", COLD, actions=[act]),
        rule("c", COLD, actions=[act]),
        rule("d", COLD, weight="house", actions=[{"on": ["not_met"], "do": "Frown."}]),
        asked=LATER,
    )
    assert [a.do for a in found.do_now] == ["Discard it.", "Take a reading."]


def test_an_open_deadline_is_the_action_s_own() -> None:
    act: Act = {"on": ["open"], "do": "Read it again."}
    do_now = action([(0, 120), (2, 120)], act, asked=3)
    # The next reading is due 4 h after the last one at 2:00.
    assert do_now == Action("Read it again.", "2026-07-04T11:00:00+00:00", "code")


def test_pieces_with_their_own_notes() -> None:
    """Only piece 2 was discarded: the cooling of piece 1 was broken off by nothing."""
    cool: Readings = [(0, 120), (1, 90)]
    both = [channel(cool, piece="1"), channel(cool, piece="2")]
    steps = [
        note(0, "cool"),
        note(1, event="finished", piece="1"),
        note(1, event="discarded", piece="2"),
    ]
    found = judged(staged(both, steps, pieces=["1", "2"]), rule("a", COOLED, stages=["cool"]))
    assert {f.piece: f.verdict.value for f in found.findings} == {
        "1": "not_shown",
        "2": "not_applicable",
    }


def test_a_date_mark_or_an_end_of_one_piece_is_not_that_of_another() -> None:
    days = {"form": "shelf_life", "days": 7, "mark_after": "24 h"}
    cold: Readings = [(t, 38) for t in range(0, 40, 4)]
    both = [channel(cool, piece=p) for p, cool in (("1", cold), ("2", cold))]
    steps = [note(0, "cold_hold"), note(1, event="date_marked", piece="2"),
             note(36, event="finished")]  # fmt: skip
    one = rule("a", days, stages=["cold_hold"])
    found = judged(staged(both, steps, pieces=["1", "2"]), one)
    assert {f.piece: f.verdict.value for f in found.findings} == {"1": "not_shown", "2": "met"}


def test_what_was_served_of_one_piece_says_nothing_of_another() -> None:
    both = [channel([(0, 120)], piece=p) for p in ("1", "2")]
    steps = [note(0, "serve"), note(1, event="finished", piece="2")]
    one = rule("a", {"form": "day_end"}, stages=[StageName.SERVE])
    found = judged(staged(both, steps, pieces=["1", "2"]), one)
    assert {f.piece: f.verdict.value for f in found.findings} == {"1": "not_shown", "2": "met"}


def test_enough_heat_for_the_cook_is_no_action() -> None:
    steps = [note(0, "cook"), note(2, event="finished")]
    log = staged([channel([(0, 60), (2, 155)])], steps)
    act = {"on": ["not_met", "not_shown"], "do": "Cook on."}
    found = judged(log, rule("a", REACH, stages=["cook"], actions=[act]))
    assert (found.verdict.value, found.do_now) == ("met", ())


def ended(event: str, *, asked: float = 99, piece: str | None = None) -> Action | None:
    """The action about a hold that was broken and then ended at 4:00 by a note."""
    log = staged([channel(BROKEN)], [note(0, "hot_hold"), note(4, event=event, piece=piece)])
    one = rule("a", HOT, actions=[RESCUE])
    return judged(log, one, asked=ZERO + asked * 3600).findings[0].action


def test_food_that_is_gone_is_not_to_be_saved() -> None:
    discarded = ended("discarded")
    assert discarded is not None
    assert discarded.do == "Nothing more: it was noted as discarded at 09:00. Keep this record."
    finished = ended("finished")
    assert finished is not None
    assert finished.do.startswith("It was noted as finished at 09:00. If any of it is left")
    for gone in (discarded, finished):
        assert (gone.by, gone.basis) == (None, "practice")


@pytest.mark.parametrize("event", ["discarded", "finished"])
def test_another_piece_that_is_gone_leaves_this_one_to_be_saved(event: str) -> None:
    do_now = ended(event, piece="2", asked=3)
    assert do_now is not None
    assert do_now.do.startswith("Reheat it.")


def test_a_cook_that_is_not_on_record_is_named_as_not_judged() -> None:
    held = staged([channel([(0, 120), (3, 120)])], [note(0, "hot_hold")])
    cooked = staged(
        [channel([(0, 60), (3, 155), (4, 150)])], [note(0, "cook"), note(3, "hot_hold")]
    )
    said = "the cook of piece 1 is not on record"
    assert any(line.startswith(said) for line in judged(held, rule("a", HOT)).unsettled)
    assert not any(line.startswith(said) for line in judged(cooked, rule("a", HOT)).unsettled)


def test_a_moment_that_somebody_named_stands_on_the_paper() -> None:
    log = staged([channel([(0, 120), (2, 120)])], [note(0, "hot_hold"), note(2, event="finished")])
    named = evaluate(
        log,
        code(rule("a", HOT)),
        intervals=monitoring_intervals(),
        asking=Asking(ZERO + 3 * 3600, explicit=True),
    )
    assert named.asked_at == "2026-07-04T08:00:00+00:00"
    assert named.verdict.value == "met"
