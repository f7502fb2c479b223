"""The slow, obvious way to count variants: every choice for every letter, straight from the text of a hand.

It shares nothing with the engine but the meaning of the notation, so it can stand as the engine's reference.
"""

from itertools import product

SIZES = {"single": 1, "pair": 2, "pung": 3, "kong": 4, "quint": 5, "sextet": 6}
SUITS = {"bam": "b", "crak": "c", "dot": "d"}
OWN_DRAGON = {"b": "dg", "c": "dr", "d": "dw"}
WINDS = {"east": "we", "south": "ws", "west": "ww", "north": "wn"}
DRAGONS = {"green": "dg", "red": "dr", "white": "dw"}


def copies(code):
    """How many tiles of a kind the set holds, jokers apart."""
    return 8 if code == "fl" else 4


def choices(letter, texts):
    """What a letter may stand for, told from how the groups use it."""
    if letter in "abc":
        return list(SUITS.values())
    words = [text.split() for text in texts]
    if any(w[-2:] == ["wind", letter] for w in words):
        return list(WINDS.values())
    if any(w[-2:] == ["dragon", letter] for w in words):
        return list(DRAGONS.values())
    return list(range(1, 10))


def letters_of(texts, where):
    """Every single letter in the groups and clauses, but the name of no word."""
    found = []
    for text in texts:
        for part in text.replace(".", " ").replace("+", " ").replace("-", " ").split():
            if len(part) == 1 and part.isalpha():
                found.append(part)
    for clause in where:
        found += [part for part in clause.split() if len(part) == 1 and part.isalpha()]
    return list(dict.fromkeys(found))


def true(clause, values):
    """Whether a clause holds."""
    words = [values.get(word, word) for word in clause.split()]
    if words[1] in ("odd", "even"):
        return words[0] % 2 == (1 if words[1] == "odd" else 0)
    if words[1] == "in":
        if ".." in clause:
            low, high = words[2].split("..")
            return int(low) <= words[0] <= int(high)
        return words[0] in [int(word) for word in words[2:]]
    amounts = [int(word) if str(word).isdigit() else word for word in words]
    if words[1] == "<":
        return amounts[0] < amounts[2]
    if words[1] == "!=":
        return amounts[0] != amounts[2]
    made = amounts[0] + amounts[2] if words[1] == "+" else amounts[0] * amounts[2]
    return made == amounts[4]


def groups_of(text, values, season):
    """The (size, tile code) groups of one group's text; None when a number leaves 1 to 9."""
    size_word, *tile = text.split()
    size = SIZES[size_word]
    if tile == ["flower"]:
        return [(size, "fl")]
    if tile == ["zero"]:
        return [(size, "dw")]
    if tile[0] == "each":
        return [(size, code) for code in (WINDS if tile[1] == "wind" else DRAGONS).values()]
    if tile[0] == "wind":
        return [(size, WINDS.get(tile[1]) or values[tile[1]])]
    if tile[:2] == ["dragon", "of"]:
        return [(size, OWN_DRAGON[SUITS.get(tile[2]) or values[tile[2]]])]
    if tile[0] == "dragon":
        return [(size, DRAGONS.get(tile[1]) or values[tile[1]])]
    if tile[0] == "season":
        suit = SUITS.get(tile[1]) or values[tile[1]]
        return [(size, "dw" if digit == "0" else digit + suit) for digit in season]
    suit, rank = tile[0].split(".")
    for sign in "+-":
        if sign in rank:
            letter, amount = rank.split(sign)
            rank = values[letter] + int(sign + amount)
            break
    else:
        rank = values[rank] if rank.isalpha() else int(rank)
    return [(size, f"{rank}{SUITS.get(suit) or values[suit]}")] if 1 <= rank <= 9 else None


def supplied(groups, jokers):
    """Deal the tiles out of the set, singles and pairs first; a joker goes in where a kind has run out."""
    left = {}
    for size, code in groups:
        if size < 3:
            left[code] = left.get(code, copies(code)) - size
            if left[code] < 0:
                return False
    for size, code in groups:
        for _ in range(size if size >= 3 else 0):
            left.setdefault(code, copies(code))
            if left[code] > 0:
                left[code] -= 1
            else:
                jokers -= 1
    return jokers >= 0


def slow_variants(lines, where="", season="2026", jokers=8):
    """All variants of a hand, each as a sorted tuple of (size, tile code)."""
    clauses = [clause.strip() for clause in where.split(";") if clause.strip()]
    lines = [[text.strip() for text in line.split(",")] for line in lines]
    everywhere = [text for line in lines for text in line]
    found = set()
    for line in lines:
        letters = [x for x in letters_of(everywhere, clauses) if x not in "abc"]
        suits = [x for x in letters_of(line, []) if x in "abc"]
        for chosen in product(*(choices(letter, everywhere) for letter in letters)):
            values = dict(zip(letters, chosen, strict=True))
            if not all(true(clause, values) for clause in clauses):
                continue
            for picked in product(SUITS.values(), repeat=len(suits)):
                if len(set(picked)) < len(picked):
                    continue
                values.update(zip(suits, picked, strict=True))
                parts = [groups_of(text, values, season) for text in line]
                if None in parts:
                    continue
                groups = tuple(sorted(group for part in parts for group in part))
                if supplied(groups, jokers):
                    found.add(groups)
    return found
