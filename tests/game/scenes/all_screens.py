"""Every screen and popup of the game, each in the states that look different, by name."""

from dataclasses import replace
from functools import cache
from unittest.mock import patch

from at_table import AtOnce, almost_there, deal, place_of
from invented import invented
from lessons_shown import lesson_screens
from pass_screens import pass_screens
from practice_screens import drill_screens, play_screens

from engine.advice.advise.answers import Known
from engine.invent.making import Wish
from engine.rules.actions import Discard
from engine.rules.deal import DealCode
from engine.rules.house import House
from engine.sheet.shelf import find
from engine.sheet.study.finding import Finding
from engine.sheet.writing.document import Place
from engine.sheet.writing.hand_text import new_hand
from engine.tiles import parse_tiles
from game.play.desk import Desk
from game.play.house.sets import own_sets
from game.play.settings import ALWAYS, HIDDEN, HINTED, KEY_USES
from game.play.worker import Job
from game.play.writing.inventing import BalanceLook, Failed, Inventing
from game.scenes.choosing import ChooseScene, Faults
from game.scenes.editor.more import EditorMore, PlayPopup
from game.scenes.editor.notation import NotationHelp
from game.scenes.editor.scene import PieceList
from game.scenes.home.scene import HomeScene
from game.scenes.house import HouseScene
from game.scenes.house_sets import HouseSetsScene
from game.scenes.intro import IntroScene
from game.scenes.navigation import Navigation
from game.scenes.printing import PrintPopup
from game.scenes.settings import AskKey, SettingsScene
from game.scenes.sheet import compare
from game.scenes.sheet import study as study_scene
from game.scenes.sheet.compare import PARTS, PRACTISE, CompareScene
from game.scenes.sheet.find import FindPopup
from game.scenes.sheet.heat import MADE
from game.scenes.sheet.invent import InventScene
from game.scenes.sheet.scene import SectionList, SheetScene
from game.scenes.sheet.study import PICTURES, TILES, BehindPopup, StudyScene
from game.ui.popups import KeyHelp, TroublePopup

LONG_NOTE = "I should have kept the flowers: with three of them in the rack four hands were in reach, " * 3


