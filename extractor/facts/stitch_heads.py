"""Heads of stitches: the words that stand for one stitch or for a number of them.

'Five all-inside implants', 'three of these', 'the other two', 'two vertical', 'x3', 'the first', 'half of them'.
"""

from __future__ import annotations

import re
from collections.abc import Sequence
from dataclasses import replace

from extractor.facts.case import Case
from extractor.facts.stitch_counts import (
    BY_MEANS,
    MOST,
    NO_HEAD,
    ORDINALS,
    OTHERS,
    STITCHED,
    TELLS,
    Head,
    clear,
    head_of,
    is_count,
    nouns,
    told,
)
from extractor.facts.stitch_passes import adverbs, pass_of
from extractor.facts.stitch_recounts import with_recounts
from extractor.language.clause_words import SENTENCE_END
from extractor.language.clauses import Span
from extractor.language.concepts import Concept

STANDS = frozenset(
    {"is", "was", "as", "in", "on", ",", "went", "goes", "lay", "lies", "being", "and", "through", "a", "i", "we"}
)
"""What follows an ordinal that stands for a stitch: 'the first is white'."""
TIMES_SIGNS = "x×"
TIMES = re.compile(rf"[{TIMES_SIGNS}](\d{{1,2}})$")
COLLECTED = {"pair": 2, "trio": 3, "quartet": 4, "quintet": 5}
COUNTED_UP = ORDINALS[:-2]
COUNTING = frozenset({*ORDINALS, "next"})
AS_MANY = (["as", "many"], ["the", "same", "number"], ["an", "equal", "number"], ["just", "as", "many"])
BESIDE = (["to"], ["from"], ["than"], ["beside"])
"""'The distance from one to the other is five': what another is only compared with is no stitch of its own."""
LEADING = ("region", "surface", "way", "configuration")
ARTICLES = frozenset({"a", "an", "single", "another"})


def find_heads(case: Case, sentence: Span) -> list[Head]:
    """All heads of a sentence, in order, none within another."""
    found = _counted(case, sentence)
    found += adverbs(case, sentence)
    found += (
        _collected(case, sentence)
        + _written(case, sentence)
        + _ordinals(case, sentence)
        + _rest(case, sentence)
        + _halves(case, sentence)
        + _another(case, sentence)
    )
    if found:
        found = _parts_of(case, found)
        found += _as_many(case, sentence, found)
        found += _outermost(case, sentence) if any((h.count or 0) > 1 for h in found) else []
    if all(h.way == "ordinal" or case.words[h.start] == "another" for h in found):
        found += _articles(case, sentence)
    found += [] if found else _isolated(case, sentence)
    if not found:
        return []
    kept: list[Head] = []
    for head in sorted(found, key=lambda h: (h.start, -h.end)):
        if not kept or head.start >= kept[-1].end:
            kept.append(head)
    return _led(case, _beyond(case, with_recounts(case, sentence, _without_means(case, kept))))


def _led(case: Case, heads: list[Head]) -> list[Head]:
    """'Posterior horn four sutures body two sutures', 'vertical four horizontal two': each led in by its own word."""
    leads = [
        next((c for name in LEADING for c in case.within(name, max(0, at - 3), at) if c.end == at), None)
        for h in heads
        for at in [h.start - (case.words[h.start - 1] == ":")]
    ]
    if len(heads) < 2 or any(c is None for c in leads):
        return heads
    return [replace(h, opens=c.start) if c else h for h, c in zip(heads, leads, strict=True)]


def _counted(case: Case, sentence: Span) -> list[Head]:
    """The heads that are numbers; passes of the needle count no stitches where a number of stitches is told."""
    numbers = case.numbers(sentence.start, sentence.end)
    if not numbers:
        return []
    passes = {q.start: h for q in numbers if (h := pass_of(case, q, sentence))}
    plain = [h for q in numbers if q.start not in passes and (h := head_of(case, q, sentence))]
    if passes and any(h.noun and h.way == "counted" for h in plain):
        return plain
    return [*plain, *passes.values()]


