"""What one thinks of a size whoever may have it: 'ten degrees is normal', 'I stay under nine'.

The words stand in the lists `verdict` (behind the size) and `attitude` (before it). A size is nobody's where it is told
with no word of whose it is ('a rim of three', 'ten degrees', never 'the rim of three') and what is said of it holds at
any time: 'beyond ten I add one', never 'beyond ten I added one'.
"""

from __future__ import annotations

from extractor.language.clause_words import FINITE, PAUSES, UNREAL
from extractor.language.clauses import Span
from extractor.language.concepts import Concept
from extractor.language.numbers import atom_at
from extractor.language.verbs import PAST, has_verb, verbal

OWNED = frozenset("the this that these those his her its their my our both he she it there here i we".split())
"""What opens so is of one that is known."""
ADDED = frozenset("and but well also or so anyway honestly mind you now of course".split())
BOUNDS = frozenset({"beyond", "above", "past", "over", "under", "below"})
LED = frozenset({"anything", "everything", "from", "only", "with", "for", "at", "in", "once"})
ANYONE = frozenset({"i", "we", "you", "one", "people", "they", "a", "an", "any", "nobody", "everybody", "most", "some"})
"""Subjects of what is done as a rule, beyond such a size."""
OURS = frozenset({"i", "we"})
YOURS = OURS | {"you", "one"}
STAYING = frozenset({"stay", "keep", "remain", "stop"})
NEVER = (
    ["do", "not"],
    ["do", "n't"],
    ["never"],
    ["would", "never"],
    ["wo", "n't"],
    ["will", "not"],
    ["hardly", "ever"],
)
SEEING = frozenset("see find get have measure feel read note count think know recall".split())
"""What one does not do so is no rule: 'I do not see more than three millimeters of rim'."""
BOUNDED = BOUNDS | {"than", "beneath"}
DO = frozenset({"do", "does"})
BARE = frozenset({"one", "a", "an", "two"})
"""Numbers that are hardly ever a size."""
AFTERWARDS = frozenset({"span", "weight-bearing-status", "afterwards"})
"""Lists whose words tell of the time after the operation."""
MOTION = "bending"
"""... which may be of that time only where something is forbidden: 'do not exceed ninety degrees of flexion'."""
TELLING = frozenset({"verdict", "attitude"})
RULING = BOUNDED | {"only"}
"""Without a concept of these lists or one of these words no clause tells what one thinks of a size."""
WITHIN = 6
"""Words from 'only' or 'beyond' to its number, at most."""
FRONTED = 9
"""Words of a size told before who would do what with it, at most."""


def is_valued(clause: Span, after: Span | None, inside: list[list[Concept]], words: list[str]) -> bool:
    """Whether the size in a clause is only one that somebody thinks of."""
    if TELLING.isdisjoint(clause.lists) and RULING.isdisjoint(clause.said):
        return False
    own = inside[clause.number]
    near = [*own, *(inside[after.number] if after is not None else [])]
    if any(c.list in AFTERWARDS and c.name != MOTION for c in near):
        return False
    moves = any(c.name == MOTION for c in near)
    own = [c for c in own if not (moves and c.list == "verdict" and words[c.end - 1] == "limit")]
    ruled = _judged(clause, own, words) or _thought_of(clause, own, words) or _only_then(clause, after, words)
    return ruled or (not moves and (_exceeding(clause, own, words) or _beyond(clause, after, words)))


def _size(words: list[str], start: int, end: int) -> int | None:
    """Where the first number stands."""
    return next((i for i in range(start, end) if words[i] not in BARE and atom_at(words, i) is not None), None)


def _opens(clause: Span, words: list[str]) -> int:
    at = clause.start
    while at < clause.end - 1 and (words[at] in ADDED or words[at] in PAUSES):
        at += 1
    return at


