"""Heads of stitches: the words that stand for one stitch or for a number of them.

'Five all-inside implants', 'three of these', 'the other two', 'two vertical', 'x3', 'the first', 'half of them'.
A head that names no stitch of its own ('two in the body') is elliptical: what it leaves unsaid is said for another.
"""

from __future__ import annotations

import re
from dataclasses import dataclass

from extractor.facts.case import Case
from extractor.language.clause_words import SENTENCE_END
from extractor.language.clauses import Span
from extractor.language.concepts import Concept
from extractor.language.quantities import Quantity

NOUNS = ("form", "technique", "configuration", "device", "stitch-noun", "suture-role")
STITCHED = frozenset({"all-inside-implant"})
"""Devices that are stitches."""
TELLS = ("surface", "region", "configuration", "way", "color", "pattern", "technique")
"""Lists whose words after a bare number say what it counts: 'two above', 'two vertical'."""
PRONOUNS = frozenset({"these", "those", "them", "which"})
OTHERS = frozenset({"other", "others", "remaining", "rest"})
MORE = frozenset({"another", "more", "further", "additional", "extra"})
ORDINALS = ("first", "second", "third", "fourth", "fifth", "sixth", "seventh", "eighth", "last", "final")
AWAY = frozenset({"on", "out", "back", "along", "in", "from", "away", "up", "down", "forward", "than"})
"""'Five further on' is a distance."""
NO_HEAD = frozenset({"each", "every", "this", "that", "either", "no", "any", "which", "single-row"})
LINKS = frozenset({
    "on", "in", "at", "to", "for", "the", "went", "were", "was", "are", "is", "lie", "lies", "lay", "go", "goes",
    "a", "an", "through", "placed", "put", "sat", "over", "along", "of", "as", "being", "from", "each", "with",
    "laid", "passed", "thrown", "took", "take", "got", "into", "near", "it", "set", "run", "ran", "running",
    "straight", "simple", "its", "very",
})  # fmt: skip
"""Words that may stand between a bare number and what tells of it."""
STANDS = frozenset({"is", "was", "in", "on", ",", "went", "goes", "lay", "lies", "being", "and", "through", "a"})
"""What follows an ordinal that stands for a stitch: 'the first is white'."""
TIMES = re.compile(r"[x×](\d{1,2})$")
ABSTRACT = frozenset({"configuration", "fashion", "pattern", "technique", "manner", "style", "method", "way", "mode"})
SUMMING = frozenset({"makes", "making", "made", "totaling", "totalling", "totals", "equals", "sum"})
"""'..., so that makes five implants'."""
LABELS = frozenset({"number", "count", "quantity", "amount"})
"""'Technique: inside-out. Number: six.'"""
COLLECTED = {"pair": 2, "trio": 3, "quartet": 4, "quintet": 5}
ARTICLES = frozenset({"a", "an", "single", "another"})
TOLD_AS = ("configuration", "way", "technique", "color")
MOST = 40
OH_SIZES = (2, 3, 4)
NEAR = 8
"""Tokens before a bare number in which its place may have been named."""


@dataclass(frozen=True)
class Head:
    """A number of stitches said in the tokens `[start, end)`.

    way: counted | part ('of these', 'the other') | more ('another two') | ordinal | half | look.
    noun: it names stitches itself; else it is elliptical.
    total: said to be the sum ('in total', 'altogether').
    each: one number was said of each of the two surfaces.
    """

    start: int
    end: int
    count: int | None
    way: str = "counted"
    noun: bool = True
    total: bool = False
    each: bool = False


def is_count(q: Quantity) -> bool:
    """Whether a quantity may be a number of things."""
    return (
        q.dimension is None
        and q.kind in {"count", "quantity"}
        and q.value is not None
        and float(q.value).is_integer()
        and 1 <= q.value <= MOST
    )