def _without_means(case: Case, heads: list[Head]) -> list[Head]:
    """'Three stitches, vertical mattress, with three implants': as many implants as stitches are what these were."""
    return [
        head
        for before, head in zip([None, *heads], heads, strict=False)
        if not (
            before is not None
            and before.count == head.count
            and before.way == head.way == "counted"
            and case.words[head.start - 1] in BY_MEANS
            and any(c.name in STITCHED for c in case.within("device", head.end, head.end + 3))
            and all(c.name == "all_inside" for c in case.within("technique", before.start, head.start))
        )
    ]


def _beyond(case: Case, heads: list[Head]) -> list[Head]:
    """'Two implants, horizontal, ... and a third was placed as a vertical stitch': one more than were counted."""
    counted = 0
    out: list[Head] = []
    for head in heads:
        if head.way == "counted" and head.noun:
            counted = head.count or 0
        elif head.way == "ordinal" and head.count == 1 and case.words[head.start] in COUNTED_UP:
            place = COUNTED_UP.index(case.words[head.start]) + 1
            meant = case.assertion(head.start)
            if place == counted + 1 > 1 and (meant.mood != "performed" or meant.declines(head.start)):
                continue  # '... and a fourth was not needed'
            if place == counted + 1 > 1:
                head, counted = replace(head, way="more", noun=True), place
        out.append(head)
    return out


def names_means(case: Case, technique: Concept, heads: Sequence[Head]) -> bool:
    """Whether a technique only names the implants by which stitches told before were set."""
    number = next(iter(case.numbers(technique.start - 1, technique.start)), None)
    if number is None or case.words[number.start - 1] not in BY_MEANS:
        return False
    told = any(h.count == number.value and h.end <= number.start for h in heads)
    return told and all(h.start != number.start for h in heads)


def _collected(case: Case, sentence: Span) -> list[Head]:
    """'A pair of all-inside implants', 'a trio of sutures'."""
    words = case.words
    if sentence.said.isdisjoint(COLLECTED):
        return []
    return [
        Head(i, i + 1, COLLECTED[words[i]])
        for i in range(sentence.start + 1, sentence.end - 1)
        if words[i] in COLLECTED and words[i - 1] in ARTICLES and words[i + 1] == "of"
        and any(clear(case, i + 2, c.start) for c in nouns(case, i + 2, min(i + 7, sentence.end)))
    ]  # fmt: skip


def _written(case: Case, sentence: Span) -> list[Head]:
    """'All-inside x3'."""
    found = []
    words = case.words
    for i in [i for i in range(sentence.start, sentence.end) if words[i][0] in TIMES_SIGNS]:
        match = TIMES.match(words[i])
        if not match or not 1 <= int(match[1]) <= MOST:
            continue
        placed = any(c.end == i for n in ("surface", "region", "place-noun") for c in case.within(n, i - 3, i))
        placed = placed or case.words[i - 1] in case.grammar.plain_words("each-face")
        listed = placed and bool(case.within("technique", sentence.start, sentence.end))
        if listed or nouns(case, max(sentence.start, i - 5), i):
            found.append(Head(i, i + 1, int(match[1])))
    return found


def _ordinals(case: Case, sentence: Span) -> list[Head]:
    """'The first is white', 'a third stitch', 'the second and third'."""
    found: list[Head] = []
    words = case.words
    if sentence.said.isdisjoint(COUNTING):
        return []
    needle = case.grammar.plain_words("stitch-half")
    needles = any(words[i] in ORDINALS and words[i + 1] in needle for i in range(sentence.start, sentence.end - 1))
    for i in range(sentence.start, sentence.end):
        following = words[i : i + 2] == ["next", "one"] and {"before", "until"}.isdisjoint(words[i - 3 : i])
        if (words[i] not in ORDINALS and not following) or needles:
            continue
        if any(is_count(q) and q.value != 1 and q.start == i + 1 for q in case.numbers(i + 1, i + 2)):
            continue  # 'First three vertical mattress on top', 'the first two': no first one
        if i == sentence.start and words[i + 1 : i + 2] in (["i"], ["we"]) and _several(case, i, sentence):
            continue  # 'First I did the body, inside-out, five sutures'
        before = words[i - 1] if i > sentence.start else ""
        named = bool(nouns(case, i + 1, min(i + 2, sentence.end)))
        if not named and before == "the" and words[i - 2] in TIMED:
            continue  # 'the clot went in before the last was tightened'
        follows = words[i + 1] if i + 1 < sentence.end else ""
        led = before in {"the", "a"} or (before == "and" and found and found[-1].end == i - 1) or i == sentence.start
        tells = any(case.within(name, i + 1, i + 2) for name in TELLS)
        led = led or follows == "one" or (tells and before in {",", ":", ";"})
        stands = follows in STANDS or bool(case.numbers(i + 1, i + 2))
        closing = before == "a" and bool(found) and follows in {".", ",", ";", "and"}  # 'a second one, then a third'
        stands = stands or tells or closing
        joined = i - 2 if before == "the" else i - 1
        listed = before in {",", ":", "the"} and _goes_on(words, i)  # '..., second and third sutures cross'
        if found and found[-1].end == joined and words[joined] == "and" and found[-1].way == "ordinal":
            found[-1] = Head(found[-1].start, i + 1, (found[-1].count or 1) + 1, "ordinal", noun=named)
        elif named or listed or (led and stands):
            found.append(Head(i, i + 1, 1, "ordinal", noun=named))
    return found


