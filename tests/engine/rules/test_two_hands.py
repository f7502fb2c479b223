"""The two-hand game: against an independent, slow model of its rules, and its words against single scenes."""

import random
from collections import Counter

import pytest

from engine.rules.actions import (
    ChangeRacks,
    Discard,
    Draw,
    IllegalActionError,
    Mahjong,
    MalformedActionError,
    PutOn,
    parse_action,
)
from engine.rules.deal import DealCode, shuffle
from engine.rules.game import apply, legal_actions, start, why_not
from engine.rules.house import FULL, QUIET, TWO, House, parse_house, write_house
from engine.rules.observation import observe
from engine.rules.record import Header, Record, from_text, play_back, to_text
from engine.rules.refusals import Rule
from engine.rules.sentences import sentence
from engine.rules.state import CHANCE, Phase, tiles_in
from engine.rules.twists.known import twists_for
from engine.sheet.groups import Group
from engine.store.endings import GameEnd
from engine.tiles import JOKER, KINDS, full_set, kind_of, kinds_of, parse_tiles
from game.words.deal.two_hands import asked, did, shown_sentences
from game.words.situation import outcome_sentences

TURN = "turn"


class Model:
    """The rules once more, in another way: lists and texts, every legal line found by trying what the rules say."""

    def __init__(self, sheet, wall, picks):
        self.hands = [[sorted(variant.groups) for variant in hand.variants] for hand in sheet.hands]
        wall = list(wall)
        self.racks = [[], []]
        for number in (4, 4, 4, 1):
            for rack in self.racks:
                rack += [wall.pop(0) for _ in range(number)]
        self.wall, self.left, self.moment, self.full = wall, picks or len(wall), "draw", None
        self.done, self.hand, self.swapped = [False, False], None, False

    def complete(self, tiles):
        """Whether fourteen tiles are a hand: each tile or joker is put into a group, one by one."""
        return any(self._fits(Counter(tiles), groups) for variants in self.hands for groups in variants)

    @staticmethod
    def _fits(tiles, groups):
        jokers = tiles.pop(JOKER, 0)
        for small in (True, False):
            for group in groups:
                if (group.size < 3) is small:
                    there = min(tiles[group.kind], group.size)
                    tiles[group.kind] -= there
                    if there < group.size:
                        if small:
                            return False
                        jokers -= group.size - there
        return jokers == 0 and not any(tiles.values())

    def legal(self):
        """Every line that may be played now."""
        if self.moment == "over":
            return set()
        if self.moment == "draw":
            return {f"draw {self.wall[0]}"}
        if self.moment == "place":
            return {"place 0", "place 1"}
        lines = {f"discard {kind}" for kind in self.racks[self.full]}
        if self.complete(self.racks[self.full]):
            lines.add("mahjong")
        if not self.swapped and not any(self.done):
            lines |= {f"change {a} {b}" for a in self.racks[0] for b in self.racks[1] if a != b}
        return lines

    def play(self, line):
        """Do one of them."""
        what, *numbers = line.split()
        numbers = [int(number) for number in numbers]
        if what == "draw":
            self.hand, self.left = self.wall.pop(0), self.left - 1
            self.moment = "place"
            if any(self.done):
                self.play(f"place {self.done.index(False)}")
        elif what == "place":
            self.racks[numbers[0]].append(self.hand)
            self.full, self.moment, self.swapped = numbers[0], TURN, False
        elif what == "change":
            for rack, gone, come in ((0, numbers[0], numbers[1]), (1, numbers[1], numbers[0])):
                self.racks[rack].remove(gone)
                self.racks[rack].append(come)
            self.swapped = True
        else:
            if what == "discard":
                self.racks[self.full].remove(numbers[0])
            else:
                self.done[self.full] = True
            self.moment = "over" if all(self.done) or not self.wall or not self.left else "draw"


def line_of(action):
    """An action in the model's words."""
    match action:
        case Draw(kind):
            return f"draw {kind}"
        case PutOn(rack):
            return f"place {rack}"
        case ChangeRacks(first, second):
            return f"change {first} {second}"
        case Discard(kind):
            return f"discard {kind}"
    return "mahjong"


