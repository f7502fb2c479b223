"""What is said of the clock at one's own pace."""

from engine.drills.rehearsal import OwnPace, Tally
from game.words.drills import pace_sentences, rehearsals_title


def test_too_few_are_said_with_what_happens_meanwhile():
    """How many are needed, how many are done, and that there is no clock yet."""
    assert pace_sentences(OwnPace(1, None, None)) == [
        "Your pace is taken from three rehearsals without a clock; you have done one rehearsal. "
        "Until then the passes run without a clock."
    ]
    assert "you have done none." in pace_sentences(OwnPace(0, None, None))[0]


def test_the_clock_says_where_it_comes_from():
    """The median with its count, and the next clock."""
    assert pace_sentences(OwnPace(4, 187.0, 168.3)) == [
        "Without a clock your usual time is 3:07 minutes (the median of four rehearsals).",
        "The next clock is set to 2:48. Each time you are in time, it gets a tenth shorter.",
    ]


def test_a_tally_names_its_clock():
    """Own pace, fixed, none."""
    rest = {"rehearsals": 1, "in_time": 1, "passes": 3, "best": 1, "picks": None, "seconds": 60.0}
    assert rehearsals_title(Tally(None, **rest)) == "Without a clock"
    assert rehearsals_title(Tally(120.0, **rest)) == "With 2:00 minutes"
    assert rehearsals_title(Tally(90.0, **rest, own=True)) == "At your own pace, 1:30 minutes at last"
