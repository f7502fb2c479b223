"""Sounds, off by default: a soft wooden tap, made here from a few decaying tones.

The sound device is opened at the first tap, not before; where there is none the game stays silent and says why.
"""

from __future__ import annotations

import numpy as np
import pygame

RATE = 44_100
"""Samples a second."""
SECONDS = 0.07
TONES = ((620.0, 1.0, 70.0), (1380.0, 0.5, 110.0), (2950.0, 0.25, 160.0))
"""Frequency (Hz), strength, how fast it dies away (1/s): a small block of wood."""
LOUDNESS = 0.25


class Sounds:
    """`on` is the player's setting."""

    def __init__(self) -> None:
        self.on = False
        self.trouble: str | None = None
        """Why nothing can be heard, if so."""
        self._tap: pygame.mixer.Sound | None = None

    def tap(self) -> None:
        """A tile is put down, or something is pressed."""
        if not self.on or self.trouble:
            return
        try:
            if self._tap is None:
                if not pygame.mixer.get_init():
                    pygame.mixer.init(RATE, -16, 1, 512, allowedchanges=0)
                self._tap = pygame.mixer.Sound(buffer=tap_samples().tobytes())
            self._tap.play()
        except pygame.error as error:
            self.trouble = f"no sound can be played here ({error})"


def tap_samples() -> np.ndarray[tuple[int], np.dtype[np.int16]]:
    """One tap, 16-bit samples of one channel."""
    time = np.arange(round(RATE * SECONDS)) / RATE
    attack = np.minimum(time / 0.0015, 1.0)
    wave = sum(strength * np.sin(2 * np.pi * tone * time) * np.exp(-decay * time) for tone, strength, decay in TONES)
    wave = wave * attack / sum(strength for _, strength, _ in TONES)
    samples: np.ndarray[tuple[int], np.dtype[np.int16]] = np.round(wave * LOUDNESS * 32767).astype(np.int16)
    return samples
