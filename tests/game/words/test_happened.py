"""What is told of the full table: nothing that is still hidden, and whatever came of a call once it is settled."""

from at_full_table import HOUSE, obliging, open_hand, wall_for
from at_table import beginner

from engine.rules.actions import Call, Discard, LetGo, Mahjong
from engine.rules.game import start
from engine.rules.house import FULL, House
from engine.rules.state import Phase
from engine.tiles import FLOWER, name
from game.play.sitting import Sitting
from game.words.happened import happened, told


def north_calls(observation):
    """North calls whatever it may; the others never do."""
    call = next((action for action in observation.legal if isinstance(action, Call)), None)
    return call if observation.seat == 3 and call is not None else obliging(observation)


def both_asked():
    """West lets go a tile that North, asked first, calls for a pung, and that the player is asked about too."""
    _, _, kind = open_hand()
    fill = [tile for tile in range(FLOWER) if tile != kind]
    north = [kind, *fill[1:25:2]]
    racks = {0: [kind, 35, *fill[0:24:2]], 3: [*north[:12], 35]}
    sitting = Sitting(start(beginner(), HOUSE, wall_for(racks, [31, kind])), others=north_calls)
    sitting.act(Discard(fill[0]))
    return sitting, kind


def said(sitting):
    """The sentences since the player's last discard."""
    return [one.sentence for one in happened(sitting)]


def test_a_call_that_others_may_still_better_is_not_told():
    """North has chosen already, and the player, asked after it, must not know."""
    sitting, kind = both_asked()
    assert sitting.state.phase is Phase.CALLING
    assert isinstance(sitting.entries[-1].action, Call)
    assert sitting.entries[-1].seat == 3
    assert said(sitting)[-1] == f"West lets go the {name(kind)}."


def test_once_settled_the_call_is_told_and_no_letting_go():
    """Who let it go is never said: that would tell who could have called."""
    sitting, kind = both_asked()
    sitting.act(LetGo())
    sentences = said(sitting)
    place = sentences.index(f"West lets go the {name(kind)}.")
    assert sentences[place + 1].startswith(f"North calls the {name(kind)} for a pung")
    assert not [line for line in sentences if "does not call" in line]


def test_a_call_that_came_too_late_in_turn_order_is_not_told():
    """The player calls too, but North is next in turn order and gets the tile: only North's call happened."""
    sitting, kind = both_asked()
    call = next(action for action in sitting.legal() if isinstance(action, Call))
    sitting.act(call)
    assert not sitting.state.exposures[0]
    assert len(sitting.state.exposures[3]) == 1
    assert not [line for line in said(sitting) if line.startswith("You call")]
    assert any(line.startswith(f"North calls the {name(kind)}") for line in said(sitting))


def test_others_draws_are_not_told_and_ones_own_only_when_wanted():
    """A drawn tile is seen by its seat alone."""
    sitting = Sitting(start(beginner(), HOUSE, wall_for({}, [27, 28, 29, 30])), others=obliging)
    sitting.act(Discard(sitting.observation.rack[0]))
    while sitting.state.phase is Phase.CALLING:
        sitting.act(LetGo())
    assert not [line for line in said(sitting) if " draws" in line]
    assert said(sitting)[-1].startswith("You draw the")
    without = told(sitting.entries, sitting.states, 0, 0, sitting.cursor, draws=False)
    assert not [one for one in without if "draw" in one.sentence]


def test_a_hand_that_dies_is_told_with_why():
    """By a mistaken mahjong of the player's, where slips may happen."""
    house = House(table=FULL, slips=True)
    rack = [0, 0, 1, 1, 3, 5, 7, 9, 11, 13, 15, 17, 19, 21]
    sitting = Sitting(start(beginner(), house, wall_for({0: rack})), others=obliging)
    sitting.act(Mahjong())
    lines = [one.sentence for one in told(sitting.entries, sitting.states, 0, 0, 1)]
    assert lines == ["You show mahjong.", "Your hand is dead: no hand on First Steps matches these tiles."]
