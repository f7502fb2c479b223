"""Screens at their fullest: long names, a refusal, many faults."""

from bare_desk import BareRoutes, summary
from harness import click, drawn, press, write

from game.scenes.choosing import ChooseScene, Faults
from game.scenes.home.scene import HomeScene
from game.scenes.sheet.scene import SheetScene

LONG_SHEET = """
sheet: "A sheet with a very long name indeed, as long as it may be"
season: 2026
sections:
  - section: "A section of a name so long that it is wrapped nearly anywhe"
    hands:
      - hand: "Ahandwithalongnamethathasnospacesatallsothatithastobebroken"
        groups: pair a.n, pung a.n+1, pung b.n+3, kong b.n+4, pair a.n+6
        points: 1000
      - hand: Fourteen singles
        groups: >-
          single bam.1, single bam.2, single bam.4, single crak.1, single crak.3, single crak.6, single dot.2,
          single dot.5, single dot.9, single each dragon, single wind east, single flower
        hold: concealed
        points: 5
"""


def awkward_screens(look, folder):
    """Names and scenes: home that has much to tell, and what shows a sheet of awkward names, written into a folder."""
    told = BareRoutes(look, told=["A file was damaged; it is kept aside, and three deals could be read from it."])
    told.refused = "the code has a slip in it; compare it again"
    refused = HomeScene(told)
    drawn(refused, (1440, 900), 1.0)
    click(refused, "deal code")
    write(refused, "ABCD-EFGH")
    press(refused, "return")
    routes = BareRoutes(look, unfinished=summary())
    home = HomeScene(routes)
    path = folder / "long.yaml"
    path.write_text(LONG_SHEET, encoding="utf-8")
    routes.desk.load_sheet(path)
    choosing = ChooseScene(routes, home)
    faults = ["broken.yaml:12:9: a fault that takes a long sentence to say what to write"] * 20
    return {
        "home with trouble": refused, "a sheet of awkward names": SheetScene(routes, routes.desk.sheets()[-1], home),
        "choosing among awkward names": choosing, "many faults": Faults(choosing, faults),
    }  # fmt: skip
