"""Reading tokens: every token holds its place in the note, and the note itself is never rewritten."""

from __future__ import annotations

from pathlib import Path

import pytest
import yaml
from hypothesis import given, settings
from hypothesis import strategies as st

from extractor.language.tokens import Tokens, tokenize

NOTES = sorted((Path(__file__).resolve().parents[1] / "gold").glob("n*.yaml"))
SAME = str.maketrans({"’": "'", "‘": "'", "–": "-", "—": "-", "−": "-", "\u2010": "-", "\u2011": "-", "×": "x"})
DOTS = ("..", "...", "....", "…")
STANDS_FOR = {
    ",": ("-", "/", ">", "->", "=>", "→", "-->", ",", *DOTS),
    ".": DOTS,
    "n't": ("nt",),
    "'s": ("s",),
}
"""A dash between two thoughts, a slash with blanks, an arrow and dots are read as a pause; 'didnt' as 'didn't'."""


def says(word: str, chars: str) -> bool:
    """Whether a token is what its characters say, but for case, kind of quote and dash, and dots between letters."""
    plain = chars.translate(SAME)
    if word == "\n":
        return not chars.strip()
    return word in (plain.lower(), plain.lower().replace(".", "")) or plain in STANDS_FOR.get(word, ())


def holds(tokens: Tokens) -> None:
    """Each token says what its characters say, and they stand in order without overlap."""
    last = 0
    for word, start, end in zip(tokens.words, tokens.starts, tokens.ends, strict=True):
        assert last <= start < end <= len(tokens.text)
        assert says(word, tokens.text[start:end]), (word, tokens.text[start:end])
        last = end


@pytest.mark.parametrize("path", NOTES, ids=lambda path: path.stem)
def test_every_token_is_what_stands_at_its_place(path: Path) -> None:
    text = yaml.safe_load(path.read_text(encoding="utf-8"))["note"]
    tokens = tokenize(text)
    assert len(tokens) > 40
    assert tokens.text is text
    holds(tokens)


@settings(max_examples=150, deadline=None)
@given(st.text(max_size=200) | st.text("aA0159.,-–—/×x>=→'’ \n", max_size=80))
def test_any_text_is_cut_into_what_stands_there(text: str) -> None:
    holds(tokenize(text))


@pytest.mark.parametrize(
    ("text", "words"),
    [
        ("10mm", "10 mm"),
        ("325mmHg", "325 mmhg"),
        ("30°", "30 °"),
        ("2.5x20", "2.5 x 20"),
        ("12×8", "12 x 8"),
        ("4–15 kg", "4 - 15 kg"),
        ("4-15 kg", "4 - 15 kg"),
        ("3–5mm", "3 - 5 mm"),
        ("size 2-0", "size 2 - 0"),
        ("all-inside", "all inside"),
        ("ACL/PCL", "acl / pcl"),
        ("white / blue", "white , blue"),
        ("one - two", "one , two"),
        ("a -> b", "a , b"),
        ("it’s wasn't", "it 's was n't"),
        ("A.C.L. intact.", "acl intact ."),
        ("approx. 5 cm", "approx 5 cm"),
        ("post. root, ant. root", "post root , ant root"),
        ("uh the um knee", "the knee"),
        ("stable... The graft", "stable . the graft"),
        ("thirty... I'd call it thirty-two…", "thirty , i 'd call it thirty two ."),
        ("white... posterior superior", "white , posterior superior"),
        ("the... um... rim is, uh, three, um, millimeters", "the rim is three , millimeters"),
        ("forty... one of sixty... seventy", "forty one of sixty , seventy"),
        ("The Rim WAS kept", "the rim was kept"),
    ],
)
def test_words(text: str, words: str) -> None:
    assert " ".join(tokenize(text).words) == words


def test_a_short_word_before_a_capital_still_ends_its_sentence() -> None:
    assert tokenize("Torn at the root post. Then cut.").words[-4:] == [".", "then", "cut", "."]


def test_lines() -> None:
    assert tokenize("line one\nLine two\n\n\nLine three").words.count("\n") == 2, "blank lines are one break"
    assert "\n" not in tokenize("x").words


def test_a_hard_wrapped_line_goes_on() -> None:
    """A long line that is followed by small letters was broken by a typewriter, not by a thought."""
    long = "The rim of the meniscus was prepared with a rasp until it bled and then"
    assert len(long) > 60
    assert "\n" not in tokenize(f"{long}\nthe defect was measured.").words
    assert "\n" in tokenize(f"{long}\nThe defect was measured.").words
    assert "\n" in tokenize("Rim rasped\nthe defect measured").words, "a short line was ended on purpose"


def test_lines_of_whole_sentences_are_one_paragraph() -> None:
    assert "\n" not in tokenize("The rim was rasped.\nThe defect was measured.").words
    for apart in ("Anesthesia: Spinal.\nHe lay supine.", "1. Rim rasped.\n2. Cut.", "Rim rasped.\nFINDINGS\nTorn."):
        assert "\n" in tokenize(apart).words
    assert "\n" in tokenize("The rim was rasped.\n\nThe defect was measured.").words


def test_said_gives_the_notes_own_characters() -> None:
    tokens = tokenize("The RIM  was kept.")
    assert tokens.said(1, 3) == "RIM  was"
    assert tokens.said(2, 2) == ""


def test_a_contraction_that_lost_its_apostrophe_is_one() -> None:
    assert tokenize("i didnt and it wasnt, thats all").words == "i did n't and it was n't , that 's all".split()
    assert tokenize("its size, and 4 nt of it").words == "its size , and 4 nt of it".split()
