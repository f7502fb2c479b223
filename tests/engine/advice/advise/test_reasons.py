"""No sentence of the plan or of a tile claims what the numbers don't show: every claim is counted anew."""

from dataclasses import replace
from itertools import islice, pairwise
from random import Random
from types import SimpleNamespace

import numpy as np
import plain_advice as plain
import pytest
from claims import check_plan
from claims_aim import check_aim
from claims_keep import check_keep
from claims_words import sentences
from counted import Counted
from depth import deep
from full_games import moments, seen

from engine.advice.advise.discard import advise, deepen
from engine.advice.advise.hands import best_of_each_hand
from engine.advice.advise.plan import Aim, Plan, Shift, Turning, plan_of, target_of
from engine.advice.advise.reasons import say_aim
from engine.advice.advise.reasons_tiles import about
from engine.advice.advise.why_not import why_not_hand
from engine.advice.moment import Moment, Work
from engine.advice.odds.exact import exact
from engine.advice.table import SheetTable
from engine.rules.state import Phase
from engine.sheet.shelf import find
from engine.tiles import JOKER, KINDS, full_set, kinds_of

SHEETS = ["first-steps", "lantern-street"]


def rack_near(random, table):
    """Fourteen tiles with many of one variant's among them, and what is unseen after some discards."""
    variant = random.choice(table.variants)
    wall = [kind for kind, copies in enumerate(full_set()) for _ in range(copies)]
    random.shuffle(wall)
    rack = [0] * KINDS
    wanted = random.randrange(3, 14)
    for kind in random.sample(kinds_of(variant.total), wanted):
        if kind in wall:
            wall.remove(kind)
            rack[kind] += 1
    while sum(rack) < 14:
        rack[wall.pop()] += 1
    del wall[: random.choice((0, 0, 30, 80))]
    unseen = [0] * KINDS
    for kind in wall:
        unseen[kind] += 1
    return tuple(rack), tuple(unseen)


def check(table, rack, unseen, draws, advice, *, calls=False):
    """All sentences of one advice. Returns the claims met."""
    whole = Counted(table, rack, unseen, draws, calls)
    if advice.finished:
        assert advice.because == f"This is {advice.hands[0].hand.name}. Show it for mahjong."
        return {"finished"}
    if not advice.plan.aim:
        none = "No hand can be made any more with the tiles that may still come."
        far = "No hand is near enough for the draws left to you, so what matters now is to give the others nothing."
        assert advice.because == (far if calls else none)
        return {"nothing"}
    rest = Counted(table, plain.without(rack, advice.let_go), unseen, draws, calls)
    met = check_plan(advice, rest, advice.keeps, rack[advice.let_go])
    for keep in advice.keeps[:-1]:
        met |= check_keep(keep, advice, whole, turns=calls)
    assert advice.keeps[-1].because == sentences(advice.because)[1]
    return met


def positions(name, number, seed):
    """Racks near and far, with many draws to come or few."""
    table, random = SheetTable.of(find(name)), Random(seed)
    for _ in range(number):
        rack, unseen = rack_near(random, table)
        yield table, rack, unseen, min(random.choice((2, 8, 25, 60, 99)), sum(unseen))


@pytest.mark.slow
def test_every_claim_is_so():
    """Over racks far and near of both sheets every claim equals a fresh count, and every kind of claim occurs."""
    met = set()
    for name in SHEETS:
        for table, rack, unseen, draws in positions(name, deep(40, 80), 4):
            met |= check(table, rack, unseen, draws, advise(Moment.of(table, rack, unseen, draws)))
    assert met >= {
        "one away", "open", "go for", "no use", "to spare", "watch", "speaks", "need", "strict", "scarce", "room",
        "further", "lost",
    }  # fmt: skip


@pytest.mark.slow
def test_every_claim_is_so_at_a_full_table():
    """In turns of games between four seats the same claims hold, with costs in turns and discards to be called."""
    table, met = SheetTable.of(find("first-steps")), set()
    turns = (one for one in moments(table, range(40), Phase.TURN) if not one[0].exposures[one[1]])
    for state, seat in islice(turns, 0, 360, deep(12, 6)):
        observation = seen(state, seat)
        advice = advise(Moment.seen(table, observation))
        counted = observation.counts, observation.unseen, observation.picks_left
        met |= check(table, *counted, advice, calls=True)
    assert met >= {"need", "strict", "room", "no use", "watch"}


