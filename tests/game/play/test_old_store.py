"""A store of the version before game ends were data, under the desk: the player goes on where they left off."""

import lzma
from importlib.resources import files
from pathlib import Path

import pytest

from engine.rules.deal import DealCodeError
from engine.rules.game import legal_actions
from engine.sheet.reader import read
from engine.sheet.shelf import EARLIER, find, shipped
from engine.store.store import Store
from game.play.desk import Desk
from game.play.lines import line_of
from game.play.matches import kept_match
from game.play.worker import Worker
from game.words.situation import ending_sentences

OLD = Path(__file__).parents[2] / "data" / "old_store" / "store.sqlite.xz"


@pytest.fixture
def desk(tmp_path):
    """A desk over the old store."""
    path = tmp_path / "lone-east.sqlite"
    path.write_bytes(lzma.decompress(OLD.read_bytes()))
    with Store(path) as store:
        yield Desk(Worker(), store)


@pytest.mark.slow
def test_the_game_left_off_goes_on(desk):
    """On the sheet that the store has of it, with the other seats playing; each choice is on the disk."""
    assert desk.told == ()
    assert desk.unfinished.id == 11
    sitting = desk.sitting_of(11)
    assert sitting.state.sheet.name == "Boatyard"
    before = len(sitting.entries)
    for _ in range(2):
        sitting.act(legal_actions(sitting.state)[0])
    assert line_of(sitting) == 11
    assert len(desk.store.record(11).entries) == len(sitting.entries) > before


@pytest.mark.slow
def test_the_match_under_way_goes_on(desk):
    """With its points, its clock and the deal that was being played."""
    play = kept_match(desk)
    assert (play.line, play.spent, play.match.number, play.match.totals) == (15, 45.5, 2, (-50, 150, -50, -50))
    sitting = play.sitting()
    sitting.act(legal_actions(sitting.state)[0])
    assert len(desk.store.record(15).entries) == len(sitting.entries)


def test_what_is_read_of_past_games_is_what_was_said(desk):
    """The sentences that the old version had kept are made again from what happened."""
    said = {line.id: " ".join(ending_sentences(line.ending, line.house)) for line in desk.store.lines(finished=True)}
    assert said[1].startswith("You made Tea chest, in Boxes, by drawing the last tile, at pick 40.")
    assert said[2] == "All 9 picks are used and no hand was made."
    assert said[3] == "The wall is used up and nobody has made a hand: a wall game, and nobody scores."
    assert said[9].startswith("West made Two oars, in Locker, by calling the last tile.")
    assert "West collects 160" in said[9]


@pytest.mark.slow
def test_stepping_back_in_an_old_game_forks_it(desk):
    """And the fork is the one to go on with."""
    sitting = desk.sitting_of(11)
    sitting.back()
    other = next(action for action in sitting.legal() if action != sitting.entries[sitting.cursor].action)
    sitting.act(other)
    fork = line_of(sitting)
    assert desk.store.line(fork).parent == 11
    assert desk.unfinished.id == fork
    assert desk.store.line(11).set_aside


SINCE = (
    (
        "quint a.n, pung b.n+2, pung a.n+3, pung dragon v\n        points: 28",
        "pung a.n, pung a.n+1, pung b.n+3, pung b.n+4, pair dragon of c\n        points: 25",
    ),
    (
        "kong a.n, single b.n+2, pung a.n+5, pung wind west\n",
        "pung a.n, pair b.n+2, pung a.n+4, pung wind west\n",
    ),
    (
        "kong a.n, single b.n+2, pung a.n+5, pung wind south\n",
        "pung a.n, pair b.n+2, pung a.n+4, pung wind south\n        where: n odd\n",
    ),
    ("pung a.n, sextet flower, pair dragon of b\n", "pung a.n, pair c.n+1, pung b.n+2, pung dragon of b\n"),
)
"""What First Steps has today, and what stood in its place in the edition of fingerprint 8ebee1bd9889cbde."""


def test_deals_of_an_earlier_edition_of_a_shipped_sheet_open(tmp_path):
    """First Steps had three other hands once: its code and its game are dealt as they were, from the edition that is
    kept; without it, one sentence says what is missing."""
    text = (files("sheets") / "first-steps.yaml").read_text(encoding="utf-8")
    for now, then in SINCE:
        assert now in text
        text = text.replace(now, then)
    edition = read(text).sheet
    assert edition.fingerprint == "8ebee1bd9889cbde"
    code = "4HTZ-E000-0048-0R2Q"
    with Store(tmp_path / "lone-east.sqlite") as store:
        with pytest.raises(DealCodeError, match="isn't here; load that sheet first"):
            Desk(Worker(), store).new_deal(code)
        store.add_sheet(edition)
        store.set("sheet", edition.fingerprint)
        desk = Desk(Worker(), store)
        line = line_of(desk.new_deal(code))
        assert desk.sitting_of(line).state.sheet.fingerprint == "8ebee1bd9889cbde"
        assert desk.store.sheet_of(line).hands[1].points == 25
        assert [sheet.name for sheet in desk.sheets()].count("First Steps") == 1, "only today's is offered"
        assert desk.current_sheet == find("first-steps")


def test_an_earlier_edition_is_none_of_today():
    """What ships stands in no list of what shipped once."""
    assert not {find(stem).fingerprint for stem in shipped()} & set(EARLIER)
    assert set(EARLIER.values()) <= set(shipped())
