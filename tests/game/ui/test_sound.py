"""Sounds: off until wanted, a short tap that dies away, silence where there is no device."""

import numpy as np
import pygame
from harness import make_look

from game.ui.sound import RATE, Sounds, tap_samples


def test_nothing_is_opened_while_sound_is_off():
    """A tap with sound off does not touch the sound device."""
    pygame.mixer.quit()
    look = make_look()
    look.sounds.tap()
    assert pygame.mixer.get_init() is None


def test_a_tap_is_short_and_dies_away():
    """Under a tenth of a second, within 16 bits, its last part far fainter than its first, nearly silent at its end."""
    samples = tap_samples().astype(float)
    assert 0 < len(samples) < RATE / 10
    assert 1000 < np.abs(samples).max() < 32767
    quarter = len(samples) // 4
    assert np.abs(samples[-quarter:]).max() < np.abs(samples[:quarter]).max() / 10


def test_where_there_is_no_device_the_game_stays_silent_and_says_so(monkeypatch):
    """An error of the device becomes a note, once."""
    pygame.mixer.quit()
    opened = []

    def refuse(*_, **__):
        opened.append(1)
        raise pygame.error("no device")

    monkeypatch.setattr(pygame.mixer, "init", refuse)
    sounds = Sounds()
    sounds.on = True
    sounds.tap()
    sounds.tap()
    assert "no device" in sounds.trouble
    assert len(opened) == 1
