"""Sound spellings and their distance, against two speakers of English outside the project.

espeak-ng's pronunciation (a free synthesizer; `espeak-ng -x` prints it) tells which words sound the same, and
jellyfish's Metaphone (Lawrence Philips' algorithm, 1990) which are alike.
"""

from __future__ import annotations

import subprocess
from functools import reduce
from itertools import combinations

import jellyfish
import pytest
from hypothesis import given
from hypothesis import strategies as st

from extractor.grammar.packs import Grammar
from extractor.language.likeness import kin, trade_of
from extractor.language.sounds import distance, frame, joined, sound, sound_each, sounds, weight, word_frame
from tests.machine import need_command

SAME = (
    "right write;right rite;wait weight;tied tide;passed past;two too;cannula canula;white wight;brake break;knot not;"
    "graft graphed;seam seem;sight site;grate great;scene seen;plane plain;whole hole;knee nee;wrap rap;role roll;"
    "peace piece;made maid;pair pear;steel steal;tear tier;blue blew;bolder boulder;miner minor;cent scent;flour flower"
).split(";")
OTHER = "meniscus tourniquet;posterior superior;medial lateral;graft suture;tibial femoral;anchor button".split(";")
WORDS = "tourniquet meniscus cannula allograft condyle suture posterior plateau capsule needle arthroscopy".split()


def spoken(word: str) -> str:
    command = [need_command("espeak-ng"), "-q", "-x", "-v", "en-us", word]
    return subprocess.run(command, capture_output=True, text=True, check=True).stdout.strip()


@pytest.mark.parametrize("pair", SAME)
def test_words_that_sound_the_same_lie_close(pair: str) -> None:
    a, b = pair.split()
    assert spoken(a) == spoken(b), "the pair is no example"
    assert distance(sound(a), sound(b)) < 0.25


@pytest.mark.parametrize("pair", OTHER)
def test_words_that_do_not_sound_alike_lie_far_apart(pair: str) -> None:
    a, b = pair.split()
    assert jellyfish.metaphone(a)[:3] != jellyfish.metaphone(b)[:3], "the pair is no example"
    assert distance(sound(a), sound(b)) > 0.35


@pytest.mark.parametrize("word", WORDS)
def test_a_word_is_nearer_to_its_own_misspelling_than_to_any_other_word(word: str) -> None:
    # A misspelling with another vowel, which Metaphone spells the same.
    at = max(word.rfind(vowel) for vowel in "aeiou")
    others = [word[:at] + vowel + word[at + 1 :] for vowel in "aeiou" if vowel != word[at]]
    wrong = next(other for other in others if jellyfish.metaphone(other) == jellyfish.metaphone(word))
    assert min(WORDS, key=lambda other: distance(sound(wrong), sound(other))) == word


@given(st.text("abcdefghijklmnopqrstuvwxyz", max_size=14), st.text("abcdefghijklmnopqrstuvwxyz", max_size=14))
def test_the_distance_of_two_words_is_the_same_both_ways(a: str, b: str) -> None:
    one, two = sound(a), sound(b)
    assert distance(one, one) == 0
    assert distance(one, two) == pytest.approx(distance(two, one))
    assert 0 <= distance(one, two) <= weight(one) + weight(two) + 1e-9


@given(st.lists(st.sampled_from(WORDS), min_size=1, max_size=3))
def test_words_said_in_a_row_sound_like_the_row(words: list[str]) -> None:
    assert distance(sounds(words), sounds(["".join(words)])) < 0.2
    assert reduce(joined, map(word_frame, words)) == frame("".join(map(sound, words)))


def test_words_of_one_family_are_no_mishearing_of_one_another() -> None:
    family = ["arthroscopy", "arthroscope", "arthroscopic", "arthroscopically", "arthroscopist"]
    assert all(kin(a, b) for a, b in combinations(family, 2))
    assert kin("peripatellar", "parapatellar") and kin("bioabsorbable", "absorbable")
    assert not kin("menisectomy", "meniscectomy") and not kin("interior", "anterior")


def test_many_words_at_once_sound_as_each_alone(grammar: Grammar) -> None:
    words = sorted(word for word in trade_of(grammar).known if word.isascii() and word.isalpha())
    words += ["ed", "e", "es", "y", "gh", "mb", "x", "ch"]
    assert sound_each(words) == [sound(word) for word in words]
    assert sound_each([]) == []
