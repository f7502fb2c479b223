"""What the tests of the quiet table share: its size, what it shows, what is kept, how advice is set, and playing on."""

from dataclasses import replace

from harness import drawn

from game.play.lines import line_of

SIZE = (1440, 900)


def shown(scene):
    """The scene after a frame, so that there is something to press."""
    drawn(scene, SIZE, 1.0)
    return scene


def texts(scene):
    """Everything that can be read on the scene, line by line."""
    return [one.text for one in drawn(scene, SIZE, 1.0)]


def set_advice(routes, advice):
    """Set how advice is shown."""
    routes.desk.save_settings(replace(routes.desk.settings, advice=advice))


def kept(table):
    """The entries of the line in the store."""
    return list(table.desk.store.record(line_of(table.sitting)).entries)


def play_to_the_end(table, place=0):
    """Let the same place of the rack go until the game is over."""
    while not table.finished:
        table.chosen = place
        table.let_go()
    return shown(table)
