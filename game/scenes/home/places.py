"""Where home leads: a row for each screen, with its key and what is there."""

from __future__ import annotations

from collections.abc import Callable, Sequence

from engine.words import count
from game.draw.theme import BODY_BOLD, SMALL, SOFT, TEAL
from game.scenes.routes import Routes
from game.ui.column import Column
from game.ui.keys import cap
from game.ui.scene import Scene

Row = tuple[str, str, str, Callable[[], Scene | None]]
"""A key, a name, a note on it, and what a press does."""


def fill_places(
    page: Column, routes: Routes, home: Scene, leave: Callable[[], Scene | None], *, low: bool, deals: bool
) -> None:
    """All places; with `deals` what the next deal is set up by, too.

    Where the window is low, notes stand on them only if all can still be seen at once.
    """
    desk = routes.desk
    sheet = desk.current_sheet
    setting_up: Sequence[Row] = (
        ("c", "Sheet and sections", "what the next deal is played with", lambda: routes.choosing(home)),
        ("r", "House rules", "how the next deal is played", lambda: routes.house_rules(home)),
    )
    rows: Sequence[Row] = (
        *(setting_up if deals else ()),
        ("h", "Read the sheet", f"{count(len(sheet.hands), 'hand')} of {sheet.name}",
         lambda: routes.sheet(sheet, home, desk.chosen)),
        ("z", "Write a sheet", "your own hands, typed or pressed", lambda: routes.writing(home)),
        ("g", "Practise the hands", "what is due today, and every drill", lambda: routes.practice(home)),
        ("l", "Season’s ledger", "hands won, hands still to win", lambda: routes.ledger(home)),
        ("e", "Rehearse the passes", "passes only, with or without a clock", lambda: routes.rehearsal(home)),
        ("m", "Play a match", "several deals of four, points kept", lambda: routes.match(home)),
        ("2", "Two hands", "alone with two racks, a hand on each", lambda: routes.two_hands(home)),
        ("p", "Past deals", "look again, step through, try another way", lambda: routes.past_deals(home)),
        ("y", "Your progress", "games, choices, drills, week by week", lambda: routes.progress(home)),
        ("n", "Season’s calendar", "what helps most now, and dates", lambda: routes.calendar(home)),
        ("s", "Settings", "size, advice, keys", lambda: routes.settings(home)),
        ("w", "How it plays", "the game and its rules in short", lambda: routes.intro(home, first=False)),
        ("q", "Leave", "not everything is saved" if desk.store.unsaved else "everything is kept", leave),
    )  # fmt: skip
    notes = not low or _notes_fit(page, rows)
    _list(page, rows, notes, apart=4 if notes else 2)


def _notes_fit(page: Column, rows: Sequence[Row]) -> bool:
    """Whether all rows can be seen at once with their notes, in letters of the usual size."""
    ui = page.ui
    with ui.enlarged(ui.look.unit(ui.window.size) / ui.unit):
        plain = Column(ui, page.width)
        _list(plain, rows, notes=True, apart=4)
        return plain.height <= ui.page().height


def _list(page: Column, rows: Sequence[Row], notes: bool, apart: float) -> None:
    """Places to go to, with a note on each where there is room for them."""
    for key, name, note, do in rows:
        with page.card(name, do, key=key, pad=5) as card:
            card.text(name, BODY_BOLD, TEAL)
            if notes:
                card.text(note, SMALL, SOFT)
        page.gap(apart)
    if not notes:
        page.forget_gap()
        return
    page.gap(6)
    page.text(f"{cap('f1')} shows the keys of any screen.", SMALL, SOFT)
