"""The full table in the terminal: a whole game by typing, and everything that can be heard."""

from functools import cache

import pytest
from at_full_table import HOUSE, obliging, open_hand, wall_for
from at_table import beginner

from engine.advice.table import SheetTable
from engine.rules.actions import Call, Discard, Exchange, LetGo, Mahjong
from engine.rules.deal import shuffle
from engine.rules.game import start
from engine.rules.house import FULL, House
from engine.rules.matching import match
from engine.rules.state import Phase
from engine.seats.character import Strength
from engine.seats.players import table_of
from engine.sheet.groups import size_name
from engine.sheet.shelf import find
from engine.tiles import code, name
from engine.words import points_text
from game.play.advising import advise_table
from game.play.advisor import Advisor
from game.play.sitting import Sitting
from game.text.advised import what_to_do
from game.text.table import TextTable

DRAWING = set("│─┌┐└┘├┤┬┴┼═║█▓▒░■□●○◆★→←↑↓")


@pytest.fixture(scope="module")
def advisor():
    """Advice on the smaller sheet."""
    return Advisor(beginner(), 8)


def typed(sitting, advisor, lines, **how):
    """What is said when these lines are typed."""
    said = []
    TextTable(sitting, advisor, iter(lines), said.append, **how).play()
    return said


def table(rack, draws=(), house=HOUSE, others=obliging):
    """A sitting in which the player, East, holds the rack."""
    return Sitting(start(beginner(), house, wall_for({0: rack}, draws)), others=others)


def asked():
    """The player is asked about a tile: the sitting, its kind, and what must be typed before."""
    _, tiles, kind = open_hand()
    rack = list(tiles)
    rack.remove(kind)
    other = next(tile for tile in rack if tile != kind)
    rack.remove(other)
    spare = [tile for tile in range(26, -1, -1) if tile not in tiles][:2]
    return table([*rack, *spare], [kind]), kind, code(spare[0])


def words_for(action):
    """What a player types for an action."""
    match action:
        case Discard(kind):
            return [code(kind)]
        case LetGo():
            return ["no"]
        case Mahjong():
            return ["mahjong"]
        case Call(size, jokers):
            line = f"call {size_name(size)} {jokers}"
            return [line, line]  # the second one if a warning comes first
        case Exchange():
            return ["exchange"]
    raise AssertionError(action)


@cache
def deal_with_an_exchange(stem):
    """The first deal of a sheet that somebody wins and in which a steady player at East calls and exchanges a joker."""
    sheet = find(stem)
    players = table_of((Strength.STEADY,), SheetTable.of(sheet, 8))
    for seed in range(400):
        first = start(sheet, HOUSE, shuffle(seed, 8))
        sitting = Sitting(first, others=players)
        while not sitting.over:
            sitting.act(players(sitting.observation))
        did = {type(entry.action) for entry in sitting.entries if entry.seat == 0}
        if {Call, Exchange} <= did and sitting.state.outcome.points:
            return first
    raise AssertionError("no such deal")


@pytest.mark.slow
def test_a_whole_game_is_played_by_typing():
    """Every discard and call of the others is told, the end with what all four pay; sentences, no drawing."""
    sheet = find("lantern-street")
    advisor = Advisor(sheet, 8)
    players = table_of((Strength.STEADY,), advisor.table)
    sitting = Sitting(deal_with_an_exchange("lantern-street"), others=players)

    def lines():
        while not sitting.over:
            action = players(sitting.observation)
            before = sitting.cursor
            for line in words_for(action):
                if sitting.cursor == before:
                    yield line
            if isinstance(action, Exchange):
                open_now = [one for one in sitting.legal() if isinstance(one, Exchange)]
                yield f"exchange {open_now.index(action) + 1}"
        yield "table"
        yield "costs"

    said = typed(sitting, advisor, lines())
    assert sitting.over
    state = sitting.state
    for discard in state.discards:
        who = ("You let the {} go.", "South lets go the {}.", "West lets go the {}.", "North lets go the {}.")
        assert who[discard.seat].format(name(discard.kind)) in said
    for seat, who in enumerate(("You call", "South calls", "West calls", "North calls")):
        calls = sum(line.startswith(f"{who} the ") and " for a " in line for line in said)
        assert calls == len(state.exposures[seat])
    assert any(line.startswith("You take the joker out of") for line in said)
    paying = [line for line in said if line.startswith(("You pay ", "South pays ", "West pays ", "North pays "))]
    assert len(paying) == 3
    assert f"{state.outcome.points} points." in " ".join(line for line in said if " collect" in line)
    together = next(line for line in said if line.startswith("Together: "))
    assert f"= {points_text(state.outcome.payments[0])}: you " in together, "luck and choices come to what was paid"
    assert not DRAWING & set("".join(said))
    assert [line for line in said if not (line[0].isupper() or line[0].isdigit() or line[0] == "“")] == []
    assert all(line.endswith((".", "?", "!")) or ":" in line for line in said)


def test_calling_letting_go_and_hearing_the_ways(advisor):
    """“call” calls where there is one way; “no” lets go; both say what follows."""
    sitting, kind, first = asked()
    said = typed(sitting, advisor, [first, "call pung", "call pung"])
    assert "Type “call” to expose it or “no” to let it go." in said
    assert f"You call the {name(kind)} for a pung." in said
    assert f"You show a pung of {name(kind)}." in said
    sitting, kind, first = asked()
    held = code(sitting.observation.rack[0])
    said = typed(sitting, advisor, [first, held, "let it go"])
    assert "First say what to do about the discard: type “call”, “no” or “mahjong”." in said or "You hold no" in str(
        said
    )
    assert "First say what to do about the discard: type “call”, “no” or “mahjong”." in said
    assert "You let it go." in said
    assert sitting.state.phase is Phase.TURN


