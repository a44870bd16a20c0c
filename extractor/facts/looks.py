"""Looks of sutures: 'white tape', 'striped blue', 'a plain one'. A look has a color; the rest stands beside it."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass

from extractor.facts.case import Case
from extractor.language.concepts import Concept
from extractor.language.corrections import cue_at
from extractor.language.quantities import Quantity

LOOK_FILLERS = frozenset({"and", "-", "the", "#", "two", "2", "0", "zero", "one"})
"""What may stand between the parts of a look, beside the words of the list `look-filler`."""
TOLD_OF = (
    "form", "material", "pattern", "suture-role", "region", "surface", "tissue", "color", "configuration", "technique",
    "stitch-noun", "pair", "same", "tie", "action", "position-code", "suture-surface", "suture-region",
)  # fmt: skip
"""Lists whose words may follow a color that is a suture's."""
AFTER = frozenset({
    "'ll", "'s", "a", "above", "after", "again", "all", "also", "an", "and", "are", "as", "at", "be", "being", "below",
    "but", "by", "came", "comes", "correction", "down", "each", "er", "finally", "first", "followed", "follows", "for",
    "fourth", "from", "get", "gets", "goes", "got", "had", "has", "here", "i", "in", "into", "is", "it", "its",
    "last", "next", "no", "not", "now", "of", "on", "one", "ones", "onto", "or", "over", "please", "respectively",
    "second", "shall", "so", "that", "the", "then", "there", "third", "through", "to", "together", "too", "took",
    "two", "uh", "um", "under", "up", "was", "we", "went", "were", "which", "who", "will", "with", "you", "while",
    "whereas", "whilst", "though", "although", "because", "since", "plus", "before", "near", "underneath", "beneath",
    "behind", "beside", "instead", "rather", "toward", "towards", "right", "just", "directly",
})  # fmt: skip
"""Plain words that may, and those of `after-color`: after others a color is of what follows ('a blue towel')."""
LONGEST_SIZE = 4
"""Tokens of a suture's size, at most: 'number two - oh'."""
TONES = frozenset({"/", "-"})
IS = frozenset({"is", "was", "are", "were"})
CUE_WITHIN = 4
"""Tokens behind a look in which a word of correction takes it back, at most: 'a blue one, sorry'."""
CHANGED_WITHIN = 16
"""Tokens between a look and the one that took its place, at most."""
PAUSE = ","
INSTEAD = frozenset({("instead", "of"), ("rather", "than"), ("place", "of"), ("want", "of"), ("lack", "of")})
DENYING = frozenset({"not", "no"})
STRIPED = "striped"
SOLID = "solid"
"""The pattern that tells no suture from the others where no color is said."""
PLACE_WITHIN = 4
"""Tokens from a place to the look of the suture there, at most: 'posterior inferior is striped white and blue'."""
PLACED = ("region", "surface", "position-code", "suture-region", "suture-surface")
"""Lists whose words tell of another suture, or that the same is told of again."""


@dataclass(frozen=True)
class Look:
    """What a suture looks like, as said in the tokens `[start, end)`."""

    color: str
    """Empty where a suture is told by its pattern alone."""
    pattern: str | None
    form: str | None
    usp_size: str | None
    start: int
    end: int


def find_looks(case: Case) -> list[Look]:
    """All looks of sutures said, in order."""
    looks = []
    second_tones = {_two_tone(case, c) - 1 for c in case.by_list["color"] if _two_tone(case, c) > c.end}
    for color in case.by_list["color"]:
        if not _of_a_suture(case, color) or color.start in second_tones:
            continue
        pattern = _beside(case, "pattern", color)
        form = _beside(case, "form", color)
        start = min(c.start for c in (color, pattern, form) if c)
        end = max(c.end for c in (color, pattern, form) if c)
        size = next((q for q in case.numbers(max(0, start - LONGEST_SIZE), start) if _sizes(q, start)), None)
        look = Look(
            color=color.name,
            pattern=pattern.name if pattern else None,
            form=form.name if form else None,
            usp_size=size.text if size else None,
            start=size.start if size else start,
            end=end,
        )
        looks.append(look)
    bare = [found for p in case.by_list["pattern"] if (found := _only_patterned(case, p, looks))]
    return sorted([*looks, *bare], key=lambda look: look.start) if bare else looks


