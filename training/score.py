"""Error rates of recognized text: all words, trade words and numbers.

Spellings that mean the same are made the same first.
"""

from __future__ import annotations

import re
from collections import Counter
from dataclasses import dataclass

from extractor.grammar.packs import Grammar, load_grammar
from training.numerals import TAG, tag_words

TRADE_LISTS = frozenset(
    "side compartment structure region surface tissue configuration technique tear-pattern device operation form "
    "tunnel-site "
    "finding pattern suture-role material".split()
)
"""Lists whose words are the trade's own; the others hold mostly everyday words."""
EVERYDAY = frozenset(
    "the and with for was were not are his her its own same this that from into onto over out one two three four "
    "five eight "
    "good great fine looked clean side number under top back front bottom below above beneath lost its has had does "
    "lift change "
    "changes set device devices material point post change figure hard soft any part whole day set way pull "
    "paper whole "
    "inner outer high left-over tied in up on of no by at to be is it a as or".split()
)
SAME = (
    (r"(?<=\d)\s*mm ?hg\b|\bmm ?hg\b", " millimeters of mercury"),
    (r"\bmm of\b", "millimeters of"),
    (r"(?<=\d)\s*mm\b|\bmm\b(?=s?\b)|\bmms\b", " millimeters"),
    (r"(?<=\d)\s*cm\b", " centimeters"),
    (r"(?<=\d)\s*(ml|mls)\b", " milliliters"),
    (r"°", " degrees "),
    (r"%", " percent "),
    (r"&", " and "),
    (r"\bmillimetre", "millimeter"),
    (r"\bcentimetre", "centimeter"),
    (r"\banaesthe", "anesthe"),
    (r"\bgrey\b", "gray"),
    (r"\bmr\b\.?", "mister"),
    (r"\bmrs\b\.?", "missus"),
    (r"\b(\d+)(st|nd|rd|th)\b", r"\1"),
    (r"\bdr\b\.?", "doctor"),
    (r"\bokay\b", "ok"),
    (r"\balright\b", "all right"),
    (r"(\d+) ?[x×] ?(\d+)", r"\1 by \2"),
    (r"(\d),(\d{3})\b", r"\1\2"),
)
SPELT = re.compile(r"\b([a-z])(?:[ .]+([a-z])\b)+\.?")
DIGITS = re.compile(r"(?<![\d.])\d(?: \d){2,}(?![\d.])")
"""An identifier said digit by digit, which may be written either way."""
WORD = re.compile(r"\d+(?:\.\d+)?|[a-z']+")


@dataclass(frozen=True)
class Score:
    """Counts of one or more texts; sums of scores are scores."""

    words: int = 0
    errors: int = 0
    trade: int = 0
    trade_errors: int = 0
    numbers: int = 0
    number_errors: int = 0
    inserted_trade: int = 0

    def __add__(self, other: Score) -> Score:
        """Both together."""
        return Score(*(a + b for a, b in zip(vars(self).values(), vars(other).values(), strict=True)))

    def rates(self) -> str:
        """Percentages: words, trade words, numbers."""
        pairs = ((self.errors, self.words), (self.trade_errors, self.trade), (self.number_errors, self.numbers))
        return "  ".join(f"{100 * wrong / max(1, all_):5.1f}" for wrong, all_ in pairs)


def trade_words(grammar: Grammar | None = None) -> frozenset[str]:
    """Single words that the grammar's trade lists hold, less everyday ones."""
    grammar = grammar or load_grammar()
    found = {
        word
        for name, entry in grammar.words
        if name in TRADE_LISTS
        for way in entry.spoken
        for word in re.findall(r"[a-z]{3,}", way.lower().replace("/", " "))
    }
    return frozenset(found - EVERYDAY)


