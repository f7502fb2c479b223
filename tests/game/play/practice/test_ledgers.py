"""The ledger over the store: figures rebuilt from the records equal the stored ones, and only fair games count."""

import json
import os
import subprocess
import sys
from dataclasses import replace
from datetime import UTC, date, datetime

import pytest
from at_table import winning_wall

from engine.advice.table import SheetTable
from engine.drills.ledger import HandFigures
from engine.rules.actions import Discard, Mahjong
from engine.rules.deal import DealCode
from engine.rules.house import House
from engine.rules.record import Header
from engine.sheet.shelf import find
from engine.store.store import Store
from engine.tiles import JOKER
from game.commands.ledger import said
from game.play.lines import begin, resume
from game.play.practice.ledgers import Ledgers, PlayedGame, want
from game.words.season.ledger import record_words

DAY = date(2026, 5, 2)
NOW = datetime(2026, 5, 2, 12, 0, tzinfo=UTC)


@pytest.fixture
def store(tmp_path):
    """A store whose clock stands still."""
    with Store(tmp_path / "store.sqlite", now=lambda: NOW) as opened:
        yield opened


@pytest.fixture
def sheet():
    """The small sheet."""
    return find("first-steps")


def play(sitting):
    """To the end, the leftmost tile that is no joker going each time, a mahjong shown where there is one."""
    while not sitting.over:
        legal = sitting.legal()
        real = [action for action in legal if isinstance(action, Discard) and action.kind != JOKER]
        sitting.act(Mahjong() if Mahjong() in legal else (real or legal)[0])


def a_game(store, sheet, seed=1, **options):
    """A whole game of eight picks, kept."""
    sitting = begin(store, sheet, DealCode.of(sheet, House(picks=8), seed), **options)
    play(sitting)
    return sitting


def test_what_is_stored_is_what_the_record_gives(store, sheet):
    """Worked out while the game lies on the table, or again from its record."""
    sitting = a_game(store, sheet)
    ledgers = Ledgers(store, sheet)
    (line,) = ledgers.waiting()
    ledgers.fill()
    table = SheetTable.of(sheet, 8)
    here = PlayedGame(tuple(sitting.states), sitting.player).figures(table)
    fresh = Ledgers(store, sheet)
    again = fresh.figures(fresh.open(line))
    rounded = HandFigures.from_json(here.to_json())
    assert again == here
    assert ledgers.stored() == {line.id: rounded}
    assert ledgers.waiting() == []


def test_only_games_played_through_count(store, sheet):
    """No rehearsal, no game with something taken back, none that is not over."""
    a_game(store, sheet, 1)
    a_game(store, sheet, 2, kind="passes")
    begin(store, sheet, DealCode.of(sheet, House(picks=8), 3))
    forked = a_game(store, sheet, 4)
    forked.go_to(forked.decisions[0])
    other = next(a for a in forked.legal() if isinstance(a, Discard) and a != forked.entries[forked.cursor].action)
    forked.act(other)
    play(forked)
    ledgers = Ledgers(store, sheet)
    ledgers.fill()
    assert ledgers.ledger(DAY).games == 2


def test_a_win_is_in_the_ledger(store, sheet):
    """With the day, the kind of game, and in words."""
    house = House(picks=40)
    wall, spare, _ = winning_wall(house)
    store.add_sheet(sheet)
    line = store.start_line(Header.of(sheet, house, wall), advice_hidden=True)
    sitting = resume(store, line)
    sitting.act(Discard(spare))
    play(sitting)
    ledgers = Ledgers(store, sheet)
    ledgers.fill()
    name = sitting.state.outcome.hand.name
    record = next(one for one in ledgers.ledger(DAY).records if one.hand == name)
    assert record.wins.quiet_hidden == 1
    assert record.first == NOW.astimezone().date()
    assert record_words(record).startswith(f"{name}: won once: 1 at the quiet table with advice hidden; first on ")
    want(store, line, name)
    wanted = next(one for one in ledgers.ledger(DAY).records if one.hand == name)
    assert (wanted.wins.quiet_hidden, wanted.wins.wanted) == (0, 1)


def test_ticks_and_dates_are_kept(store, sheet):
    """By hand, with a date; rubbish in the store is passed over."""
    ledgers = Ledgers(store, sheet)
    name = sheet.hands[2].name
    ledgers.tick(name, DAY)
    with pytest.raises(KeyError):
        ledgers.tick("No such hand", DAY)
    ledgers.set_season(date(2026, 4, 1), date(2027, 3, 31))
    again = Ledgers(store, sheet)
    assert again.ticks == [(name, DAY)]
    assert again.ledger(DAY).records[2].wins.ticked == 1
    assert again.ledger(DAY).pace.left == 11
    again.untick(name)
    assert again.ticks == []
    store.set(f"ticks {sheet.fingerprint}", [3, ["a"], ["a", "b"], [name, "2026-05-01"]])
    store.set(f"season {sheet.fingerprint}", {"begins": "2027-01-01", "ends": "2026-01-01"})
    assert again.ticks == [(name, date(2026, 5, 1))]
    assert again.season is None