def test_all_lets_everything_go_until_the_turn(advisor):
    """One word for the whole round."""
    sitting, _, first = asked()
    typed(sitting, advisor, [first, "all"])
    assert sitting.state.phase is Phase.TURN
    assert sitting.state.to_act == 0


def test_what_is_refused_says_why_with_the_line_of_the_sheet(advisor):
    """A call that is not open and a wrong mahjong: a sentence each."""
    sitting = table([0, 0, 1, 1, 3, 5, 7, 9, 11, 13, 15, 17, 19, 21], [30, 30, 30])
    said = typed(sitting, advisor, ["call", "mahjong", "exchange", "no", code(21), "call"])
    assert "Nothing has been let go yet, so there is nothing to call." in said
    assert "No hand on First Steps matches these tiles." in said
    assert any(line.startswith("No joker can be had now") for line in said)
    assert any(line.startswith("No discard waits for you") for line in said)
    assert "The north wind can’t be called: you do not hold the rest of a pung of north wind." in said


def test_winning_with_a_discard(advisor):
    """“mahjong” is offered and ends the game with its points."""
    hand, tiles, kind = open_hand()
    rack = list(tiles)
    rack.remove(kind)
    spare = next(tile for tile in range(26, -1, -1) if tile not in tiles)
    said = typed(table([*rack, spare], [kind]), advisor, [code(spare), "mahjong"])
    assert any("“mahjong” to win with it" in line for line in said)
    assert any(line.startswith(f"You made {hand.name}") for line in said)
    assert any(line.startswith("South pays") and "double for letting the last tile go" in line for line in said)


def test_slips_happen_where_the_house_lets_them_and_are_explained(advisor):
    """A wrong mahjong kills the hand; at the end it is said why. The help does not call it a question."""
    sitting = table([0, 0, 1, 1, 3, 5, 7, 9, 11, 13, 15, 17, 19, 21], house=House(table=FULL, slips=True))
    said = typed(sitting, advisor, ["help", "mahjong"])
    assert "Type “mahjong” to show a finished hand; shown by mistake, it makes your hand dead." in said
    assert not any("hear why it is none" in line for line in said)
    assert sitting.over
    assert any(line.startswith("Your hand is dead: no hand on First Steps matches") for line in said)
    assert any(line.startswith("You showed mahjong by mistake") for line in said)


def test_the_table_and_each_seat_can_be_heard(advisor):
    """Who holds and shows what; what it can become is advice, and kept back where advice is hidden."""
    sitting, kind, first = asked()
    said = typed(sitting, advisor, [first, "table", "seat south", "seat east", "happened"], hide_advice=True)
    assert "South, to your right, holds 13 tiles and shows nothing." in said
    assert f"South has let go {name(kind)}." in said
    assert "Advice is hidden, as the settings have it; it is there when you step back." in said
    assert "Type “seat” and one of south, west or north." in said
    assert said.count(f"South lets go the {name(kind)}.") == 2
    assert "South shows nothing and may be after any hand." not in said
    sitting, _, first = asked()
    given = []
    said = typed(sitting, advisor, [first, "seat south", "advice"], advice_given=lambda: given.append(1))
    assert "South shows nothing and may be after any hand." in said
    assert any(line.startswith(("Call pung", "Let it go")) for line in said)
    assert given


def test_a_hand_of_another_sheet_is_named_with_its_season(advisor):
    """The commonest slip of a new season: the hand is on the last sheet, not on this one (common practice)."""
    other = find("lantern-street")
    mine = {variant.key for hand in beginner().hands for variant in hand.variants}
    hand, variant = next(
        (hand, variant) for hand in other.hands for variant in hand.variants
        if variant.key not in mine and max(variant.total[:34]) <= 4 and variant.total[34] <= 8
        and match(beginner(), variant.total) is None
    )  # fmt: skip
    rack = [kind for kind in range(35) for _ in range(variant.total[kind])]
    said = []
    table_ = TextTable(table(rack), advisor, iter(["mahjong"]), said.append)
    table_.other_sheets = lambda: (other,)
    table_.play()
    season = f"That is on the sheet of season {other.season}: “{hand.name}” of {other.name}."
    assert season in said


@pytest.mark.slow
def test_what_the_advice_says_can_be_typed(advisor):
    """The first sentence of the advice, typed as it stands, is the choice that it advises, at every moment."""
    sheet = find("lantern-street")
    advisor = Advisor(sheet, 8, effort=0)
    players = table_of((Strength.STEADY,), advisor.table)
    sitting = Sitting(deal_with_an_exchange("lantern-street"), others=players)
    seen = set()
    while not sitting.over and len(sitting.decisions) < 40:
        advised = advise_table(advisor, sitting.observation).verdict.action
        said = what_to_do(advisor, sitting)[0]
        before = sitting.cursor
        typed(sitting, advisor, [said.partition(". ")[0] + "."] * (2 if isinstance(advised, Call) else 1))
        assert sitting.entries[before].action == advised, said
        seen.add(type(advised))
    assert {Discard, LetGo} <= seen
