"""House rules that groups at home commonly use (common practice, no source): each one worked by hand."""

from dataclasses import replace

import pytest
from houses import EXAMPLES

from engine.rules.actions import Agree, Call, Draw, Mahjong, Pass
from engine.rules.game import apply, legal_actions, why_not
from engine.rules.house import FULL, House, parse_house, write_house
from engine.rules.matching import match, worth
from engine.rules.refusals import Rule
from engine.rules.scoring import mistakes_paid, payments
from engine.rules.sentences import sentence
from engine.rules.state import CHANCE, Phase
from engine.tiles import counts_of, parse_tiles

NEARLY = "2x3d 3x8d 4x5d 3x6d 7d"
"""Landing, of 30 points, without its last 7 dot."""


def passed(kit, rounds, **rules):
    """A table after so many passes in which everybody passed the first three tiles that may go."""
    state = kit.table(passes=6, **rules)
    for _ in range(4 * rounds):
        if state.phase is Phase.AGREEING:
            state = apply(state, Agree())
        while state.phase is Phase.AGREEING:
            state = apply(state, Agree())
        state = apply(state, next(action for action in legal_actions(state) if isinstance(action, Pass)))
    return state


def test_the_second_round_may_be_played_without_a_vote(kit):
    """After three passes all agree first, or the fourth pass follows at once."""
    assert passed(kit, 3).phase is Phase.AGREEING
    state = passed(kit, 3, vote=False)
    assert (state.phase, state.passes_done, state.to_act) == (Phase.PASSING, 3, 0)
    assert kit.table(passes=3, vote=False).phase is Phase.PASSING


@pytest.mark.parametrize(("only", "first", "second"), [(0, True, True), (1, True, False), (2, False, True)])
def test_tiles_may_be_passed_on_unseen_in_one_round_only(kit, only, first, second):
    """On the last pass of both rounds, of the first or of the second."""
    for done, may in ((0, False), (2, first), (3, False), (5, second)):
        state = passed(kit, done, vote=False, blind_round=only)
        assert state.passes_done == done
        assert any(action.blind for action in legal_actions(state)) == may
        kind = min(state.racks[0])
        blind = Pass((kind, *sorted(state.racks[0])[1:2]), 1)
        refusal = why_not(state, 0, blind)
        assert (refusal is None) == may
        if refusal is not None:
            assert refusal.rule is (Rule.BLIND_OTHER_ROUND if done in (2, 5) else Rule.BLIND_TOO_EARLY)
    assert not any(action.blind for action in legal_actions(passed(kit, 2, blind=False, blind_round=1)))


def test_no_discard_is_called_in_the_last_tiles_of_the_wall(kit):
    """With 16 tiles left nobody is asked, for mahjong or an exposure; drawing the tile still wins."""
    closed = kit.table(table="full", last_tiles=16, east="7d 5c", south="2x5c", west=NEARLY, draws="1b")
    state = kit.play(closed, "east discard 7d")
    assert (state.phase, state.to_act) == (Phase.CALLING, 2)
    for left, calls in ((17, True), (16, False), (1, False)):
        few = cut_to(closed, left)
        assert (kit.play(few, "east discard 7d").phase is Phase.CALLING) == calls
        assert (kit.play(few, "east discard 5c").phase is Phase.CALLING) == calls
        if not calls:
            thrown = kit.play(few, "east discard 5c")
            refusal = why_not(thrown, 1, Call(3))
            assert refusal.rule is Rule.CALLS_CLOSED
            assert sentence(refusal) == ("No discard is called any more once 16 tiles or fewer are left in the wall.")
    drawn = kit.table(table="full", last_tiles=40, east="1b", south=NEARLY, draws="7d")
    drawn = kit.play(cut_to(drawn, 20), "east discard 1b\nwall draw 7d")
    assert Mahjong() in legal_actions(drawn)


def cut_to(state, left):
    """The table with only the first tiles of its wall left."""
    return replace(state, wall=state.wall[:left])


# Worked by hand for a hand worth 30 points, won by East: what East, South, West and North get.
CASES = [
    # house rules, discarder, payments
    ({}, 1, (120, -60, -30, -30)),
    ({}, None, (180, -60, -60, -60)),
    ({"discarder_pays_all": True}, 1, (120, -120, 0, 0)),
    ({"discarder_pays_all": True}, None, (180, -60, -60, -60)),
    ({"self_drawn_doubles": False}, None, (90, -30, -30, -30)),
    ({"self_drawn_doubles": False}, 1, (120, -60, -30, -30)),
    ({"loss_limit": 50}, 1, (110, -50, -30, -30)),
    ({"loss_limit": 50}, None, (150, -50, -50, -50)),
    ({"loss_limit": 100, "discarder_pays_all": True}, 3, (100, 0, 0, -100)),
    ({"loss_limit": 60}, None, (180, -60, -60, -60)),
]


