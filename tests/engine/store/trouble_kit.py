"""What the tests of a store in trouble share: what a child printed, and the form of a sentence on trouble."""


def answers(process):
    """What a child printed, line by line; it must have ended well."""
    out, complaints = process.communicate(timeout=60)
    assert process.returncode == 0, complaints
    assert complaints == ""
    return out.splitlines()


def is_one_sentence(trouble):
    """One line that a player can act on."""
    return "\n" not in trouble and ". " not in trouble and "; " in trouble
