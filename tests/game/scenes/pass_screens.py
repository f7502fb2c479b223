"""The screens of the passes, of rehearsing them and of several ways from one deal, in all the states they have."""

from dataclasses import replace

from engine.rules.actions import Agree
from engine.rules.deal import DealCode
from engine.rules.house import House
from engine.rules.state import Phase
from engine.tiles import JOKER
from game.play.lines import begin
from game.play.settings import ALWAYS, HIDDEN
from game.scenes.rehearse.result import RehearsedScene
from game.scenes.rehearse.setup import RehearseScene
from game.scenes.table.ways import WaysScene

RULES = House(picks=40, passes=6, courtesy=True)


def pass_screens(routes, sheet):
    """Names and scenes; settings are changed, deals are played."""
    screens = {}

    def dealt(seed=3):
        code = DealCode.of(sheet, RULES, seed)
        return routes.at_table(begin(routes.desk.store, sheet, code, others=routes.desk.others(sheet, RULES)))

    routes.desk.save_settings(replace(routes.desk.settings, advice=HIDDEN))
    screens["first pass, advice hidden"] = dealt()
    routes.desk.save_settings(replace(routes.desk.settings, advice=ALWAYS))
    screens["first pass"] = dealt()
    mine = dealt()
    for place in [place for place, kind in enumerate(mine.rack) if kind != JOKER][:3]:
        mine.press_tile(place)
    screens["first pass, three chosen"] = mine
    screens["everything else in the passes"] = mine.more()
    joker = dealt(4)
    joker.trouble = "Jokers are never passed; choose another tile."
    screens["first pass, with trouble"] = joker
    blind = past(dealt(), 2)
    blind.more_blind()
    blind.press_tile(next(place for place, kind in enumerate(blind.rack) if kind != JOKER))
    screens["third pass, one blind"] = blind
    screens["second round?"] = past(dealt(), 3)
    back = past(dealt(), 2)
    back.step(False)
    screens["passes, looking back"] = back
    courtesy = past(dealt(), 3)
    courtesy.act(Agree())
    while courtesy.phase is not Phase.ASKING:
        courtesy = past(courtesy, 1)
    screens["courtesy, how many"] = courtesy

    sections = dealt().other_sections()
    sections.chosen = {sheet.sections[0].name}
    screens["other sections"] = sections
    other = dealt().other_sections()
    other.chosen = {sheet.sections[1].name}
    way = past(other.go(), 1)
    screens["two ways"] = WaysScene(routes, way.sitting, way)

    setup = RehearseScene(routes, routes.home())
    screens["rehearsing, nothing yet"] = setup
    routes.desk.save_rehearsal_clock(300.0)
    rehearsal = setup.begin()
    screens["a rehearsal's pass"] = rehearsal
    late = setup.begin()
    late.policy.spent = 333.0
    screens["a rehearsal's pass, over time"] = late
    scene = setup.begin()
    while not isinstance(scene, RehearsedScene):
        scene = past(scene, 1)
    screens["rehearsed"] = scene
    for number in range(11):
        figures = {"seconds": 200 + number, "passes": 6, "best": 2, "cost": 0.02}
        routes.desk.store.add_result("passes", figures, None if number else 240.0)
    screens["rehearsing, with tallies"] = RehearseScene(routes, routes.home())
    return screens


def past(scene, times):
    """So many choices further, as advised for the passes."""
    for _ in range(times):
        if scene.phase is Phase.PASSING:
            scene.take_advised(scene.advice.choices[1].kinds)
            scene = scene.pass_them() or scene
        elif scene.phase is Phase.AGREEING:
            scene = scene.agree() or scene
        else:
            scene = scene.ask(0) or scene
    return scene
