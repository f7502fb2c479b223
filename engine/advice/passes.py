"""Advice before play: which three to pass, whether to go on to a second round, how many tiles to exchange across.

Tiles that come in are unseen ones, as draws are: keeping eleven tiles with three to come in and L draws to follow is
reckoned as keeping eleven tiles with L + 3 draws to follow, and each later pass as three draws more. That is exact for
tiles picked blindly; people pass what they can spare, and never jokers, so what comes in is a little worse than that,
alike for every choice of the same number. Nothing is sampled: the same rack always gets the same advice.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from itertools import combinations

import numpy as np

from engine.advice.answer import HandReach
from engine.advice.hands import best_of_each_hand, reach_of
from engine.advice.pass_reasons import why_blind, why_courtesy, why_pass, why_round
from engine.advice.table import Real, SheetTable
from engine.advice.worth import SAME, weigh
from engine.rules.actions import PASS_TILES
from engine.rules.observation import Observation
from engine.rules.passing import FIRST_ROUND, LAST_OF_A_ROUND
from engine.tiles import JOKER, KINDS, Kind

HORIZON = 40
"""Draws of play that are reckoned with at most, as at the table."""
EXPLAINED = 12
"""Choices, best first, that get a sentence of their own."""


@dataclass(frozen=True)
class PassChoice:
    """One choice of three tiles to pass."""

    kinds: tuple[Kind, ...]
    worth: float
    """The chance, averaged over what is to come, that some hand is made."""
    less: float
    """Worth lost against the best choice of three; 0 for choices that are as good."""
    because: str
    """One sentence; empty for choices far down the list (`explain` makes it)."""


@dataclass(frozen=True)
class PassAdvice:
    """Every choice of three tiles from the rack, weighed."""

    draws: int
    """Tiles to come that were reckoned with: draws, and what later passes bring."""
    hands: tuple[HandReach, ...]
    """The hands in reach of the whole rack, best odds first."""
    choices: tuple[PassChoice, ...]
    """All of them, best first."""
    blind: int
    """How many tiles are best passed on unseen; 0 where that isn't allowed or gains nothing."""
    blind_kinds: tuple[Kind, ...]
    """What then goes from the rack."""
    blind_because: str
    """One sentence on passing blind; empty where it isn't allowed."""


@dataclass(frozen=True)
class RoundAdvice:
    """Whether to play the second round of passes."""

    draws: int
    hands: tuple[HandReach, ...]
    agree: bool
    gain: float
    """Worth of going on less that of stopping."""
    because: str


@dataclass(frozen=True)
class CourtesyAdvice:
    """How many tiles to exchange across, and which."""

    draws: int
    hands: tuple[HandReach, ...]
    ask: int
    give: tuple[Kind, ...]
    """As many as were settled, or as many as to ask for."""
    because: str


def choices_of(rack: Sequence[Kind], number: int) -> list[tuple[Kind, ...]]:
    """Every different choice of so many tiles that are no jokers, in a fixed order."""
    return sorted(set(combinations(sorted(kind for kind in rack if kind != JOKER), number)))


def advise_passes(table: SheetTable, observation: Observation) -> PassAdvice:
    """Weigh every choice of a pass. Raises ValueError where nothing can be passed."""
    choices = choices_of(observation.rack, PASS_TILES)
    if not choices:
        raise ValueError("the rack has no three tiles that may be passed")
    draws = _draws(observation, PASS_TILES)
    worth = _worth_without(table, observation, choices, draws)
    order = np.lexsort((np.arange(len(choices)), -worth.round(12)))
    best = float(worth[order[0]])
    hands = _hands(table, observation.counts, observation.unseen, draws)
    sheet_odds = {reach.hand.name: reach.odds for reach in hands}
    listed = []
    for place, index in enumerate(order):
        less = best - float(worth[index])
        because = ""
        if place < EXPLAINED:
            after = _odds_after(table, observation, choices[index], draws)
            because = why_pass(sheet_odds, after, place == 0)
        listed.append(PassChoice(choices[index], float(worth[index]), 0.0 if less <= SAME else less, because))
    blind, kinds, said = _blind(table, observation, best)
    return PassAdvice(draws, hands, tuple(listed), blind, kinds, said)


def explain(table: SheetTable, observation: Observation, kinds: tuple[Kind, ...]) -> str:
    """The sentence for one choice of three."""
    draws = _draws(observation, PASS_TILES)
    before = {reach.hand.name: reach.odds for reach in _hands(table, observation.counts, observation.unseen, draws)}
    return why_pass(before, _odds_after(table, observation, kinds, draws), False)


def hands_after(table: SheetTable, observation: Observation, kinds: Sequence[Kind]) -> tuple[HandReach, ...]:
    """The hands in reach once these tiles have gone, with as many tiles to come as `advise_passes` reckons with."""
    return _hands(table, _without(observation.counts, kinds), observation.unseen, _draws(observation, PASS_TILES))


