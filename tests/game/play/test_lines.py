"""A line of play in the store: each action at once, the end with the last one, forks as lines of their own."""

import sqlite3

import pytest
from at_table import beginner, winning_wall

from engine.rules.actions import Discard, Draw, Mahjong
from engine.rules.deal import DealCode
from engine.rules.game import start
from engine.rules.house import FULL, STRENGTHS, House
from engine.rules.record import Header
from engine.seats.character import Strength
from engine.store.endings import GameEnd
from engine.store.store import Store
from engine.store.values import StoreError
from game.play.lines import KeptLine, begin, damaged, line_of, others_of, resume
from game.play.sitting import Sitting
from game.words.situation import ending_sentences, outcome_sentences


@pytest.fixture
def path(tmp_path):
    """Where the store's file goes."""
    return tmp_path / "lone-east.sqlite"


@pytest.fixture
def store(path):
    """An open store."""
    with Store(path) as opened:
        yield opened


def code(house=None, seed=5):
    """A deal of the beginners' sheet."""
    return DealCode.of(beginner(), house or House(picks=5), seed)


def let_go(sitting, place=0):
    """Let the tile at a place of the rack go."""
    return sitting.act(Discard(sitting.observation.rack[place]))


def kept(path, line):
    """Seats and actions of a line, as another program that opens the file reads them."""
    with Store(path) as other:
        return list(other.record(line).entries), other.line(line)


def test_every_action_is_in_the_file_when_it_has_happened(store, path):
    """Choice and draw, read by a second opening of the same file after each step."""
    sitting = begin(store, beginner(), code())
    line = line_of(sitting)
    assert kept(path, line)[0] == []
    for choices in range(1, 4):
        let_go(sitting)
        entries, summary = kept(path, line)
        assert entries == [(entry.seat, entry.action) for entry in sitting.entries]
        assert len(entries) == 2 * choices
        assert not summary.finished


@pytest.mark.parametrize("choices", range(5))
@pytest.mark.slow
def test_a_game_is_resumed_at_the_exact_choice(path, choices):
    """Same rack in the same order, same discards, same wall, same cursor."""
    with Store(path) as store:
        sitting = begin(store, beginner(), code())
        for place in range(choices):
            let_go(sitting, place)
        states = sitting.states
    with Store(path) as store:
        again = resume(store, store.last_line("game"))
        assert again.states == states
        assert again.at_end
        assert again.observation == sitting.observation
        let_go(again)
        assert len(again.decisions) == choices + 1


def test_a_draw_that_was_due_is_made_when_resuming(store, path):
    """A program killed between a choice and the draw that follows goes on with that very draw."""
    sitting = begin(store, beginner(), code())
    let_go(sitting)
    line = line_of(sitting)
    record = store.record(line)
    cut = store.add_record(type(record)(record.header, record.entries[:1]))
    again = resume(store, cut)
    assert again.states == sitting.states
    assert kept(path, cut)[0] == list(record.entries)


def test_a_fork_is_a_line_of_its_own_and_the_first_one_stands(store, path):
    """Both are in the store; the fork shares what came before it."""
    sitting = begin(store, beginner(), code())
    for _ in range(3):
        let_go(sitting)
    first, whole = line_of(sitting), list(sitting.entries)
    sitting.back()
    sitting.back()
    at = sitting.cursor
    let_go(sitting, 2)
    second = line_of(sitting)
    assert second != first
    assert kept(path, first)[0] == [(entry.seat, entry.action) for entry in whole]
    entries, summary = kept(path, second)
    assert entries == [(entry.seat, entry.action) for entry in sitting.entries]
    assert (summary.parent, summary.forked_at) == (first, at)
    assert store.last_line("game") == second
    assert resume(store, first).states[-1] != resume(store, second).states[-1]


def test_the_end_is_written_with_the_last_action(store, path):
    """How it ended, in the same step; such a line is not resumed and takes no more."""
    sitting = begin(store, beginner(), code(House(picks=2)))
    line = line_of(sitting)
    for _ in range(2):
        let_go(sitting)
    assert kept(path, line)[1].ending is None
    let_go(sitting)
    summary = kept(path, line)[1]
    assert summary.ending == GameEnd("picks", 2)
    assert ending_sentences(summary.ending, summary.house) == ["All 2 picks are used and no hand was made."]
    assert store.last_line("game") is None
    with pytest.raises(StoreError, match="fork it"):
        store.append(line, 0, Draw(3))