def _goes_on(words: Sequence[str], i: int) -> bool:
    """Whether another ordinal is joined to one: 'second | and third', 'second | and the third'."""
    behind = [w for w in words[i + 1 : i + 4] if w != "the"]
    return behind[:1] == ["and"] and behind[1:2] != [] and behind[1] in ORDINALS


TIMED = frozenset({"before", "until", "till", "after", "when", "once"})


def _several(case: Case, start: int, sentence: Span) -> bool:
    """Whether a number of several is told in a sentence."""
    return any(is_count(q) and q.value != 1 for q in case.numbers(start, sentence.end))


def _rest(case: Case, sentence: Span) -> list[Head]:
    """'The other is blue', 'the rest horizontal': a part without a number. Its count is what is left over."""
    found: list[Head] = []
    if sentence.said.isdisjoint(OTHERS):
        return found
    words, no_stitch = case.words, case.grammar.plain_words("other-no-stitch")
    for i in range(sentence.start + 1, sentence.end - 1):
        if words[i] not in OTHERS or words[i - 1] != "the" or words[i - 2 : i - 1] in BESIDE:
            continue
        if words[i + 1] in no_stitch or words[i + 1] in SENTENCE_END:
            continue
        counted = any(is_count(q) for q in case.numbers(i + 1, i + 2))
        if not counted and (words[i] == "rest" or told(case, i + 1, sentence) or words[i + 1] in {"is", "was"}):
            found.append(Head(i, i + 1, 1 if words[i] == "other" else None, "part", noun=False))
    return found


def _articles(case: Case, sentence: Span) -> list[Head]:
    """'An all-inside stitch here, another there': one stitch each, not 'an all-inside technique'."""
    found: list[Head] = []
    if sentence.said.isdisjoint(ARTICLES):
        return found
    first: Head | None = None
    words = case.words
    ways = [c for n in ("technique", "configuration") for c in case.within(n, sentence.start, sentence.end)]
    for i in range(sentence.start, sentence.end):
        if (
            words[i] not in ARTICLES
            or words[i + 1 : i + 2] in [[w] for w in ORDINALS]
            or (i > sentence.start and words[i - 1] in {*NO_HEAD, "as", "in", "one"})
        ):
            continue
        if found and found[-1].end == i:
            continue  # 'a single'
        near = [c for c in ways if 0 < c.start - i <= 3 and clear(case, i, c.start)]
        behind = min(near[-1].end + 4, sentence.end) if near else i
        if near and (_one_follows(case, near[0].start, behind) or _single(case, near, behind)):
            if words[i - 1] == "with" and not found:
                first = Head(i, i + 1, 1)  # 'closed with an all-inside stitch and an inside-out stitch'
            else:
                found.append(Head(i, i + 1, 1))
        elif words[i] == "another" and (found or (near and near[0].start == i + 1 and near[0].list == "technique")):
            found.append(Head(i, i + 1, 1, "more", noun=False))
    return [first, *found] if first and found else found


def _another(case: Case, sentence: Span) -> list[Head]:
    """'... and another further forward, in the body': one more, its place behind it."""
    if "another" not in sentence.said:
        return []
    return [
        Head(i, i + 1, 1, "more", noun=False)
        for i in range(sentence.start + 1, sentence.end - 1)
        if case.words[i] == "another" and not case.numbers(i + 1, i + 2) and told(case, i + 1, sentence)
    ]


