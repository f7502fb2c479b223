"""A store and exported deals of the version before game ends were data: opened, listed, replayed, played on, exported.

The files in `tests/data/old_store` were written by that version. They are never to be made anew.
"""

import lzma
import sqlite3
from datetime import UTC, datetime
from pathlib import Path

import pytest

from engine.drills.match import Match
from engine.rules.game import apply, legal_actions
from engine.rules.house import FULL, QUIET
from engine.rules.record import replay
from engine.store.endings import GameEnd
from engine.store.export import export_text, import_file, import_text
from engine.store.store import Store

OLD = Path(__file__).parents[2] / "data" / "old_store"

ENDS = {
    1: GameEnd("mahjong", 40, 0, "Tea chest", "Boxes", 30, 180),
    2: GameEnd("picks", 9),
    3: GameEnd("wall", 99),
    4: GameEnd("picks", 5),
    5: None,
    6: None,
    7: GameEnd("wall", 25),
    8: GameEnd("mahjong", 23, 3, "Keel", "Slip", 25, 150, (-50, -50, -50, 150)),
    9: GameEnd("mahjong", 20, 2, "Two oars", "Locker", 40, 160, (-80, -40, 160, -40), 0),
    10: GameEnd("mahjong", 19, 0, "Shroud", "Rigging", 30, 180, (180, -60, -60, -60)),
    11: None,
    12: GameEnd("mahjong", 0, 1, "Spare slates", "Rafters", 25, 150, (-50, 150, -50, -50)),
    13: GameEnd("dead"),
    14: GameEnd("mahjong", 17, 1, "Keel", "Slip", 25, 150, (-50, 150, -50, -50)),
    15: None,
    16: None,
    17: GameEnd("picks", 7),
    18: GameEnd("mahjong", 40, 0, "Tea chest", "Boxes", 30, 180),
}
"""By line. The old version had kept a sentence on each that ended; these say the same."""

EXPORTED = {
    "quiet-won": 1, "quiet-picks": 2, "quiet-wall-sections": 3, "quiet-fork-unfinished": 6, "full-wall": 7,
    "full-mahjong-other-drawn": 8, "full-mahjong-other-called": 9, "full-mahjong-you-drawn": 10, "full-unfinished": 11,
    "full-slip": 12, "quiet-dead": 13, "match-unfinished": 15, "rehearsal": 16, "loaded-sheet": 17,
}  # fmt: skip
"""The line that each file was written from."""


@pytest.fixture
def old(path):
    """The old store's file, in its place."""
    path.parent.mkdir()
    path.write_bytes(lzma.decompress((OLD / "store.sqlite.xz").read_bytes()))
    return path


@pytest.fixture
def opened(old):
    """The old store, open."""
    with Store(old) as store:
        yield store


def play_on(store, line, choices=5):
    """Play a line on by the first legal action, so many of them; how many could be."""
    record, sheet = store.record(line), store.sheet_of(line)
    state = replay(record, sheet)[-1]
    made = 0
    while made < choices and state.outcome is None:
        seat, action = state.to_act, legal_actions(state)[0]
        state = apply(state, action)
        store.append(line, seat, action, None if state.outcome is None else GameEnd.of(state))
        made += 1
    return made


def test_it_opens_and_says_nothing(old):
    """It is brought up to date once, silently, and opens again."""
    with Store(old) as store:
        assert store.trouble is None
        assert store.saving
    with Store(old) as store:
        assert store.trouble is None
        assert {line.id: line.ending for line in store.lines(limit=None)} == ENDS
    db = sqlite3.connect(old)
    assert db.execute("PRAGMA integrity_check").fetchone() == ("ok",)
    assert db.execute("SELECT seq FROM sqlite_sequence WHERE name = 'lines'").fetchone() == (18,)
    db.close()


def test_every_line_is_listed_as_it_was(opened):
    """In the order in which lines were played to, with kind, sections, notes and what was hidden."""
    lines = {line.id: line for line in opened.lines(limit=None)}
    assert list(lines) == list(range(18, 0, -1))
    assert {number: line.kind for number, line in lines.items() if line.kind != "game"} == {
        14: "match", 15: "match", 16: "passes",
    }  # fmt: skip
    assert lines[3].chosen == ("Boxes", "Rafters")
    assert [number for number, line in lines.items() if line.advice_hidden] == [1]
    assert [number for number, line in lines.items() if line.imported] == [18]
    assert (lines[6].parent, lines[6].forked_at, lines[5].set_aside, lines[6].set_aside) == (5, 32, True, False)
    assert [number for number, line in lines.items() if line.house.table == FULL] == [15, 14, 12, 11, 10, 9, 8, 7]
    assert [(note.moment, note.text) for note in opened.notes(1)] == [
        (None, "It came late.\nThe joker did it."), (12, "Here the pair was kept."),
    ]  # fmt: skip
    assert [note.text for note in opened.notes(6)] == ["Another way from here."]
    assert [[line.id for line in deal.lines] for deal in opened.deals(("game",))][-3:] == [[3], [2], [1]]
    assert [5, 6] in [[line.id for line in deal.lines] for deal in opened.deals()]
    assert lines[1].touched == datetime(2026, 10, 3, 18, 9, 48, tzinfo=UTC)