def table(kit, first="", second="", draws="", **rules):
    """A dealt two-hand game with these racks, filled up with what is left, and these draws."""
    left = Counter(dict(enumerate(full_set())))
    racks = [list(parse_tiles(first)), list(parse_tiles(second))]
    coming = list(parse_tiles(draws))
    left.subtract(Counter([*racks[0], *racks[1], *coming]))
    rest = sorted(kinds_of([left[kind] for kind in range(KINDS)]), key=lambda kind: (kind * 11) % 36)
    for rack in racks:
        while len(rack) < 13:
            rack.append(rest.pop(0))
    wall, given = [], [0, 0]
    for number in (4, 4, 4, 1):
        for place in (0, 1):
            wall += racks[place][given[place] : given[place] + number]
            given[place] += number
    return start(kit.sheet, House(table=TWO, **rules), (*wall, *coming, *rest))


def play(state, text):
    """Apply lines, each of which must be legal."""
    for line in text.strip().splitlines():
        action = parse_action(line.strip())
        assert action in legal_actions(state), line
        state = apply(state, action)
    return state


NEARLY = "2x1d 4x3d 3x4d 2x5d 2x6d"
OTHER = "2x1b 4x3b 3x4b 2x5b 2x6b"


@pytest.mark.parametrize("seed", range(6))
@pytest.mark.slow
def test_random_games_follow_the_model(kit, seed):
    """At every moment the same legal actions, the same racks; the set stays whole; the record replays."""
    chance = random.Random(seed)
    house = House(table=TWO, picks=(0, 12, 30)[seed % 3])
    wall = shuffle(seed)
    state, model = start(kit.sheet, house, wall), Model(kit.sheet, wall, house.picks)
    entries = []
    while True:
        legal = legal_actions(state)
        assert len(set(legal)) == len(legal)
        assert {line_of(action) for action in legal} == model.legal()
        assert tiles_in(state) == full_set()
        for rack in (0, 1):
            assert sorted(state.racks[rack]) == sorted(model.racks[rack])
        if state.phase is Phase.OVER:
            break
        action = legal[int(chance.random() * len(legal))] if chance.random() < 0.5 else legal[0]
        assert parse_action(str(action)) == action
        entries.append((state.to_act, action))
        model.play(line_of(action))
        state = apply(state, action)
    record = Record(Header.of(kit.sheet, house, wall), tuple(entries))
    reading = from_text(to_text(record))
    assert reading.error is None
    assert play_back(reading.record, kit.sheet).states[-1] == state


@pytest.mark.slow
def test_what_the_model_does_not_allow_is_refused(kit):
    """Every small action at many moments: `apply` takes just the legal ones, and quotes the moment otherwise."""
    chance = random.Random(5)
    state = start(kit.sheet, House(table=TWO, picks=8), shuffle(9))
    everything = [
        *(make(kind) for make in (Draw, Discard) for kind in range(KINDS)), Mahjong(), PutOn(0), PutOn(1),
        *(ChangeRacks(one, other) for one in range(0, KINDS, 3) for other in range(KINDS)),
    ]  # fmt: skip
    while state.phase is not Phase.OVER:
        legal = set(legal_actions(state))
        for action in everything:
            if action in legal:
                continue
            with pytest.raises(IllegalActionError, match="is not allowed in"):
                apply(state, action)
            assert why_not(state, 0, action) is not None or state.to_act == CHANCE
        state = apply(state, chance.choice(legal_actions(state)))


def test_both_hands_are_made(kit):
    """Drawn, placed, changed, shown; the second hand wins the game and the points are added, jokerless ones doubled."""
    state = table(kit, NEARLY, OTHER, "6b we 6d", picks=20)
    state = play(state, "draw 6b")
    assert asked(state) == "You drew the 6 bam. Which rack gets it?"
    state = play(state, "place rack 2\nmahjong")
    assert shown_sentences(state) == ["Rack 2 is done: Landing, 60 points."]
    state = play(state, "draw we")
    assert state.phase is Phase.TURN  # it goes on the rack that is left by itself
    assert asked(state) == "You drew the east wind. Let one tile of rack 1 go."
    assert why_not(state, 0, ChangeRacks(kind_of("we"), kind_of("1b"))).rule is Rule.ONE_RACK_LEFT
    state = play(state, "discard we\ndraw 6d\nmahjong")
    assert (state.outcome.kind, state.outcome.points, state.outcome.winner) == ("mahjong", 120, 0)
    end = GameEnd.of(state)
    assert (end.hand, end.section, end.worth, end.points) == ("Landing and Landing", "Stairs", 60, 120)
    assert outcome_sentences(state)[0] == "You made both hands, Landing and Landing, by pick 3."


