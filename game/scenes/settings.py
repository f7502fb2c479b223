"""The settings: size, advice, order of the rack, sound, motion, and the keys of the table."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import replace

from game.draw.theme import BODY, SOFT
from game.play.rack_order import AS_DRAWN, BY_HAND, BY_SUIT
from game.play.settings import ALWAYS, HIDDEN, HINTED, KEY_USES, OTHERS, SCALES, KeyTakenError, KeyUse
from game.scenes.routes import Routes
from game.ui.buttons import Press
from game.ui.column import Column, scrolled
from game.ui.look import BASE
from game.ui.popups import pane_of
from game.ui.scene import Popup, Scene
from game.ui.widgets import Ui
from game.words.settings import KEY_SAYS, key_refused

WIDEST = 1100
ON_OFF = ((True, "On"), (False, "Off"))


class SettingsScene(Scene):
    """Every change counts at once and is kept at once."""

    def __init__(self, routes: Routes, back: Scene) -> None:
        super().__init__(routes.look)
        self.routes, self.desk = routes, routes.desk
        self._back = back

    def back(self) -> Scene | None:
        """Where the player came from."""
        return self._back

    def change(self, **what: object) -> None:
        """Keeps the settings with some values changed."""
        self.desk.save_settings(replace(self.desk.settings, **what))  # type: ignore[arg-type]
        self.look.sounds.on = self.desk.settings.sound

    def paint(self, ui: Ui) -> None:
        """One scrolled list of groups."""
        rest = ui.header("Settings", "", self.back)
        scrolled(ui, "settings", rest, self._fill, widest=WIDEST, gap=16)

    def _fill(self, page: Column) -> None:
        page.text("Whatever you change is kept at once.", BODY, SOFT)
        page.gap(10)
        with page.panel("How it looks") as inside:
            self._looks(inside)
        with page.panel("At the table") as inside:
            self._table(inside)
        with page.panel("Keys at the table") as inside:
            self._keys(inside)

    def _choice(
        self, inside: Column, name: str, note: str, field: str, options: Sequence[tuple[object, str]], key: str = ""
    ) -> None:
        """A row that offers values for one of the settings."""
        ui, now = inside.ui, getattr(self.desk.settings, field)

        def pick(value: object) -> None:
            self.change(**{field: value})

        inside.setting(name, note, lambda at, width: ui.choice(at, width, key or name.lower(), options, now, pick))

    def _looks(self, inside: Column) -> None:
        sizes = [(scale, f"{scale:.0%}") for scale in SCALES]
        self._choice(inside, "Size", self._size_note(inside.ui), "scale", sizes)
        self._choice(inside, "Motion", "tiles may glide, for less than a fifth of a second", "motion", ON_OFF)

    def _size_note(self, ui: Ui) -> str:
        wide, high = ui.window.size
        fit = max(min(wide / BASE[0], high / BASE[1]), 1.0)
        held = ui.unit / fit
        if held < self.desk.settings.scale - 0.01:
            return f"this window has room for {held:.0%}; enlarge it for more"
        return "of all letters, tiles and buttons"

    def _table(self, inside: Column) -> None:
        advice = [(ALWAYS, "Always shown"), (HINTED, "Only when asked"), (HIDDEN, "Hidden")]
        self._choice(inside, "Advice", "a deal played with advice hidden is the one that counts", "advice", advice)
        orders = [(BY_SUIT, "By suit"), (AS_DRAWN, "As drawn"), (BY_HAND, "By hand")]
        note = "by hand: where you put each tile it stays"
        self._choice(inside, "Order of the rack", note, "rack_order", orders, key="order")
        waits = [(0, "As long as I like"), *((seconds, f"{seconds} seconds") for seconds in (3, 5, 10, 20, 30))]
        now = self.desk.settings.call_seconds
        if now not in dict(waits):
            waits.append((now, f"{now} seconds"))
        note = "at a full table, how long a discard waits for you"
        self._choice(inside, "Time to call", note, "call_seconds", waits)
        strengths = [(one, one.capitalize()) for one in OTHERS]
        note = "how well the simulated seats pass and play, from the next deal on"
        self._choice(inside, "The other players", note, "others", strengths, key="others")
        self._choice(inside, "Sound", self._sound_note(), "sound", ON_OFF)

    def _sound_note(self) -> str:
        trouble = self.look.sounds.trouble
        return f"a soft tap at every press; {trouble}" if trouble else "a soft tap at every press"

    def _keys(self, inside: Column) -> None:
        now = self.desk.settings
        inside.gap(6)
        inside.text(
            "Press one to give it another key. Arrows, Tab, Enter, Space, Esc, F1 and F11 always mean the same.",
            BODY, SOFT,
        )  # fmt: skip
        inside.gap(10)
        with inside.grid(300, gap=10, most=3) as cell:
            for use in KEY_USES:
                self._key(cell(), use, now.key(use.name))
        if now.keys:
            inside.gap(14)
            inside.buttons([Press("All keys as at first", self._first_keys)])

    def _key(self, cell: Column, use: KeyUse, key: str) -> None:
        with cell.card(f"key to {KEY_SAYS[use.name]}", lambda: AskKey(self, use), pad=6, edge=10, fills=True) as card:
            ui = card.ui
            with card.aside(ui.cap_width(key), gap=12, down="middle") as (cap, words):
                cap.block(24, lambda rect: ui.cap_at(rect.midleft, key))
                words.text(KEY_SAYS[use.name])

    def _first_keys(self) -> Scene | None:
        self.change(keys={})
        return None


class AskKey(Popup):
    """Waits for the key that is to do something."""

    def __init__(self, parent: SettingsScene, use: KeyUse) -> None:
        super().__init__(parent)
        self._settings = parent
        self.use = use
        self.fault = ""

    def key(self, name: str) -> Scene | None:
        """Any key but the fixed ones: it is taken, or the popup says why not."""
        try:
            self._settings.desk.save_settings(self._settings.desk.settings.with_key(self.use.name, name))
        except KeyTakenError as error:
            self.fault = key_refused(error)
            self.dirty = True
            return self
        return self._settings

    def paint(self, ui: Ui) -> None:
        """What the key will do, what is wrong with the last one pressed, and the way back."""
        text = f"Press the key that is to {KEY_SAYS[self.use.name]}. Esc leaves it as it is."

        def fill(column: Column) -> None:
            column.heading("Another key")
            column.gap(8)
            column.text(text)
            column.gap(14)
            if self.fault:
                column.notice(self.fault)

        pane_of(ui, 520, "another key", fill, [Press("Back", self.back, "escape")])
