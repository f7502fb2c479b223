"""What the tests of every table share: what can be read and pressed there, passes begun, and a game played out."""

from dataclasses import replace

from at_table import beginner
from harness import drawn

from engine.rules.deal import DealCode
from engine.rules.house import House
from engine.rules.state import Phase
from game.play.lines import begin

SIZE = (1440, 900)
MIXED = [0, 0, 1, 1, 3, 5, 7, 9, 11, 13, 15, 17, 19, 21]
PASSES = House(picks=40, passes=6, courtesy=True)


def advised(routes, how):
    """Set how advice is shown."""
    routes.desk.save_settings(replace(routes.desk.settings, advice=how))


def text(scene, size=SIZE, scale=1.0):
    """Everything that can be read on the scene."""
    return " ".join(one.text for one in drawn(scene, size, scale))


def names(scene):
    """What can be pressed and seen."""
    return [target.name for target in scene.ui.targets if target.rect.height]


def main(scene):
    """The one obvious next step."""
    return [target.name for target in scene.ui.targets if target.main]


def to_the_end(table):
    """Let the first tile go, and every discard, until the game is over."""
    while not table.finished:
        if table.calling:
            table.let_it_go()
        else:
            table.chosen = 0
            table.let_go()
    return table


def passing(routes, seed=11):
    """The first pass of a deal."""
    sheet = beginner()
    others = routes.desk.others(sheet, PASSES)
    return routes.at_table(begin(routes.desk.store, sheet, DealCode.of(sheet, PASSES, seed), others=others))


def passed_to(routes, phase, seed, ask=2):
    """The passes of a deal up to a phase, the best tiles going each time; None where the phase doesn't come."""
    scene = passing(routes, seed)
    while scene.sitting.state.phase is not phase:
        now = scene.sitting.state.phase
        if now is Phase.PASSING:
            scene.take_advised(scene.advice.choices[0].kinds)
            scene = scene.pass_them() or scene
        elif now is Phase.AGREEING:
            scene = scene.stop() or scene
        elif now is Phase.ASKING:
            scene = scene.ask(ask) or scene
        else:
            return None
    return scene
