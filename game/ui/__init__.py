'''Widgets and scenes of our own on pygame: how a scene is written.

    class Rack(Scene):
        """Shows a rack; pressing a tile lets it go."""

        def __init__(self, desk: Desk, kinds: list[Kind]) -> None:
            super().__init__(desk.look)
            self.desk, self.kinds = desk, kinds

        def back(self) -> Scene | None:                       # Esc, and the Back button
            return Home(self.desk)

        def paint(self, ui: Ui) -> None:                      # called whenever something changed; only reads fields
            rest = Space(ui.header("Your rack", "14 tiles", self.back))
            keys = rest.bottom(ui.u(36))                      # cut strips off; u() turns units into pixels
            ui.caps(keys.topleft, keys.width, [("return", "let go"), ("w", "why")])
            gap = ui.u(8)
            for index, cell in enumerate(columns(rest.top(ui.u(120)), [1] * len(self.kinds), gap)):
                name = f"tile {index}"                        # names are unique in a frame; focus lives on them
                up = ui.glide(name, 1.0 if ui.lit(name) else 0.0)
                rect = cell.move(0, -round(up * ui.u(8)))
                ui.tile(Face(self.kinds[index]), rect)        # Face(kind, SLOT) is an outline still to come
                ui.target(name, rect, lambda i=index: self.let_go(i), f"let go {NAMES[self.kinds[index]]}")
            words = rest.top(ui.u(90), ui.u(12))
            ui.panel(words)
            with ui.within(inset(words, ui.u(16))) :          # text must stay in here; the tests check it
                ui.paragraph("Let one go.", (words.left + ui.u(16), words.top + ui.u(16)), words.width, BODY)
            ui.button(rest.top(ui.u(TOUCH)), "Why", self.why, key="w", main=True)

        def let_go(self, index: int) -> Scene | None:         # what a press does: None stays, a Scene is gone to
            del self.kinds[index]
            return None

        def why(self) -> Scene | None:
            return Question(self, "Why", "Because.", [Press("Let it go", lambda: self.let_go(0))])

`Ui` is `Pen` (text, panels, marks, tiles) plus `Interaction` (targets, focus, scroll, glide) plus the widgets. Sizes of
text are `Style`s of `game.draw.theme`; colours come from there too. For content that may not fit, hand a painter to
`ui.scroll(name, rect, paint)`. `ui.fitted` sets a line in a rectangle, smaller or wrapped if need be. Keyboard: Tab and
arrows move the focus over targets, Enter and Space press, a target's own `keys` press it from anywhere, Enter presses
the `main` button when nothing has the focus, Esc is `back`. A scene may take further keys in `key(name)`.
Slow work goes to `game.worker.Worker.submit(fn, done)`; `done` runs on the window's thread and sets `dirty`.
'''
