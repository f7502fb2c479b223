"""The screens of the full table and of a match, in all the states they have."""

from dataclasses import replace

from at_full_table import asked_about_pung, full_table, let_go

from engine.advice.review.full import FullReview, PointsParts
from engine.drills.match import Match, MatchRules
from engine.rules.deal import DealCode
from engine.rules.game import start
from engine.rules.house import FULL, House
from engine.rules.state import Phase
from game.play.lines import begin
from game.play.matches import MatchPlay
from game.play.reviewing import keep_points
from game.play.settings import ALWAYS, HIDDEN, HINTED
from game.play.sitting import Sitting
from game.scenes.match.result import ResultSheet
from game.scenes.match.setup import MatchScene

RULES = House(table=FULL)
PARTS = (1240, -310, 2890, 440, -5210, -4150, 0, -5100)
"""Parts of a game among four, in hundredths of a point, and what they come to."""


def played(routes, sheet, seed, until, house=RULES):
    """A deal in which the player does as the others do, up to a moment; the first deal from `seed` on that has it."""
    others = routes.desk.others(sheet, house)
    for number in range(seed, seed + 60):
        sitting = Sitting(start(sheet, house, DealCode.of(sheet, house, number).wall()), others=others)
        while not sitting.over and not until(sitting):
            sitting.act(others(sitting.observation))
        if until(sitting):
            kept = begin(routes.desk.store, sheet, DealCode.of(sheet, house, number), others=others)
            for index in sitting.decisions:
                kept.act(sitting.entries[index].action)
            return kept
    raise AssertionError("no deal has such a moment")


def full_screens(routes, sheet):
    """Names and scenes; settings are changed, deals are played."""
    screens = {}

    def seen(seed, until, advice=ALWAYS, house=RULES):
        routes.desk.save_settings(replace(routes.desk.settings, advice=HINTED))
        sitting = played(routes, sheet, seed, until, house)
        routes.desk.save_settings(replace(routes.desk.settings, advice=advice))
        return routes.at_table(sitting)

    def choices(sitting):
        return len(sitting.decisions)

    def exposed(sitting):
        return len(sitting.state.exposures[sitting.player])

    screens["full table, at the start"] = seen(2026, lambda _: True, HINTED)
    late = seen(0, lambda s: s.state.phase is Phase.TURN and exposed(s) and choices(s) > 30)
    late.chosen = 3
    screens["full table, a late turn"] = late
    screens["full table, another seat"] = late.seat_panel(1)
    screens["full table, everything else"] = late.more()
    screens["full table, why no call"] = late.call()
    screens["full table, why no mahjong"] = late.mahjong()
    screens["full table, why no exchange"] = late.exchange()
    troubled = seen(0, lambda s: choices(s) > 10 and s.state.phase is Phase.CALLING)
    troubled.trouble = "the disk is full, so the game goes on, but only in memory; make room and saving starts again"
    screens["full table, with trouble"] = troubled
    screens["full table, asked"] = seen(4, lambda s: s.state.phase is Phase.CALLING and choices(s) > 12)
    routes.desk.save_settings(replace(routes.desk.settings, call_seconds=20))
    screens["full table, asked for 20 seconds"] = seen(0, lambda s: s.state.phase is Phase.CALLING and choices(s) > 9)
    routes.desk.save_settings(replace(routes.desk.settings, call_seconds=0))
    many = seen(0, lambda s: s.state.phase is Phase.CALLING and len(s.legal()) > 3)
    screens["full table, ways to call"] = many.call()
    screens["full table, advice hidden"] = seen(5, lambda s: choices(s) > 20, HIDDEN)
    back = seen(5, lambda s: choices(s) > 12)
    back.step(False)
    screens["full table, looking back"] = back
    swap = seen(4, lambda s: any(type(action).__name__ == "Exchange" for action in s.legal()))
    screens["full table, a joker to be had"] = swap
    screens["full table, exchanging"] = swap.exchange()
    wins, spare, _, _ = asked_about_pung(routes)
    let_go(wins, spare)
    screens["full table, beginner's sheet"] = wins
    ended = seen(3, lambda s: s.over)
    ended.end_work.answer = replace(ended.end_work.answer, points=FullReview(*PARTS, True, ()))
    screens["full table, ended"] = ended
    dead = full_table(routes, [0, 0, 1, 1, 3, 5, 7, 9, 11, 13, 15, 17, 19, 21], house=House(table=FULL, slips=True))
    dead.mahjong()
    screens["full table, ended with a slip"] = dead
    return screens | match_screens(routes, sheet)


def match_screens(routes, sheet):
    """Setting a match up, playing it, its result sheets."""
    screens = {}
    routes.desk.choose_sheet(sheet, None)
    screens["a match, nothing yet"] = MatchScene(routes, routes.home())
    play = MatchPlay(routes.desk, Match(MatchRules(2, 10)))
    screens["a match's deal"] = routes.match_deal(play)
    stopped = MatchPlay(routes.desk, Match(MatchRules(2, 10)))
    screens["a match's deal, time is up"] = routes.match_deal(stopped)
    stopped.spent = 600.0

    def ended(play):
        sitting = play.sitting()
        others = routes.desk.others(sheet, sitting.state.house)
        while not sitting.over:
            sitting.act(others(sitting.observation))
        return routes.match_moment(play, sitting)

    whole = MatchPlay(routes.desk, Match(MatchRules(2, 10)))
    screens["a match's deal, ended"] = ended(whole)
    halfway = MatchPlay(routes.desk, whole.match)
    screens["a match, result sheet so far"] = ResultSheet(routes, halfway)
    halfway.keep()
    screens["a match, left unfinished"] = MatchScene(routes, routes.home())
    screens["a match, begin another?"] = screens["a match, left unfinished"].begin()
    screens["a match's last deal, ended"] = ended(whole)
    screens["a match, result sheet"] = ResultSheet(routes, whole)
    for result in whole.match.results:
        keep_points(routes.desk.store, result.line, PointsParts(*PARTS, True))
    effort, routes.desk.effort = routes.desk.effort, 1
    screens["a match, luck and choices"] = ResultSheet(routes, whole)
    routes.desk.effort = effort
    for number in range(11):
        figures = {"deals": 4, "points": 40 * number, "rank": 1 + number % 4, "won": number % 3}
        routes.desk.store.add_result("match", figures, None if number else 600.0)
    screens["a match, with tallies"] = MatchScene(routes, routes.home())
    return screens
