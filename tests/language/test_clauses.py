"""Sentences and clauses: where one thought ends and the next begins. Sentences are worded for these tests."""

from __future__ import annotations

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from extractor.grammar.packs import Grammar, load_grammar
from extractor.language.annotate import annotate


def clauses(text: str, grammar: Grammar) -> list[str]:
    note = annotate(text, grammar)
    return [" ".join(note.words[c.start : c.end]) for c in note.segments.clauses]


def sentences(text: str, grammar: Grammar) -> list[str]:
    note = annotate(text, grammar)
    return [" ".join(note.words[s.start : s.end]) for s in note.segments.sentences]


@pytest.mark.parametrize(
    ("text", "expected"),
    [
        # a connector
        ("The rim was rasped and the defect was measured.", ["the rim was rasped", "and the defect was measured ."]),
        ("Rim rasped because it was smooth.", ["rim rasped", "because it was smooth ."]),
        # a pause
        ("The rim was rasped, the defect measured.", ["the rim was rasped ,", "the defect measured ."]),
        ("The graft was cut; the rim was rasped.", ["the graft was cut ;", "the rim was rasped ."]),
        # a new subject without any sign
        ("the rim was rasped the defect was measured", ["the rim was rasped", "the defect was measured"]),
        ("the rim was rasped we measured the defect", ["the rim was rasped", "we measured the defect"]),
        ("the left knee second graft was cut", ["the left knee", "second graft was cut"]),
        # what heads a sentence belongs to it
        ("Tourniquet, inflated.", ["tourniquet , inflated ."]),
        ("In the graft we passed the sutures.", ["in the graft we passed the sutures ."]),
        # a list of one kind is one
        (
            "The medial meniscus, the lateral meniscus and the ACL were intact.",
            ["the medial meniscus , the lateral meniscus and the acl were intact ."],
        ),
        ("ACL and PCL intact.", ["acl and pcl intact ."]),
        # a number is never cut
        ("The defect was one and a half centimeters long.", ["the defect was one and a half centimeters long ."]),
        ("Up for one hour and five minutes.", ["up for one hour and five minutes ."]),
        # nor is a phrase of the grammar
        ("The tear ran from front to back.", ["the tear ran from front to back ."]),
    ],
)  # fmt: skip
def test_clauses(text: str, expected: list[str], grammar: Grammar) -> None:
    assert clauses(text, grammar) == expected


@pytest.mark.parametrize(
    ("text", "count"),
    [
        ("The rim was rasped. The defect was measured.", 2),
        ("Is it rasped? Yes. Cut!", 3),
        ("Rim rasped\nDefect measured\nGraft cut", 3),
        ("The defect was 2.5 mm, approx. 3 mm wide.", 1),
        ("The rim was rasped, the defect measured, the graft cut.", 1),
    ],
)
def test_sentences(text: str, count: int, grammar: Grammar) -> None:
    assert len(sentences(text, grammar)) == count


def test_a_long_stretch_without_punctuation_is_cut_at_its_subjects(grammar: Grammar) -> None:
    text = (
        "we looked at the knee the meniscus was torn the rim was rasped and then the defect was measured at twenty "
        "millimeters and then we cut the graft and then we passed the sutures and then they were tied and then the "
        "knee was closed and the patient went to recovery"
    )
    found = sentences(text, grammar)
    assert "the meniscus was torn" in found and "the rim was rasped" in " ".join(found)
    assert len(found) > 5
    assert any("twenty millimeters" in s and "graft" not in s for s in found)


def test_findings_in_a_stretch_without_punctuation_part_at_each_structure(grammar: Grammar) -> None:
    text = (
        "findings are like this acl complete tear from femoral side pcl is normal medial meniscus is normal lateral "
        "meniscus is having a radial tear femoral socket made up to thirty mm depth tibial jig kept at fifty degrees "
        "graft pulled through and button flipped long knee brace given full weight bearing from tomorrow"
    )
    found = clauses(text, grammar)
    for part in (
        "pcl is normal", "medial meniscus is normal", "tibial jig kept at fifty degrees", "knee brace given",
        "full weight bearing from tomorrow",
    ):  # fmt: skip
        assert part in found


def test_a_stretch_without_punctuation_parts_things_pressures_and_denials(grammar: Grammar) -> None:
    text = (
        "cuff blown up to two seventy millimeters of mercury portals and a look the medial meniscus is torn and from "
        "the capsule it is three millimeters so i rasped it and sewed the body and the tape that i had prepared was "
        "not used i had the needles opened but never used them so no outside in stitch probed the whole thing and it "
        "holds then washed closed dressing brace locked tourniquet was let down"
    )
    found = clauses(text, grammar)
    for part in (
        "portals", "and from the capsule it is three millimeters", "that i had prepared was not used",
        "i had the needles opened", "so no outside in stitch", "tourniquet was let down",
    ):  # fmt: skip
        assert part in found, found


def test_the_same_stretch_with_punctuation_is_cut_at_its_signs(grammar: Grammar) -> None:
    text = "We looked at the knee, the meniscus was torn, the rim was rasped, and then the defect was measured."
    assert len(sentences(text, grammar)) == 1


TEXTS = st.lists(
    st.sampled_from("the rim meniscus was torn and , . : ; ? if not we ten millimeters medial \n then ( )".split(" ")),
    max_size=60,
).map(" ".join)


@settings(max_examples=100, deadline=None)
@given(TEXTS)
def test_every_token_lies_in_one_clause_and_one_sentence(text: str) -> None:
    note = annotate(text, load_grammar())
    segments = note.segments
    for spans in (segments.clauses, segments.sentences):
        assert [s.number for s in spans] == list(range(len(spans)))
        assert [t for s in spans for t in range(s.start, s.end)] == list(range(len(note.words)))
    assert len(note.assertions) == len(segments.clauses)
    for token in range(len(note.words)):
        clause, sentence = segments.clause_at(token), segments.sentence_at(token)
        assert sentence.start <= clause.start <= token < clause.end <= sentence.end
    for sentence in segments.sentences:
        own = segments.clauses_of(sentence) if note.words else ()
        assert [t for c in own for t in range(c.start, c.end)] == (list(range(sentence.start, sentence.end)))
    for q in note.quantities:
        assert all(segments.level[i] == 0 for i in range(q.number_start + 1, q.end))


def test_a_span_tells_its_words_and_lists_and_every_token_lies_in_one(grammar: Grammar) -> None:
    note = annotate("The meniscus was torn, and we trimmed it. Rim of six millimeters.\nNo drain.", grammar)
    segments = note.segments
    for spans, at in ((segments.sentences, segments.sentence_at), (segments.clauses, segments.clause_at)):
        assert [at(i) for i in range(len(note.words))] == [s for s in spans for _ in range(s.start, s.end)]
        for span in spans:
            assert span.said == {note.words[i] for i in range(span.start, span.end)}
            assert span.lists == {c.list for c in note.concepts if span.start <= c.start < span.end}
    assert [c for s in segments.sentences for c in segments.clauses_of(s)] == list(segments.clauses)
    assert segments.clause_at(-1) == segments.clause_at(len(note.words)) == segments.clauses[-1]
