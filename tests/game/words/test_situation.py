"""What the window and the text table say alike: where the player stands, how a game ended, what it cost."""

from dataclasses import replace

import pytest
from at_table import beginner, wall_of, winning_wall

from engine.advice.advise.discard import advise
from engine.advice.advise.passes import advise_courtesy, advise_second_round, choose_before_play
from engine.advice.moment import Moment
from engine.advice.table import SheetTable
from engine.rules.actions import Agree, Ask, Discard, Give, Mahjong, Stop
from engine.rules.deal import DealCode
from engine.rules.game import start
from engine.rules.house import FULL, House
from engine.rules.observation import observe
from engine.rules.passing import BEFORE_PLAY
from engine.rules.state import Outcome
from engine.seats.character import Strength
from engine.seats.players import player
from engine.tiles import NAMES, name
from engine.words import TRIFLE, picks
from game.play.advisor import Advisor
from game.play.costs import costs_of, dearest
from game.play.sitting import Sitting
from game.words.costs import cost_sentence
from game.words.situation import headline, outcome_sentences, payment_note, prompt, situation


def dealt(seed=3, **rules):
    """A sitting at a seeded deal."""
    sheet = beginner()
    return Sitting(DealCode.of(sheet, House(**rules), seed).deal(sheet))


def won(**rules):
    """A finished game, won at the first draw, and the hand."""
    house = House(**rules)
    wall, spare, hand = winning_wall(house)
    sitting = Sitting(start(beginner(), house, wall))
    sitting.act(Discard(spare))
    sitting.act(Mahjong())
    return sitting, hand


def with_outcome(**changes):
    """A finished game's state with another outcome, at a table with these rules."""
    table = changes.pop("table", None)
    sitting, hand = won()
    state = sitting.state
    outcome = replace(state.outcome, **changes)
    house = replace(state.house, table=table) if table else state.house
    return replace(state, outcome=outcome, house=house), hand


def test_situation_says_where_the_player_stands():
    """The start, a draw, the end."""
    sitting = dealt(picks=1)
    assert situation(sitting) == "You start: let one tile go."
    sitting.act(Discard(sitting.observation.rack[0]))
    drawn = sitting.state.drawn
    assert situation(sitting) == f"Pick 1: you drew the {name(drawn)}. 98 tiles left in the wall. Let one tile go."
    sitting.act(Discard(drawn))
    assert situation(sitting) == "The game is over."


def test_prompt_is_shorter_and_looking_back_says_what_was_chosen():
    """Beside the picks and the wall on the screen it need not repeat them."""
    sitting = dealt(picks=3)
    first = sitting.observation.rack[0]
    assert prompt(sitting) == "You start: let one tile go."
    sitting.act(Discard(first))
    drawn = sitting.state.drawn
    assert prompt(sitting) == f"You drew the {name(drawn)}. Let one tile go."
    sitting.act(Discard(drawn))
    sitting.back()
    assert prompt(sitting) == f"You drew the {name(drawn)} and let the {name(drawn)} go."
    sitting.back()
    assert prompt(sitting) == f"You started and let the {name(first)} go."


def test_prompt_tells_of_a_complete_hand():
    """By the draw, dealt from the start, and looked back at."""
    house = House()
    wall, spare, _ = winning_wall(house)
    sitting = Sitting(start(beginner(), house, wall))
    sitting.act(Discard(spare))
    drawn = name(sitting.state.drawn)
    assert prompt(sitting) == f"You drew the {drawn}: your hand is complete."
    sitting.act(Mahjong())
    assert prompt(sitting) == "The game is over."
    sitting.back()
    assert prompt(sitting) == f"You drew the {drawn} and showed mahjong."
    whole = list(sitting.observation.rack)
    dealt_whole = Sitting(start(beginner(), house, wall_of(whole, [], house)))
    assert prompt(dealt_whole) == "You were dealt a whole hand: your hand is complete."


