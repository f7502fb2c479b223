"""Games with each twist, by chance and played keenly: what the twist says holds at every step."""

import random

import pytest
from depth import deep

from engine.rules.actions import Call, Exchange
from engine.rules.game import legal_actions, start
from engine.rules.house import FULL, QUIET, House
from engine.rules.matching import hand_of
from engine.rules.observation import observe
from engine.rules.record import Header, Record, from_text, play_back, to_text
from engine.rules.state import CHANCE, Phase, tiles_in
from engine.rules.twists.known import twist_named, twist_of
from engine.rules.twists.names import TWISTS
from engine.tiles import full_set
from game.words.deal.twists import twist_sentences
from game.words.situation import outcome_sentences


def holds(twist, steps, last):
    """What must be seen of a twist in every game."""
    actions = [action for _, action in steps]
    calls = [(state, action) for state, action in steps if isinstance(action, Call)]
    match twist.name:
        case "ten":
            assert len(last.aside) == 10
        case "closed":
            assert not calls or last.house.slips
        case "slow":
            assert all(len(state.discards) >= 12 for state, _ in calls)
        case "large":
            assert all(action.size >= 4 for _, action in calls)
        case "proud":
            assert all(action.size >= 4 or action.jokers == 0 for _, action in calls)
        case "left":
            assert all((state.discards[-1].seat + 1) % 4 == state.to_act for state, _ in calls)
        case "glue":
            assert not any(isinstance(action, Exchange) for action in actions)
        case "open":
            assert not any(hand.concealed for hand in last.sheet.hands)
        case "mirror" | "step" | "winds" | "dragons" | "petals":
            plain = {hand.name: len(hand.variants) for hand in last.sheet.plain.hands}
            assert any(len(hand.variants) > plain[hand.name] for hand in last.sheet.hands)
    said = outcome_sentences(last)
    assert any(twist.says in one for one in said)
    assert twist.title in twist_sentences(last)[0]


def play(kit, name, seed, keen):
    """One whole game with a twist; every state is sound, and its record replays."""
    twist = twist_named(name)
    house = House(
        table=QUIET if seed % 3 == 0 and not twist.full_only else FULL, picks=30 * (seed % 3 == 0),
        seat=seed % 4, passes=(0, 3, 6)[seed % 3], slips=seed % 5 == 0 and not keen, twist=name,
    )  # fmt: skip
    steps, last = kit.random_game(house, seed, kit.choose_keenly if keen else None)
    for state, action in steps:
        assert action in legal_actions(state)
    assert tiles_in(last) == full_set()
    assert last.phase is Phase.OVER
    assert sum(last.outcome.payments) == 0
    holds(twist, steps, last)
    wall = random_wall(house, seed)
    record = Record(Header.of(kit.sheet, house, wall), tuple((state.to_act, action) for state, action in steps))
    reading = from_text(to_text(record))
    assert reading.error is None
    assert play_back(reading.record, kit.sheet).states[-1] == last
    return last


def random_wall(house, seed):
    """The wall that `kit.random_game` deals from."""
    chance = random.Random(seed)
    wall = [kind for kind, count in enumerate(full_set(house.jokers)) for _ in range(count)]
    chance.shuffle(wall)
    return wall


@pytest.mark.parametrize("name", TWISTS)
@pytest.mark.slow
def test_a_game_of_random_choices_with_each_twist(kit, name):
    """No fault, the twist is seen in it and named at its end."""
    play(kit, name, 7, keen=False)


@pytest.mark.slow
@pytest.mark.parametrize("name", TWISTS)
def test_more_games_with_each_twist(kit, name):
    """One that is played keenly and some of random choices; tests/bench/twists.py plays as many as one likes."""
    for seed in (5, 0, 1, 2, 3, 4, 6, 7)[: deep(4, 8)]:
        play(kit, name, seed, keen=seed == 5)


def test_what_a_seat_knows_does_not_hang_on_what_it_can_not_see(kit):
    """Two deals that differ in unseen tiles only look alike; the tiles beside the wall are seen."""
    one = start(kit.sheet, House(twist="ten"), kit.wall(("", "", "", "")))
    wall = list(one.wall)
    wall[0], wall[-1] = wall[-1], wall[0]
    other = type(one)(**{**vars(one), "wall": tuple(wall)})
    assert observe(one, 0) == observe(other, 0)
    assert hand_of(one, 0) is None
    assert one.to_act in (0, CHANCE)
    assert twist_of(one.house).aside == 10
