"""The annotated note: numbers, concepts and clauses laid over words that stay as they were said."""

from __future__ import annotations

import pytest

from extractor.grammar.packs import Grammar
from extractor.language.annotate import annotate, lexicon_of

TEXT = "Right knee. The meniscal rim was rasped; the defect measured eighteen, no, nineteen millimeters along the rim."


def test_a_note_is_read_in_all_its_layers(grammar: Grammar) -> None:
    note = annotate(TEXT, grammar)
    assert [(q.value, q.unit, q.earlier) for q in note.quantities] == [(19, "mm", (18,))]
    keys = {c.key for c in note.concepts}
    assert {"side:right", "joint:knee", "thing:rim", "thing:defect", "dimension:along-rim"} <= keys
    assert len(note.segments.sentences) == 3
    assert {a.mood for a in note.assertions} == {"performed"}


def test_the_text_stays_as_it_was(grammar: Grammar) -> None:
    note = annotate(TEXT, grammar)
    assert note.tokens.text == TEXT
    (quantity,) = note.quantities
    assert note.tokens.said(quantity.start, quantity.end) == "eighteen, no, nineteen millimeters"


def test_what_a_sound_repair_reads_keeps_the_place_of_what_was_heard(grammar: Grammar) -> None:
    """'The graph was thawed' in a note about the meniscus: 'graft' is read, 'graph' was heard."""
    text = "Meniscus transplant. The graph was thawed and the graph was cut."
    note = annotate(text, grammar)
    assert "graft" in note.words and note.repairs
    for word, start, end in zip(note.words, note.tokens.starts, note.tokens.ends, strict=True):
        assert word == "graft" or text[start:end].lower() == word
    for r in note.repairs:
        assert text[r.start : r.end].lower() == r.heard.lower() != r.read_as


def test_the_same_text_gives_the_same_note(grammar: Grammar) -> None:
    assert annotate(TEXT, grammar) == annotate(TEXT, grammar)


def test_the_lexicon_is_built_once(grammar: Grammar) -> None:
    assert lexicon_of(grammar) is lexicon_of(grammar)


@pytest.mark.parametrize(
    ("way", "key"),
    [
        ("the A C L was torn", "structure:acl"),
        ("the ACL was torn", "structure:acl"),
        ("the anterior cruciate ligament was torn", "structure:acl"),
        ("from the posterior root", "dimension:from-posterior-root"),
        ("off the back root", "dimension:from-posterior-root"),
        ("an all-inside stitch", "technique:all_inside"),
        ("an all inside stitch", "technique:all_inside"),
    ],
)
def test_ways_of_saying_one_thing(way: str, key: str, grammar: Grammar) -> None:
    assert key in {c.key for c in annotate(f"Knee: {way}.", grammar).concepts}
