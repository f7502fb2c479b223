"""What players do at tables made for it: passes, calls, concealed hands, jokers, threats, slips, wrong questions."""

from collections import Counter
from dataclasses import replace

import numpy as np
import pytest

from engine.advice.contest.threats import Threats
from engine.advice.table import SheetTable
from engine.rules.actions import Agree, Ask, Call, Discard, Exchange, LetGo, Mahjong, Pass, Stop
from engine.rules.game import legal_actions
from engine.rules.house import FULL, House
from engine.rules.observation import observe
from engine.rules.state import CHANCE, Discarded, Exposure, Phase, State, tiles_in
from engine.seats.character import Strength, whim
from engine.seats.players import player, table_of
from engine.sheet.reader import read
from engine.tiles import FLOWER, JOKER, KINDS, full_set, kind_of, kinds_of, parse_tiles

SHEET = """
sheet: Two Doors
season: 2031
maker: invented for tests
sections:
  - section: Doors
    hands:
      - hand: Shut
        groups: pung wind east, pung wind south, pung dot.7, pung dot.4, pair crak.9
        hold: concealed
        points: 40
      - hand: Ajar
        groups: pung wind east, kong bam.2, quint bam.4, pair bam.6
        points: 30
      - hand: Wide open
        groups: pung crak.1, pung crak.2, pung crak.5, quint flower
        points: 30
      - hand: Barn door
        groups: pung crak.1, pung crak.2, pung crak.7, quint dot.9
        points: 30
"""


@pytest.fixture(scope="module")
def doors():
    """A sheet of four hands, one of them concealed."""
    return read(SHEET, source="doors.yaml").sheet


@pytest.fixture(scope="module")
def players(doors):
    """A player of each strength for it."""
    return {strength: player(strength, SheetTable.of(doors)) for strength in Strength}


def table(sheet, east, *, laid=((), (), (), ()), discards="", phase=Phase.TURN, by=3, wall=99, passes_done=6, **more):
    """A full table in mid-game: East holds `east` and is to act; `discards` were thrown by seats in turn, the last one
    by `by`. The other racks are filled with what is left."""
    racks = [parse_tiles(east), (), (), ()]
    thrown = parse_tiles(discards)
    left = Counter(dict(enumerate(full_set())))
    left.subtract([*racks[0], *thrown])
    for exposures in laid:
        for one in exposures:
            left.subtract([one.kind] * one.real + [JOKER] * one.jokers)
    assert min(left.values()) >= 0
    rest = sorted(kinds_of([left[kind] for kind in range(36)]), key=lambda kind: (kind * 11) % 36)
    for seat in (1, 2, 3):
        size = 13 - sum(one.size for one in laid[seat])
        racks[seat], rest = tuple(rest[:size]), rest[size:]
    seats = [(by - 3 * (len(thrown) - 1 - place)) % 4 for place in range(len(thrown))]
    return State(
        sheet=sheet,
        house=House(FULL, **more),
        wall=tuple(rest[:wall]),
        racks=tuple(racks),
        phase=phase,
        turn=0 if phase is Phase.TURN else by,
        to_act=0,
        exposures=laid,
        discards=tuple(Discarded(seat, kind) for seat, kind in zip(seats, thrown, strict=True)),
        asked=(0,) if phase is Phase.CALLING else (),
        passes_done=passes_done,
    )


def ask(choose, state):
    """The action of East, checked to be legal."""
    action = choose(observe(state, 0))
    assert action in legal_actions(state)
    return action


@pytest.mark.parametrize("strength", Strength)
def test_who_aims_at_a_concealed_hand_calls_for_nothing_but_mahjong(doors, players, strength):
    """The call is legal, since an open hand has the same group, and is let go; the last tile is called."""
    state = table(doors, "3xws 3x7d 3x4d 2xwe 9c 1b", discards="9d we", phase=Phase.CALLING)
    assert any(isinstance(action, Call) for action in legal_actions(state))
    assert ask(players[strength], state) == LetGo()
    state = table(doors, "3xws 3x7d 3x4d 2xwe 2x9c", discards="9d we", phase=Phase.CALLING)
    assert ask(players[strength], state) == Mahjong()


def test_who_aims_at_an_open_hand_calls_for_its_groups(doors, players):
    """The same tile is called by one whose open hand needs it, without jokers where it holds the tiles."""
    state = table(doors, "2xwe 4x2b 3x4b 2x6b jk 1b", discards="9d we", phase=Phase.CALLING)
    assert ask(players[Strength.SHARP], state) == Call(3)


@pytest.mark.parametrize("strength", Strength)
def test_a_tile_of_no_use_is_not_called(doors, players, strength):
    """A group that the sheet allows but the hand in view does not need is let go."""
    state = table(doors, "2x1c 2xwe 4x2b 4x4b 1d", discards="9d 1c", phase=Phase.CALLING)
    assert any(isinstance(action, Call) for action in legal_actions(state))
    assert ask(players[strength], state) == LetGo()


