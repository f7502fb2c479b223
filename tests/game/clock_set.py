"""A clock that a test sets."""


class Clock:
    """Gives the moment that it was set to; the test moves `now` on."""

    def __init__(self, now):
        self.now = now

    def __call__(self):
        return self.now
