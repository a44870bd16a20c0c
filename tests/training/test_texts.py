from __future__ import annotations

import re
from pathlib import Path
from random import Random

import pytest

from extractor.grammar.packs import load_grammar
from training.texts import Line, Material, read_material, sayable, trade_lines

PACK = """
[device]
wobble-hook = wobble hook~
"""
RULE = """
["a wobble hook was used"]
gives    = "step rim-preparation"
meets    = ["wobble-hook"]
examples = ["A wobble hook took eleven millimeters of the meniscus.", "The wobble hook was used on the meniscus rim."]
never    = ["The meniscus was intact."]
"""


@pytest.fixture(scope="module")
def material() -> Material:
    return read_material()


@pytest.fixture(scope="module")
def lines(material: Material) -> list[Line]:
    return list(trade_lines(material, Random(1), 30))


def test_nothing_is_left_unfilled(lines: list[Line]) -> None:
    for line in lines:
        assert not re.search(r"[<>{}\[\]=|()]", line.said + line.written), line


def test_what_is_said_holds_no_figures(lines: list[Line]) -> None:
    ours = [line for line in lines if line.session.startswith(("note", "numbers"))]
    assert ours and not [line for line in ours if re.search(r"\d", line.said)]


def test_every_word_of_every_list_is_said(material: Material, lines: list[Line]) -> None:
    said = set(re.findall(r"[a-z]+", " ".join(line.said.lower() for line in lines)))
    listed = {
        word
        for concepts in material.lists.values()
        for ways in concepts.values()
        for way in ways
        if not re.search(r"\d", way)
        for word in re.findall(r"[a-z]{4,}", way)
    }
    assert listed <= said


def test_a_new_pack_teaches_its_words(tmp_path: Path) -> None:
    pack = tmp_path / "wobble"
    pack.mkdir()
    (pack / "words.txt").write_text(PACK, encoding="utf-8")
    (pack / "steps.toml").write_text(RULE, encoding="utf-8")
    said = [line.said for line in trade_lines(read_material(load_grammar([tmp_path])), Random(1), 2)]
    assert sum("wobble hook" in text.lower() for text in said) >= 4
    assert any("wobble hooks" in text.lower() for text in said)


def test_the_same_seed_gives_the_same_text(material: Material) -> None:
    first, second = (list(trade_lines(material, Random(4), 3)) for _ in range(2))
    assert first == second
    assert first != list(trade_lines(material, Random(5), 3))


def test_all_numbers_of_an_operation_are_drawn(lines: list[Line]) -> None:
    said = set(re.findall(r"\b\d+(?:\.\d)?\b", " ".join(line.written for line in lines)))
    assert {str(n) for n in range(10, 60)} <= said
    assert any("." in figures for figures in said)


def test_abbreviations_are_said_letter_by_letter() -> None:
    assert sayable("The ACL and two-oh nylon") == "The A C L and two oh nylon"