def all_screens(routes):
    """Names and scenes. The desk is used up by it: settings are changed, deals are played."""
    screens = {}
    home = routes.home()
    big = find("lantern-street")

    def advised(how):
        routes.desk.save_settings(replace(routes.desk.settings, advice=how))

    screens["home at first"] = home
    screens["explanation of a first start"] = IntroScene(routes, home, first=True)
    screens["how it plays"] = IntroScene(routes, home, first=False)
    screens["no past deals"] = routes.past_deals(home)

    advised(HINTED)
    screens["table, advice not asked for"] = deal(routes, sheet=big)
    shown = deal(routes, sheet=big)
    shown.chosen = 3
    shown.shown = True
    screens["table, advice asked for"] = shown
    advised(ALWAYS)
    played = deal(routes, seed=5, sheet=big)
    let_go(played, 12)
    let_go(played, 6, advised=True)
    played.chosen = 9
    screens["table, in the middle of a deal"] = played
    screens["why"] = played.why()
    screens["everything else at the table"] = played.more()
    screens["keys of the table"] = KeyHelp(played)
    screens["discards"] = played.discards()
    screens["notes, none yet"] = played.note()
    troubled = deal(routes, sheet=big)
    troubled.trouble = (
        "/home/somebody/data/lone-east.sqlite can't be written, so the game goes on, but only in memory; allow writing "
        "there and saving starts again by itself with the next action"
    )
    screens["table, with trouble"] = troubled
    screens["table, asked to choose first"] = deal(routes, sheet=big)
    screens["table, asked to choose first"].let_go()
    cut = deal(routes, sheet=big.cut([big.sections[0].name]))
    let_go(cut, 25)
    screens["table, few hands or none in reach"] = cut
    back = deal(routes, seed=5, sheet=big)
    let_go(back, 4)
    back.step(False)
    screens["table, looking back"] = back
    other = deal(routes, seed=6, sheet=big)
    let_go(other, 2)
    other.again()
    other.chosen = 2
    screens["table, about to choose otherwise"] = other
    # scenes ask their desk for the settings with every frame
    hidden = Navigation(Desk(routes.desk.worker, routes.desk.store), routes.look)
    hidden.desk.save_settings(replace(routes.desk.settings, advice=HIDDEN))
    screens["table, advice hidden"] = deal(hidden, sheet=big, advice_hidden=True)

    screens |= tried_screens(routes, big)
    screens["something went wrong"] = TroublePopup(home, ValueError("a list of tiles that is nobody's " * 20))

    advised(HINTED)
    winning, spare, _ = almost_there(routes, jokers=True)
    winning.chosen = place_of(winning, spare)
    winning.let_go()
    screens["table, mahjong"] = winning
    won, spare, _ = almost_there(routes, jokers=True)
    won.chosen = place_of(won, spare)
    won.let_go()
    won.mahjong()
    screens["ended with a win"] = won
    lost = deal(routes, House(picks=24), sheet=big)
    let_go(lost, 25)
    assert lost.finished
    screens["ended without a win"] = lost
    for moment in (0, 2, 4):
        routes.desk.store.note(lost.sitting.keeper.line, LONG_NOTE, moment)
    screens["notes, some"] = lost.note()
    screens["notes, refused"] = lost.note()
    screens["notes, refused"].keep()

    past = routes.past_deals(home)
    screens["past deals"] = past
    screens["write a deal to a file"] = past.export(past.deals[0].latest)
    screens["a past deal"] = past.more(past.deals[0])
    screens["deleting a deal"] = screens["a past deal"].ask_to_delete()
    refused = past.bring_in()
    refused.text = "/nowhere/at/all/in/a/folder/with/a/rather/long/name/deal.txt"
    refused.go()
    screens["read a deal from a file, refused"] = refused
    told = routes.past_deals(home)
    told.said = "Deal 4Y0F-E000-0058-A023 is written to /home/somebody/papers/mahjong/deal-4y0f-e000-0058-a023.txt."
    screens["past deals, told something"] = told

    screens |= play_screens(routes, big)
    screens |= drill_screens(routes)
    screens |= lesson_screens(routes, find("first-steps"))

    screens["home with a deal left"] = HomeScene(routes)
    screens["leaving"] = screens["home with a deal left"].back()
    sheet = SheetScene(routes, big, home, [big.sections[1].name])
    screens["sheet"] = sheet
    screens["sections of the sheet"] = SectionList(sheet)
    screens["a sheet to be printed"] = PrintPopup(sheet, routes, big)
    screens |= sheet_screens(routes, big, home)
    screens |= editor_screens(routes, home)
    choosing = ChooseScene(routes, home)
    screens["choosing"] = choosing
    screens["faults of a sheet"] = Faults(choosing, ["long.yaml:12:9: what is wrong, and what to write instead"] * 9)
    settings = SettingsScene(routes, home)
    screens["settings"] = settings
    screens["another key"] = AskKey(settings, KEY_USES[0])
    screens["two hands, the rules"] = routes.two_hands(home)
    for name, turns in (("a tile to place", 0), ("a tile to let go", 1), ("later", 30), ("over", 300)):
        two = routes.deal_of(big, DealCode.of(big, House(table="two", picks=20), 3))
        while turns > 0 and not two.finished:
            turns -= 1
            two.act(two.sitting.legal()[0])
        screens[f"two hands, {name}"] = two
    screens["twists"] = routes.twists(home)
    twisted = routes.deal_of(big, DealCode.of(big, House(picks=40, twist="ten"), 3))
    screens["the twist of a deal"] = twisted
    screens["table with a twist"] = twisted.parent
    screens["house rules"] = HouseScene(routes, home)
    sets = HouseSetsScene(routes, home)
    sets.name = "Thursday table"
    sets.keep()
    screens["sets of house rules"] = sets
    screens["a set of house rules"] = sets.more(own_sets(routes.desk.store)[0])
    return screens | pass_screens(routes, big)


