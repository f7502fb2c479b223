"""What the tests of the full table share: how advice is set, what is seen, the last choice, and an open call."""

from dataclasses import replace

from at_full_table import asked_about_pung, let_go
from harness import drawn


def advised(routes, how):
    """Sets how advice is shown."""
    routes.desk.save_settings(replace(routes.desk.settings, advice=how))


def shown(scene):
    """Everything written on the scene in a usual window."""
    return " ".join(one.text for one in drawn(scene, (1440, 900), 1.0))


def on_screen(scene):
    """The scene once it has been seen, so that its keys and buttons are there."""
    drawn(scene, (1440, 900), 1.0)
    return scene


def last(scene, player=0):
    """The player's last choice."""
    return [entry.action for entry in scene.sitting.entries if entry.seat == player][-1]


def asked(routes, **more):
    """The player is asked about the third tile of a pung."""
    scene, spare, kind, hand = asked_about_pung(routes, **more)
    let_go(scene, spare)
    assert scene.calling
    return on_screen(scene), kind, hand