def advise_second_round(table: SheetTable, observation: Observation) -> RoundAdvice:
    """Weigh stopping against going on: three passes more, the first of them chosen as well as can be."""
    stop_draws = _draws(observation, 0, more_passes=False)
    go_draws = _draws(observation, PASS_TILES)
    stop = float(weigh(table, _one(observation.counts), _one(observation.unseen), stop_draws).here[0])
    choices = choices_of(observation.rack, PASS_TILES)
    go = float(_worth_without(table, observation, choices, go_draws).max()) if choices else 0.0
    hands = _hands(table, observation.counts, observation.unseen, stop_draws)
    agree = go > stop + SAME
    return RoundAdvice(stop_draws, hands, agree, go - stop, why_round(go, stop))


def advise_courtesy(table: SheetTable, observation: Observation) -> CourtesyAdvice:
    """Weigh exchanging none to three tiles; once a number is settled, which ones to give."""
    base = _draws(observation, 0, more_passes=False)
    numbers = [observation.settled] if observation.settled else list(range(PASS_TILES + 1))
    found: dict[int, tuple[float, tuple[Kind, ...]]] = {}
    for number in numbers:
        choices = choices_of(observation.rack, number)
        if choices:
            worth = _worth_without(table, observation, choices, base + number)
            place = int(worth.round(12).argmax())
            found[number] = float(worth[place]), choices[place]
    ask = max(found, key=lambda number: (round(found[number][0], 12), -number)) if found else 0
    worths = {number: worth for number, (worth, _) in found.items()}
    give = found[ask][1] if found else ()
    hands = _hands(table, observation.counts, observation.unseen, base)
    return CourtesyAdvice(base, hands, ask, give, why_courtesy(ask, give, worths))


def _draws(observation: Observation, coming: int, more_passes: bool = True) -> int:
    """Tiles to come: those of this pass, three for each later pass of the round, and the draws of play."""
    later = 0
    if more_passes:
        done, last = observation.passes_done, observation.house.passes
        end = min(last, FIRST_ROUND if done < FIRST_ROUND else 2 * FIRST_ROUND)
        later = PASS_TILES * max(end - done - 1, 0)
    play = min(observation.picks_left, HORIZON)
    return min(play + coming + later, sum(observation.unseen))


def _without(counts: Sequence[int], kinds: Sequence[Kind]) -> tuple[int, ...]:
    left = list(counts)
    for kind in kinds:
        left[kind] -= 1
    return tuple(left)


def _one(counts: Sequence[int]) -> np.ndarray[tuple[int, ...], np.dtype[np.int64]]:
    return np.array([counts], np.int64)


def _worth_without(
    table: SheetTable, observation: Observation, choices: Sequence[tuple[Kind, ...]], draws: int
) -> Real:
    """[n] worth of the rack without each choice."""
    racks = np.tile(np.array(observation.counts, np.int64), (len(choices), 1))
    for place, kinds in enumerate(choices):
        for kind in kinds:
            racks[place, kind] -= 1
    unseen = np.broadcast_to(np.array(observation.unseen, np.int64), (len(choices), KINDS)).copy()
    return weigh(table, racks, unseen, min(draws, int(unseen[0].sum()))).here


def _hands(table: SheetTable, counts: Sequence[int], unseen: Sequence[int], draws: int) -> tuple[HandReach, ...]:
    rows, odds = best_of_each_hand(table, counts, unseen, draws)
    return tuple(reach_of(table, int(row), counts, odds[int(row)]) for row in rows)


def _odds_after(table: SheetTable, observation: Observation, kinds: Sequence[Kind], draws: int) -> dict[str, float]:
    """Exact odds of each hand by its name once the tiles have gone; hands out of reach are left out."""
    rows, odds = best_of_each_hand(table, _without(observation.counts, kinds), observation.unseen, draws)
    return {table.sheet.hands[int(table.hand[int(row)])].name: odds[int(row)] for row in rows}


def _blind(table: SheetTable, observation: Observation, best: float) -> tuple[int, tuple[Kind, ...], str]:
    """How many tiles to pass on unseen: each is one tile fewer that goes, and one fewer that comes in."""
    if not observation.house.blind or observation.passes_done not in LAST_OF_A_ROUND:
        return 0, (), ""
    found: dict[int, tuple[float, tuple[Kind, ...]]] = {0: (best, ())}
    for number in range(1, PASS_TILES + 1):
        choices = choices_of(observation.rack, PASS_TILES - number)
        worth = _worth_without(table, observation, choices, _draws(observation, PASS_TILES - number))
        place = int(worth.round(12).argmax())
        found[number] = float(worth[place]), choices[place]
    number = max(found, key=lambda blind: (round(found[blind][0], 12), -blind))
    return number, found[number][1], why_blind(number, found[number][0] - best)
