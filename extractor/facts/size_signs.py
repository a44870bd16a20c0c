"""What speaks for or against a size's being this case's: the words around it, what they mean, and how it is told.

Signs of a size are pairs of a place ('c<': before it in its clause) and what stands there: a common word itself, any
other by how it ends, or a concept of the word lists and its list. `others_sizes` weighs them; `training.sizes` learns
the weights from the same. How a clause is meant (`Assertion`) is no sign: what that tells is left out before, and the
weights would learn nothing beside it.
"""

from __future__ import annotations

from bisect import bisect_left
from collections.abc import Collection, Iterable, Iterator
from functools import lru_cache

from extractor.facts.case import Case
from extractor.language.clause_words import FINITE, PRONOUNS
from extractor.language.clauses import Span
from extractor.language.english import plain_words
from extractor.language.quantities import Quantity
from extractor.language.unpunctuated import ending

COMMON = 4.0
"""Words at least this common (Zipf scale) are signs themselves, others by how they end."""
FAR = 60
"""Words on either side that are looked at, at most: a sentence may be a whole dictation."""
FARTHER = (1, 2, 3)
"""Words before and behind a number that are signs by their place, each by its own."""
PARTS = 5
"""A note is taken in so many parts by where a size stands in it."""
MANY = 4
"""So many sizes in one sentence are as good as more."""
SIGNS = frozenset({".", "?", ","})
NUMBER = "#"
WHOSE = frozenset({"my", "his", "her", "their", "our", "your", "its", "whose"})
WHO = PRONOUNS | {"you", "it", "this", "that", "one", "everybody", "everyone", "most", "who", "which", "whoever"}

NOTHING = "none"

Sign = tuple[str, str]
"""Where something stands, and what it is."""
Placed = tuple[str, Collection[str]]
"""A place and all that stands there."""


def signs_of(case: Case, q: Quantity) -> frozenset[Sign]:
    """All signs of a size, each once."""
    placed = (found for look in LOOKS for found in look(case, q))
    return frozenset((place, what) for place, all_there in placed for what in all_there)


def as_told(case: Case, q: Quantity) -> Iterator[Placed]:
    """How a size is told (by whom, by which verb, how exactly, and where in the note), and what its clause means."""
    clause, words = case.clause(q.number_start), case.words
    first, last = _reach(q, case.sentence(q.number_start))
    said = words[clause.start : clause.end]
    verb = next((w for w in reversed(words[clause.start : q.start]) if w in FINITE), NOTHING)
    who = next((w for w in said if w in WHO), NOTHING)
    sizes = min(MANY, sum([n.dimension is not None for n in case.numbers(first, last)]))
    told = ["always", f"verb {verb}", f"who {who}", f"of {q.dimension}", f"part {PARTS * q.start // len(words)}"]
    yield "told", [*told, f"sizes {sizes}", *[w for w in said if w in WHOSE], *_exact(q)]
    opens, closes = _reach(q, clause)
    if closes - opens <= FAR:
        yield "c:", case.clause_keys[clause.number]
        yield "c::", clause.lists
    else:
        yield from _meant(case, "c", opens, closes)


def in_clause(case: Case, q: Quantity) -> Iterator[Placed]:
    """The words of a size's clause, and those right beside it."""
    opens, closes = _reach(q, case.clause(q.number_start))
    first, last = _reach(q, case.sentence(q.number_start))
    start = max(first, min(opens, q.start - FARTHER[-1]))
    own = _classes(case, start, min(last, max(closes, q.end + FARTHER[-1])))
    before, behind = q.start - start, q.end - start
    yield "c<", own[opens - start : before]
    yield "c>", own[behind : closes - start]
    yield "<", [f"{far} {w}" for far, w in zip(FARTHER, reversed(own[:before]), strict=False)]
    yield ">", [f"{far} {w}" for far, w in zip(FARTHER, own[behind:], strict=False)]


def _exact(q: Quantity) -> list[str]:
    """How exactly a size is told: in round numbers, as a range, about."""
    value = next((v for v in (q.value, q.high, q.low) if v is not None), 0.5)
    exact = {"tens": value % 10 == 0, "fives": value % 5 == 0, "halves": value % 1 != 0}
    exact |= {"range": q.value is None, "about": q.approximate}
    return [name for name in exact if exact[name]]


def in_sentence(case: Case, q: Quantity) -> Iterator[Placed]:
    """The signs of a size in its sentence, beside its clause."""
    opens, closes = _reach(q, case.clause(q.number_start))
    first, last = _reach(q, case.sentence(q.number_start))
    yield from _meant(case, "s", first, last)
    yield "s<", _classes(case, first, opens)
    yield "s>", _classes(case, closes, last)


def in_sentences_beside(case: Case, q: Quantity) -> Iterator[Placed]:
    """The signs of a size in the sentences before and behind its own."""
    sentences, number = case.note.segments.sentences, case.sentence(q.number_start).number
    if number:
        before = sentences[number - 1]
        yield from _said(case, "b", max(before.start, before.end - FAR), before.end)
    if number + 1 < len(sentences):
        behind = sentences[number + 1]
        yield from _said(case, "n", behind.start, min(behind.end, behind.start + FAR))


LOOKS = (as_told, in_clause, in_sentence, in_sentences_beside)
"""Where the signs of a size stand, the nearest first."""


def _reach(q: Quantity, whole: Span) -> tuple[int, int]:
    """The tokens of a clause or sentence that are looked at for a size, its own among them."""
    return min(q.start, max(whole.start, q.start - FAR)), max(q.end, min(whole.end, q.end + FAR))


def _classes(case: Case, start: int, end: int) -> list[str]:
    """Of each token its class; those of a number are one and the same."""
    own = [class_of(w) for w in case.words[start:end]]
    for n in case.numbers(start, end):
        own[n.start - start : n.end - start] = [NUMBER] * (min(n.end, end) - n.start)
    return own


def _said(case: Case, place: str, start: int, end: int) -> Iterator[Placed]:
    """The words of a stretch, and what they mean."""
    yield place, [class_of(w) for w in case.words[start:end]]
    yield from _meant(case, place, start, end)


def _meant(case: Case, place: str, start: int, end: int) -> Iterator[Placed]:
    """What the words of a stretch mean, and the lists that this stands in."""
    inside = case.opening(start, end)
    yield f"{place}:", [c.key for c in inside]
    yield f"{place}::", [c.list for c in inside]


@lru_cache(maxsize=8192)
def class_of(word: str) -> str:
    """A common word or a stop itself, any other by its ending."""
    return word if word in SIGNS or plain_words().get(word, 0.0) >= COMMON else ending(word)


def numbers_inside(case: Case, start: int, end: int) -> Iterable[Quantity]:
    """The note's quantities that lie in the characters `[start, end)`."""
    tokens = case.note.tokens
    numbers = case.numbers(bisect_left(tokens.starts, start), bisect_left(tokens.starts, end))
    return (q for q in numbers if tokens.ends[q.end - 1] <= end)