def _only_patterned(case: Case, pattern: Concept, looks: Sequence[Look]) -> Look | None:
    """'Striped tape posterior superior, black below': a suture told by its pattern alone, beside others of a color."""
    colored = any(look.start <= pattern.start < look.end for look in looks)
    form = next(iter(case.within("form", pattern.end, pattern.end + 1)), None)
    if colored or form is None or pattern.name == SOLID or not looks:
        return None
    sentence = case.sentence(pattern.start)
    if not any(sentence.start <= look.start < sentence.end for look in looks):
        return None
    return Look("", pattern.name, form.name, None, pattern.start, form.end)


def _two_tone(case: Case, color: Concept) -> int:
    """Where a color ends with the one it is striped with: 'white/blue striped', 'on top, striped white and blue'.

    So it is in 'on top the black and white tape', of one.
    """
    behind = color.end + 2
    second = case.within("color", color.end + 1, behind)
    if not second:
        return color.end
    patterns = case.within("pattern", max(0, color.start - 1), behind + 1)
    striped = any(c.name == STRIPED and (c.end == color.start or c.start == behind) for c in patterns)
    joined = case.words[color.end] in TONES or (case.words[color.end] == "and" and _at_one_place(case, color.start))
    single = any(not case.words[c.end - 1].endswith("s") for c in case.within("form", behind, behind + 1))
    return behind if (striped or single) and joined else color.end


def _at_one_place(case: Case, start: int) -> bool:
    """Whether a place is named right before a token: what follows is one suture, be it of two colors."""
    near = max(0, start - PLACE_WITHIN)
    return any(c.end >= start - 2 for name in PLACED for c in case.within(name, near, start))


def _sizes(quantity: Quantity, start: int) -> bool:
    """Whether a number is the size of what is named right behind it: 'two-oh green'."""
    return quantity.kind == "suture-size" and quantity.end == start


def _of_a_suture(case: Case, color: Concept) -> bool:
    """Whether a color may be a suture's: not 'a blue towel', 'the cannula was blue'; 'the plain blue' is one."""
    words = case.words
    if any(c.end == color.start for c in case.within("pattern", max(0, color.start - 2), color.start)):
        return True
    after = words[color.end] if color.end < len(words) else "."
    if after[:1].isalpha() and after not in AFTER and after not in case.grammar.plain_words("after-color"):
        if not any(case.within(name, color.end, color.end + 1) for name in TOLD_OF):
            return False
    if color.start > 1 and words[color.start - 1] in IS:
        subject = [c for name in ("device", "thing") for c in case.within(name, color.start - 4, color.start - 1)]
        own = {c.start for name in ("form", "tissue") for c in case.within(name, color.start - 4, color.start - 1)}
        return not any(c.end == color.start - 1 and c.start not in own for c in subject)
    return True


def _beside(case: Case, list_name: str, color: Concept) -> Concept | None:
    """A concept directly before or after the color, with no other color or boundary between."""
    fillers = LOOK_FILLERS | case.grammar.plain_words("look-filler")
    for c in reversed(case.within(list_name, max(0, color.start - 3), color.start)):
        if list_name != "form" and fillers.issuperset(case.words[c.end : color.start]):
            return c
    tone = _two_tone(case, color)
    for c in case.within(list_name, color.end, tone + 4):
        patterns = {i for p in case.within("pattern", tone, c.start) for i in range(p.start, p.end)}
        between = [w for i, w in enumerate(case.words[tone : c.start], tone) if i not in patterns]
        if fillers.issuperset(between) and "and" not in between:
            return c
    return None


