"""House rules for property tests: those that every code and record names, and all of them."""

from hypothesis import strategies as st

from engine.rules.house import FULL, QUIET, STRENGTHS, House

FIRST = {
    "table": st.sampled_from([QUIET, FULL, FULL]),
    "jokers": st.integers(0, 10),
    "picks": st.sampled_from([0, 0, 1, 3, 7, 99]),
    "seat": st.integers(0, 3),
    "passes": st.integers(0, 6),
    "courtesy": st.booleans(),
    "blind": st.booleans(),
    "slips": st.booleans(),
}
LATER = {
    "vote": st.booleans(),
    "blind_round": st.integers(0, 2),
    "east_stays": st.booleans(),
    "last_tiles": st.sampled_from([0, 1, 16, 40]),
    "self_drawn_doubles": st.booleans(),
    "jokerless_doubles": st.booleans(),
    "discarder_pays_all": st.booleans(),
    "concealed_bonus": st.sampled_from([0, 1, 10, 50]),
    "loss_limit": st.sampled_from([0, 1, 100, 500]),
    "mistake_pays": st.sampled_from([0, 5, 50]),
    "others": st.just("") | st.lists(st.sampled_from(STRENGTHS), min_size=3, max_size=3).map(" ".join),
}
FIRST_HOUSES = st.builds(House, **FIRST)
"""Houses whose later rules are as usual."""
HOUSES = FIRST_HOUSES | st.builds(House, **FIRST, **LATER)
"""Any house."""
EXAMPLES = {
    "vote": False,
    "blind_round": 2,
    "east_stays": True,
    "last_tiles": 16,
    "self_drawn_doubles": False,
    "jokerless_doubles": False,
    "discarder_pays_all": True,
    "concealed_bonus": 10,
    "loss_limit": 200,
    "mistake_pays": 25,
    "others": "sharp steady beginner",
}
"""For each later rule a value that is not as usual."""
