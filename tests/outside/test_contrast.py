"""The contrast formula against published values: the Web Content Accessibility Guidelines (WCAG) 2.2 of the W3C.

Sources, each beside its check. Values marked "from memory" were written down without the document at hand.
"""

import pytest

from game.draw import theme
from game.draw.theme import GROUNDS, OFF_GROUND, OFF_INK, ON_TEAL, TEAL, TEAL_DEEP, TEAL_LIT, TEXTS, contrast, luminance


def rgb(text):
    """`#777777` as three numbers."""
    return tuple(int(text[place : place + 2], 16) for place in (1, 3, 5))


def test_the_ends_of_the_scale():
    """WCAG 2.2, relative luminance: 0 for darkest black, 1 for lightest white; contrast ratio: from 1 to 21."""
    assert luminance((0, 0, 0)) == 0
    assert luminance((255, 255, 255)) == pytest.approx(1, abs=1e-12)
    assert contrast((0, 0, 0), (255, 255, 255)) == pytest.approx(21, abs=1e-9)
    assert contrast((90, 20, 200), (90, 20, 200)) == 1


def test_luminance_of_the_primaries():
    """WCAG 2.2, definition of relative luminance: L = 0.2126 R + 0.7152 G + 0.0722 B."""
    assert luminance((255, 0, 0)) == pytest.approx(0.2126)
    assert luminance((0, 255, 0)) == pytest.approx(0.7152)
    assert luminance((0, 0, 255)) == pytest.approx(0.0722)


def test_the_straight_part_of_the_curve():
    """IEC 61966-2-1 (sRGB), the transfer function that WCAG 2.2 takes over: straight, by 12.92, up to 0.04045.

    Of 8 bits the last value on it is 10 (10/255 = 0.0392), the first above it is 11 (0.0431).
    """
    assert luminance((10, 10, 10)) == pytest.approx(10 / 255 / 12.92)
    assert luminance((11, 11, 11)) == pytest.approx(((11 / 255 + 0.055) / 1.055) ** 2.4)
    assert luminance((11, 11, 11)) - luminance((10, 10, 10)) == pytest.approx(1 / 255 / 12.92, rel=0.12)


@pytest.mark.parametrize(
    ("one", "other", "ratio"),
    [
        # WebAIM, "Contrast and Color Accessibility", from memory: #767676 on white is the lightest grey that passes,
        # with 4.54; #777777 gives 4.48 and fails.
        ("#767676", "#FFFFFF", 4.54),
        ("#777777", "#FFFFFF", 4.48),
        # The same, from memory: pure red on white 4:1, pure green 1.4:1, pure blue 8.6:1.
        ("#FF0000", "#FFFFFF", 4.00),
        ("#00FF00", "#FFFFFF", 1.37),
        ("#0000FF", "#FFFFFF", 8.59),
        # Okabe and Ito's "Color Universal Design" colours on white; the ratios were worked out apart from this program
        # with the formula of WCAG 2.2, and stand in this project's notes.
        ("#0072B2", "#FFFFFF", 5.19),
        ("#D55E00", "#FFFFFF", 3.87),
        ("#009E73", "#FFFFFF", 3.42),
        ("#CC79A7", "#FFFFFF", 3.06),
    ],
)
def test_published_ratios(one, other, ratio):
    """To two decimals, whichever colour comes first."""
    assert contrast(rgb(one), rgb(other)) == pytest.approx(ratio, abs=0.005)
    assert contrast(rgb(one), rgb(other)) == contrast(rgb(other), rgb(one))


def test_the_grey_that_just_passes_is_told_from_the_one_that_fails():
    """WCAG 2.2, 1.4.3: ratios are not rounded up; 4.48 is no 4.5."""
    assert contrast(rgb("#767676"), rgb("#FFFFFF")) >= 4.5
    assert contrast(rgb("#777777"), rgb("#FFFFFF")) < 4.5


def test_every_text_colour_passes_on_every_ground():
    """WCAG 2.2, success criterion 1.4.3 (AA): 4.5:1 for text of any size, on each ground that the window has."""
    for text, colour in TEXTS.items():
        for ground, under in GROUNDS.items():
            assert contrast(colour, under) >= 4.5, f"{text} on {ground}"
    for ground in (TEAL, TEAL_LIT, TEAL_DEEP):
        assert contrast(ON_TEAL, ground) >= 4.5
    assert contrast(OFF_INK, OFF_GROUND) >= 4.5


def test_borders_of_controls_pass_on_every_ground():
    """WCAG 2.2, success criterion 1.4.11 (AA): 3:1 for what shows where a control is."""
    for ground, under in GROUNDS.items():
        assert contrast(theme.EDGE, under) >= 3, ground
        assert contrast(theme.BLUE, under) >= 3, f"focus ring on {ground}"