def without_taken_back(case: Case, looks: Sequence[Look]) -> list[Look]:
    """The looks that hold: of 'blue, no, black' the last, of 'blue, wait, we have no blue, so green' the green one."""
    kept: list[Look] = []
    correcting = False
    for look in looks:
        if _instead_of(case, look):
            continue
        old = kept[-1] if kept else None
        if old and case.sentence(old.start) == case.sentence(look.start) and not _told_anew(case, old.end, look.start):
            if _denied(case, old) and not _denied(case, look):
                if old.color != look.color or _placed(case, look):  # 'not the orange, put the orange back, use the ...'
                    kept[-1] = look
                continue
            if _denied(case, look) and old.color == look.color:
                kept[-1], correcting = look, True  # 'purple, no, not purple'
                continue
            reasoned = correcting and "so" in case.words[old.end : look.start]
            if _cue_behind(case, old, look.start) or reasoned:
                kept[-1], correcting = look, True
                continue
        if old and _put_in_place(case, old, look):
            kept[-1], correcting = look, False
            continue
        kept.append(look)
        correcting = False
    return kept


def _instead_of(case: Case, look: Look) -> bool:
    """'Green instead of the orange': what another took the place of."""
    opens = look.start - (case.words[look.start - 1] in {"the", "a", "an", "any"})
    return tuple(case.words[max(0, opens - 2) : opens]) in INSTEAD


def _denied(case: Case, look: Look) -> bool:
    """'Not purple', 'no purple', 'we don't have the purple'."""
    lead = case.words[max(0, look.start - 2) : look.start]
    if not DENYING.isdisjoint(lead[-1:]) or (lead[-1:] == ["the"] and not DENYING.isdisjoint(lead)):
        return True
    return case.assertion(look.start).declines(look.start) and not _placed(case, look)


def _placed(case: Case, look: Look) -> bool:
    """Whether the clause of a look names a place: 'not blue, blue was anterior inferior'."""
    clause = case.clause(look.start)
    return any(case.within(name, clause.start, clause.end) for name in PLACED)


def _put_in_place(case: Case, old: Look, look: Look) -> bool:
    """'Green at first but that one frayed, so it ended up red': the second look is of what took the place of the first.

    It has no place of its own, between them stands the place of one at most, and nothing is counted but the one.
    """
    sentence = case.sentence(old.start)
    if sentence != case.sentence(look.start) or look.start - old.end > CHANGED_WITHIN:
        return False
    changed = [c for c in case.within("changed-look", old.end, look.end + CUE_WITHIN) if not _of_what(case, c)]
    if not changed or any(len(case.within(name, old.end, look.start)) > 1 for name in PLACED):
        return False
    if changed[0].start >= look.end and case.within("color", changed[-1].end, sentence.end):
        return False  # 'green, which was swapped for purple': the one named behind took its place
    opens = min(changed[-1].end, look.start)
    told = case.clause(look.start).end
    if any(case.within(name, a, b) for name in PLACED for a, b in ((opens, look.start), (look.end, told))):
        return False
    return all(q.kind not in {"ordinal", "count"} or q.value == 1 for q in case.numbers(old.end, look.start))


def _of_what(case: Case, changed: Concept) -> bool:
    """'Instead of the blue' names what was not used."""
    return case.words[changed.end : changed.end + 1] == ["of"]


def _cue_behind(case: Case, look: Look, end: int) -> bool:
    """Whether a word of correction stands right behind a look; a weak one ('no') between pauses."""
    words = case.words
    for i in range(look.end, min(look.end + CUE_WITHIN, end)):
        cue = cue_at(words, i)
        if cue and cue[1] <= end:
            set_off = words[i - 1] == PAUSE and words[cue[1]] == PAUSE
            return cue[0] != "weak" or set_off
    return False


def _told_anew(case: Case, start: int, end: int) -> bool:
    """Whether another suture is told of between two tokens: a place of its own, 'and', 'the second'."""
    placed = any(case.within(name, start, end) for name in PLACED)
    counted = any(q.kind in {"ordinal", "count"} and q.value != 1 for q in case.numbers(start, end))
    return placed or counted or "and" in case.words[start:end]
