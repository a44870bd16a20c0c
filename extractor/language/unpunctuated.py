"""Where thoughts part in a note without any punctuation, weighed by the classes of the words around.

`run_on` knows single signs of a new thought; this weighs all of them together: for each token, its class and those of
its neighbors (a plain English word itself, else how it ends; the lists its concept is of; a size in the plural) and
how far a verb and the parting before and after are. `training.breaks` learns the weights from punctuated notes with
their punctuation taken away. A note with punctuation is never read so.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from functools import lru_cache
from importlib.resources import files

from extractor.grammar.packs import Grammar
from extractor.language.clause_words import DETERMINERS, FINITE_RUN_ON, PAUSES, PRONOUNS, SENTENCE_END
from extractor.language.concepts import Concept
from extractor.language.english import plain_words

LEAST = 40
"""Words of a note at least; a shorter one may well be one thought."""
SIGNS = 25
"""In a note without punctuation, words to each sign at least."""
COMMON = 5.0
"""Words at least this common (Zipf scale) are weighed as themselves, others by their class."""
SENTENCE, CLAUSE = 100, 0
"""Weights (hundredths of a logit) above which a sentence, or else a clause, opens: nearly three to one, and even."""
FAR_BACK, FAR_AHEAD = 13, 9
"""Words looked at back and ahead for a parting or a verb."""
ENDINGS = ("ed", "ing", "ly", "s")
COLOR, HABIT, THIS_CASE = "color", "habit", "this-case"
SUBJECTS = PRONOUNS | DETERMINERS | {"it"}
LED_BY = frozenset({"in", "for", "at", "with"})
STRETCH = 40
"""Words of a thought that a habit is looked for in, at most."""
SEWN = frozenset({"stitch-noun", "form", "suture-role"})
"""What goes with the color before it."""
WEIGHTS = "unpunctuated.tsv"


@dataclass(frozen=True, slots=True)
class Classes:
    """Of each token: what it is, the concepts that open at it and end with it, and whether it goes on with a name."""

    own: list[str]
    opens: list[list[str]]
    ends: list[list[str]]
    inside: list[bool]


def is_unpunctuated(words: Sequence[str]) -> bool:
    """Whether a note has hardly a sign in it, lines apart."""
    signs = [w for w in words if w != "\n" and (w in SENTENCE_END or w in PAUSES)]
    return len(words) > LEAST and len(signs) * SIGNS < len(words)


def thoughts_open(
    words: list[str], concepts: list[Concept], fixed: list[tuple[int, int]], level: list[int], grammar: Grammar
) -> None:
    """Part a note without punctuation; `level` is what the other signs say opens at each token, and is written to."""
    if not is_unpunctuated(words):
        return
    classes, weights = classes_of(words, concepts, fixed, grammar), _weights()
    said = list(level)
    for i in range(1, len(words)):
        if may_open(words, classes, i):
            weight = sum(weights.get(sign, 0) for sign in signs_at(words, classes, said, i))
            level[i] = 3 if weight > SENTENCE else max(level[i], int(weight > CLAUSE))
    _frames_first(words, concepts, classes, level)


def _frames_first(words: list[str], concepts: list[Concept], classes: Classes, level: list[int]) -> None:
    """'| usually I leave three | here I left two': what says of whom the thought tells opens it, not its subject.

    What is done in this case opens so only behind a habit; elsewhere a 'here' may as well end a thought.
    """
    habits = [c.start for c in concepts if c.list == HABIT]
    for c in concepts:
        at = c.end
        if c.list not in {HABIT, THIS_CASE} or at >= len(words) or level[at] < 3 or words[at] not in SUBJECTS:
            continue
        opens = c.start - (words[c.start - 1] in LED_BY) if c.start else 0
        last = next((i for i in range(opens - 1, max(-1, opens - STRETCH), -1) if level[i] == 3), None)
        behind_habit = last is not None and any(last <= h < opens for h in habits)
        if not classes.inside[opens] and (c.list == HABIT or behind_habit):
            level[opens], level[at] = 3, 0


def may_open(words: list[str], classes: Classes, i: int) -> bool:
    """Whether a thought may open at a token: not inside a concept, a number or a name, and no line already does."""
    return not classes.inside[i] and "\n" not in words[i - 1 : i + 1]


def classes_of(words: list[str], concepts: list[Concept], fixed: list[tuple[int, int]], grammar: Grammar) -> Classes:
    """The classes of a note's tokens; `fixed` are the spans of its numbers."""
    plain, plural, singular = plain_words(), grammar.plain_words("plural-unit"), grammar.plain_words("singular-unit")
    own = [f"w:{w}" if plain.get(w, 0.0) >= COMMON else ending(w) for w in words]
    opens: list[list[str]] = [[] for _ in words]
    ends: list[list[str]] = [[] for _ in words]
    inside = [False] * len(words)
    for c in concepts:
        opens[c.start].append(f"B:{c.list}")
        ends[c.end - 1].append(f"E:{c.list}")
        inside[c.start + 1 : c.end] = [True] * (c.end - c.start - 1)
    for c in concepts:
        if c.list == COLOR and c.end < len(words) and words[c.start - 1] in DETERMINERS:
            inside[c.end] |= any(f"B:{name}" in opens[c.end] for name in SEWN)  # 'one orange traction stitch'
    for a, b in fixed:
        opens[a].append("B:#")
        ends[b - 1].append("E:##" if words[b - 1] in plural else "E:#")
        own[a:b] = ["num"] * (b - a)
        inside[a + 1 : b] = [True] * (b - a - 1)
        if b < len(words) and words[b - 1] in singular:
            inside[b] = True  # 'a four centimeter incision'
    return Classes(own, opens, ends, inside)