def editor_screens(routes, home):
    """Writing a sheet: where it begins, a hand that is empty, begun, at fault and whole, every pad, every popup."""
    start = routes.writing(home)

    def editor(place, text=None):
        scene = start.copy(find("first-steps"))
        if text is not None:
            scene.writing.change(scene.writing.document.put(place, text), place)
        scene.enter()
        routes.desk.worker.poll()
        scene.go(place)
        return scene

    begun = editor(Place(0, 1), new_hand("Wet pier", "quint a.n, kong b.n+2, pa"))
    faulty = editor(Place(0, 1), new_hand("Wet pier " * 6, "quint a.n, kong d.n+1, pong c.3, pair flower", "many"))
    whole = editor(Place(0, 0))
    whole.choose_group(0, 1)
    many = editor(Place(0, 0))
    many.add_line()
    many.to_field("where")
    points = editor(Place(0, 0))
    points.to_field("points")
    lines = editor(Place(0, 1), new_hand("Wet pier").replace("        groups", "\tgroups"))
    told = start.copy(find("first-steps"))
    told.notice = "This file has 3 faults; you are at the first one. Nothing of it was changed."
    screens = {
        "a sheet to write": start, "editor, empty hand": editor(Place(0, 1), new_hand("")),
        "editor, hand begun": begun, "editor, faults": faulty, "editor, whole": whole, "editor, clauses": many,
        "editor, points": points, "editor, the sheet": editor(Place()), "editor, a section": editor(Place(0)),
        "editor, lines": lines, "editor, a notice": told, "editor, list of hands": PieceList(whole),
        "editor, play": whole.use(), "editor, more": whole.more(), "editor, all faults": faulty.faults(),
        "editor, a section taken out": EditorMore(editor(Place(0))).remove(),
        "editor, a file": EditorMore(whole).file(), "editor, deleted": EditorMore(whole).ask_to_remove(),
        "editor, nothing to play": PlayPopup(start.empty()), "editor, notation": NotationHelp(whole),
    }  # fmt: skip
    screens["sheets being written"] = routes.writing(home)
    screens["home with a sheet being written"] = HomeScene(routes)
    return screens


class StillTrying(AtOnce):
    """Gives the first answer at once and is busy with the next one for ever."""

    busy = False

    def submit(self, fn, done):
        if self.busy:
            return Job(done, self._told, self._free)
        self.busy = True
        return super().submit(fn, done)


def remembered(work):
    """The same work on studies, done once for each sheet."""
    known = {}

    def ask(study):
        if study.sheet.fingerprint not in known:
            known[study.sheet.fingerprint] = work(study)
        return known[study.sheet.fingerprint]

    return ask


def sheet_screens(routes, sheet, home):
    """A sheet as a place to learn in: found hands, a hand's page, the study's pictures, two sheets compared."""
    rack = parse_tiles("5d 5d 5d 6d 6d 7d 7d 2b 3b 3b fl fl jk we")
    found = SheetScene(routes, sheet, home, rack=rack)
    found.hands.finding = Finding(kind=rack[0], size=3, concealed=False, least_points=25)
    none = SheetScene(routes, sheet, home)
    none.hands.finding = Finding(kind=rack[-1], size=6, concealed=True)
    nearest = SheetScene(routes, sheet, home, rack=rack)
    nearest.hands.by_rack = True
    page = none.open(sheet.hands[-1])
    page.turn(1)
    fixed = none.open(sheet.hand("Year in three bells"))
    screens = {
        "found hands": found, "no hand found": none, "hands by the rack": nearest,
        "finding hands": FindPopup(found, found.hands), "a hand's page": page, "a hand of three ways": fixed,
        "a hand's page at a table": nearest.open(sheet.hands[0]),
    }  # fmt: skip
    with patch.object(study_scene, "_counted", remembered(study_scene._counted)):
        *pictured, asked, at_table = [
            StudyScene(routes, sheet, home, held) for held in (*((),) * (len(PICTURES) + 1), rack)
        ]
    for picture, study in zip(PICTURES, pictured, strict=True):
        study.show(picture)
        screens[f"study, {picture}"] = study
    asked.show(TILES)
    asked.ask("tile 5 dot", "Hands that want the 5 dot", asked.study.wanting(rack[0])[:7])
    asked.heat.measure = MADE
    screens["study, a tile asked for"] = asked
    screens["hands behind a cell"] = BehindPopup(asked)
    once, at_once = cache(compare._compare), Job.alone()  # the same two sheets each time
    with patch.object(compare, "_compare", lambda old, new, _: once(old, new, at_once)):
        several = [CompareScene(routes, sheet, home) for _ in PARTS]
        several += [CompareScene(routes, sheet, home, rack), CompareScene(routes, sheet, home)]
    for part, compared in zip(PARTS, several, strict=False):
        compared.show(part)
        screens[f"compared, {part}"] = compared
    at_table.show(TILES)
    screens["study at a table"] = at_table
    screens["compared at a table"] = several[-2]
    screens |= invent_screens(routes, home)
    answered = several[-1]
    answered.show(PRACTISE)
    answered.answered = True
    screens["compared, a rack answered"] = answered
    return screens