def find_heads(case: Case, sentence: Span) -> list[Head]:
    """All heads of a sentence, in order, none within another."""
    found = [h for q in case.numbers(sentence.start, sentence.end) if (h := _of(case, q, sentence))]
    found += (
        _collected(case, sentence)
        + _written(case, sentence)
        + _ordinals(case, sentence)
        + _rest(case, sentence)
        + _halves(case, sentence)
    )
    if all(h.way == "ordinal" for h in found):
        found += _articles(case, sentence)
    found += [] if found else _isolated(case, sentence)
    kept: list[Head] = []
    for head in sorted(found, key=lambda h: (h.start, -h.end)):
        if not kept or head.start >= kept[-1].end:
            kept.append(head)
    return kept


def nouns(case: Case, start: int, end: int) -> list[Concept]:
    """Concepts that name stitches, opening in the tokens `[start, end)`."""
    found = (c for name in NOUNS for c in case.within(name, start, end) if name != "device" or c.name in STITCHED)
    return sorted(found, key=lambda c: (c.start, c.end))


def _of_a_tear(case: Case, way: Concept) -> bool:
    """'A vertical tear', 'the horizontal cleavage'."""
    after = [c for name in ("thing", "finding", "tear-pattern") for c in case.within(name, way.end, way.end + 3)]
    return any(c.name != "stitch" and c.end > way.end for c in after) and clear(case, way.end, after[0].start)


def zero_follows(case: Case, q: Quantity) -> bool:
    """'Two zero', a suture size that some say without an 'oh'."""
    after = next(iter(case.numbers(q.end, q.end + 1)), None)
    zero = after is not None and after.value == 0 and after.dimension is None and after.number_start == q.end
    return zero and q.dimension is None and q.value in OH_SIZES


def ways_said(case: Case, start: int, end: int) -> list[tuple[str, int]]:
    """Configurations said in the tokens `[start, end)`, by name and first token, each said once.

    'Vertical' alone is one too where stitches are told, and never of a tear; 'a simple cinch' is a cinch.
    """
    found = {c.start: c.name for c in case.within("way", start, end) if not _of_a_tear(case, c)}
    full = case.within("configuration", start, end)
    for c in full:
        found = {i: n for i, n in found.items() if not c.start <= i < c.end}
        if not (c.name == "simple" and any(o.start == c.end for o in full)):
            found[c.start] = c.name
    return [(name, i) for i, name in sorted(found.items())]


def _of(case: Case, q: Quantity, sentence: Span) -> Head | None:
    """The head a number is, None where it counts no stitches."""
    if not is_count(q) or _counts_nothing(case, q, sentence):
        return None
    special = _listed(case, q, sentence) or _label(case, q) or _pronoun(case, q, sentence)
    if special:
        return special
    count = int(q.value or 0)
    way, total = _way(case, q, sentence), _summed(case, q, sentence)
    opens = _opens(case, q)
    named = any(_counts(case, q, c) for c in nouns(case, opens, min(opens + 6, sentence.end)))
    if named or _counted_behind(case, q, sentence):
        return Head(q.start, q.end, count, way, noun=_noun_of_its_own(case, q, sentence), total=total)
    if way != "counted" or total or _told(case, q.end, sentence) or _told_before(case, q, sentence):
        return Head(q.start, q.end, count, way, noun=False, total=total)
    return None


def _counts_nothing(case: Case, q: Quantity, sentence: Span) -> bool:
    """Numbers that are no number of stitches: 'each one', 'a vertical one', 'one by one', the size 'two zero'."""
    words = case.words
    before = words[q.start - 1] if q.start > sentence.start else ""
    if before in NO_HEAD or zero_follows(case, q):
        return True
    if q.value != 1:
        return False
    after = words[q.end : q.end + 2]
    told = any(c.end == q.start for n in TOLD_AS for c in case.within(n, q.start - 3, q.start))
    return (
        told or before in {"the", "on", *ORDINALS} or after in (["by", "one"], ["after", "another"], ["after", "the"])
    )


def _label(case: Case, q: Quantity) -> Head | None:
    """'Stitch one', 'suture two': a stitch by its number."""
    if not _names(case, q.start - 1) or q.number_start != q.end - 1 or not _singular(case, q.start - 1):
        return None
    colored = any(case.within(name, q.end, q.end + 2) for name in ("color", "pattern"))
    return None if colored else Head(q.start - 1, q.end, 1, "ordinal")


