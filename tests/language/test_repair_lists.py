"""The lists of misheard words: what may stand in them, and what is said of a mistake."""

from __future__ import annotations

import re
from collections import Counter
from collections.abc import Iterator
from dataclasses import replace
from itertools import chain, product
from pathlib import Path

import pytest

from extractor.errors import GrammarError
from extractor.grammar.confusables import Surroundings, as_heard, confusables_of
from extractor.grammar.hotwords import hotwords_of
from extractor.grammar.inflect import spellings
from extractor.grammar.packs import Grammar, load_grammar
from extractor.grammar.words import WordEntry
from extractor.language.english import plain_words
from extractor.language.likeness import ANYWHERE, FUNCTION, trade_of
from extractor.language.repair import repair
from extractor.language.tokens import tokenize


def with_list(folder: Path, text: str) -> Grammar:
    pack = folder / "site"
    pack.mkdir()
    (pack / "words.txt").write_text("[thing]\nbolster = bolster~\n", encoding="utf-8")
    (pack / "sounds.txt").write_text(text, encoding="utf-8")
    return load_grammar([folder])


def test_a_site_adds_its_own_mishearings(tmp_path: Path) -> None:
    grammar = with_list(tmp_path, "[bolster]\nheard = bowls to\nwhere = the _ was\n[as-heard]\nlocal = trephinater\n")
    text = "Left knee. The bowls to was tied; he bowls to win. A trephinater was used."
    tokens, repairs = repair(tokenize(text), grammar)
    assert [(r.heard, r.read_as) for r in repairs] == [("bowls to", "bolster")]
    assert tokens.words.count("bowls") == 1
    assert "trephinater" in as_heard(grammar)


@pytest.mark.parametrize(
    ("text", "said"),
    [
        ("[root]\nheared = route\n", "sounds.txt:2: 'heared' is none of heard, where, near, note, doubt, never"),
        ("[root]\nwhere = posterior _\n", "sounds.txt:1: [root] has no line 'heard = ...'"),
        ("[root]\nheard = route\nwhere = posterior\n", "sounds.txt:3: 'posterior' needs one '_'"),
        ("[root]\nheard = route\nwhere = _ <colour>\n", "no pack has a list 'colour'"),
        ("[root]\nheard = route\nnear = bone tunnel\n", "'near' and 'note' take single words"),
    ],
)
def test_a_mistake_is_told_with_its_place(tmp_path: Path, text: str, said: str) -> None:
    with pytest.raises(GrammarError) as error:
        confusables_of(with_list(tmp_path, text))
    assert said in str(error.value)
    assert "\n" not in str(error.value)


def test_what_the_shipped_lists_read_are_words_the_grammar_knows() -> None:
    grammar = load_grammar()
    known = trade_of(grammar).known
    punctuation = {"comma", "colon", "period"}
    strange = {c.file: c.read for c in confusables_of(grammar) if not set(c.read) <= known | punctuation}
    assert strange == {}


def test_nothing_is_heard_that_is_to_be_read() -> None:
    assert [c.file for c in confusables_of(load_grammar()) if c.read in c.heard] == []


def test_where_two_lists_hear_the_same_words_their_places_differ() -> None:
    seen: dict[tuple[tuple[str, ...], object], tuple[str, ...]] = {}
    known = confusables_of(load_grammar())
    times = Counter(phrase for confusable in known for phrase in confusable.heard)
    assert max(times.values()) > 1
    for confusable in known:
        for phrase in (heard for heard in confusable.heard if times[heard] > 1):
            for place in _places(confusable.where):
                other = seen.setdefault((phrase, place), confusable.read)
                assert other == confusable.read, f"{confusable.file}: {phrase} is read as {other} there too"


def _places(where: Surroundings) -> Iterator[object]:
    for pattern in where.patterns:
        for before in product(*(ways.phrases for ways in pattern.before)):
            for after in product(*(ways.phrases for ways in pattern.after)):
                yield tuple(chain(*before)), tuple(chain(*after))


def test_surroundings_are_matched_as_they_stand_the_longest_first(tmp_path: Path) -> None:
    grammar = with_list(
        tmp_path,
        "[zinc]\nheard = sink\nwhere = <region> <surface> _ | <surface> _ <region> <surface> | <surface> _ | at _\n",
    )
    (zinc,) = [c for c in confusables_of(grammar) if c.read == ("zinc",)]
    for said, held in [
        ("the posterior horn superior sink then", "posterior horn superior _"),
        ("superior sink posterior inferior", "superior _ posterior inferior"),
        ("and on top sink posterior then", "on top _"),
        ("at sink", "at _"),
        ("posterior sink inferior", None),
        ("the sink", None),
    ]:
        words = said.split()
        assert zinc.where.hold(words, words.index("sink"), words.index("sink") + 1) == held


def test_hotwords_are_drawn_from_the_packs_and_a_site_adds_its_own(tmp_path: Path) -> None:
    shipped = hotwords_of(load_grammar())
    assert "tourniquet" in shipped and shipped.endswith(".")
    many = " | ".join(f"word number {i}" for i in range(200))
    own = hotwords_of(with_list(tmp_path, f"[hotwords]\nwords = femoral bolster | {many}\n"))
    assert own.startswith(shipped.rstrip(".")) and "femoral bolster" in own
    assert len(own) <= 900, "the recognizer would cut them off"


def test_the_company_of_a_word_is_what_its_forms_and_the_examples_say_with_it(grammar: Grammar) -> None:
    entries = tuple(item for i, item in enumerate(grammar.words) if i % 12 == 0)
    some = replace(
        grammar, words=(*entries, ("thing", WordEntry("x", ("center/edge (of the) fiber~ (all the)",), "", 1)))
    )
    forms = {form for _, entry in some.words for way in entry.spoken for form in spellings(way)}
    together: dict[str, set[str]] = {}
    for sentence in (*forms, *trade_of(some).examples):
        parted = re.sub("[-.,]", " ", sentence.lower()).replace("'", " '").split()
        words = {word for word in parted if word.isalpha() and plain_words().get(word, 0.0) < FUNCTION}
        for word in words:
            together.setdefault(word, set()).update(words)
    anywhere = {word for word, others in together.items() if len(others) > ANYWHERE}
    company = {word: own for word, others in together.items() if (own := others - anywhere - {word})}
    assert trade_of(some).company == company
    assert "centre" in company["fibres"] and "centre" not in company["fibers"]