def test_tiles_change_racks_once_a_turn(kit):
    """A tile that stands on the wrong rack completes the other one's hand."""
    state = table(kit, "2x1d 4x3d 3x4d 2x5d 6d 6b", "2x1b 4x3b 3x4b 2x5b 6b 6d", "6d 6b")
    state = play(state, "draw 6d\nplace rack 1\nchange 6b for 6d")
    assert why_not(state, 0, ChangeRacks(kind_of("1d"), kind_of("1b"))).rule is Rule.CHANGED_ALREADY
    state = play(state, "mahjong\ndraw 6b\nmahjong")
    assert state.outcome.kind == "mahjong"


def test_why_not(kit):
    """Each refusal by itself, in words."""
    state = table(kit, NEARLY, OTHER, "we")
    assert why_not(state, 0, PutOn(0)).rule is Rule.SEAT_DRAWS
    state = play(state, "draw we")
    assert sentence(why_not(state, 0, Discard(0))) == "The tile drawn is put on one of the two racks first."
    state = play(state, "place rack 1")
    said = {
        Discard(kind_of("9c")): "Rack 1 has no 9 crak.",
        ChangeRacks(kind_of("1d"), kind_of("9c")): "Rack 2 has no 9 crak.",
        Mahjong(): "The fourteen tiles of rack 1 are no hand of this sheet.",
        PutOn(1): "In the two-hand game a tile is let go, two tiles change racks, or a hand is shown.",
    }
    assert {action: sentence(why_not(state, 0, action)) for action in said} == said
    with pytest.raises(MalformedActionError, match="the racks are 1 and 2"):
        parse_action("place rack 3")


def test_the_ends(kit):
    """Out of picks, out of wall; one hand made is said to be one."""
    state = table(kit, NEARLY, OTHER, "6d", picks=1)
    over = play(state, "draw 6d\nplace rack 1\nmahjong")
    assert over.outcome.kind == "picks"
    assert outcome_sentences(over) == ["The one pick is used.", "One hand was made, Landing; the other was not."]
    state = start(kit.sheet, House(table=TWO), shuffle(3))
    while state.phase is not Phase.OVER:
        legal = legal_actions(state)
        state = apply(state, next((one for one in legal if isinstance(one, Discard)), legal[0]))
    assert (state.outcome.kind, state.picks) == ("wall", 126)
    assert outcome_sentences(state) == ["The wall is used up.", "Neither hand was made."]


def test_codes_and_lines_carry_the_game(kit):
    """With and without a twist; read back however typed."""
    for twist in ("", *(twist.name for twist in twists_for(TWO))):
        house = House(table=TWO, picks=40, twist=twist)
        code = DealCode.of(kit.sheet, house, 17)
        assert DealCode.parse(str(code).lower()) == code
        assert parse_house(write_house(house)) == house
        state = code.deal(kit.sheet)
        assert (state.phase, state.to_act, len(state.racks[0]), len(state.racks[1])) == (Phase.DRAWING, CHANCE, 13, 13)
    assert DealCode.of(kit.sheet, House(table=QUIET, picks=40), 17) != code


def test_what_the_player_knows(kit):
    """Both racks, the tile that waits, and nothing of the wall."""
    state = play(table(kit, NEARLY, OTHER, "we"), "draw we")
    seen = observe(state, 0)
    assert (seen.rack, seen.second, seen.two.waiting) == (state.racks[0], state.racks[1], kind_of("we"))
    assert sum(seen.unseen) == len(state.wall) == seen.picks_left == 125
    wall = list(state.wall)
    wall[0], wall[-1] = wall[-1], wall[0]
    assert observe(type(state)(**{**vars(state), "wall": tuple(wall)}), 0) == seen


def test_the_other_games_know_nothing_of_it(kit):
    """No placing and no change at the other tables."""
    state = kit.table(east="1d", table=FULL)
    for action in (PutOn(0), ChangeRacks(0, 1)):
        assert action not in legal_actions(state)
        assert why_not(state, 0, action).rule is Rule.TURN_NOW
    assert state.two is None
    assert Group(3, 0).takes_jokers


def test_what_was_done_in_words(kit):
    """One sentence each."""
    state = table(kit, NEARLY, OTHER, "we")
    said = []
    for line in ("draw we", "place rack 2", "change 1d for we", "discard 1d"):
        action = parse_action(line)
        said.append(did(action, state))
        state = apply(state, action)
    assert said == [
        "You drew the east wind.",
        "You put the east wind on rack 2.",
        "The 1 dot of rack 1 and the east wind of rack 2 changed places.",
        "You let the 1 dot of rack 2 go.",
    ]
