"""Choices of tiles to go before play: which there are, what each leaves the rack worth, what it does to the hands."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import replace
from itertools import combinations

import numpy as np

from engine.advice.advise.answers import Known, PassChoice
from engine.advice.advise.contested import LEAST_TURN
from engine.advice.advise.hands import HandReach, best_of_each_hand, reaches_of
from engine.advice.advise.reasons_passes import Hurt, PassFacts, why_pass
from engine.advice.advise.reasons_tiles import NEAREST
from engine.advice.contest.contest import contest_of
from engine.advice.odds.exact import exact_after_passes
from engine.advice.rollout.race import Contrast, Tried
from engine.advice.table import Real, SheetTable, Whole
from engine.advice.worth.after_pass import RacksLeft
from engine.advice.worth.incoming import shares, shares_by_last
from engine.advice.worth.worth import SAME
from engine.rules.house import FULL
from engine.rules.observation import Observation
from engine.tiles import JOKER, Kind

EQUAL = 12
"""Odds and worths that agree in so many decimals rank alike."""


def choices_of(rack: Sequence[Kind], number: int) -> list[tuple[Kind, ...]]:
    """Every different choice of so many tiles that are no jokers, in a fixed order."""
    return sorted(set(combinations(sorted(kind for kind in rack if kind != JOKER), number)))


def draws_of_play(observation: Observation) -> int:
    """Draws to come once the passes are over."""
    return observation.picks_left


def in_reach(
    table: SheetTable, observation: Observation, gone: Sequence[Kind], coming: int
) -> tuple[Whole, tuple[HandReach, ...]]:
    """The hands in reach of the rack without the tiles gone, with so many tiles coming in by passes and then the draws
    of play, best exact odds first; and the row of each.

    The variant shown of a hand is the one that would have the best odds if all tiles came by draws.
    """
    counts = list(observation.counts)
    for kind in gone:
        counts[kind] -= 1
    draws = draws_of_play(observation)
    rows, _ = best_of_each_hand(table, counts, observation.unseen, coming + draws)
    odds = exact_after_passes(table, rows, counts, observation.unseen, coming, draws)
    order = np.lexsort((np.arange(len(rows)), -odds.round(EQUAL)))
    order = order[odds[order] > 0]
    rows, chances = rows[order], odds[order].tolist()
    return rows, reaches_of(table, rows, chances, counts, observation.unseen, coming + draws)


def weighed(
    table: SheetTable, observation: Observation, choices: Sequence[tuple[Kind, ...]], coming: int
) -> tuple[RacksLeft, Real]:
    """What the choices leave, and what that is worth with so many tiles coming in by passes before play. In a game
    among four a difference times the draws of play is the turns that would have to be lost for the same loss."""
    left = RacksLeft.of(table, observation.counts, observation.unseen, choices)
    if observation.house.table == FULL:
        contest = contest_of(table)
        a_turn = contest.a_turn(contest.rack(observation))
        worths = contest.passes(contest.rack(observation, coming), choices)
        return left, worths / max(a_turn * max(draws_of_play(observation), 1), LEAST_TURN)
    return left, left.worths(shares(table, observation.unseen, coming, draws_of_play(observation)))


def best_worth(table: SheetTable, observation: Observation, number: int, coming: int) -> tuple[float, tuple[Kind, ...]]:
    """The worth left by the best choice of so many tiles, and that choice. Raises ValueError when there is none."""
    choices = possible_choices(observation, number)
    _, worths = weighed(table, observation, choices, coming)
    best = int((costs_of(worths, 1) == 0).argmax())
    return float(worths[best]), choices[best]


def possible_choices(observation: Observation, number: int) -> list[tuple[Kind, ...]]:
    """As `choices_of` the rack. Raises ValueError when there is none."""
    choices = choices_of(observation.rack, number)
    if not choices:
        raise ValueError(f"the rack holds fewer than {number} tiles that are no jokers, and jokers are never passed")
    return choices


def chance_after(table: SheetTable, observation: Observation, kinds: tuple[Kind, ...], coming: int) -> float:
    """An estimate of the chance of a hand by the last draw once these tiles have gone; in a game among four, of the
    chance to win."""
    if observation.house.table == FULL:
        contest = contest_of(table)
        return contest.chances(contest.rack(observation, coming), [kinds], before_play=True)[0]
    left = RacksLeft.of(table, observation.counts, observation.unseen, [kinds])
    return float(left.worths(shares_by_last(table, observation.unseen, coming, draws_of_play(observation)))[0])


def ranked(
    left: RacksLeft,
    choices: Sequence[tuple[Kind, ...]],
    costs: Real,
    rows: Whole,
    hands: Sequence[HandReach],
    tried: Mapping[tuple[Kind, ...], Tried] | None = None,
    *,
    draws: int,
    turns: bool = False,
) -> tuple[PassChoice, ...]:
    """The choices, best first, each with what it costs in picks, what it does to `hands`, the variants `rows`, and its
    reasons. Those `tried`, the best one first, cost what that has shown, with so many `draws` of play."""
    before = np.array([reach.missing for reach in hands], np.int64)
    hurt = (left.missing(rows) > before).tolist()
    least = left.least_missing(rows).tolist()
    lost = costs.copy()
    first = np.zeros(len(lost))
    for place, (kinds, one) in enumerate((tried or {}).items()):
        index = choices.index(kinds)
        lost[index] = one.behind * draws if one.contrast(np.inf) is Contrast.WORSE else 0.0
        first[index] = place - len(tried or {})
    order = np.lexsort((np.arange(len(lost)), first, lost.round(EQUAL)))
    margin = float(lost[order[1]]) if len(order) > 1 else None
    result = []
    for index in order.tolist():
        losing = [place for place, loses in enumerate(hurt[index]) if loses]
        cost = float(lost[index])
        facts = _facts(hands, losing, least[index], len(choices[index]), cost, margin, bool(tried), turns)
        choice = PassChoice(
            kinds=choices[index],
            picks=cost,
            because=why_pass(facts),
            gives_up=tuple(losing),
            keeps=tuple(place for place, loses in enumerate(hurt[index]) if not loses),
        )
        result.append(_as_tried(choice, (tried or {}).get(choices[index]), draws))
    return tuple(result)


def _as_tried(choice: PassChoice, one: Tried | None, draws: int) -> PassChoice:
    if one is None:
        return choice
    return replace(choice, known=Known.PLAYED, half=one.half * draws, games=one.games, behind=one.behind * draws)


def costs_of(worths: Real, draws: int) -> Real:
    """What choices cost in picks against the best of them: the difference in worth, times the draws of play.

    With no draw it counts once, as the tiles that the passes bring still tell choices apart.
    """
    lost: Real = float(worths.max()) - worths
    lost[lost <= SAME] = 0.0
    return lost * max(draws, 1)


def _facts(
    hands: Sequence[HandReach],
    losing: Sequence[int],
    least: Sequence[int],
    tiles: int,
    cost: float,
    margin: float | None,
    tried: bool,
    turns: bool,
) -> PassFacts:
    def hurt(place: int) -> Hurt:
        return Hurt(hands[place].hand.name, hands[place].missing, least[place])

    behind = (hurt(place) for place in losing if place >= NEAREST and least[place] > hands[place].missing)
    return PassFacts(
        tiles=tiles,
        nearest=tuple(reach.hand.name for reach in hands[:NEAREST]),
        hurt=tuple(hurt(place) for place in losing if place < NEAREST),
        further=next(behind, None),
        picks=cost,
        margin=margin,
        tried=tried,
        turns=turns,
    )