def test_a_win_is_kept_with_its_points(store, path):
    """Hand, points and picks, so that the sentence can be made again."""
    house = House()
    wall, spare, hand = winning_wall(house)
    store.add_sheet(beginner())
    line = store.start_line(Header.of(beginner(), house, wall, "by hand"))
    sitting = Sitting(start(beginner(), house, wall), keeper=KeptLine(store, line))
    sitting.act(Discard(spare))
    sitting.act(Mahjong())
    summary = kept(path, line)[1]
    assert ending_sentences(summary.ending, summary.house) == outcome_sentences(sitting.state)
    end = summary.ending
    assert (end.kind, end.hand, end.points, end.picks) == ("mahjong", hand.name, sitting.state.outcome.points, 1)


def test_two_programs_on_one_line_never_mix(store, path):
    """The second one to play on is refused, and nothing of it is written."""
    sitting = begin(store, beginner(), code())
    with Store(path) as other:
        rival = resume(other, line_of(sitting))
        let_go(rival)
        with pytest.raises(StoreError, match="another window"):
            let_go(sitting, 3)
    assert kept(path, line_of(sitting))[0] == [(entry.seat, entry.action) for entry in rival.entries]
    assert sitting.entries == []


def test_a_line_with_hidden_advice_says_so_until_advice_is_seen(store, path):
    """As begun; and a fork of it likewise."""
    sitting = begin(store, beginner(), code(), advice_hidden=True)
    line = line_of(sitting)
    let_go(sitting)
    assert kept(path, line)[1].advice_hidden
    sitting.back()
    let_go(sitting, 1)
    assert kept(path, line_of(sitting))[1].advice_hidden
    store.advice_seen(line_of(sitting))
    assert not kept(path, line_of(sitting))[1].advice_hidden
    assert kept(path, line)[1].advice_hidden


def test_chosen_sections_come_back(path):
    """A game on a part of the sheet is resumed on that part."""
    sheet = beginner()
    cut = sheet.cut([sheet.sections[1].name])
    with Store(path) as store:
        begin(store, cut, code())
    with Store(path) as store:
        assert resume(store, store.last_line()).state.sheet.chosen == cut.chosen


def test_what_is_not_kept_has_no_line():
    """A watched game, for one."""
    assert line_of(Sitting(code().deal(beginner()))) is None


def test_the_others_may_each_have_a_strength_of_their_own(monkeypatch):
    """To the player's right, across and to the left, wherever the player sits; all alike where the house names none."""
    asked = []

    def table_of(strengths, _table):
        asked.append([strength.value for strength in strengths])
        return

    monkeypatch.setattr("game.play.lines.table_of", table_of)
    mixed = House(table=FULL, seat=1, others="sharp steady beginner")
    for house, strength in ((mixed, Strength.STEADY), (House(table=FULL), Strength.SHARP)):
        others_of(beginner(), beginner(), house, lambda sheet: sheet, strength)
    assert asked == [["beginner", "steady", "sharp", "steady"], ["sharp"] * 4]
    assert others_of(beginner(), beginner(), House(courtesy=True), lambda sheet: sheet) is None
    assert tuple(strength.value for strength in Strength) == STRENGTHS


@pytest.mark.parametrize("damage", ["x", "discard 9d", "draw 1b", "pass 1b 2b 3b"])
@pytest.mark.slow
def test_a_deal_with_a_damaged_entry_goes_on_before_it(store, path, damage):
    """Unreadable, or what can't have happened: the line stands at the last choice before, and is left as it is."""
    sitting = begin(store, beginner(), code())
    line = line_of(sitting)
    for _ in range(4):
        let_go(sitting)
    before = kept(path, line)[0]
    with sqlite3.connect(path) as db:
        db.execute("UPDATE entries SET action = ? WHERE line = ? AND number = 4", (damage, line))
    db.close()
    again = resume(store, line)
    assert damaged(again)
    assert [(entry.seat, entry.action) for entry in again.entries] == before[: len(again.entries)]
    assert len(again.entries) == 4
    assert again.legal()
    assert store.branches(line)[-1].id == line, "looking at it writes nothing"
    let_go(again)
    assert not damaged(again)
    fork = line_of(again)
    assert fork != line
    assert store.line(fork).parent == line
    assert list(store.record(fork).entries)[:4] == before[:4]
    assert resume(store, fork).states == again.states
