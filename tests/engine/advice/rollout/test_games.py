"""Batches of quiet games against games played one by one in plain Python."""

from random import Random

import numpy as np
import plain_advice as plain
import pytest
from baselines import by_nearest, clairvoyant

from engine.advice.advise.discard import advise
from engine.advice.moment import Moment
from engine.advice.odds.reach import shortfalls
from engine.advice.rollout.games import DEALT, simulate_quiet, walls_of
from engine.advice.rollout.policy import by_odds
from engine.advice.table import SheetTable
from engine.advice.worth.worth import possible
from engine.tiles import JOKER, KINDS, counts_of, full_set


@pytest.fixture(scope="module")
def table():
    """Sixty hands of one to three random variants: few enough for the slow twins, near enough to be made at times."""
    random = Random(41)
    return SheetTable.of(
        plain.sheet_of(*([plain.random_variant(random) for _ in range(random.randrange(1, 4))] for _ in range(60)))
    )


@pytest.fixture(scope="module")
def walls():
    """Twelve walls."""
    return walls_of(np.random.default_rng(5), 12)


def play(table, wall, picks, choose):
    """Pick and row of the variant made, or (0, -1), of one game. `choose(rack, unseen, draws)` names the tile to go."""
    rack = list(counts_of(wall[:DEALT]))
    unseen = list(counts_of(wall[DEALT:]))
    for pick in range(1, picks + 1):
        drawn = wall[DEALT + pick - 1]
        rack[drawn] += 1
        unseen[drawn] -= 1
        made = [row for row, variant in enumerate(table.variants) if plain.missing(variant, rack) == 0]
        if made:
            return pick, made[0]
        if pick < picks:
            rack[choose(tuple(rack), tuple(unseen), picks - pick)] -= 1
    return 0, -1


def nearest(table, rack, unseen):
    """The nearest-hand player's choice, counted plainly."""
    alive = [variant for variant in table.variants if plain.can_still_be(variant, rack, unseen)]
    held = [kind for kind in range(KINDS) if rack[kind]]
    miss = {variant: plain.missing(variant, rack) for variant in alive}
    least = min(miss.values(), default=0)

    def further(kind):
        """Whether every variant as near as the nearest would be further off."""
        fewer = plain.without(rack, kind)
        near = [variant for variant in alive if miss[variant] == least]
        return bool(near) and all(plain.missing(variant, fewer) > least for variant in near)

    def used(kind):
        fewer = plain.without(rack, kind)
        return sum(
            4 ** (2 - miss[variant] + least)
            for variant in alive
            if miss[variant] <= least + 2 and plain.missing(variant, fewer) > miss[variant]
        )

    return min(held, key=lambda kind: (further(kind), kind == JOKER, used(kind), kind))


@pytest.mark.slow
def test_nearest_games_are_those_played_one_by_one(table, walls):
    """The batch of nearest-hand games ends each game at the pick, and with the variant, of the slow game."""
    played = simulate_quiet(table, walls, by_nearest, 60)
    for place, wall in enumerate(walls.tolist()):
        slow = play(table, wall, 60, lambda rack, unseen, _: nearest(table, rack, unseen))
        assert (played.picks[place], played.row[place]) == slow
    assert played.picks.any(), "some game is finished"


@pytest.mark.slow
def test_odds_games_let_go_what_is_advised(table, walls):
    """The policy by odds is the advice: each game goes as if every choice were asked of `advise`."""
    played = simulate_quiet(table, walls[:3], by_odds, 60)
    for place, wall in enumerate(walls[:3].tolist()):
        slow = play(table, wall, 60, lambda rack, unseen, draws: advise(Moment.of(table, rack, unseen, draws)).let_go)
        assert (played.picks[place], played.row[place]) == slow


@pytest.mark.slow
def test_the_clairvoyant_holds_all_that_came(table, walls):
    """The bound is the first pick at which deal and draws together hold a variant; nobody finishes sooner."""
    bound = clairvoyant(table, walls, 60)
    for place, wall in enumerate(walls.tolist()):
        first = next(
            (
                pick
                for pick in range(1, 61)
                if any(plain.missing(v, counts_of(wall[: DEALT + pick])) == 0 for v in table.variants)
            ),
            0,
        )
        assert bound.picks[place] == first
    for policy in (by_nearest, by_odds):
        played = simulate_quiet(table, walls, policy, 60)
        done = played.picks > 0
        assert (bound.picks[done] > 0).all()
        assert (bound.picks[done] <= played.picks[done]).all()


@pytest.mark.parametrize("policy", [by_nearest, by_odds])
@pytest.mark.slow
def test_choices_do_not_depend_on_tiles_to_come(table, walls, policy):
    """Shuffling the part of the walls that isn't drawn yet changes no choice made before."""
    seen = []
    for tail in (walls[:, 30:], np.random.default_rng(1).permuted(walls[:, 30:], axis=1)):
        choices = []

        def watch(table, batch, choices=choices):
            goes = policy(table, batch)
            choices.append((batch.racks.copy(), goes))
            return goes

        simulate_quiet(table, np.hstack((walls[:, :30], tail)), watch, 60)
        seen.append(choices[: 30 - DEALT])
    for (racks, goes), (other_racks, other_goes) in zip(*seen, strict=True):
        assert (racks == other_racks).all()
        assert (goes == other_goes).all()


@pytest.mark.slow
def test_tiles_are_conserved_and_known(table, walls):
    """At each choice a rack has 14 tiles, what is let go is held, and the incremental bytes equal ones made afresh."""
    whole = np.array(full_set())

    def watch(table, batch):
        assert (batch.racks.sum(axis=1) == 14).all()
        assert ((batch.racks + batch.unseen) <= whole).all()
        assert (batch.short == shortfalls(table, batch.racks)).all()
        assert (batch.alive == possible(table, batch.racks, batch.unseen)).all()
        goes = by_odds(table, batch)
        assert (batch.racks[np.arange(len(goes)), goes] > 0).all()
        return goes

    simulate_quiet(table, walls, watch, 99)


@pytest.mark.parametrize("picks", [0, 140])
def test_picks_out_of_range(table, walls, picks):
    """More picks than the wall has, or none, are refused."""
    with pytest.raises(ValueError, match="choose 1 to 139"):
        simulate_quiet(table, walls, by_nearest, picks)


@pytest.mark.slow
def test_other_numbers_of_jokers(walls):
    """With no joker or ten in the set the games still agree with those played one by one."""
    for jokers in (0, 10):
        random = Random(jokers)
        few = SheetTable.of(plain.sheet_of(*([plain.random_variant(random, jokers)] for _ in range(40))), jokers)
        fresh = walls_of(np.random.default_rng(2), 4, jokers)
        played = simulate_quiet(few, fresh, by_nearest, 60)
        for place, wall in enumerate(fresh.tolist()):
            slow = play(few, wall, 60, lambda rack, unseen, _, few=few: nearest(few, rack, unseen))
            assert (played.picks[place], played.row[place]) == slow
    assert walls.shape == (12, sum(full_set()))
    assert sorted(walls[0].tolist()) == [kind for kind in range(KINDS) for _ in range(full_set()[kind])]
