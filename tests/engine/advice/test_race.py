"""How far a game among four is, as one seat sees it."""

import pytest
from full_games import moments, seen, small_table

from engine.advice.race import Race
from engine.rules.state import Phase


@pytest.mark.parametrize("phase", [Phase.TURN, Phase.CALLING])
def test_the_race_is_what_lies_on_the_table(phase):
    """Groups of the three others are counted; only a seat that is asked about a discard draws before a whole round."""
    met = set()
    for state, seat in moments(small_table(), range(3), phase):
        race = Race.seen(seen(state, seat))
        laid = [len(state.exposures[other]) for other in range(4) if other != seat and not state.dead[other]]
        assert (race.wall, race.groups, race.live) == (len(state.wall), sum(laid), len(laid))
        assert race.most == max(laid, default=0)
        steps = (seat - state.discards[-1].seat) % 4 if phase is Phase.CALLING else 4
        assert race.ahead == 1 - steps / 4
        met.add(race.ahead)
    assert met == ({0.25, 0.5, 0.75} if phase is Phase.CALLING else {0.0})