def test_another_seats_turn_is_named():
    """Where the others play, whose turn it is."""
    sheet = beginner()
    sitting = Sitting(DealCode.of(sheet, House(table=FULL, seat=1), 3).deal(sheet))
    assert situation(sitting) == "It is East's turn."
    assert prompt(sitting) == "It is East's turn."


@pytest.mark.parametrize(
    ("kind", "says", "sentence"),
    [
        ("wall", "Wall game", "The wall is used up and nobody has made a hand: a wall game, and nobody scores."),
        ("picks", "Out of picks", "All 40 picks are used and no hand was made."),
        ("dead", "Dead hand", "Your hand is dead, and the game ends here."),
    ],
)
def test_games_that_nobody_wins(kind, says, sentence):
    """One headline and one sentence each."""
    outcome = Outcome(kind)
    state = replace(dealt(picks=40).state, outcome=outcome)
    assert headline(outcome, 0) == says
    assert outcome_sentences(state) == [sentence]


def test_a_win_names_hand_section_points_and_what_a_full_table_would_pay():
    """Points by the rules of play: self-drawn, all three pay double; without a joker it doubles again."""
    sitting, hand = won()
    state = sitting.state
    assert headline(state.outcome, 0) == "Mahjong!"
    assert state.outcome.jokerless
    assert outcome_sentences(state) == [
        f"You made {hand.name}, in {hand.section}, by drawing the last tile, at pick 1.",
        f"The hand counts {hand.points} points, made without a joker; "
        f"at a full table you would collect {hand.points * 2 * 3 * 2}.",
    ]


def test_wins_at_a_full_table():
    """By a call, the player's own and another seat's."""
    state, hand = with_outcome(table=FULL, self_drawn=False, discarder=2, jokerless=False)
    points = state.outcome.points
    assert outcome_sentences(state) == [
        f"You made {hand.name}, in {hand.section}, by calling the last tile, at pick 1.",
        f"The hand counts {hand.points} points; you collect {points}.",
    ]
    state, hand = with_outcome(table=FULL, winner=3, self_drawn=False, discarder=0, jokerless=False)
    assert headline(state.outcome, 0) == "North made mahjong"
    assert outcome_sentences(state) == [
        f"North made {hand.name}, in {hand.section}, by calling the last tile.",
        f"The hand counts {hand.points} points; North collects {points}.",
    ]


@pytest.mark.parametrize(
    ("rules", "changes", "sentence", "more"),
    [
        ({"concealed_bonus": 10}, {}, "The hand counts {} points and 10 more for nothing exposed; you collect 40.", []),
        (
            {"jokerless_doubles": False},
            {"jokerless": True},
            "The hand counts {} points, made without a joker, which does not double it here; you collect 40.",
            [],
        ),
        (
            {"self_drawn_doubles": False},
            {"self_drawn": True},
            "The hand counts {} points; you collect 40.",
            ["By your house rules a self-drawn hand is paid single."],
        ),
    ],
)
def test_house_rules_that_change_the_score_are_named(rules, changes, sentence, more):
    """The bonus for nothing exposed, no doubling without jokers, a self-drawn hand paid single."""
    state, hand = with_outcome(table=FULL, **{"jokerless": False, "points": 40, "discarder": None, **changes})
    state = replace(state, house=replace(state.house, **rules))
    said = outcome_sentences(state)
    assert said[1] == sentence.format(hand.points)
    assert said[2:] == more


@pytest.mark.parametrize(
    ("rules", "changes", "note"),
    [
        ({}, {"discarder": 2, "self_drawn": False}, "West let the last tile go and pays double."),
        (
            {"discarder_pays_all": True},
            {"discarder": 2, "self_drawn": False},
            "West let the last tile go and pays for all three.",
        ),
        ({}, {}, "The last tile was self-drawn, so all three pay double."),
        ({"self_drawn_doubles": False}, {}, "The last tile was self-drawn, so all three pay single."),
        (
            {"loss_limit": 30},
            {"payments": (90, -30, -30, -30)},
            "The last tile was self-drawn, so all three pay double. "
            "South, West and North can lose no more than 30 here.",
        ),
    ],
)
def test_the_note_on_the_payments_follows_the_house(rules, changes, note):
    """Who pays how much, and the limit of loss where it is reached."""
    state, _ = with_outcome(table=FULL, **changes)
    assert payment_note(replace(state, house=replace(state.house, **rules))) == note


