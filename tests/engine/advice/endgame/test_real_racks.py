"""The exact ending on racks of real games: as rollouts and odds have it, refused where it is too much, and stopped."""

from itertools import count

import numpy as np
import plain_advice as plain
import pytest
from ending_kit import CLOSE, NO_LIMIT, check
from plain_ending import best_play, plus

from engine.advice.endgame import search as endgame
from engine.advice.endgame.search import exact_ending
from engine.advice.rollout.games import simulate_quiet, walls_of
from engine.advice.rollout.policy import by_odds
from engine.advice.table import SheetTable
from engine.sheet.shelf import find
from engine.tiles import KINDS


@pytest.fixture(scope="module", params=["lantern-street", "first-steps"])
def played(request):
    """A shipped sheet's table, and racks of 14 with what is unseen, by draws left, of games of 40 picks by the odds."""
    table = SheetTable.of(find(request.param))
    racks = {}

    def watch(table, batch):
        racks[batch.draws] = list(zip(batch.racks.tolist(), batch.unseen.tolist(), strict=True))
        return by_odds(table, batch)

    simulate_quiet(table, walls_of(np.random.default_rng(40), 60), watch, 40)
    return table, racks


@pytest.mark.slow
def test_real_racks_without_draws(played):
    """With nothing to come every tile leaves nothing."""
    table, racks = played
    for rack, unseen in racks[1][:10]:
        found = exact_ending(table, rack, unseen, 0)
        assert found.positions == 0
        assert (found.worth == np.where(np.array(rack) > 0, 0, -1)).all()
        assert (found.chance == found.worth).all()


@pytest.mark.slow
def test_real_racks_with_one_draw(played):
    """With one draw left worth and chance are the share of the unseen tiles that make a hand, summed over them."""
    table, racks = played
    alive = 0
    for rack, unseen in racks[1][:40]:
        near = [variant for variant in table.variants if plain.missing(variant, rack) <= 1]
        found = exact_ending(table, rack, unseen, 1)
        for kind in range(KINDS):
            if rack[kind]:
                left = plain.without(rack, kind)
                outs = [k for k in range(KINDS) if any(plain.missing(v, plus(left, k)) == 0 for v in near)]
                share = sum(unseen[k] for k in outs) / sum(unseen)
                assert found.worth[kind] == pytest.approx(share, abs=CLOSE)
                assert found.chance[kind] == pytest.approx(share, abs=CLOSE)
                alive += share > 0
    assert alive > 10


@pytest.mark.slow
def test_real_racks_with_two_draws(played):
    """With two draws left the slow twin agrees; it is shown only variants that two tiles can finish."""
    table, racks = played
    alive = 0
    for rack, unseen in racks[2][:12]:
        near = [variant for variant in table.variants if plain.missing(variant, rack) <= 2]
        expected = best_play(near)(tuple(rack), tuple(unseen), 2)
        alive += check(exact_ending(table, rack, unseen, 2), expected, rack, unseen, 2)
    assert alive > 10


@pytest.mark.slow
def test_leaving_tiles_out_changes_nothing(played, monkeypatch):
    """On real racks the tiles that are not worth a look are left out without any change to worth or chance."""
    table, racks = played
    cases = [(rack, unseen, draws) for draws in (2, 3, 4) for rack, unseen in racks[draws][:25]]
    found = [exact_ending(table, *case, most=NO_LIMIT) for case in cases]
    monkeypatch.setattr(endgame, "choices", everything)
    fewer = 0
    for case, one in zip(cases, found, strict=True):
        other = exact_ending(table, *case, most=NO_LIMIT)
        assert (one.worth == other.worth).all()
        assert (one.chance == other.chance).all()
        fewer += one.positions < other.positions
    assert fewer > len(cases) / 4


def everything(level, look, lost, tiles, draws, unseen):
    """Every tile held may be worth letting go, and so may those to spare."""
    del look, lost, draws, unseen
    spare = level.held.sum(axis=1) < tiles
    return np.concatenate((level.held > 0, spare[:, None]), axis=1)


@pytest.mark.slow
def test_refusals(played):
    """There is no answer where more positions are to be looked at than allowed, or orders are too many to be counted;
    far from the end that is found out at once."""
    table, racks = played
    rack, unseen = max(racks[4][:20], key=lambda case: exact_ending(table, *case, 4, most=NO_LIMIT).positions)
    positions = exact_ending(table, rack, unseen, 4, most=NO_LIMIT).positions
    assert positions > 100
    assert exact_ending(table, rack, unseen, 4, most=positions - 1) is None
    assert exact_ending(table, rack, unseen, 4, most=1) is None
    for draws in (9, 10, 25):
        asked = count()
        assert exact_ending(table, *racks[draws][0], draws, stopped=lambda asked=asked: next(asked) > 99) is None
        assert next(asked) < 10, "not one round was gone through"


def test_stopped(played):
    """Once it is told to stop, there is no answer; it asks at every round."""
    table, racks = played
    rack, unseen = racks[4][0]
    assert exact_ending(table, rack, unseen, 4, stopped=lambda: True) is None
    asked = count()
    assert exact_ending(table, rack, unseen, 4, stopped=lambda: next(asked) < 0) is not None
    times = next(asked)
    assert times >= 7
    for stop in range(times):
        asked = count()
        assert exact_ending(table, rack, unseen, 4, stopped=lambda stop=stop, asked=asked: next(asked) == stop) is None
        assert next(asked) == stop + 1


def test_wrong_questions(played):
    """Another number of tiles, and draws that can't be, are refused with a sentence."""
    table, racks = played
    rack, unseen = racks[3][0]
    with pytest.raises(ValueError, match="13 tiles; give 14"):
        exact_ending(table, plain.without(rack, rack.index(max(rack))), unseen, 3)
    for draws in (-1, sum(unseen) + 1):
        with pytest.raises(ValueError, match=f"choose 0 to {sum(unseen)}, the tiles unseen"):
            exact_ending(table, rack, unseen, draws)