def normal(text: str) -> list[str]:
    """Words of a text in one spelling: small letters, numbers in figures, units in full, spelt letters joined."""
    text = text.lower().replace("’", "'")
    text = re.sub(r"\b([a-z])\.(?=[a-z]\b)", r"\1 ", text)
    for pattern, instead in SAME:
        text = re.sub(pattern, instead, text)
    text = re.sub(r"\btwo[ -]oh\b|\b2[ -](oh|o|0)\b", "twooh", text)
    text = re.sub(r"(?<=[a-z])-(?=[a-z])", " ", text)
    text = re.sub(r"(\d)-(\d)", r"\1 to \2", text)
    text = SPELT.sub(lambda m: re.sub(r"[ .]", "", m[0]), text)
    text = TAG.sub(lambda m: m[2], tag_words(text))
    text = DIGITS.sub(lambda m: m[0].replace(" ", ""), text)
    return [w.strip("'") for w in WORD.findall(text.replace("'s", " s"))]


def align(said: list[str], heard: list[str]) -> list[tuple[str | None, str | None]]:
    """Pairs of words by least edits; None where one side has no word."""
    width = len(heard) + 1
    cost = [list(range(width))]
    for i, word in enumerate(said, 1):
        above, row = cost[-1], [i]
        for j, other in enumerate(heard, 1):
            row.append(min(above[j - 1] + (word != other), above[j] + 1, row[-1] + 1))
        cost.append(row)
    pairs: list[tuple[str | None, str | None]] = []
    i, j = len(said), len(heard)
    while i or j:
        if i and j and cost[i][j] == cost[i - 1][j - 1] + (said[i - 1] != heard[j - 1]):
            i, j = i - 1, j - 1
            pairs.append((said[i], heard[j]))
        elif i and cost[i][j] == cost[i - 1][j] + 1:
            i -= 1
            pairs.append((said[i], None))
        else:
            j -= 1
            pairs.append((None, heard[j]))
    return pairs[::-1]


def compounds(words: list[str], others: list[str]) -> list[str]:
    """Join two words that the other side writes as one ("cold hearted", "coldhearted")."""
    whole = set(others) - set(words)
    joined: list[str] = []
    for word in words:
        if joined and joined[-1] + word in whole:
            joined[-1] += word
        else:
            joined.append(word)
    return joined


def score(said: str, heard: str, trade: frozenset[str]) -> Score:
    """Score one text. An inserted trade word is one heard more often than it was said."""
    reference, found = normal(said), normal(heard)
    reference, found = compounds(reference, found), compounds(found, reference)
    pairs = align(reference, found)
    wrong = [a for a, b in pairs if a is not None and a != b]
    extra = sum(a is None for a, _ in pairs)
    spare = Counter(w for w in found if w in trade) - Counter(w for w in reference if w in trade)
    numbers = [w for w in reference if w[0].isdigit()]
    return Score(
        words=len(reference),
        errors=len(wrong) + extra,
        trade=sum(w in trade for w in reference),
        trade_errors=sum(w in trade for w in wrong),
        numbers=len(numbers),
        number_errors=sum(w[0].isdigit() for w in wrong),
        inserted_trade=sum(spare.values()),
    )


def stray_stops(said: str, heard: str) -> int:
    """Sentences that end, in what was heard, after a word where nothing ends in what was said."""
    reference, ends = _with_ends(said, r"(?<=[.?!:;])\s+|\n+")
    found, stops = _with_ends(heard, r"(?<=[.?!])\s+")
    i = j = -1
    place: dict[int, int] = {}
    for a, b in align(reference, found):
        i, j = i + (a is not None), j + (b is not None)
        if b is not None:
            place[j] = i
    return sum(place[stop] not in ends for stop in stops - {len(found) - 1})


def _with_ends(text: str, border: str) -> tuple[list[str], set[int]]:
    # Words, and which of them are the last of a sentence.
    words: list[str] = []
    ends: set[int] = set()
    for sentence in re.split(border, text):
        words += normal(sentence)
        ends |= {len(words) - 1} if words else set()
    return words, ends