@pytest.mark.parametrize(("rules", "discarder", "paid"), CASES)
def test_who_pays_what(rules, discarder, paid):
    """The discarder for all, nobody double, and nobody more than the limit."""
    assert payments(House(table=FULL, **rules), 30, 0, discarder) == paid


@pytest.mark.parametrize(
    ("rules", "exposed", "jokerless", "points"),
    [
        ({}, True, False, 30),
        ({}, True, True, 60),
        ({"jokerless_doubles": False}, True, True, 30),
        ({"concealed_bonus": 10}, True, False, 30),
        ({"concealed_bonus": 10}, False, False, 40),
        ({"concealed_bonus": 10}, False, True, 80),
        ({"concealed_bonus": 10, "jokerless_doubles": False}, False, True, 40),
    ],
)
def test_what_a_hand_is_worth(kit, rules, exposed, jokerless, points):
    """A bonus for a hand with nothing exposed, and no doubling for want of jokers where the house does not double."""
    hand = kit.sheet.hand("Landing")
    assert worth(hand, hand.variants[0], jokerless, exposed, House(**rules)) == points


def test_of_two_hands_the_one_that_collects_most_by_the_house_is_taken(kit):
    """Without a joker the open hand is worth twice its points, unless the house does not double."""
    tiles = "2x3d 3x8d 4x5d 3x6d 2x7d"
    dear = kit.sheet.hand("Crooked row")
    landing = kit.sheet.hand("Landing")
    variant = match(kit.sheet, counts_of(parse_tiles(tiles)))[1]
    assert worth(landing, variant, True, False) == 60 > dear.points
    assert worth(landing, variant, True, False, House(jokerless_doubles=False)) == 30 < dear.points


def test_a_mistaken_mahjong_is_paid_for(kit):
    """East shows by mistake and South wins later by drawing: East pays 25 to each, and 120 like the others."""
    rules = {"table": "full", "slips": True, "mistake_pays": 25}
    state = kit.table(south=NEARLY, draws="7d", **rules)
    state = kit.play(state, "east mahjong\nwall draw 7d\nsouth mahjong")
    assert state.outcome.payments == (-75 - 120, 25 + 360, 25 - 120, 25 - 120)
    assert state.outcome.points == 360
    assert sum(state.outcome.payments) == 0


def test_a_mistake_is_paid_for_in_a_wall_game_too(kit):
    """And not at a quiet table, where nobody else plays, nor for a wrong exposure."""
    rules = {"table": "full", "slips": True, "mistake_pays": 25}
    state = kit.play(kit.table(**rules), "east mahjong")
    while state.phase is not Phase.OVER:
        if state.phase is Phase.TURN:
            state = apply(state, legal_actions(state)[0])
        elif state.to_act == CHANCE:
            state = apply(state, Draw(state.wall[0]))
        else:
            state = kit.let_go(state)
    assert (state.outcome.kind, state.outcome.payments) == ("wall", (-75, 25, 25, 25))
    quiet = kit.play(kit.table(slips=True, mistake_pays=25), "east mahjong")
    assert (quiet.outcome.kind, quiet.outcome.payments) == ("dead", (0, 0, 0, 0))
    exposed = kit.table(east="wn", west="2xwn", seat=2, **rules)
    exposed = kit.play(exposed, "east discard wn\nwest call pung")
    assert mistakes_paid(exposed.house, [2]) == (25, 25, -75, 25)
    assert exposed.died[2].exposure is not None


def test_a_limit_holds_for_mistakes_and_the_hand_together(kit):
    """With 100 at most East's 75 for the mistake leave 25 for South's hand."""
    rules = {"table": "full", "slips": True, "mistake_pays": 25, "loss_limit": 100}
    state = kit.play(kit.table(south=NEARLY, draws="7d", **rules), "east mahjong\nwall draw 7d\nsouth mahjong")
    assert state.outcome.payments == (-100, 25 + 25 + 120 + 120, 25 - 120, 25 - 120)


@pytest.mark.parametrize("name", EXAMPLES)
def test_a_record_says_a_later_rule_only_where_it_is_unusual(name):
    """So that records of before read as they did, and new ones of usual tables are written as they were."""
    usual = "table quiet, jokers 8, picks 0, seat east, passes 0, courtesy no, blind yes, slips no"
    assert write_house(House()) == usual
    assert parse_house(usual) == House()
    house = House(**{name: EXAMPLES[name]})
    line = write_house(house)
    assert line.startswith(f"{usual}, {name} ")
    assert parse_house(line) == house


def test_the_courtesy_pass_follows_passes_only(kit):
    """Where no passes are played there is none, whatever the house says of it."""
    assert not House(courtesy=True).plays_courtesy
    assert House(courtesy=True, passes=3).plays_courtesy
    assert kit.table(courtesy=True).phase is Phase.TURN