def _pronoun(case: Case, q: Quantity, sentence: Span) -> Head | None:
    """'Three of these', 'one is white', 'two on each surface'."""
    count, after = int(q.value or 0), case.words[q.end : q.end + 2]
    if count == 1 and case.words[q.start] == "one" and after[:1] in (["is"], ["was"]):
        return Head(q.start, q.end, 1, "part", noun=False)
    if len(after) == 2 and after[0] == "of" and after[1] in PRONOUNS:
        return Head(q.start, q.end + 2, count, "part", noun=False)
    return Head(q.start, q.end, count, noun=False, each=True) if _on_each(case, q.end, sentence.end) else None


def _way(case: Case, q: Quantity, sentence: Span) -> str:
    """Whether a number counts a part ('the other two'), more ('another two'), or simply counts."""
    words = case.words
    before, earlier = (words[i] if i >= sentence.start else "" for i in (q.start - 1, q.start - 2))
    after = words[q.end : q.end + 2]
    further = after[:1] == ["further"] and (len(after) < 2 or after[1] not in AWAY)
    if before in MORE or after[:1] in (["more"], ["additional"]) or further:
        return "more"
    return "part" if before in OTHERS or (before in {"last", "first"} and earlier == "the") else "counted"


def _listed(case: Case, q: Quantity, sentence: Span) -> Head | None:
    """'Stitches one and two', 'sutures one, two and three': as many as are listed."""
    if q.value != 1 or not _names(case, q.start - 1) or _singular(case, q.start - 1):
        return None
    count, end = 1, q.end
    for o in case.numbers(q.end, sentence.end):
        joined = all(w in {",", "and", "to", "through"} for w in case.words[end : o.start])
        if not is_count(o) or not joined or o.value != count + 1 or o.start - end > 2:
            break
        count, end = count + 1, o.end
    return Head(q.start - 1, end, count, "ordinal") if count > 1 else None


def clear(case: Case, start: int, end: int) -> bool:
    """Whether nothing stands between that parts a number from what it counts."""
    return not any(case.words[i] in {",", ".", ";", "\n", "and", "portals", "in", "with"} for i in range(start, end))


def _opens(case: Case, q: Quantity) -> int:
    """Where what a number counts may begin; a number said again for safety is set off: 'six, figure six, sutures'."""
    return q.end + int(q.said_twice and case.words[q.end : q.end + 1] == [","])


def _counts(case: Case, q: Quantity, noun: Concept) -> bool:
    """Whether a number counts a noun: nothing parts them, and no other number stands nearer to it."""
    between = case.numbers(q.end, noun.start)
    return clear(case, _opens(case, q), noun.start) and all(
        o.kind in {"suture-size", "gauge", "ordinal"} for o in between
    )


def _names(case: Case, token: int) -> bool:
    return token >= 0 and any(c.end == token + 1 for c in nouns(case, max(0, token - 2), token + 1))


def _singular(case: Case, token: int) -> bool:
    return not case.words[token].endswith("s") and bool(case.within("form", token, token + 1))


def _noun_of_its_own(case: Case, q: Quantity, sentence: Span) -> bool:
    """'Two vertical' names only a way; 'two vertical mattress stitches' and 'two all-inside' name stitches."""
    for c in nouns(case, q.end, min(q.end + 7, sentence.end)):
        if not clear(case, _opens(case, q), c.start):
            break
        if c.list != "configuration" or case.words[c.end - 1] in {"stitch", "stitches", "suture", "sutures"}:
            return True
    return _counted_behind(case, q, sentence)