def test_a_game_under_way_has_no_outcome():
    """Nothing is said of an end that has not come."""
    assert outcome_sentences(dealt().state) == []


@pytest.mark.slow
def test_costs_are_what_the_advice_of_each_moment_says():
    """Every discard against advice worked out anew, dearest first; the sentence names both tiles and the cost."""
    sheet = beginner()
    sitting = dealt()
    for _ in range(10):
        sitting.act(Discard(sitting.observation.rack[0]))
    table = SheetTable.of(sheet, 8)
    expected = {}
    for index in sitting.decisions:
        seen = observe(sitting.states[index], 0)
        advice = advise(Moment.of(table, seen.counts, seen.unseen, seen.picks_left))
        let_go = sitting.entries[index].action.kind
        cost = next(keep.picks for keep in advice.keeps if keep.kind == let_go)
        if cost >= TRIFLE:
            expected[index] = (let_go, advice.let_go, cost)
    found = dearest(costs_of(sitting, Advisor(sheet, 8)))
    assert len(found) >= 3, "a game of first tiles costs something"
    assert {one.index: (one.chosen.kind, one.best.kind, one.cost) for one in found} == expected
    assert [one.cost for one in found] == sorted((one.cost for one in found), reverse=True)
    for one in found:
        said = cost_sentence(sitting, one)
        assert NAMES[one.chosen.kind] in said
        assert NAMES[one.best.kind] in said
        assert f"would have saved roughly {picks(one.cost)}." in said
        assert said.startswith("At the start" if one.index == 0 else "At pick ")


def test_the_advisors_own_game_costs_nothing():
    """Whoever lets go what the advice names has no costly choice."""
    advisor = Advisor(beginner(), 8)
    sitting = dealt(picks=6)
    while not sitting.over:
        sitting.act(Discard(advisor.advise(sitting.observation).let_go))
    assert dearest(costs_of(sitting, advisor)) == []


@pytest.mark.slow
def test_votes_and_the_courtesy_pass_cost_what_their_advice_says():
    """A vote against the advice, another number and other tiles across are named with what they cost."""
    sheet = beginner()
    advisor = Advisor(sheet, 8, effort=0)
    house = House(passes=6, courtesy=True, picks=40)
    met = set()
    for seed in range(3):
        others = player(Strength.STEADY, advisor.table)
        sitting = Sitting(DealCode.of(sheet, house, seed).deal(sheet), others=others)
        expected = {}
        while sitting.state.phase in BEFORE_PLAY:
            seen, index = sitting.observation, sitting.cursor
            action = choose_before_play(advisor.table, seen)
            if isinstance(action, Agree | Stop):
                vote = advise_second_round(advisor.table, seen)
                action = Stop() if vote.agree else Agree()
                expected[index] = abs(vote.picks)
            elif isinstance(action, Ask):
                courtesy = advise_courtesy(advisor.table, seen)
                action = Ask(courtesy.ask - 1 if courtesy.ask > 1 else courtesy.ask + 1)
                expected[index] = courtesy.picks[action.number]
            elif isinstance(action, Give):
                courtesy = advise_courtesy(advisor.table, seen)
                action = Give(courtesy.choices[-1].kinds)
                expected[index] = courtesy.choices[-1].picks
            sitting.act(action)
        found = {one.index: one for one in costs_of(sitting, advisor) if one.index in expected}
        assert {index: one.cost for index, one in found.items()} == expected
        for one in found.values():
            met.add(type(one.chosen))
            if one.lost:
                said = cost_sentence(sitting, one)
                assert said.endswith(f"would have saved roughly {picks(one.lost)}.")
                assert said.startswith(
                    ("You agreed to", "You stopped the", "You asked for", "In the courtesy pass you")
                )
    assert {Ask, Give} <= met
    assert met & {Agree, Stop}
