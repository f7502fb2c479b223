"""What stands on the screen beside a verdict: the plan of an advised call, the tile that is given for a joker."""

from types import SimpleNamespace

import pytest

from engine.advice.advise.calls import CallChoice
from engine.advice.advise.discard import advise
from engine.advice.moment import Moment
from engine.advice.table import SheetTable
from engine.rules.actions import Call, Exchange, LetGo
from engine.sheet.shelf import find
from engine.tiles import KINDS, full_set, parse_tiles
from game.play.advising import TableAdvice


@pytest.fixture(scope="module")
def racks():
    """What is advised about two racks, with other hands to go for."""

    def of(tiles):
        rack = [parse_tiles(tiles).count(kind) for kind in range(KINDS)]
        unseen = [copies - held for copies, held in zip(full_set(), rack, strict=True)]
        return advise(Moment.of(SheetTable.of(find("first-steps")), rack, unseen, 20))

    return of("2b 2b 2b 3b 3b 4b 5c 5c 5c 7d 7d fl fl we"), of("9c 9c 9c 8c 8c 7c 1d 1d 1d 2d 2d fl dr wn")


def answered(choice):
    """Advice on a discard, of which only the best answer is known."""
    return SimpleNamespace(best=choice)


def test_the_board_shows_the_plan_that_the_verdict_serves(racks):
    """With a call or a joker exchange that is advised not that of the rack as it is, which may be given up."""
    here, after = racks
    call = CallChoice(Call(3), 0.0, here.chance, (), None, "", plan=after.plan)
    assert TableAdvice(here, call=answered(call)).aimed.plan.names == after.plan.names != here.plan.names
    stay = CallChoice(LetGo(), 0.0, here.chance, (), None, "", plan=here.plan)
    assert TableAdvice(here, call=answered(stay)).aimed is here
    assert TableAdvice(here).aimed is here
    swap = SimpleNamespace(action=Exchange(1, 0, here.let_go), title="", aim="", because="", plan=after.plan)
    assert TableAdvice(here, exchange=answered(swap)).aimed.plan.names == after.plan.names


def test_the_tile_given_for_a_joker_is_named_only_where_that_is_advised(racks):
    """Then no other tile is said to go."""
    here = racks[0]
    swap = SimpleNamespace(action=Exchange(1, 0, here.let_go), title="", aim="", because="")
    assert TableAdvice(here, exchange=answered(swap)).gives == here.let_go
    assert TableAdvice(here, exchange=answered(None)).gives is None
    assert TableAdvice(here).gives is None