def _counted_behind(case: Case, q: Quantity, sentence: Span) -> bool:
    """'Inside-out sutures: five', 'all-inside, three', '4 x 2-0': the number stands behind its noun, or before an x."""
    words = case.words
    if words[q.end : q.end + 1] in (["x"], ["×"], ["times"]) and any(
        s.kind == "suture-size" for s in case.numbers(q.end + 1, q.end + 2)
    ):
        return True
    if words[q.end : q.end + 2] == ["in", "number"]:
        return True
    labelled = q.start - 2 == sentence.start and words[sentence.start] in LABELS and words[q.start - 1] == ":"
    if labelled:
        return True
    if words[q.start - 1] == ":" and words[q.end : q.end + 1] in ([","], ["."], [";"], []):
        return bool(case.within("form", sentence.start, q.start) or case.within("technique", sentence.start, q.start))
    closes = q.end >= len(words) or words[q.end] in {",", ".", ";", "\n", "altogether", "("}
    if closes and any(c.end == q.start for c in case.within("technique", q.start - 3, q.start)):
        return True  # 'all-inside 3 (vertical)'
    at = q.start - 1
    while at > sentence.start and words[at] in {":", ",", "x", "-", "total"} and q.start - at <= 2:
        at -= 1
    return closes and at < q.start - 1 and _names(case, at)


def _told(case: Case, start: int, sentence: Span) -> bool:
    """Whether words that tell of stitches follow a bare number with nothing but links between."""
    for i in range(start, min(start + 7, sentence.end)):
        if any(case.within(name, i, i + 1) for name in TELLS):
            return True
        if case.words[i] not in LINKS:
            return False
    return False


def _told_before(case: Case, q: Quantity, sentence: Span) -> bool:
    """'And the body two.': a number that ends its clause, a place or surface before it there."""
    if q.end < sentence.end and case.words[q.end] not in {",", ".", ";", "and", "\n"}:
        return False
    start = q.start
    headed = q.start - 1 > sentence.start and case.words[q.start - 1] in {":", ","}
    start -= int(headed)  # 'body: two, above'
    while start > max(sentence.start, q.start - NEAR) and case.note.segments.level[start] < 1:
        start -= 1
    told = [c for name in ("region", "surface") for c in case.within(name, start, q.start)]
    if headed:
        return any(c.end == q.start - 1 for c in told)
    return any(q.start - c.end <= 3 and all(w in LINKS for w in case.words[c.end : q.start]) for c in told)


def _summed(case: Case, q: Quantity, sentence: Span) -> bool:
    words = case.words
    ahead = words[max(sentence.start, q.number_start - 4) : q.number_start]
    behind = words[q.end : min(q.end + 5, sentence.end)]
    return (
        ("total" in ahead and "of" in ahead)
        or ahead[:2] in (["in", "total"], ["in", "all"])
        or bool(SUMMING & set(ahead[-3:]))
        or "altogether" in behind
        or any(behind[i : i + 2] in (["in", "total"], ["in", "all"]) for i in range(len(behind)))
    )


def _on_each(case: Case, start: int, end: int) -> bool:
    """'Three on each surface', 'two on either side', 'one above and below each'."""
    words = case.words[start : min(start + 4, end)]
    return any(
        words[i] in {"on", "at", "to", "from"} and words[i + 1] in {"each", "either", "both"} and words[i + 2] in {
            "surface", "surfaces", "side", "sides", "face", "faces",
        }
        for i in range(len(words) - 2)
    )  # fmt: skip


def _collected(case: Case, sentence: Span) -> list[Head]:
    """'A pair of all-inside implants', 'a trio of sutures'."""
    words = case.words
    return [
        Head(i, i + 1, COLLECTED[words[i]])
        for i in range(sentence.start + 1, sentence.end - 1)
        if words[i] in COLLECTED and words[i - 1] in ARTICLES and words[i + 1] == "of"
        and any(clear(case, i + 2, c.start) for c in nouns(case, i + 2, min(i + 7, sentence.end)))
    ]  # fmt: skip


def _written(case: Case, sentence: Span) -> list[Head]:
    """'All-inside x3'."""
    found = []
    for i in range(sentence.start, sentence.end):
        match = TIMES.match(case.words[i])
        if match and 1 <= int(match[1]) <= MOST and nouns(case, max(sentence.start, i - 5), i):
            found.append(Head(i, i + 1, int(match[1])))
    return found