def _parts_of(case: Case, heads: Sequence[Head]) -> list[Head]:
    """'One of the three stitches is in front, the other two ...': a part of a number that is told in one breath."""
    parts: list[Head] = []
    for whole in heads:
        lead = whole.start - 1 - (case.words[whole.start - 1] in {"the", "these", "those"})
        q = next((q for q in case.numbers(max(0, lead - 1), lead) if q.end == lead), None)
        counted = q is not None and is_count(q) and case.words[lead] == "of" and int(q.value or 0) < (whole.count or 0)
        parts.append(Head(q.start, whole.end, int(q.value or 0), "part", noun=False) if q and counted else whole)
    inside = [(h.start, h.end) for h, old in zip(parts, heads, strict=True) if h is not old]
    return [h for h in parts if not any(a <= h.start < b and (h.start, h.end) != (a, b) for a, b in inside)]


def _as_many(case: Case, sentence: Span, heads: Sequence[Head]) -> list[Head]:
    """'Three in the posterior horn, as many in the body', '... and the same number below'."""
    words, found = case.words, list[Head]()
    if not any(h.count for h in heads):
        return found
    for i in range(sentence.start, sentence.end - 2):
        said = next((s for s in AS_MANY if words[i : i + len(s)] == s), None)
        before = [h for h in heads if h.end <= i and h.count]
        if said and before and told(case, i + len(said), sentence):
            found.append(Head(i, i + len(said), before[-1].count, noun=False))
    return found


def _outermost(case: Case, sentence: Span) -> list[Head]:
    """'Three stitches, the most posterior horizontal': one of them, told by where it lies."""
    words = case.words
    out = []
    for i in range(sentence.start, sentence.end - 2):
        if words[i : i + 2] != ["the", "most"] or not case.within("region", i + 2, i + 3):
            continue
        end = i + 3 + (words[i + 3 : i + 4] == ["one"])
        if told(case, end, sentence) or words[end : end + 1] == [","]:
            out.append(Head(i, end, 1, "part", noun=False))
    return out


def _single(case: Case, ways: Sequence[Concept], end: int) -> bool:
    """'A single horizontal mattress', no single way of stitching."""
    way_nouns = case.grammar.plain_words("way-noun")
    lone = case.words[ways[0].start - 1] == "single" and ways[0].list == "configuration"
    return lone and way_nouns.isdisjoint(case.words[ways[0].start : end])


def _one_follows(case: Case, start: int, end: int) -> bool:
    """Whether one stitch is named, and nothing said to be a way of stitching only."""
    stitches, ways = case.grammar.plain_words("one-stitch"), case.grammar.plain_words("way-noun")
    for i in range(start, end):
        word = case.words[i]
        if word in ways or word in {",", ".", "and", ";"}:
            return False
        named = any(case.within(n, i, i + 1) for n in ("form", "stitch-noun"))
        if word.endswith("ss"):
            continue  # 'each is a vertical mattress' tells how; 'a vertical mattress stitch' names one
        if named or word in stitches:
            return not word.endswith("s") and ways.isdisjoint(case.words[i + 1 : i + 2])
    return False


def _isolated(case: Case, sentence: Span) -> list[Head]:
    """'Inside-out: two-oh, five, vertical': where a technique is told, a bare number between pauses counts."""
    if "technique" not in sentence.lists:
        return []
    pauses = {",", ":", ".", ";", "(", ")", "-"}
    return [
        Head(q.start, q.end, int(q.value or 0))
        for q in case.numbers(sentence.start + 1, sentence.end)
        if is_count(q) and case.words[q.start - 1] in pauses and {*case.words[q.end : q.end + 1]} <= pauses
    ]


def _halves(case: Case, sentence: Span) -> list[Head]:
    words = case.words
    if "half" not in sentence.said:
        return []
    return [
        Head(i, i + 1, None, "half", noun=False)
        for i in range(sentence.start, sentence.end)
        if words[i] == "half" and (words[i + 1 : i + 2] == ["of"] or told(case, i + 1, sentence))
    ]
