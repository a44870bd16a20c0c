"""Sizes said in a note that are not this case's: weighed by all the words around each.

'Nine is what everybody drills', 'the other one hyperextends ten', 'on the scan it had widened to fourteen': word lists
know single signs of whose a size is (`theirs`, `extractor.language.generic`); this weighs all words of its sentence and
of the one before together, as `extractor.language.unpunctuated` does where thoughts part. `training.sizes` learns the
weights from the notes whose facts and traps are written down.

What is doubted becomes a reference. It yields to another value of the same thing that is doubted less; standing
alone, it must be doubted more, since nobody would ask about it. A number that no rule reads is asked about only if not
doubted so.
"""

from __future__ import annotations

from bisect import bisect_left
from collections.abc import Iterator, Sequence
from dataclasses import dataclass, replace
from functools import lru_cache
from importlib.resources import files

from extractor.facts.case import Case
from extractor.facts.draft import FactDraft
from extractor.facts.scanned import read_off_scan
from extractor.grammar.limits import limits_of
from extractor.language.concepts import Concept
from extractor.language.english import plain_words
from extractor.language.quantities import Quantity
from extractor.language.unpunctuated import ending

WEIGHTS = "others_sizes.tsv"
COMMON = 4.0
"""Words at least this common (Zipf scale) are weighed as themselves, others by how they end."""
ALONE, BESIDE, LESS = 150, 120, 100
"""Weights (hundredths of a logit) above which a size is another's where it stands alone, or else beside another value
of its thing; there that one must weigh less by so much. Of sizes of other writers that were read right, 1 in 300 weighs
as much (`training/README.md`)."""
FAR = 60
"""Words on either side that are weighed, at most: a sentence may be a whole dictation."""
NEAR = 3
"""Words before and behind a number that are weighed by their place, each by its own."""
NAMED = ("thing", "structure", "device", "dimension", "action", "finding", "graft-source", "region", "side")
"""Lists of what a sentence is about: its words count as what they mean, too. Lists of signs of whose a size is are left
to the word lists, so that the two are witnesses apart."""
SIGNS = frozenset({".", "?", ","})
NUMBER, NAMED_IN = "#", "named"
ANOTHERS = "another's by the words around it"
"""The rule that the evidence names for the words that told so."""
TELLING = 4
"""So many of the heaviest words are shown."""
VALUES = ("value", "low", "high")
NONE: dict[str, int] = {}

Sign = tuple[str, str]
"""Where a word stands ('c<': before the number in its clause), and its class."""


@dataclass(frozen=True)
class Weighed:
    """A number, its weight for being another's (hundredths of a logit), and the tokens that told most of it."""

    quantity: Quantity
    weight: int
    told_by: tuple[tuple[int, int], ...]


def left_aside(case: Case, drafts: Sequence[FactDraft]) -> list[FactDraft]:
    """All drafts; a size that is another's by the words around it is a reference, and its evidence says by which."""
    sizes = [n for n, d in enumerate(drafts) if d.kind == "measurements" and d.fields.get("role") != "reference"]
    weight = {n: min((_own_weight(case, q) for q in _numbers(case, drafts[n])), default=BESIDE) for n in sizes}
    out = list(drafts)
    for n in sizes:
        if weight[n] <= BESIDE:
            continue
        beside = [weight[m] for m in sizes if m != n and _rival(case, drafts[n], drafts[m])]
        if weight[n] > ALONE or any(weight[n] - other > LESS for other in beside):
            told = [piece for q in _numbers(case, drafts[n]) for piece in weighed(case, q).told_by]
            spans = (*drafts[n].spans, *case.spans(told, ANOTHERS))
            out[n] = replace(drafts[n], fields={**drafts[n].fields, "role": "reference"}, spans=spans)
    return out


def _own_weight(case: Case, q: Quantity) -> int:
    """A number's weight. One that was put right is the speaker's own; one off a scan yields only as `settled` says."""
    return BESIDE if q.earlier or q.put_right or read_off_scan(case, q) else weight_of(case, q)


def is_anothers(case: Case, q: Quantity) -> bool:
    """Whether a number that no rule reads is so surely another's that nobody need be asked."""
    return weight_of(case, q) > ALONE


def weighed(case: Case, q: Quantity) -> Weighed:
    """A number's weight, and the words that add most to it."""
    by_token: dict[tuple[int, int], int] = {}
    for (place, word), tokens in signs_of(case, q).items():
        if tokens[0] < tokens[1] and not case.numbers(*tokens):
            by_token[tokens] = by_token.get(tokens, 0) + _weights().get(place, {}).get(word, 0)
    heaviest = sorted((t for t in by_token if by_token[t] > 0), key=lambda t: (-by_token[t], t))
    return Weighed(q, weight_of(case, q), tuple(sorted(heaviest[:TELLING])))


def weight_of(case: Case, q: Quantity) -> int:
    """How much the words around a number say that it is another's, in hundredths of a logit."""
    weights, total = _weights(), 0
    for place, words, *_ in _looked_at(case, q):
        of_place = weights.get(place, NONE)
        total += sum(of_place[word] for word in of_place.keys() & words)
    return total


