"""Every sentence of the rules of play has its test.

The rules are common practice, no source; tests/data/rules_of_play.txt holds them.
"""

import ast
from collections import Counter
from pathlib import Path

HERE = Path(__file__).parent
SENTENCES = HERE.parents[2] / "data" / "rules_of_play.txt"


def test_every_sentence_has_its_test():
    """No sentence of the rules is left without a test that quotes it, and no test quotes two."""
    lines = SENTENCES.read_text(encoding="utf-8").splitlines()
    sentences = [line for line in lines if line and not line.startswith("#")]
    trees = [ast.parse(file.read_text(encoding="utf-8")) for file in HERE.glob("test_sentences_*.py")]
    found = [item for tree in trees for item in tree.body if isinstance(item, ast.FunctionDef)]
    tests = [item for item in found if item.name.startswith("test_")]
    quoted = Counter(" ".join(ast.get_docstring(item).split()) for item in tests)
    assert all(quoted[sentence] == 1 for sentence in sentences), [s for s in sentences if quoted[s] != 1]
    assert len(tests) == len(sentences)