def _ordinals(case: Case, sentence: Span) -> list[Head]:
    """'The first is white', 'a third stitch', 'the second and third'."""
    found: list[Head] = []
    words = case.words
    for i in range(sentence.start, sentence.end):
        if words[i] not in ORDINALS:
            continue
        before = words[i - 1] if i > sentence.start else ""
        named = bool(nouns(case, i + 1, min(i + 2, sentence.end)))
        follows = words[i + 1] if i + 1 < sentence.end else ""
        led = before in {"the", "a"} or (before == "and" and found and found[-1].end == i - 1) or i == sentence.start
        led = led or follows == "one"
        stands = follows in STANDS or bool(case.numbers(i + 1, i + 2))
        stands = stands or any(case.within(name, i + 1, i + 2) for name in TELLS)
        if found and found[-1].end == i - 1 and before == "and" and found[-1].way == "ordinal":
            found[-1] = Head(found[-1].start, i + 1, (found[-1].count or 1) + 1, "ordinal", noun=named)
        elif named or (led and stands):
            found.append(Head(i, i + 1, 1, "ordinal", noun=named))
    return found


def _rest(case: Case, sentence: Span) -> list[Head]:
    """'The other is blue', 'the rest horizontal': a part without a number. Its count is what is left over."""
    found = []
    words = case.words
    for i in range(sentence.start + 1, sentence.end - 1):
        if words[i] not in OTHERS or words[i - 1] != "the":
            continue
        if words[i + 1] in {"end", "side", "hand", "knee", "leg", "portal", "meniscus"} or words[i + 1] in SENTENCE_END:
            continue
        counted = any(is_count(q) for q in case.numbers(i + 1, i + 2))
        if not counted and (words[i] == "rest" or _told(case, i + 1, sentence) or words[i + 1] in {"is", "was"}):
            found.append(Head(i, i + 1, 1 if words[i] == "other" else None, "part", noun=False))
    return found


def _articles(case: Case, sentence: Span) -> list[Head]:
    """'An all-inside stitch here, another there': one stitch each, not 'an all-inside technique'."""
    found = []
    words = case.words
    ways = [c for n in ("technique", "configuration") for c in case.within(n, sentence.start, sentence.end)]
    for i in range(sentence.start, sentence.end):
        if (
            words[i] not in ARTICLES
            or words[i + 1 : i + 2] in [[w] for w in ORDINALS]
            or (i > sentence.start and words[i - 1] in {*NO_HEAD, "as", "in", "one", "with"})
        ):
            continue
        near = [c for c in ways if 0 < c.start - i <= 3 and clear(case, i, c.start)]
        if near and _one_follows(case, near[0].start, min(near[-1].end + 4, sentence.end)):
            found.append(Head(i, i + 1, 1))
        elif words[i] == "another" and found:
            found.append(Head(i, i + 1, 1, "more", noun=False))
    return found


def _one_follows(case: Case, start: int, end: int) -> bool:
    """Whether one stitch is named, and nothing said to be a way of stitching only."""
    for i in range(start, end):
        word = case.words[i]
        if word in ABSTRACT or word in {",", ".", "and", ";"}:
            return False
        named = any(case.within(n, i, i + 1) for n in ("form", "stitch-noun"))
        if named or word in {"stitch", "suture"} or word in {"mattress", "cinch"}:
            return not word.endswith("s") and case.words[i + 1 : i + 2] not in [[w] for w in ABSTRACT]
    return False


def _isolated(case: Case, sentence: Span) -> list[Head]:
    """'Inside-out: two-oh, five, vertical': where a technique is told, a bare number between pauses counts."""
    if not case.within("technique", sentence.start, sentence.end):
        return []
    pauses = {",", ":", ".", ";", "(", ")", "-"}
    return [
        Head(q.start, q.end, int(q.value or 0))
        for q in case.numbers(sentence.start + 1, sentence.end)
        if is_count(q) and case.words[q.start - 1] in pauses and {*case.words[q.end : q.end + 1]} <= pauses
    ]


def _halves(case: Case, sentence: Span) -> list[Head]:
    words = case.words
    return [
        Head(i, i + 1, None, "half", noun=False)
        for i in range(sentence.start, sentence.end)
        if words[i] == "half" and (words[i + 1 : i + 2] == ["of"] or _told(case, i + 1, sentence))
    ]