def ending(word: str) -> str:
    """The class of a word that is weighed by how it ends."""
    return "s:" + next((e for e in ENDINGS if word.endswith(e)), "?")


def signs_at(words: list[str], classes: Classes, level: list[int], i: int) -> dict[str, None]:
    """What speaks for or against a new thought at a token, each once."""
    now = [classes.own[i], *classes.opens[i]]
    before = [classes.own[i - 1], *classes.ends[i - 1]]
    after = _opening(classes, i + 1)
    found = ["bias", *("0" + x for x in now), *("-1" + x for x in before), *("+1" + x for x in after)]
    found += ["+2" + x for x in _opening(classes, i + 2)]
    found += ["-2" + x for x in ([classes.own[i - 2], *classes.ends[i - 2]] if i > 1 else ["-"])]
    found += [f"-1,0{x}|{y}" for x in before for y in now]
    found += [f"0,1{x}|{y}" for x in now for y in after]
    size = len(words)
    back = next((k for k in range(1, FAR_BACK) if i - k < 0 or level[i - k]), FAR_BACK)
    ahead = next((k for k in range(1, FAR_AHEAD) if i + k >= size or level[i + k]), FAR_AHEAD)
    verb = next((k for k in range(FAR_AHEAD) if i + k < size and words[i + k] in FINITE_RUN_ON), FAR_AHEAD)
    verb_before = next((k for k in range(1, FAR_AHEAD) if i >= k and words[i - k] in FINITE_RUN_ON), FAR_AHEAD)
    found += [f"level{level[i]}", f"level-1:{level[i - 1]}", f"level+1:{level[i + 1] if i + 1 < size else 3}"]
    found += [f"back{back}", f"ahead{ahead}", f"verb{verb}", f"verb-{verb_before}"]
    found += [f"told{verb_before <= min(back, FAR_AHEAD - 1)}", f"tells{verb < ahead}"]
    return dict.fromkeys(found)


def _opening(classes: Classes, i: int) -> list[str]:
    return [classes.own[i], *classes.opens[i]] if i < len(classes.own) else ["-"]


@lru_cache(maxsize=1)
def _weights() -> dict[str, int]:
    """Weights of the signs, in hundredths of a logit: whole numbers, so that their sum has no order."""
    lines = files(__package__).joinpath(WEIGHTS).read_text(encoding="utf-8").splitlines()
    return {sign: int(weight) for weight, _, sign in (line.partition("\t") for line in lines)}