def signs_of(case: Case, q: Quantity) -> dict[Sign, tuple[int, int]]:
    """What speaks for or against a number's being another's, each once, and the tokens `[start, end)` it rests on."""
    found: dict[Sign, tuple[int, int]] = {}
    for place, words, first, wide in _looked_at(case, q):
        found |= {(place, word): (at, at + wide) for at, word in enumerate(words, first) if word}
    sentence = case.sentence(q.number_start)
    for c in _named(case, max(sentence.start, q.start - FAR), min(sentence.end, q.end + FAR)):
        found[NAMED_IN, c.key] = (c.start, c.end)
    return found


def _looked_at(case: Case, q: Quantity) -> Iterator[tuple[str, list[str], int, int]]:
    """What is weighed of a number: a place, its words, the token the first of them opens at, and each one's tokens."""
    clause, sentence = case.clause(q.number_start), case.sentence(q.number_start)
    first, last = max(sentence.start, q.start - FAR), min(sentence.end, q.end + FAR)
    own = _classes(case, first, last)
    start, end = max(first, q.start), min(last, q.end)
    opens, closes = min(max(clause.start, first), start), max(min(clause.end, last), end)
    yield "c<", own[opens - first : start - first], opens, 1
    yield "s<", own[: opens - first], first, 1
    yield "c>", own[end - first : closes - first], end, 1
    yield "s>", own[closes - first :], closes, 1
    for far in range(1, NEAR + 1):
        if start - far >= first:
            yield f"{far}<", own[start - far - first : start - far - first + 1], start - far, 1
        yield f"{far}>", own[end + far - 1 - first : end + far - first], end + far - 1, 1
    pairs = [f"{a} {b}" for a, b in zip(own, own[1:], strict=False)]
    across = range(max(0, start - first - 1), min(len(pairs), end - first))
    yield "pair", ["" if i in across else pair for i, pair in enumerate(pairs)], first, 2
    for at in range(clause.start, min(clause.end, clause.start + 2)) if clause.start >= first else ():
        yield f"open{at - clause.start}", own[at - first : at - first + 1], at, 1
    yield NAMED_IN, [c.key for c in _named(case, first, last)], 0, 0
    yield "of", [str(q.dimension)], 0, 0
    yield "first", [str(clause.start == sentence.start)], 0, 0
    yield "ends", own[-1:], 0, 0
    yield "", ["bias"], 0, 0
    if sentence.number:
        before = case.note.segments.sentences[sentence.number - 1]
        opens = max(before.start, before.end - FAR)
        yield "before", _classes(case, opens, before.end), opens, 1


def _named(case: Case, start: int, end: int) -> Iterator[Concept]:
    return (c for name in NAMED for c in case.within(name, start, end))


def _classes(case: Case, start: int, end: int) -> list[str]:
    """Of each token: a common word or a stop itself, any other by its ending, and a number as such."""
    own = [_class(w) for w in case.words[start:end]]
    for q in case.numbers(start, end):
        own[q.start - start : q.end - start] = [NUMBER] * (min(q.end, end) - q.start)
    return own


@lru_cache(maxsize=8192)
def _class(word: str) -> str:
    return word if word in SIGNS or plain_words().get(word, 0.0) >= COMMON else ending(word)


def _numbers(case: Case, draft: FactDraft) -> list[Quantity]:
    """The numbers that a fact was read from."""
    return [q for span in draft.spans for q in numbers_inside(case, span.start, span.end)]


def numbers_inside(case: Case, start: int, end: int) -> Iterator[Quantity]:
    """The note's quantities that lie in the characters `[start, end)`."""
    tokens = case.note.tokens
    numbers = case.numbers(bisect_left(tokens.starts, start), bisect_left(tokens.starts, end))
    return (q for q in numbers if tokens.ends[q.end - 1] <= end)


def _rival(case: Case, one: FactDraft, other: FactDraft) -> bool:
    """Whether two sizes are of the one thing there is of their kind, and differ."""
    what = str(one.fields["what"])
    limit = limits_of(case.grammar.folders).measurements.get(what)
    if other.fields["what"] != what or limit is None or not limit.single:
        return False
    apart = ((one.fields.get(f), other.fields.get(f)) for f in ("site", *limit.apart))
    return all(a == b or None in (a, b) for a, b in apart) and _value(one) != _value(other)


def _value(d: FactDraft) -> tuple[object, ...]:
    return tuple(d.fields.get(k) for k in VALUES)


@lru_cache(maxsize=1)
def _weights() -> dict[str, dict[str, int]]:
    """Weights of the words of each place, in hundredths of a logit: whole numbers, so that their sum has no order."""
    weights: dict[str, dict[str, int]] = {}
    for line in files(__package__).joinpath(WEIGHTS).read_text(encoding="utf-8").splitlines():
        weight, place, word = line.split("\t")
        weights.setdefault(place, {})[word] = int(weight)
    return weights