def test_hands_never_gone_for_are_named(store, sheet):
    """The last line of the printed ledger; none without such hands."""
    ledger = Ledgers(store, sheet).ledger(DAY)
    near = [replace(record, best=0.1) for record in ledger.records[:2]]
    tried = replace(ledger.records[2], best=0.9, tries=1)
    shown = replace(ledger, records=(*near, tried, *ledger.records[3:]))
    first, second = (record.hand for record in near)
    assert said(sheet, shown)[-1] == f"Within reach at times and never gone for: {first}, {second}."
    assert "Within reach" not in " ".join(said(sheet, ledger))


def test_the_season_begins_with_the_first_game(store, sheet):
    """Where the player has set no dates."""
    a_game(store, sheet)
    assert Ledgers(store, sheet).season.begins == NOW.astimezone().date()


@pytest.mark.slow
def test_the_command_prints_sentences_or_data(tmp_path, sheet):
    """A tick for a hand won at a real table; an unknown hand is refused with the names there are."""

    def run(*arguments):
        environment = {
            **os.environ,
            "LONE_EAST_DATA": str(tmp_path),
            "PYTHONPATH": os.pathsep.join(filter(None, sys.path)),
        }
        command = [sys.executable, "-m", "game", "ledger", "first-steps", *arguments]
        return subprocess.run(command, capture_output=True, text=True, env=environment, check=False)

    name = sheet.hands[1].name
    ticked = run("--won", name)
    assert ticked.returncode == 0
    assert f"{name}: won once: 1 at a real table" in ticked.stdout
    data = json.loads(run("--json").stdout)
    assert data["won"] == 1
    assert [hand["hand"] for hand in data["hands"]] == [hand.name for hand in sheet.hands]
    assert data["hands"][1]["wins"]["ticked"] == 1
    refused = run("--won", "Nobody's hand")
    assert refused.returncode == 1
    assert "write one of" in refused.stderr
    assert len(refused.stderr.splitlines()) == 1


ZONES = ("Pacific/Kiritimati", "UTC", "America/Los_Angeles", "Asia/Kathmandu", "Europe/Berlin")


@pytest.mark.slow
@pytest.mark.parametrize("zone", ZONES)
def test_the_ledger_rebuilt_from_the_records_is_the_stored_one(tmp_path, zone):
    """In any time zone: a program that finds no stored figures works out the same ledger, day for day. The days that a
    player sees are those of the own calendar. Clocks in Berlin go forward in the first night (Directive
    2000/84/EC, from memory)."""
    script = f"""
from datetime import UTC, date, datetime, timedelta
from engine.rules.actions import Discard, Mahjong
from engine.rules.deal import DealCode
from engine.rules.house import House
from engine.sheet.shelf import find
from engine.store.store import Store
from engine.tiles import JOKER
from game.play.lines import begin
from game.play.practice.ledgers import KIND, Ledgers, want
now = [datetime(2026, 3, 28, 23, 30, tzinfo=UTC)]
sheet = find("first-steps")
with Store(r"{tmp_path / "store.sqlite"}", now=lambda: now[0]) as store:
    for seed in range(4):
        now[0] += timedelta(hours=13)
        sitting = begin(store, sheet, DealCode.of(sheet, House(picks=3), seed), advice_hidden=seed == 1)
        while not sitting.over:
            legal = sitting.legal()
            real = [one for one in legal if isinstance(one, Discard) and one.kind != JOKER]
            sitting.act(Mahjong() if Mahjong() in legal else (real or legal)[0])
    want(store, 3, sheet.hands[0].name)
    ledgers = Ledgers(store, sheet)
    ledgers.tick(sheet.hands[1].name, date(2026, 3, 29))
    ledgers.fill()
    first = ledgers.ledger(date(2026, 4, 1))
    for result in store.results(KIND):
        store._connection.write(lambda db: db.execute("DELETE FROM results WHERE id = ?", (result.id,)))
    again = Ledgers(store, sheet)
    assert len(again.waiting()) == 4
    again.fill()
    assert again.ledger(date(2026, 4, 1)) == first
    assert (first.games, first.wanted) == (3, 1)
    days = [line.touched.astimezone().date() for line in again.lines()]
    assert days == sorted(days)
    assert again.season.begins == days[0]
    print(days[0])
"""
    done = subprocess.run(
        [sys.executable, "-c", script], env={**os.environ, "TZ": zone}, capture_output=True, text=True, check=False
    )
    assert done.returncode == 0, done.stderr
    expected = "2026-03-30" if zone == "Pacific/Kiritimati" else "2026-03-29"
    assert done.stdout.strip() == expected
