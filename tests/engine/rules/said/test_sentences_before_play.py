"""One test for every sentence of the rules up to the first discard, which its docstring quotes.

The rules are common practice, no source; tests/data/rules_of_play.txt holds them.
"""

from collections import Counter
from dataclasses import fields, replace

import pytest
from houses import EXAMPLES
from sentence_kit import first_legal, refused

from engine.rules.actions import Agree, Discard, Pass
from engine.rules.deal import shuffle
from engine.rules.game import apply, legal_actions
from engine.rules.house import SEATS, House
from engine.rules.state import Phase, tiles_in
from engine.tiles import DRAGONS, FLOWER, JOKER, NAMES, WINDS


def test_house_rules_are_settings(kit):
    """Where a group plays otherwise it is a house rule, and a setting."""
    names = [field.name for field in fields(House)]
    assert names[:8] == ["table", "jokers", "picks", "seat", "passes", "courtesy", "blind", "slips"]
    assert set(names[8:]) == {*EXAMPLES, "twist"}
    assert kit.table(jokers=3, seat=1).house == House(jokers=3, seat=1)


def test_the_set():
    """152 tiles: three suits of 1 to 9, four of each (108); four winds, four of each (16); three dragons, four of each
    (12); 8 flowers, all alike; 8 jokers.
    """
    dealt = Counter(shuffle(1))
    assert sum(dealt.values()) == 152
    names = [name.split() for name in NAMES]
    for suit in ("bam", "crak", "dot"):
        ranks = [(kind, int(words[0])) for kind, words in enumerate(names) if words[-1] == suit]
        assert [rank for _, rank in ranks] == [1, 2, 3, 4, 5, 6, 7, 8, 9]
        assert sum(dealt[kind] for kind, _ in ranks) == 36
        assert {dealt[kind] for kind, _ in ranks} == {4}
    assert [dealt[kind] for kind in WINDS] == [4, 4, 4, 4]
    assert [dealt[kind] for kind in DRAGONS] == [4, 4, 4]
    assert (dealt[FLOWER], dealt[JOKER]) == (8, 8)


def test_the_number_of_jokers(kit):
    """House rules may set 0 to 10 jokers."""
    for jokers in range(11):
        assert tiles_in(kit.table(jokers=jokers))[JOKER] == jokers
    with pytest.raises(ValueError, match="jokers is 11; choose 0 to 10"):
        House(jokers=11)


def test_turn_order(kit):
    """Seats East, South, West, North; play runs to the right (East, South, West, North in turn order)."""
    state, turns = kit.table(table="full"), []
    while len(turns) < 9:
        if state.phase is Phase.TURN:
            turns.append(state.turn)
            state = kit.let_go(apply(state, Discard(state.racks[state.turn][-1])))
        else:
            state = apply(state, legal_actions(state)[0])
    assert turns == [0, 1, 2, 3, 0, 1, 2, 3, 0]


def test_the_deal(kit):
    """East starts with 14 tiles, the others with 13."""
    assert [len(rack) for rack in kit.table().racks] == [14, 13, 13, 13]


def test_the_players_seat(kit):
    """The player is East unless the house rules say otherwise."""
    assert House().seat == 0
    assert kit.table().to_act == 0
    state = kit.table(seat=2)
    assert apply(state, legal_actions(state)[0]).to_act == 2


def test_the_wall(kit):
    """99 tiles remain in the wall."""
    assert len(kit.table().wall) == 99


def rotation(kit, passes, first):
    """To which seat, counted to the right, each of the passes from `first` on brings its tiles."""
    steps = []
    for index in range(first, passes):
        state = first_legal(kit.table(passes=passes), lambda now, index=index: now.passes_done == index)
        state = first_legal(state, lambda now: now.phase is Phase.PASSING)
        outs = []
        for _ in range(4):  # four passes that can be told apart
            outs.append(next(action for action in legal_actions(state) if action not in outs and not action.blind))
            state = apply(state, outs[-1])
        steps += [
            step
            for step in (1, 2, 3)
            if all(sorted(state.handed[(seat + step) % 4][-1].came) == list(outs[seat].kinds) for seat in range(4))
        ]
    return steps


