"""A match is killed in the midst of a deal: the next start stands at the very choice, and the match's points go on."""

import os
import signal
import subprocess
import sys

import pytest
from at_table import routes_over
from harness import make_look

from game.play.matches import left_off
from game.window.open import first_scene

MATCH = """
import os, signal, sys
sys.path[:0] = sys.argv[2:]
from at_table import routes_over
from harness import make_look
from engine.drills.match import Match, MatchRules
from game.play.matches import MatchPlay

routes = routes_over(make_look(), sys.argv[1])
routes.desk.explained()
play = MatchPlay(routes.desk, Match(MatchRules(3, 10)))
play.finish(play.sitting())
sitting = play.sitting()
for _ in range(3):
    sitting.act(sitting.legal()[0])
print(len(sitting.entries), flush=True)
os.kill(os.getpid(), signal.SIGKILL)
"""


@pytest.mark.skipif(not hasattr(signal, "SIGKILL"), reason="needs a signal that nothing can catch")
@pytest.mark.slow
def test_a_match_goes_on_after_it_was_killed(tmp_path):
    """Every choice made is there, the deal counted before stays counted and choices stand."""
    path = tmp_path / "lone-east.sqlite"
    here = [folder for folder in sys.path if folder]
    killed = subprocess.run(
        [sys.executable, "-c", MATCH, str(path), *here], capture_output=True, text=True, timeout=300, check=False,
        env={**os.environ, "SDL_VIDEODRIVER": "dummy", "SDL_AUDIODRIVER": "dummy"},
    )  # fmt: skip
    assert killed.returncode == -signal.SIGKILL, killed.stderr
    entries = int(killed.stdout.splitlines()[-1])
    routes = routes_over(make_look(), path)
    left = left_off(routes.desk)
    assert left.match_last
    assert len(left.match.match.results) == 1
    scene = first_scene(routes)
    assert len(scene.sitting.entries) == entries
    assert scene.sitting.keeper.line == left.match.line
    assert not scene.may_step_back
    routes.desk.store.close()
