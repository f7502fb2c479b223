"""The settings: size, advice, order of the rack, sound, motion, and the keys of the table."""

from __future__ import annotations

from dataclasses import replace
from functools import partial

from game.draw.theme import BODY, HEADING, SOFT, TOUCH
from game.play.rack_order import AS_DRAWN, BY_HAND, BY_SUIT
from game.play.settings import ALWAYS, HIDDEN, HINTED, KEY_USES, OTHERS, SCALES, KeyTakenError, KeyUse, Settings
from game.scenes.routes import Routes
from game.ui.buttons import Press
from game.ui.layout import Rect
from game.ui.look import BASE
from game.ui.popups import pane
from game.ui.scene import Popup, Scene
from game.ui.widgets import Ui

WIDEST = 1100


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
        ui.scroll("settings", rest, lambda area: self._all(ui, area))

    def _all(self, ui: Ui, area: Rect) -> int:
        width = min(area.width, ui.u(WIDEST))
        area = Rect(area.centerx - width // 2, area.top, width, area.height)
        y = ui.paragraph("Whatever you change is kept at once.", area.topleft, width, BODY, SOFT) + ui.u(10)
        for title, inside in (
            ("How it looks", self._looks),
            ("At the table", self._table),
            ("Keys at the table", self._keys),
        ):
            y = ui.titled((area.left, y), area.width, title, partial(inside, ui))
        return y

    def _looks(self, ui: Ui, area: Rect) -> int:
        now = self.desk.settings
        sizes = [(scale, f"{scale:.0%}") for scale in SCALES]
        y = ui.named(
            area, area.top, "Size", self._size_note(ui),
            lambda at, width: ui.choice(at, width, "size", sizes, now.scale, lambda scale: self.change(scale=scale)),
        )  # fmt: skip
        return ui.named(
            area, y, "Motion", "tiles may glide, for less than a fifth of a second",
            lambda at, width: ui.choice(
                at, width, "motion", [(True, "On"), (False, "Off")], now.motion, lambda on: self.change(motion=on)
            ),
        )  # fmt: skip

    def _size_note(self, ui: Ui) -> str:
        wide, high = ui.window.size
        fit = max(min(wide / BASE[0], high / BASE[1]), 1.0)
        held = ui.unit / fit
        if held < self.desk.settings.scale - 0.01:
            return f"this window has room for {held:.0%}; enlarge it for more"
        return "of all letters, tiles and buttons"

    def _table(self, ui: Ui, area: Rect) -> int:
        now = self.desk.settings
        advice = [(ALWAYS, "Always shown"), (HINTED, "Only when asked"), (HIDDEN, "Hidden")]
        orders = [(BY_SUIT, "By suit"), (AS_DRAWN, "As drawn"), (BY_HAND, "By hand")]
        y = ui.named(
            area, area.top, "Advice", "a deal played with advice hidden is the one that counts",
            lambda at, width: ui.choice(at, width, "advice", advice, now.advice, lambda to: self.change(advice=to)),
        )  # fmt: skip
        y = ui.named(
            area, y, "Order of the rack", "by hand: where you put each tile it stays",
            lambda at, width: ui.choice(
                at, width, "order", orders, now.rack_order, lambda to: self.change(rack_order=to)
            ),
        )  # fmt: skip
        waits = [(0, "As long as I like"), *((seconds, f"{seconds} seconds") for seconds in (3, 5, 10, 20, 30))]
        if now.call_seconds not in dict(waits):
            waits.append((now.call_seconds, f"{now.call_seconds} seconds"))
        y = ui.named(
            area, y, "Time to call", "at a full table, how long a discard waits for you",
            lambda at, width: ui.choice(
                at, width, "time to call", waits, now.call_seconds, lambda to: self.change(call_seconds=to)
            ),
        )  # fmt: skip
        strengths = [(one, one.capitalize()) for one in OTHERS]
        y = ui.named(
            area, y, "The other players", "how well the simulated seats pass and play, from the next deal on",
            lambda at, width: ui.choice(
                at, width, "others", strengths, now.others, lambda to: self.change(others=to)
            ),
        )  # fmt: skip
        return ui.named(
            area, y, "Sound", self._sound_note(),
            lambda at, width: ui.choice(
                at, width, "sound", [(True, "On"), (False, "Off")], now.sound, lambda on: self.change(sound=on)
            ),
        )  # fmt: skip

    def _sound_note(self) -> str:
        trouble = self.look.sounds.trouble
        return f"a soft tap at every press; {trouble}" if trouble else "a soft tap at every press"

    def _keys(self, ui: Ui, area: Rect) -> int:
        now = self.desk.settings
        y = ui.paragraph(
            "Press one to give it another key. Arrows, Tab, Enter, Space, Esc, F1 and F11 always mean the same.",
            (area.left, area.top + ui.u(6)), area.width, BODY, SOFT,
        ) + ui.u(10)  # fmt: skip
        across = max(1, min(3, area.width // ui.u(300)))
        gap = ui.u(10)
        wide = (area.width - gap * (across - 1)) // across
        for start in range(0, len(KEY_USES), across):
            row = KEY_USES[start : start + across]
            high = max(self._key_high(ui, use, wide, now) for use in row)
            for index, use in enumerate(row):
                self._key_button(ui, Rect(area.left + index * (wide + gap), y, wide, high), use, now)
            y += high + ui.u(8)
        if now.keys:
            y = ui.buttons((area.left, y + ui.u(6)), area.width, [Press("All keys as at first", self._first_keys)])
        return y

    def _key_high(self, ui: Ui, use: KeyUse, wide: int, now: Settings) -> int:
        room = wide - ui.cap_width(now.key(use.name)) - ui.u(34)
        return max(ui.tall(use.says, room, BODY) + ui.u(14), ui.u(TOUCH))

    def _key_button(self, ui: Ui, rect: Rect, use: KeyUse, now: Settings) -> None:
        name = f"key to {use.says}"
        ui.row(name, rect, lambda: AskKey(self, use))
        with ui.within(rect):
            cap = ui.cap_at((rect.left + ui.u(10), rect.centery), now.key(use.name))
            left = cap.right + ui.u(12)
            ui.fitted(use.says, Rect(left, rect.top, rect.right - left - ui.u(8), rect.height), BODY)

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
            self.fault = f"{str(error)[:1].upper()}{str(error)[1:]}."
            self.dirty = True
            return self
        return self._settings

    def paint(self, ui: Ui) -> None:
        """What the key will do, what is wrong with the last one pressed, and the way back."""
        text = f"Press the key that is to {self.use.says}. Esc leaves it as it is."

        def content(area: Rect) -> int:
            y = ui.paragraph("Another key", area.topleft, area.width, HEADING) + ui.u(8)
            y = ui.paragraph(text, (area.left, y), area.width, BODY) + ui.u(14)
            if self.fault:
                y = ui.notice(self.fault, (area.left, y), area.width) + ui.u(14)
            return ui.buttons((area.left, y), area.width, [Press("Back", self.back, "escape")])

        pane(ui, 520, "another key", content)
