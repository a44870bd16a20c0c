"""Lines cut without spaCy are cut as spaCy cuts them, whatever stands in them; the others are left to spaCy."""

from __future__ import annotations

from pathlib import Path

import pytest
import yaml
from hypothesis import example, given, settings
from hypothesis import strategies as st

from extractor.grammar.packs import Grammar
from extractor.language.pieces import CHUNK, PARTED, SHORTENED, Piece, english, is_one_piece, pieces, plain_pieces
from extractor.language.tokens import QUOTES

NOTES = sorted((Path(__file__).resolve().parents[1] / "gold").glob("n*1.yaml"))


def listed(cut: list[Piece]) -> list[tuple[str, int, str]]:
    return [(piece.text, piece.idx, piece.whitespace_) for piece in cut]


def as_spacy_cuts(line: str) -> bool:
    """Whether a line was cut here; it must be as spaCy cuts it."""
    found = plain_pieces(line)
    if found is not None:
        assert listed(list(found)) == listed(list(english()(line)))
    return found is not None


def rules() -> list[str]:
    english()
    from spacy.lang.en import English

    return list(English.Defaults.tokenizer_exceptions)


@pytest.mark.parametrize(
    "line",
    [
        "eighteen millimeters",
        "Cut to 9mm, 18.5 mm.",
        "All-inside, the mid-body: three of them; are they tied?",
        "I took the ACL out, no.",
        "trimmed to 12.",
        "a 9.5cm, b",
        "It's the patient's rim, isn't it? I've cut, that's all we cannot do.",
        "Thats what i didnt, 9 mm % of - 8 x 7.",
        "10x8, 0-90, 2-0 of 3/4 and 9.5x7mm",
        "n't 's 've",
        "Stable. No. 2 in the ACL. At 30%, 10cc.",
    ],
)
def test_plain_lines_are_cut_here(line: str) -> None:
    assert as_spacy_cuts(line)


@pytest.mark.parametrize(
    "line",
    ["gonna", "DIDNT", "im.", "two  blanks", " ahead", "behind ", "Dr. No", "St. 2", "e.g.", "a.", "90°", "so...",
     "5 mm.so", "Über", "we-id", "x-isn't", "in/out", "", "9mmHg", "1,000", "so.no", "vs.", "x-co.", "Miss.", "9mm.5",
     "we'd've", "o'clock", "its'", "'tis", "it's-x"],
)  # fmt: skip
def test_all_others_are_left_to_spacy(line: str) -> None:
    assert plain_pieces(line) is None
    assert listed(list(pieces(line))) == listed(list(english()(line)))


def test_words_with_a_rule_of_their_own_are_those_of_spacy() -> None:
    assert {rule.lower() for rule in rules() if rule.isascii() and rule.isalpha()} == PARTED
    assert {
        rule[:-1].lower() for rule in rules() if rule[:-1].isalpha() and rule[-1] == "." and rule[1] != "."
    } == SHORTENED


def test_what_spacy_has_a_rule_for_is_cut_by_it() -> None:
    for rule in rules():
        for line in (rule, rule.lower(), rule.upper(), *(f"{rule}{stop}" for stop in ".,;:?!"), f"so {rule} 9"):
            as_spacy_cuts(line)


def test_the_words_of_notes_are_cut_as_by_spacy() -> None:
    lines = {line.translate(QUOTES) for path in NOTES for line in yaml.safe_load(path.read_text())["note"].splitlines()}
    words = {word for line in lines for word in line.split()}
    assert sum(map(as_spacy_cuts, sorted(words))) > 0.8 * len(words)
    for line in sorted(lines):
        as_spacy_cuts(line)


def test_the_words_of_the_lists_are_cut_as_by_spacy(grammar: Grammar) -> None:
    for word in sorted({word for _, entry in grammar.words for way in entry.spoken for word in way.split()}):
        as_spacy_cuts(word)
        assert not is_one_piece(word) or len(english()(word)) == 1


@settings(max_examples=100, deadline=None)
@given(st.from_regex(CHUNK, fullmatch=True))
def test_any_plain_line_is_cut_as_by_spacy(line: str) -> None:
    as_spacy_cuts(line)


@settings(max_examples=100, deadline=None)
@given(
    st.lists(st.sampled_from([*"aAiIoOxXdDpP018.,;:?!-'", " ", "mm", "ray", "Miss", "vs", "is", "n't", "'s"])).map(
        "".join
    )
)
@example("n'ta")
def test_any_line_of_such_signs_is_cut_as_by_spacy(line: str) -> None:
    as_spacy_cuts(line)