def invent_screens(routes, home):
    """A sheet being invented: the form, one that is filled in wrongly, the work, what came of it, and no balance."""
    fresh, wrong, work, made, none = (InventScene(routes, home) for _ in range(5))
    wrong.take(find("lantern-street"))
    wrong.season = "27"
    wish = Wish(7, 12)
    work.inventing = Inventing(wish, AtOnce(), lambda: None, lambda *_, **__: invented())
    work.inventing.told = BalanceLook(3, 320, 5000)
    made.inventing = Inventing(wish, AtOnce(), lambda: None, lambda *_, **__: invented("lantern-street"))
    made.inventing.told = invented("lantern-street")
    none.inventing = Inventing(wish, AtOnce(), lambda: None, lambda *_, **__: invented())
    none.inventing.told = Failed(
        "From seed 7 no balance was found in 40 looks; take another seed, or keep fewer hands."
    )
    return {
        "inventing a sheet": fresh, "inventing, filled in wrongly": wrong, "inventing, at work": work,
        "inventing, made": made, "inventing, no balance": none, "leaving an invented sheet": made.back(),
    }  # fmt: skip


def tried_screens(routes, sheet):
    """Advice that is tried out: being so, at the table, exactly, in the passes, and at the end of a game."""
    tried = Navigation(Desk(routes.desk.worker, routes.desk.store), routes.look)
    tried.desk.effort = 300
    tried.desk.save_settings(replace(routes.desk.settings, advice=ALWAYS))
    screens = {"table, tried out": deal(tried, seed=21, sheet=sheet)}
    halfway = Navigation(Desk(StillTrying(), routes.desk.store), routes.look)
    halfway.desk.save_settings(replace(routes.desk.settings, advice=ALWAYS))
    trying = deal(halfway, seed=21, sheet=sheet)
    assert trying.trying
    screens["table, being tried out"] = trying
    exact = deal(tried, House(picks=3), seed=9)
    screens["table, all looked at"] = exact
    assert exact.advice.chance.known is Known.EXACT
    code = DealCode.of(sheet, House(picks=40, passes=6), 5)
    screens["passes, tried out"] = tried.at_table(tried.desk.begin_sitting(sheet, code))  # with its other players
    ended = deal(tried, House(picks=8), seed=8)
    let_go(ended, 9)
    assert ended.ended.unsure is not None
    screens["ended, costs tried out"] = ended
    return screens


def let_go(table, times, advised=False):
    """Let the first tile go, or the one that is best let go, so many times or to the end."""
    if not advised:  # nobody looks at the moments between, so their advice is not worked out
        for _ in range(times):
            if not table.sitting.over:
                table.sitting.act(Discard(table.sitting.observation.rack[0]))
        table.settle()
        return
    for _ in range(times):
        table.chosen = place_of(table, table.advice.let_go) if table.advice.keeps else 0
        table.let_go()