@pytest.mark.parametrize("strength", Strength)
def test_strangers_are_passed(doors, players, strength):
    """What no hand of the sheet uses goes out, never a joker or what the near hand needs."""
    state = table(doors, "3xwe 4x2b 2x4b jk 9b 8b 7b 5b", phase=Phase.PASSING, passes=6, passes_done=0)
    assert set(ask(players[strength], state).kinds) <= set(parse_tiles("9b 8b 7b 5b"))


def test_a_stranger_is_let_go(doors, players):
    """A player who makes no slips lets go the one tile that the near hand does not need."""
    state = table(doors, "3xwe 4x2b 4x4b 2x6b 8d")
    assert ask(players[Strength.SHARP], state) == Discard(kind_of("8d"))


@pytest.mark.slow
def test_players_err_as_often_as_their_character_says(salon):
    """Of whims in many different moments, the share under a limit is near that limit; whims about two things differ."""
    steps, _ = salon.game(table_of([Strength.STEADY], salon.table), 33)
    seen = [observe(state, seat) for state, _ in steps for seat in range(4)]
    whims = [whim(one, "slip") for one in seen]
    for limit in (0.05, 0.4):
        share = sum(one < limit for one in whims) / len(whims)
        assert abs(share - limit) < 4 * (limit * (1 - limit) / len(set(whims))) ** 0.5
    assert all(0 <= one < 1 for one in whims)
    assert [whim(one, "call") for one in seen] != whims


@pytest.mark.parametrize("strength", Strength)
def test_a_joker_is_let_go_only_when_nothing_else_is_held(doors, players, strength):
    """With thirteen useful tiles and a joker, a useful tile goes; with jokers alone, a joker."""
    state = table(doors, "3xwe 4x2b 4x4b 1b 2xjk")
    assert ask(players[strength], state) != Discard(JOKER)
    laid = tuple(Exposure(size, kind_of(kind)) for size, kind in ((4, "2b"), (3, "we")))
    quint = Exposure(5, kind_of("4b"), 1)
    state = table(doors, "2x6b jk jk jk", laid=((laid[0], quint), (), (), ()))
    assert ask(players[strength], state) == Mahjong()
    state = table(doors, "3xjk", laid=((*laid, Exposure(4, kind_of("5d"))), (), (), ()))
    assert ask(players[strength], state) == Discard(JOKER)


def test_a_pass_is_blind_when_too_few_are_to_spare(doors, players):
    """On the last pass of a round a seat that would have to break its hand passes on what comes in; with more to spare
    it does not. Likewise the second round is stopped, and little asked across."""
    full, loose = "3xwe 4x2b 4x4b 6b 9b 8d", "3xwe 4x2b 2x4b jk 9b 8b 7b 5b"
    for strength in (Strength.STEADY, Strength.SHARP):
        choose = players[strength]
        last = {"phase": Phase.PASSING, "passes": 6, "passes_done": 2}
        assert ask(choose, table(doors, full, **last)) == Pass(parse_tiles("9b 8d"), 1)
        assert ask(choose, table(doors, loose, **last)).blind == 0
        assert ask(choose, table(doors, full, phase=Phase.PASSING, passes=6, passes_done=1)).blind == 0
        assert ask(choose, table(doors, full, blind=False, **last)).blind == 0
        assert ask(choose, table(doors, full, phase=Phase.AGREEING, passes=6)) == Stop()
        assert ask(choose, table(doors, loose, phase=Phase.AGREEING, passes=6)) == Agree()
        assert ask(choose, table(doors, full, phase=Phase.ASKING, passes=6, courtesy=True)) == Ask(2)
        assert ask(choose, table(doors, loose, phase=Phase.ASKING, passes=6, courtesy=True)) == Ask(3)


@pytest.mark.parametrize("strength", Strength)
def test_an_exchange_that_finishes_the_hand_is_never_overlooked(doors, players, strength):
    """The joker out of another seat's exposure makes the fourteenth tile."""
    laid = ((), (), (Exposure(3, kind_of("1c"), 1),), ())
    state = table(doors, "3xwe 4x2b 4x4b 2x6b 1c", laid=laid)
    assert ask(players[strength], state) == Exchange(2, 0, kind_of("1c"))


def test_a_joker_is_taken_for_a_tile_of_less_use(doors, players):
    """A player who overlooks nothing exchanges a stranger for a joker."""
    laid = ((), (), (Exposure(3, kind_of("1c"), 1),), ())
    state = table(doors, "3xwe 4x2b 2x4b 2x6b 1c 8d 9d", laid=laid)
    assert ask(players[Strength.SHARP], state) == Exchange(2, 0, kind_of("1c"))


