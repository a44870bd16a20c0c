"""How the packs are loaded: the shipped ones are compared with one another where that is asked for."""

from __future__ import annotations

from pathlib import Path

import pytest

from extractor.errors import GrammarError
from extractor.grammar import packs
from extractor.grammar.inflect import closings, head, openings, spellings, words_in
from extractor.grammar.packs import Grammar, load_grammar


def test_no_word_of_the_shipped_packs_is_given_twice() -> None:
    assert load_grammar(checked=True).words == load_grammar().words


def test_a_word_given_twice_in_the_shipped_packs_is_found_when_asked_for(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    pack = tmp_path / "common"
    pack.mkdir()
    (pack / "words.txt").write_text("[color]\nwhite = white\nivory = ivory | white\n", encoding="utf-8")
    monkeypatch.setattr(packs, "shipped_grammars", lambda: tmp_path)
    assert len(load_grammar().words) == 2
    with pytest.raises(GrammarError, match=r"^common/words.txt:3: 'white' is in line 2"):
        load_grammar(checked=True)


@pytest.mark.parametrize("file", ["units.txt", "sounds.txt", "quantities-words.txt", "rivals.txt"])
def test_so_is_one_in_a_file_that_has_no_concepts(tmp_path: Path, monkeypatch: pytest.MonkeyPatch, file: str) -> None:
    pack = tmp_path / "common"
    pack.mkdir()
    (pack / "words.txt").write_text("[color]\nwhite = white\n", encoding="utf-8")
    (pack / file).write_text("[list]\none = way\nother = way\n", encoding="utf-8")
    monkeypatch.setattr(packs, "shipped_grammars", lambda: tmp_path)
    assert len(load_grammar().words) == 1
    with pytest.raises(GrammarError, match=rf"^common/{file}:3: 'way' is in line 2"):
        load_grammar(checked=True)


def test_openings_and_words_are_those_of_the_forms(grammar: Grammar) -> None:
    for way in {way for _, entry in grammar.words for way in entry.spoken}:
        forms = spellings(way)
        assert openings(way) == {form.split()[0] for form in forms}, way
        assert closings(way) == {form.split()[-1] for form in forms}, way
        assert openings(head(way)) == openings(way), way
        assert words_in([way]) == {word for form in forms for word in form.split()}, way
