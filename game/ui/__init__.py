'''Widgets and scenes of our own on pygame: how a scene is written.

    class Rack(Scene):
        """Shows a rack; pressing a tile lets it go."""

        def __init__(self, desk, kinds, before):
            super().__init__(desk.look)
            self.desk, self.kinds, self.before = desk, kinds, before

        def back(self):                                       # Esc, and the Back button
            return self.before

        def paint(self, ui):                                  # called whenever something changed; only reads fields
            note = f"{len(self.kinds)} tiles"
            rest = Space(ui.header("Your rack", note, self.back))
            hints = rest.bottom(ui.u(36))                     # cut strips off; u() turns units into pixels
            ui.caps(hints.topleft, hints.width, [("arrows", "choose"), ("return", "let go")])
            for index, cell in enumerate(columns(rest.top(ui.u(130)), [1] * len(self.kinds), ui.u(8))):
                name = f"tile {index}"                        # names are unique in a frame; the focus lives on them
                up = ui.glide(name, 1.0 if ui.lit(name) else 0.0)
                width = min(cell.width, ui.u(80))
                rect = Rect(cell.left, cell.top + ui.u(10) - round(up * ui.u(8)), width, height_for(width))
                ui.tile(Face(self.kinds[index]), rect)        # Face(kind, SLOT) is an outline still to come
                ui.target(name, rect, partial(self.let_go, index), f"let go {NAMES[self.kinds[index]]}")
            words = rest.top(ui.u(70), ui.u(12))
            ui.panel(words)
            with ui.within(words):                            # text must stay in here; the tests check it
                ui.fitted("Let one go.", inset(words, ui.u(16)), BODY)
            why = rest.top(ui.u(TOUCH))
            ui.button(Rect(why.topleft, ui.button_size("Why", "w")), "Why", self.why, key="w", main=True, show_key=True)

        def let_go(self, index):                              # what a press does: None stays, a Scene is gone to
            del self.kinds[index]

        def why(self):
            return Question(self, "Why", "It serves no hand.", [Press("Let it go", self.first)])

        def first(self):
            self.let_go(0)
            return self

`Ui` is `Pen` (text, panels, marks, tiles), `Scrolling`, `Interaction` (targets, focus, glide) and the widgets. Sizes
of text are `Style`s of `game.draw.theme`; colours come from there too. Content that may not fit goes to
`ui.scroll(name, rect, paint)`; `ui.measure(paint)` tells its height beforehand; `ui.fitted` sets a line in a rectangle,
smaller or wrapped if need be. Tab and arrows move the focus over targets, Enter and Space press the focused one, a
target's own `keys` press it from anywhere, Enter presses the `main` one when nothing has the focus, Esc is `back`. A
scene may take further keys in `key(name)`. Slow work goes to `game.play.worker.Worker.submit(fn, done)`;
`done` runs on the window's thread. A popup is a `Popup` that paints with `game.ui.popups.pane`.
'''
