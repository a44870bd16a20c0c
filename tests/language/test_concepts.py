"""Concepts: which words of the lists stand in a note, and which of them hide others (grammars/README.md)."""

from __future__ import annotations

from pathlib import Path

import pytest
from hypothesis import given
from hypothesis import strategies as st

from extractor.grammar.packs import Grammar, load_grammar
from extractor.language.annotate import annotate
from extractor.language.concepts import Concept, ConceptFinder, opening
from extractor.language.lexicon import lexicon_of
from extractor.language.tokens import tokenize

Phrase = tuple[str, str, str, tuple[str, ...]]


def finder(
    *phrases: Phrase,
    covers: dict[str, frozenset[str]] | None = None,
    inside: frozenset[str] = frozenset(),
    shared: frozenset[str] = frozenset(),
) -> ConceptFinder:
    return ConceptFinder(opening(phrases), covers or {}, inside, shared)


def found(finder: ConceptFinder, text: str) -> list[tuple[str, int, int]]:
    return [(c.key, c.start, c.end) for c in finder.find(text.split())]


RIM: Phrase = ("p", "thing", "rim", ("rim",))
ALONG: Phrase = ("p", "dimension", "along-rim", ("along", "the", "rim"))
MENISCUS: Phrase = ("p", "structure", "meniscus", ("meniscus",))
MEDIAL: Phrase = ("p", "structure", "medial-meniscus", ("medial", "meniscus"))
SIDE: Phrase = ("p", "compartment", "medial", ("medial",))


def test_a_longer_word_means_what_it_ends_in() -> None:
    staple: Phrase = ("p", "device", "staple", ("staple",))
    meant = {"staple": ("device", "staple", "p"), "staples": ("device", "staple", "p")}
    ours = ConceptFinder(opening([staple, RIM]), {}, frozenset(), frozenset(), meant)
    assert found(ours, "a staple , two ministaples on the rim") == [
        ("device:staple", 1, 2),
        ("device:staple", 4, 5),
        ("thing:rim", 7, 8),
    ]
    assert found(ours, "a stapler of staplewood") == []


def test_each_word_at_its_place() -> None:
    assert found(finder(RIM), "the rim of the rim") == [("thing:rim", 1, 2), ("thing:rim", 4, 5)]
    assert found(finder(RIM), "") == []
    assert found(finder(RIM), "trim") == []


def test_the_longest_of_one_list_stands() -> None:
    assert found(finder(MENISCUS, MEDIAL), "medial meniscus") == [("structure:medial-meniscus", 0, 2)]
    assert found(finder(MENISCUS, MEDIAL), "the meniscus") == [("structure:meniscus", 1, 2)]


def test_another_list_is_seen_inside() -> None:
    keys = [key for key, *_ in found(finder(MEDIAL, SIDE), "medial meniscus")]
    assert keys == ["structure:medial-meniscus", "compartment:medial"]


def test_a_covering_list_hides_what_others_see_inside() -> None:
    covers = {"dimension": frozenset("*")}
    assert found(finder(RIM, ALONG, covers=covers), "along the rim") == [("dimension:along-rim", 0, 3)]
    assert found(finder(RIM, ALONG, covers=covers), "the rim along") == [("thing:rim", 1, 2)]


def test_a_list_marked_inside_is_seen_all_the_same() -> None:
    covers = {"structure": frozenset("*")}
    keys = [
        k for k, *_ in found(finder(MEDIAL, SIDE, covers=covers, inside=frozenset({"compartment"})), "medial meniscus")
    ]
    assert keys == ["structure:medial-meniscus", "compartment:medial"]


def test_a_list_may_cover_one_other_only() -> None:
    phrases = (ALONG, RIM, ("p", "word", "along", ("along",)))
    keys = [k for k, *_ in found(finder(*phrases, covers={"dimension": frozenset({"thing"})}), "along the rim")]
    assert keys == ["dimension:along-rim", "word:along"]


def test_shared_words_mean_several_and_packs_do_not_hide_one_another() -> None:
    ours: Phrase = ("a", "action", "fix", ("fixed",))
    theirs: Phrase = ("b", "action", "fix-graft", ("graft", "fixed"))
    assert len(found(finder(ours, theirs), "graft fixed")) == 1
    assert len(found(finder(ours, theirs, shared=frozenset({"action"})), "graft fixed")) == 2


def test_overlap_without_holding_hides_nothing() -> None:
    a: Phrase = ("p", "thing", "ab", ("a", "b"))
    b: Phrase = ("p", "thing", "bc", ("b", "c"))
    assert [k for k, *_ in found(finder(a, b), "a b c")] == ["thing:ab", "thing:bc"]


@given(st.permutations([RIM, ALONG, MENISCUS, MEDIAL, SIDE]))
def test_the_order_of_words_in_the_lists_never_decides(phrases: list[Phrase]) -> None:
    text = "medial meniscus along the rim , medial rim"
    assert found(finder(*phrases), text) == found(finder(RIM, ALONG, MENISCUS, MEDIAL, SIDE), text)


def test_a_unit_is_no_structure(grammar: Grammar) -> None:
    """'MM' is short for the medial meniscus; the 'mm' of '9 mm' is not."""
    keys = [c.key for c in annotate("The MM tear was 9 mm long.", grammar).concepts if c.list == "structure"]
    assert keys == ["structure:medial-meniscus"]


def test_concepts_stand_in_order_and_hold_words(grammar: Grammar) -> None:
    note = annotate("Left knee. The medial meniscus was rasped along the rim with a rasp.", grammar)
    assert [c.start for c in note.concepts] == sorted(c.start for c in note.concepts)
    assert all(0 <= c.start < c.end <= len(note.words) for c in note.concepts)
    assert Concept("side", "left", 0, 1) in note.concepts


@pytest.mark.parametrize("said", ["the posterior root", "this posterior root", "her posterior root", "posterior root"])
def test_what_points_at_a_thing_is_as_good_as_the(said: str, grammar: Grammar) -> None:
    keys = [c.key for c in annotate(f"Knee. The defect was eleven millimeters from {said}.", grammar).concepts]
    assert "dimension:from-posterior-root" in keys


def test_this_time_is_another_than_the_time() -> None:
    then = finder(("pack", "then", "then", ("at", "the", "time")))
    assert then.find("at that time".split()) and not then.find("at this time".split())


@pytest.mark.parametrize(
    "way",
    ["t1 cut", "1st look", "o'clock mark", "4x4s", "we'd've in", "'tis seen", "a.m. look", "dr. seen", "i.e. cut",
     "gonna cut", "°c low", "can't see", "2-0 tie"],
)  # fmt: skip
def test_words_that_open_with_anything_are_found(way: str, tmp_path: Path) -> None:
    pack = tmp_path / "ours"
    pack.mkdir()
    (pack / "words.txt").write_text(f"[our-thing]\nodd = {way}\n", encoding="utf-8")
    words = tokenize(f"so {way}, well").words
    assert "our-thing:odd" in {c.key for c in lexicon_of(load_grammar([tmp_path])).finder.find(words)}