@pytest.mark.slow
def test_claims_of_choices_tried_out():
    """What is tried out says how many games show no difference, and its costs without “about”."""
    met = set()
    for table, rack, unseen, draws in positions("first-steps", 4, 9):
        moment = Moment.of(table, rack, unseen, draws)
        met |= check(table, rack, unseen, draws, deepen(moment, Work(600)))
    assert "need" in met


@pytest.mark.slow
def test_the_plan_stays():
    """Through a game the aim stays while it is nearly as good as any, and while nothing has changed."""
    table, random = SheetTable.of(find("first-steps")), Random(8)
    stayed = 0
    for _ in range(3):
        rack, unseen = plain.random_rack(random, 14)
        plan = None
        for draws in range(40, 20, -1):
            advice = advise(Moment.of(table, rack, unseen, draws), plan)
            if advice.finished:
                break
            rest = Counted(table, plain.without(rack, advice.let_go), unseen, draws)
            check_plan(advice, rest, advice.keeps, rack[advice.let_go])
            if plan is not None:
                stayed += advice.plan.stays
                assert advice.plan.stays <= (set(advice.plan.names) <= set(plan.names))
            again = advise(Moment.of(table, rack, unseen, draws), advice.plan)
            assert again.plan.names == advice.plan.names, "nothing changed"
            assert again.plan.stays
            plan = advice.plan
            rack = plain.without(rack, advice.let_go)
            drawn = random.choice([kind for kind in range(KINDS) for _ in range(unseen[kind])])
            rack = tuple(count + (kind == drawn) for kind, count in enumerate(rack))
            unseen = plain.without(unseen, drawn)
    assert stayed > 20


@pytest.mark.slow
def test_a_plan_that_turns_says_why():
    """From a hand that is lost, further off or less likely the plan turns to the strongest one, with a true reason."""
    table, random = SheetTable.of(find("first-steps")), Random(8)
    reasons = set()
    for _ in range(6):
        rack, unseen = rack_near(random, table)
        draws = 25
        advice = advise(Moment.of(table, rack, unseen, draws))
        if advice.finished or not advice.plan.aim:
            continue
        after = Moment.of(table, plain.without(rack, advice.let_go), unseen, draws)
        rest = Counted(table, after.counts, unseen, draws)
        for row in range(0, len(table), 17):
            old = target_of(after, row, 0.0)
            if old.hand.name in {one.hand.name for one in advice.plan.targets}:
                continue
            before = replace(advice.plan, aim=(old,), second=None)
            turned = advise(Moment.of(table, rack, unseen, draws), before)
            if turned.plan.stays or turned.plan.aim[0].missing == 1:
                continue
            assert turned.plan.shift.before == (old.hand.name,)
            assert turned.plan.names == advice.plan.names
            claim, hands = check_aim(sentences(turned.because)[0], rest)
            assert (claim, tuple(hands)) == ("turn", turned.plan.names)
            reasons.add(turned.plan.shift.why)
    assert Turning.NEARER in reasons


def test_only_an_estimate_is_said_to_be_rough():
    """“About” goes as soon as a cost was tried out."""
    assert about(SimpleNamespace(picks=2.4, turns=False, games=None)) == "about 2.4 picks"
    assert about(SimpleNamespace(picks=2.4, turns=False, games=300)) == "2.4 picks"
    assert about(SimpleNamespace(picks=2.4, turns=True, games=None)) == "about 2.4 turns"