def test_a_sharp_player_does_not_feed_a_seat_that_threatens(doors, players):
    """Of two tiles of no use it lets go the one that no exposed hand can be waiting for; both ways about."""
    for wanted, safe in (("7c", "5c"), ("5c", "7c")):
        other = Exposure(5, FLOWER) if wanted == "5c" else Exposure(5, kind_of("9d"), 1)
        laid = ((), (), (Exposure(3, kind_of("1c")), Exposure(3, kind_of("2c")), other), ())
        state = table(doors, f"3xwe 4x2b 3x4b 2x6b {wanted} {safe}", laid=laid, wall=30)
        assert ask(players[Strength.SHARP], state) == Discard(kind_of(safe))


@pytest.mark.slow
def test_a_legal_slip_is_not_made(salon):
    """Where the house lets the player's seat err, a simulated player there shows only what is a hand, lays only what
    its sheet allows, and no hand dies."""
    house = House(FULL, passes=3, slips=True)
    for strength in Strength:
        steps, last = salon.game(table_of([strength], salon.table), 21, house)
        assert not any(last.dead)
        assert tiles_in(last) == full_set()
        assert all(action in legal_actions(state) for state, action in steps if state.to_act != CHANCE)


def test_wrong_questions_are_refused_with_a_sentence(salon, doors, players):
    """Another sheet, another number of jokers, a seat that is not to act, a wrong number of strengths."""
    choose = players[Strength.STEADY]
    state = table(doors, "3xwe 4x2b 4x4b 2x6b 8d")
    with pytest.raises(ValueError, match="nothing to choose now"):
        choose(observe(state, 1))
    with pytest.raises(ValueError, match="knows the sheet Lantern Street, not Two Doors"):
        player(Strength.STEADY, salon.table)(observe(state, 0))
    with pytest.raises(ValueError, match="counts on 8 jokers; make one for 6"):
        choose(observe(table(doors, "3xwe 4x2b 4x4b 2x6b 8d", jokers=6), 0))
    with pytest.raises(ValueError, match="2 strengths were given; give four"):
        table_of([Strength.SHARP, Strength.STEADY], salon.table)


@pytest.mark.parametrize("strength", [Strength.STEADY, Strength.SHARP])
@pytest.mark.slow
def test_a_call_that_brings_no_hand_nearer_is_not_made(salon, strength):
    """In whole games each call leaves fewer tiles lacking than before; the steady player errs seldom."""
    calls, no_nearer, early = 0, 0, 0
    for seed in range(2):
        steps, _ = salon.game(table_of([strength], salon.table), 500 + seed, House(FULL, passes=6, courtesy=True))
        for state, action in steps:
            if isinstance(action, Call):
                observation = observe(state, state.to_act)
                before, after = lacking_by_hand(salon.table, observation, action)
                calls += 1
                no_nearer += after >= before
                early += not observation.exposures[observation.seat] and before >= 6
    assert calls > 5
    assert no_nearer + early <= (0 if strength is Strength.SHARP else 1)


def lacking_by_hand(table, observation, call):
    """Tiles that the nearest possible variant lacks before and after a call, by a loop over all variants."""
    own, kind = observation.exposures[observation.seat], observation.discards[-1].kind
    laid = Exposure(call.size, kind, call.jokers)
    rack = list(observation.counts)
    before = nearest(table, observation, rack, own)
    rack[kind] -= laid.real - 1
    rack[JOKER] -= laid.jokers
    return before, nearest(table, observation, rack, (*own, laid))


def nearest(table, observation, rack, laid):
    """The fewest tiles lacking from a variant that holds what is laid and that the tiles left can still make."""
    best = 99
    everything = [held + left for held, left in zip(rack, observation.unseen, strict=True)]
    for variant, concealed in zip(table.variants, table.concealed, strict=True):
        groups = list(variant.groups)
        for one in laid:
            group = next((group for group in groups if (group.size, group.kind) == (one.size, one.kind)), None)
            if group is None or concealed:
                break
            groups.remove(group)
        else:
            if short_of(groups, everything) == 0:
                best = min(best, short_of(groups, rack))
    return best


def short_of(groups, counts):
    """Tiles lacking: those of singles and pairs first, then of larger groups, which jokers fill."""
    left, strict, loose = list(counts), 0, 0
    for group in sorted(groups, key=lambda group: group.takes_jokers):
        real = min(group.size, left[group.kind])
        left[group.kind] -= real
        if group.takes_jokers:
            loose += group.size - real
        else:
            strict += group.size - real
    return strict + max(0, loose - counts[JOKER])