@pytest.mark.slow
def test_every_line_replays_on_its_own_copy_of_the_sheet(opened):
    """To the end that it is listed with. None of its sheets ships with the game."""
    assert {(sheet.name, sheet.whole) for sheet in opened.sheets()} == {
        ("Attic", True), ("Boatyard", True), ("Toolbox", True),
    }  # fmt: skip
    for number, end in ENDS.items():
        last = replay(opened.record(number), opened.sheet_of(number))[-1]
        assert (None if last.outcome is None else GameEnd.of(last)) == end, number


@pytest.mark.slow
def test_every_line_can_be_played_on(opened):
    """What is unfinished goes on from where it was left; what is finished, from a fork."""
    for number, end in ENDS.items():
        if end is None:
            assert play_on(opened, number) == 5
        else:
            fork = opened.fork(number, 0)
            assert play_on(opened, fork, 3) >= 1
    assert opened.trouble is None
    assert {line.id: line.ending for line in opened.lines(limit=None) if line.id in ENDS} == ENDS


def test_the_game_goes_on_where_it_was_left(opened):
    """The last game, the match and the rehearsal."""
    assert (opened.last_line("game"), opened.last_line("match"), opened.last_line("passes")) == (11, 15, 16)
    under_way = opened.get("match")
    match = Match.from_json(under_way["match"])
    assert (under_way["line"], under_way["spent"]) == (15, 45.5)
    assert match.totals == (-50, 150, -50, -50)
    assert match.seat == opened.line(15).house.seat == 3


@pytest.mark.slow
def test_settings_tallies_and_reviews_are_there(opened):
    """As they were, but for reviews, which are made again from their games."""
    assert opened.get("explained") is True
    assert opened.get("rehearsal allowance") == 240.0
    assert opened.get("house")["passes"] == 6
    assert opened.get("match rules") == {"deals": 3, "minutes": 10}
    assert opened.sheet(opened.get("sheet")).name == "Boatyard"
    assert [(result.kind, result.allowance) for result in opened.results()] == [("passes", 300.0), ("match", 600.0)]
    assert opened.reviews() == (), "costs are counted in picks now, so that the games are reviewed again"
    assert set(opened.unreviewed()) == {17, 13, 4, 3, 2, 1}
    assert all(opened.line(line).house.table == QUIET for line in opened.unreviewed())


@pytest.mark.parametrize(("name", "line"), EXPORTED.items(), ids=EXPORTED)
@pytest.mark.slow
def test_an_old_file_of_a_deal_comes_in(opened, name, line):
    """The same record, notes and end as the line that it was written from; written again, it comes in the same."""
    came = import_file(opened, OLD / f"{name}.txt")
    assert came.trouble is None
    for number in (came.line, import_text(opened, export_text(opened, came.line)).line):
        assert opened.record(number) == opened.record(line)
        assert opened.line(number).ending == ENDS[line]
        assert opened.line(number).kind == opened.line(line).kind
        if name != "quiet-fork-unfinished":  # of a fork the file holds the notes of the shared part too
            assert [note.text for note in opened.notes(number)] == [note.text for note in opened.notes(line)]
    assert {path.stem for path in OLD.glob("*.txt")} == set(EXPORTED)


def test_an_end_that_no_replay_finds_stays_as_it_was_said(old):
    """Without the sheet there is nothing to replay on: the old sentence is kept, the figures where they say it all."""
    db = sqlite3.connect(old)
    db.execute("UPDATE sheets SET canonical = NULL")
    db.execute("UPDATE lines SET outcome = ? WHERE id = 9", ("West won. " * 2000,))
    db.commit()
    db.close()
    with Store(old) as store:
        assert store.line(1).ending.said.startswith("You made Tea chest, in Boxes")
        assert store.line(9).ending == GameEnd("", said=("West won. " * 2000)[:400])
        assert store.line(2).ending == GameEnd("picks", 9)
        assert store.line(11).ending is None