@pytest.mark.parametrize(
    ("shift", "missing", "sentence"),
    [
        (
            Shift(("Moth",), Turning.CAME, 5, kind=23),
            5,
            "the 6 dot that came serves it and not Moth",
        ),
        (
            Shift(("Moth",), Turning.GONE, 5, kind=23, here=1, there=2),
            5,
            "Moth lacks two 6 dots, and one more has gone",
        ),
        (Shift(("Moth",), Turning.CALLED, 5), 5, "its groups may be called, while Moth is concealed"),
        (
            Shift(("Moth",), Turning.JOKERS, 4, here=4, there=0),
            5,
            "Draught needs five tiles and Moth four, but jokers may fill four for Draught and none for Moth",
        ),
        (
            Shift(("Moth",), Turning.HELPED, 5, here=31, there=12),
            5,
            "Draught and Moth need five tiles each, but 31 unseen tiles help Draught and only twelve Moth",
        ),
        (
            Shift(("Moth",), Turning.WAYS, 5, here=9, there=2),
            5,
            "it can be made in nine ways with five tiles or fewer, Moth in two",
        ),
        (
            Shift(("Moth",), Turning.PAYS, 5, here=40, there=25),
            5,
            "Draught and Moth need five tiles each, but Draught pays 40 points and Moth 25",
        ),
        (Shift(("Moth",), Turning.BETTER, 5), 5, "its tiles are likelier to come now"),
    ],
)
def test_each_reason_to_turn_is_one_sentence(shift, missing, sentence):
    """What came, what has gone, what may be called, jokers, tiles that help, ways, points; else that it is likelier."""
    aim = Aim(find("first-steps").hand("Draught"), missing, 0.2, (0,) * KINDS, (0,) * KINDS, (), (), 0, ())
    plan = Plan((aim,), None, (), (), False, shift)
    assert say_aim(plan) == f"Turn from Moth to Draught: {sentence}."


@pytest.mark.slow
def test_where_no_joker_can_come_nothing_is_said_of_jokers():
    """In a set without jokers, and where all of them lie open."""
    random = Random(5)
    for jokers, number in ((0, 2), (8, 2)):
        table = SheetTable.of(find("first-steps"), jokers)
        for _ in range(number):
            variant = random.choice(table.variants)
            wall = [kind for kind, copies in enumerate(full_set()[:JOKER]) for _ in range(copies)]
            random.shuffle(wall)
            rack = [0] * KINDS
            for kind in random.sample(kinds_of(variant.total), 9):
                wall.remove(kind)
                rack[kind] += 1
            while sum(rack) < 14:
                rack[wall.pop()] += 1
            unseen = tuple(wall.count(kind) for kind in range(KINDS))
            moment = Moment.of(table, rack, unseen, 30)
            advice = advise(moment)
            check(table, tuple(rack), unseen, 30, advice)
            said = [advice.because, *(one.because for one in advice.keeps)]
            said += [why_not_hand(moment, advice, hand) for hand in table.sheet.hands]
            assert not [one for one in said if "joker" in one]


@pytest.mark.slow
def test_with_all_of_the_wall_the_quickest_hand_is_named_first():
    """Where every hand is as good as sure: the picks that each takes are summed up draw by draw here."""
    table, random = SheetTable.of(find("first-steps")), Random(11)
    for _ in range(2):
        wall = [kind for kind, copies in enumerate(full_set()) for _ in range(copies)]
        random.shuffle(wall)
        rack, unseen = ([one.count(kind) for kind in range(KINDS)] for one in (wall[:13], wall[13:]))
        rows, _ = best_of_each_hand(table, rack, unseen, len(wall) - 60)
        odds = np.array([exact(table, rows, rack, unseen, draws) for draws in range(len(wall) - 59)])
        assert np.sort(odds[-1])[-6:].min() > 0.9
        names = [table.sheet.hands[table.hand[row]].name for row in rows]
        picks = dict(zip(names, (1 - odds).sum(axis=0), strict=True))
        plan = plan_of(Moment.of(table, rack, unseen, len(wall) - 60))
        named = [picks[one.hand.name] for one in plan.targets]
        assert named[0] < min(picks.values()) + 0.5
        assert all(one < other + 0.5 for one, other in pairwise(named))


def test_one_tile_in_common_is_no_tie():
    """Where hands share a single tile it is said how far each is; two tiles or more are a tie."""
    hands = [find("first-steps").hand(name) for name in ("Draught", "Big pot")]
    aims = [Aim(hand, 6, 0.1, (0,) * KINDS, (0,) * KINDS, (), (), 0, ()) for hand in hands]
    for shared, said in (
        (((34, 1),), "Stay open between Draught and Big pot: each needs six tiles, and they share only your flower."),
        (((34, 2),), "Stay open between Draught and Big pot: both use your flowers."),
        ((), "Stay open between Draught and Big pot: each needs six tiles, and neither is ahead yet."),
    ):
        assert say_aim(Plan(tuple(aims), None, shared, (), False, None)) == said
