"""Spoken punctuation: signs where punctuation is dictated, plain words where it is not (common practice, no source)."""

from __future__ import annotations

import pytest

from extractor.grammar.packs import Grammar
from extractor.language.annotate import lexicon_of
from extractor.language.commands import SIGNS, apply_commands
from extractor.language.tokens import tokenize


def read(text: str, grammar: Grammar) -> str:
    return " ".join(apply_commands(tokenize(text), lexicon_of(grammar).punctuation).words)


@pytest.mark.parametrize(
    ("text", "words"),
    [
        ("right knee period the rim was rasped period", "right knee . the rim was rasped ."),
        ("rasped comma measured comma cut", "rasped , measured , cut"),
        ("findings colon none period", "findings : none ."),
        ("stable full stop closed full stop", "stable . closed ."),
        ("done new paragraph plan", "done \n plan"),
        ("done next line plan", "done \n plan"),
        ("torn question mark yes", "torn ? yes"),
        ("open paren left close paren", "( left )"),
        ("rasped semicolon cut semicolon tied", "rasped ; cut ; tied"),
        ("all hyphen inside comma outside dash in period", "all inside , outside in ."),
        ("twenty hyphen one comma two dash zero sutures period", "twenty one , two zero sutures ."),
        ("code four dash B comma six two dash zero period", "code four - b , six two - zero ."),
        ("ten dash fifteen comma cut period", "ten - fifteen , cut ."),
    ],
)
def test_signs(text: str, words: str, grammar: Grammar) -> None:
    assert read(text, grammar) == words


@pytest.mark.parametrize(
    "text",
    [
        "The warm up period was long.",
        "we waited for a long period",
        "no swelling of the colon",
        "a period of time and the period of rest",
        "the colon was seen and the comma was not",
    ],
)
def test_plain_words_stay(text: str, grammar: Grammar) -> None:
    assert read(text, grammar) == " ".join(tokenize(text).words)


def test_one_word_commands_count_only_where_punctuation_is_dictated(grammar: Grammar) -> None:
    once, twice = "right knee period", "right knee period rim rasped period"
    assert "." not in read(once, grammar)
    assert read(twice, grammar).count(".") == 2


def test_in_a_dictated_note_the_plain_word_still_stays(grammar: Grammar) -> None:
    text = "we waited for a period of time comma then went on period"
    assert read(text, grammar) == "we waited for a period of time , then went on ."


def test_a_sign_holds_the_place_of_its_words(grammar: Grammar) -> None:
    text = "done new paragraph plan comma then period"
    tokens = apply_commands(tokenize(text), lexicon_of(grammar).punctuation)
    said = {w: text[s:e] for w, s, e in zip(tokens.words, tokens.starts, tokens.ends, strict=True)}
    assert (said["\n"], said[","], said["."]) == ("new paragraph", "comma", "period")


def test_every_command_of_the_grammar_has_a_sign(grammar: Grammar) -> None:
    names = set(lexicon_of(grammar).punctuation.values())
    assert names and names <= set(SIGNS)
