"""Rivals from the packs, and numbers made of parts. Which words sound alike: common practice, no source."""

from __future__ import annotations

from pathlib import Path

import pytest
from num2words import num2words

from extractor.errors import GrammarError
from extractor.grammar.packs import load_grammar
from extractor.second_reading.rivals import number_rivals, rivals_of, sound_alike, written


@pytest.fixture(scope="module")
def rivals():
    return rivals_of(load_grammar())


@pytest.mark.parametrize("teen", range(13, 20))
def test_a_teen_and_its_ten_are_rivals_of_each_other(rivals, teen):
    ten = (teen - 10) * 10
    assert ten in number_rivals(float(teen), rivals)
    assert teen in number_rivals(float(ten), rivals)


@pytest.mark.parametrize(
    "heard, said",
    [(8, 18), (80, 8), (24, 20), (24, 4), (2.5, 25), (25, 2.5), (24, 25), (120, 100), (120, 112)],
)
def test_a_syllable_swallowed_or_misheard(rivals, heard, said):
    assert said in number_rivals(float(heard), rivals)


def test_no_number_is_its_own_rival(rivals):
    for value in [*range(201), 0.5, 1.5, 10.5]:
        assert float(value) not in number_rivals(float(value), rivals)


@pytest.mark.parametrize("value", [*range(0, 131), 250, 999])
def test_numbers_in_words_are_those_of_a_published_library(value):
    # num2words 0.5; it writes 'one hundred and five' and 'twenty-four'
    assert written(float(value), figures=False) == num2words(value).replace("-", " ").replace(" and ", " ")


def test_groups_of_words_go_both_ways(rivals):
    assert "right" in rivals.words["left"]
    assert "left" in rivals.words["right"]
    assert {"posterior", "interior"} <= set(rivals.words["anterior"])


@pytest.mark.parametrize(
    "text, told", [("[numbers]\neight = 18\n", "no whole number"), ("[nonsense]\n8 = 18\n", "none of")]
)
def test_a_mistake_in_a_pack_is_told_with_its_place(tmp_path: Path, text, told):
    pack = tmp_path / "own"
    pack.mkdir()
    (pack / "rivals.txt").write_text(text, encoding="utf-8")
    with pytest.raises(GrammarError, match=rf"rivals\.txt:\d.*{told}"):
        rivals_of(load_grammar((tmp_path,)))


@pytest.mark.parametrize(
    ("one", "other", "alike"),
    [
        ("40", "14", True),
        ("fourteen", "40 millimeters", True),
        ("90", "19 mm", True),
        ("215", "250", True),
        ("113", "230", False),
        ("14", "15", False),
        ("40", "4", False),
        ("left", "right", False),
    ],
)
def test_a_teen_and_its_ten_sound_alike_in_figures_and_words(rivals, one, other, alike):
    assert sound_alike(one, other, rivals) is alike
    assert sound_alike(other, one, rivals) is alike