def _judged(clause: Span, own: list[Concept], words: list[str]) -> bool:
    """'Five degrees of hyperextension is normal', 'a rim of two makes me nervous'."""
    said = next((c for c in own if c.list == "verdict"), None)
    at = _opens(clause, words)
    if said is None or words[at] in OWNED:
        return False
    return _size(words, at, said.start) is not None and not has_verb(words[at : said.start])


def _exceeding(clause: Span, own: list[Concept], words: list[str]) -> bool:
    """'Do not exceed ten millimeters', 'we stay under nine'."""
    return _thought_of(clause, own, words, "exceed") or _kept_within(clause, words)


def _thought_of(clause: Span, own: list[Concept], words: list[str], name: str = "attitude") -> bool:
    """'I can live with a rim of two', 'the guideline allows a tunnel of ten'."""
    said = next((c for c in own if c.list == "attitude" and c.name == name), None)
    if said is None:
        return False
    size = _size(words, said.end, clause.end)
    return size is not None and OWNED.isdisjoint(words[said.end : size]) and FINITE.isdisjoint(words[said.end : size])


def _beyond(clause: Span, after: Span | None, words: list[str]) -> bool:
    """'Beyond ten degrees | I add a graft', 'above ten millimeters a tunnel weakens the plateau'."""
    at = _opens(clause, words)
    while at < clause.end - 1 and words[at] in LED:
        at += 1
    if words[at] not in BOUNDS:
        return False
    size = _size(words, at + 1, min(clause.end, at + WITHIN))
    if size is None or not OWNED.isdisjoint(words[at:size]):
        return False
    rest = next((i for i in range(size + 1, clause.end) if words[i] in ANYONE and words[i] != "one"), None)
    if rest is None and after is not None and words[after.start] in ANYONE and not verbal(words, clause):
        return _timeless(words[after.start + 1 : after.end])
    return rest is not None and _timeless(words[rest + 1 : clause.end])


def _timeless(said: list[str]) -> bool:
    """Whether what is said of a subject holds at any time."""
    past = any(w in PAST or w in FINITE or w.endswith("ed") for w in said)
    return len(said) > 1 and not past


def _kept_within(clause: Span, words: list[str]) -> bool:
    """'I don't take more than thirty percent', 'we stay under eight millimeters'."""
    at = _opens(clause, words)
    told = any(words[at : at + len(n)] == n for n in NEVER)  # 'Never fix it past five'
    subject = at - 1 if told else next((i for i in range(at, clause.end) if words[i] in YOURS), None)
    if subject is None or _size(words, at, subject) is not None:
        return False
    behind = words[subject + 1 : clause.end]
    led = next((len(n) for n in NEVER if behind[: len(n)] == n), 0)
    verb = behind[led : led + 1]
    ruled = (led and verb and verb[0] not in SEEING) or (verb and verb[0] in STAYING)
    bound = next((i for i in range(subject + 2, clause.end) if words[i] in BOUNDED), None)
    if not ruled or bound is None or not _timeless(behind):
        return False
    return any(words[i] not in BARE and atom_at(words, i) is not None for i in (bound + 1, bound + 2) if i < clause.end)


def _only_then(clause: Span, after: Span | None, words: list[str]) -> bool:
    """'Only with a lesion of two centimeters | do I add anything'."""
    at = _opens(clause, words)
    if words[at] != "only" or _size(words, at, clause.end) is None:
        return False
    end = after.end if after is not None else clause.end
    return any(words[i] in DO and words[i + 1] in YOURS for i in range(at + 1, end - 1))


def fronted(clause: Span, after: Span, words: list[str]) -> bool:
    """'A defect of eighteen millimeters | I would leave alone', 'nine millimeters | would have been enough'."""
    at = _opens(clause, words)
    opens = words[after.start] in YOURS or words[after.start] in UNREAL
    short = clause.end - at <= FRONTED and words[clause.end - 1] not in PAUSES and opens
    return short and words[at] not in OWNED and _size(words, at, clause.end) is not None and not verbal(words, clause)
