"""A lesson for tests, with one step of every kind."""

from engine.rules.deal import DealCode
from engine.rules.house import House

LESSON = """\
lesson: Two roads
maker: the Thursday table
sheet: First Steps
season: 2026
steps:
  - say: Read both hands aloud before you begin.
  - drill: lay
    times: 2
    hand: HAND
  - drill: pass
    times: 1
    moment: courtesy
    seconds: 60
  - position: A pair too many
    rack: 2b 3b 3b 5c 5c 6c we we 7d 7d 7d fl jk 9d
    shown: we 2x1b
    draws: 20
    ask: Which one goes?
    answer: 9d 2b
    say: The lonely ends go first.
  - position: Two roads
    rack: 2b 3b 3b 5c 5c 6c we we 7d 7d
    exposed: pung wn jokers 1
    ask: Which is nearer?
    choices:
      - the open one
      - the concealed one
    answer: the open one
  - deal: DEAL
    say: Play it to its end.
"""


def lesson_text(sheet):
    """The lesson for that sheet: First Steps."""
    code = DealCode.of(sheet, House(picks=40), 7)
    text = LESSON.replace("HAND", sheet.hands[1].name).replace("DEAL", str(code))
    return text.replace("First Steps", sheet.name).replace("season: 2026", f"season: {sheet.season}")
