"""Stores made up for pictures and for the walk over every screen: a player after a few days, and after a season."""

from __future__ import annotations

import random
from collections.abc import Callable
from datetime import UTC, datetime, timedelta

from engine.drills.grades import Answered, Grade, Pace, Skill
from engine.drills.ledger import HandFigures
from engine.rules.deal import shuffle
from engine.rules.record import Header
from engine.sheet.model import Sheet
from engine.store.endings import GameEnd
from engine.store.store import Store
from engine.store.values import Json
from game.play.defaults import USUAL_GAME
from game.play.practice.drilling import Drilling, key_of, kind_of
from game.play.practice.ledgers import KIND
from game.play.reviewing import PARTS

SEED = 2026
BEGINS = datetime(2026, 1, 5, 19, tzinfo=UTC)
USUAL_STEP = timedelta(hours=18)
AFTER_A_GAME = 10
"""Questions practised after a game at most."""


def season(
    store: Store,
    sheet: Sheet,
    games: int,
    begin: Callable[[datetime], None],
    begins: datetime = BEGINS,
    step: timedelta = USUAL_STEP,
) -> None:
    """Keep made-up games, reviews, ledger figures and drill answers: a player who loses less as the season goes on, one
    game in four with advice at hand, one game each `step`. `begin` is told each moment before the store is asked for
    anything."""
    chance, practice = random.Random(SEED), random.Random(SEED)
    begin(begins)
    store.add_sheet(sheet)
    drilling = Drilling(store, sheet)  # one for the whole season, since reading what is due takes time
    for game in range(games):
        begin(begins + step * (game + chance.random() / 2))
        header = Header.of(sheet, USUAL_GAME, shuffle(game, USUAL_GAME.jokers), "")
        line = store.start_line(header, advice_hidden=chance.random() < 0.75)
        hand = chance.choice(sheet.hands)
        won = chance.random() < 0.35 + game / 500
        picks = chance.randrange(12, USUAL_GAME.picks) if won else USUAL_GAME.picks
        end = GameEnd("mahjong", picks, USUAL_GAME.seat, hand.name, hand.section, hand.points, hand.points)
        store.finish(line, end if won else GameEnd("picks", picks))
        near = {} if won else {one.name: chance.choice((1, 2)) for one in chance.sample(sheet.hands, 2)}
        best = {
            one.name: round(chance.random() ** 2, 4) for one in chance.sample(sheet.hands, min(9, len(sheet.hands)))
        }
        figures = HandFigures(hand.name if won else None, hand.name, near, {**best, hand.name: 1.0 if won else 0.3})
        store.add_result(KIND, figures.to_json(), line=line)
        choices = chance.randrange(25, 46)
        cost = choices * chance.lognormvariate(-2.2 - game / 70, 0.8)
        store.save_review(line, choices, cost, chance.randrange(3, choices // 2))
        luck, chosen = chance.gauss(0.0, 0.25), -chance.random() * 0.2
        passes = chance.randrange(2, 7)
        told: dict[str, Json] = {
            "average": 0.5,
            "luck": round(luck, 4),
            "choices": round(chosen, 4),
            "result": float(won),
        }
        told |= {
            "looked_up": chance.choice((0, 0, 0, 4)),
            "passes": passes,
            "passes_best": passes - chance.randrange(3),
        }
        store.add_result(PARTS, {**told, "passes_cost": round(chance.random(), 4)}, line=line)
        _answers(drilling, 0.5 + 0.4 * game / max(games, 1), practice, begins + step * game)
    if games:
        store.set(key_of(sheet), drilling.schedule.to_json())


def _answers(drilling: Drilling, right: float, chance: random.Random, now: datetime) -> None:
    """A short practice after a game: what is due, as the schedule asks for it. What goes wrong comes up again."""
    store, sheet, drilling.now = drilling.store, drilling.sheet, lambda: now
    for due in drilling.session(AFTER_A_GAME):
        skill, named = Skill(due.item.skill), due.item.hand
        grade = Grade.RIGHT if chance.random() < right else chance.choice((Grade.NEAR, Grade.WRONG))
        section = sheet.hand(named).section if named else ""
        told = {"sheet": sheet.fingerprint, "section": section, "hand": named, "grade": grade.value}
        store.add_result(kind_of(skill), {**told, "seconds": round(chance.uniform(4, 40), 2)})
        drilling.schedule = drilling.schedule.answered(Answered(skill, named, grade, 9.0), Pace.USUAL, now)