@pytest.mark.parametrize("strength", [Strength.STEADY, Strength.SHARP])
def test_a_tile_that_redeems_a_joker_is_exchanged_and_not_thrown(doors, players, strength):
    """The fifth 9 dot is of no use to a bam hand, and neither is the joker for a pair; it is taken all the same."""
    laid = ((), (), (Exposure(4, kind_of("9d"), 1),), ())
    state = table(doors, "3xwe 4x2b 4x4b 2x6b 9d", laid=laid)
    assert ask(players[strength], state) == Exchange(2, 0, kind_of("9d"))


@pytest.mark.slow
def test_a_beginner_may_throw_a_tile_that_redeems_a_joker(salon):
    """It overlooks some; the others never do."""
    thrown = {}
    for strength, games in ((Strength.BEGINNER, 6), (Strength.STEADY, 2), (Strength.SHARP, 2)):
        thrown[strength] = 0
        for seed in range(games):
            steps, _ = salon.game(table_of([strength], salon.table), 700 + seed)
            thrown[strength] += sum(
                isinstance(action, Discard)
                and any(isinstance(one, Exchange) and one.kind == action.kind for one in legal_actions(state))
                for state, action in steps
            )
    assert thrown[Strength.BEGINNER] > 0
    assert thrown[Strength.STEADY] == thrown[Strength.SHARP] == 0


def moods(monkeypatch, **numbers):
    """Whims that come out as wished, by what they are about; 0.99 for all others."""
    monkeypatch.setattr("engine.seats.choices.whim", lambda _observation, about: numbers.get(about, 0.99))


@pytest.mark.parametrize(("mood", "exchanged"), [(0.09, False), (0.11, True)])
def test_a_steady_player_overlooks_one_exchange_in_ten(doors, players, monkeypatch, mood, exchanged):
    """A tile of some use may be exchanged for a joker of more; whether that is noticed is a matter of mood."""
    moods(monkeypatch, exchange=mood)
    laid = ((), (), (Exposure(3, kind_of("1c"), 1),), ())
    state = table(doors, "3xwe 4x2b 2x4b 2x6b 1c 8d 9d", laid=laid)
    assert isinstance(ask(players[Strength.STEADY], state), Exchange) == exchanged


@pytest.mark.parametrize(("mood", "lapses"), [(0.049, True), (0.051, False)])
def test_a_steady_player_keeps_the_wrong_tile_once_in_twenty_turns(doors, players, monkeypatch, mood, lapses):
    """Of the two tiles that it could spare best it then lets go the one to keep rather."""
    moods(monkeypatch, slip=mood)
    state = table(doors, "3xwe 4x2b 3x4b 2x6b 8d jk")
    stranger = ask(players[Strength.STEADY], state) == Discard(kind_of("8d"))
    assert stranger != lapses
    moods(monkeypatch, slip=mood)
    assert ask(players[Strength.SHARP], state) == Discard(kind_of("8d"))


@pytest.mark.parametrize(("mood", "noticed"), [(0.09, False), (0.11, True)])
def test_a_steady_player_overlooks_one_call_in_ten(doors, players, monkeypatch, mood, noticed):
    """Mahjong it never overlooks."""
    moods(monkeypatch, call=mood)
    state = table(doors, "2xwe 4x2b 3x4b 2x6b jk 1b", discards="9d we", phase=Phase.CALLING)
    assert isinstance(ask(players[Strength.STEADY], state), Call) == noticed
    state = table(doors, "2xwe 4x2b 4x4b jk 2x6b", discards="9d we", phase=Phase.CALLING)
    assert ask(players[Strength.STEADY], state) == Mahjong()


def test_what_a_seat_has_laid_it_waits_for_no_more(doors):
    """West shows two pungs and a quint of one hand: it can wait for the last group only, whose tile is the danger."""
    laid = ((), (), (Exposure(3, kind_of("1c")), Exposure(3, kind_of("2c")), Exposure(5, FLOWER)), ())
    state = table(doors, "3xwe 4x2b 3x4b 2x6b 8d 9d", laid=laid, wall=30)
    alone = replace(state, dead=(False, True, False, True))
    danger = Threats(SheetTable.of(doors)).of(observe(alone, 0))
    assert danger[kind_of("5c")] > 0.1
    assert sum(danger) == pytest.approx(danger[kind_of("5c")])


def test_nobody_is_feared_where_no_discard_may_be_called_any_more(doors, monkeypatch):
    """With 16 tiles left a sharp player looks for threats; where the house closes the calls by then it does not."""
    asked = []
    monkeypatch.setattr(Threats, "of", lambda _, observation: asked.append(observation.wall_left) or np.zeros(KINDS))
    sharp = player(Strength.SHARP, SheetTable.of(doors))
    for last_tiles, looks in ((0, [16]), (15, [16]), (16, [])):
        asked.clear()
        ask(sharp, table(doors, "3xwe 4x2b 3x4b 2x6b 8d 9d", wall=16, last_tiles=last_tiles))
        assert asked == looks