def test_the_first_round(kit):
    """First round, always played: three tiles right, three across, three left."""
    assert rotation(kit, 3, 0) == [1, 2, 3]
    state = first_legal(kit.table(passes=6), lambda now: now.phase is not Phase.PASSING)
    assert (state.phase, state.passes_done) == (Phase.AGREEING, 3)


def test_the_second_round(kit):
    """Second round, only if all four agree: left, across, right."""
    assert rotation(kit, 6, 3) == [3, 2, 1]
    state = first_legal(kit.table(passes=6), lambda now: now.phase is Phase.AGREEING)
    for _ in range(3):
        state = apply(state, Agree())
        assert state.phase is Phase.AGREEING
    assert apply(state, Agree()).phase is Phase.PASSING


def test_stopping_the_second_round(kit):
    """Anyone may stop it before it starts."""
    voting = first_legal(kit.table(passes=6), lambda now: now.phase is Phase.AGREEING)
    for against in range(4):
        lines = [f"{name} {'stop' if seat == against else 'agree'}" for seat, name in enumerate(SEATS)]
        assert kit.play(voting, "\n".join(lines)).phase is Phase.TURN


def test_the_courtesy_pass(kit):
    """Courtesy: across, 0 to 3 tiles; the two players exchange the smaller of the two numbers asked."""
    asking = first_legal(kit.table(passes=1, courtesy=True), lambda now: now.phase is Phase.ASKING)
    for asked in range(4):
        for other in range(4):
            state = kit.play(asking, f"east ask {asked}\nsouth ask 0\nwest ask {other}\nnorth ask 0")
            state = first_legal(state, lambda now: now.phase is Phase.TURN)
            came = [len(handed[-1].came) if min(asked, other) else 0 for handed in state.handed]
            assert came == [min(asked, other), 0, min(asked, other), 0]
            if min(asked, other):
                assert sorted(state.handed[2][-1].came) == sorted(state.handed[0][-1].out.kinds)


def test_jokers_and_passes(kit):
    """Jokers are never passed."""
    state = kit.table(passes=3, courtesy=True, east="jk jk jk")
    assert refused(state, Pass((JOKER, *[k for k in state.racks[0] if k != JOKER][:2]))) == "jokers are never passed."
    assert refused(state, Pass((JOKER, JOKER, JOKER))) == "jokers are never passed."


def test_the_blind_pass(kit):
    """Blind pass: on the last pass of a round (first left, second right) a player may pass on 1 to 3 of the tiles
    coming in, unseen, and make up three with tiles from the rack.
    """
    for index in range(6):
        state = first_legal(
            kit.table(passes=6), lambda now, index=index: now.passes_done == index and now.phase is Phase.PASSING
        )
        numbers = {action.blind: len(action.kinds) for action in legal_actions(state)}
        assert numbers == ({0: 3, 1: 2, 2: 1, 3: 0} if index in (2, 5) else {0: 3})
    third = first_legal(kit.table(passes=3), lambda now: now.passes_done == 2)
    goes = {seat: legal_actions(replace(third, to_act=seat)) for seat in range(4)}
    own = next(action for action in goes[0] if action.blind == 2)
    state = apply(third, own)
    for seat in (1, 2, 3):
        state = apply(state, goes[seat][0])
    from_south = [kind for kind in third.racks[1] if kind in goes[1][0].kinds]
    assert len(state.handed[0][-1].came) == 1  # two of South's three went on
    assert sorted((*state.handed[3][-1].came, *state.handed[0][-1].came)) == sorted((*own.kinds, *goes[1][0].kinds))
    assert set(state.handed[0][-1].came) <= set(from_south)


def test_east_passes_from_fourteen(kit):
    """East holds 14 during the passes and still passes three."""
    state = kit.table(passes=6, courtesy=True)
    while state.phase is not Phase.TURN:
        assert len(state.racks[0]) == 14
        if state.phase is Phase.PASSING and state.to_act == 0:
            assert {len(action.kinds) + action.blind for action in legal_actions(state)} == {3}
        state = apply(state, legal_actions(state)[0])
