"""Numbers that count stitches: 'five all-inside implants', 'three of these', 'two vertical', 'number: six'.

A count that names no stitch of its own ('two in the body') is elliptical: what it leaves unsaid is said for another.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass

from extractor.facts.case import Case
from extractor.facts.stitch_each import is_apiece
from extractor.facts.stitch_sums import PRONOUNS, of_those, on_each, summed
from extractor.language.clauses import Span
from extractor.language.concepts import POINTING, Concept
from extractor.language.quantities import Quantity

NOUNS = ("form", "technique", "configuration", "device", "stitch-noun", "suture-role")
STITCHED = frozenset({"all-inside-implant"})
"""Devices that are stitches."""
TELLS = ("surface", "region", "configuration", "way", "color", "pattern", "technique")
"""Lists whose words after a bare number say what it counts: 'two above', 'two vertical'."""
SAME_AGAIN = (
    ["of", "the", "same"], ["of", "the", "like"], ["of", "the", "kind"], ["more", "of", "the", "same"],
    ["more", "of", "them"], ["more", "of", "those"], ["more", "of", "these"], ["identical", "ones"],
    ["similar", "ones"], ["more", "like", "it"], ["more", "like", "that"], ["like", "it"], ["like", "that"],
)  # fmt: skip
"""'Four vertical on top and two of the same below': more of what was told before."""
OTHERS = frozenset({"other", "others", "remaining", "rest"})
MORE = frozenset({"another", "more", "further", "additional", "extra"})
ORDINALS = ("first", "second", "third", "fourth", "fifth", "sixth", "seventh", "eighth", "last", "final")
AWAY = frozenset({"on", "out", "back", "along", "in", "from", "away", "up", "down", "forward", "than"})
"""'Five further on' is a distance."""
NO_HEAD = frozenset({"each", "every", "this", "that", "either", "no", "any", "which"})
NO_COMPARATIVE = frozenset({"further", "other", "another", "inner", "outer", "upper", "lower", "silver", "number"})
LINKS = frozenset({
    *POINTING, "on", "in", "at", "to", "for", "the", "were", "was", "are", "is", "a", "an", "through", "over", "along",
    "of", "as", "being", "from", "each", "with", "into", "near", "it", "its", "very",
})  # fmt: skip
"""Plain words that may stand between a bare number and what tells of it, beside those of `count-to-place`."""
ONES, TIED = 3, 12
"""Words from a number to its 'ones', and from a word of tying to that number, at most."""
PUT_THERE = frozenset({"i", "we", "'ve", "have", "had", "there", "get", "got", "did", "used", "made"})
"""'On top we've put four'."""
COUNTED_SO = frozenset({"are", "were", "count", "counted", "took", "needed", "put", "placed", "total", "with"})
"""... before a number that closes its clause, the technique told ahead of it."""
ANOTHER = 24
"""Tokens from 'the one' to 'the other', at most."""
NUMBERED = 9
"""Tokens from 'the number of' or a noun to the number it has, at most."""
NUMBERED_BY = frozenset({"number", "no.", "#"})
BY_MEANS = frozenset({"with", "using", "by"})
MULTIPLIED = frozenset({"times", "x", "×"})
STATING = frozenset({"is", "was", ":", "were", "came", "at"})
"""Before the number that a label has: 'suture count: four'."""
SIZES_TOO = (1, 2, 5)
"""'Number two' is a size of suture."""
LABELS = frozenset({"number", "count", "quantity", "amount"})
"""'Technique: inside-out. Number: six.'"""
TOLD_AS = ("configuration", "way", "technique", "color")
LAID = frozenset({"configuration", "way"})
"""Lists of how stitches are laid: 'two verticals' names them no more than 'two vertical'."""
MOST = 40
OH_SIZES = (2, 3, 4)
NEAR = 8
"""Tokens before a bare number in which its place may have been named."""


APART = frozenset({",", ".", ";", "\n", "and", "in", "with", "each", "per", "every"})
"""Plain words that part a number from what it might count, beside `counted-else`: 'two needles for each stitch'."""


@dataclass(frozen=True)
class Head:
    """A number of stitches said in the tokens `[start, end)`.

    way: counted | part ('of these', 'the other') | more ('another two') | ordinal | half | look.
    noun: it names stitches itself; else it is elliptical.
    total: said to be the sum ('in total', 'altogether').
    each: one number was said of each of several places.
    opens: the token at which the place or way told right ahead of it opens, where one is: 'in the body, two'.
    used: told in place of one that was only meant, which says what they are.
    """

    start: int
    end: int
    count: int | None
    way: str = "counted"
    noun: bool = True
    total: bool = False
    each: bool = False
    used: bool = False
    opens: int | None = None

    @property
    def begins(self) -> int:
        """Where what is told of it begins."""
        return self.start if self.opens is None else self.opens


def is_count(q: Quantity) -> bool:
    """Whether a quantity may be a number of things."""
    return (
        q.dimension is None
        and q.kind in {"count", "quantity"}
        and q.value is not None
        and float(q.value).is_integer()
        and 1 <= q.value <= MOST
    )


def nouns(case: Case, start: int, end: int) -> list[Concept]:
    """Concepts that name stitches, opening in the tokens `[start, end)`."""
    found = [c for name in NOUNS for c in case.within(name, start, end) if name != "device" or c.name in STITCHED]
    found += [c for c in case.within("way", start, end) if case.words[c.end - 1].endswith("s")]  # 'verticals'
    return sorted(found, key=lambda c: (c.start, c.end))


def zero_follows(case: Case, q: Quantity) -> bool:
    """'Two zero', a suture size that some say without an 'oh'."""
    after = next(iter(case.numbers(q.end, q.end + 1)), None)
    zero = after is not None and after.value == 0 and after.dimension is None and after.number_start == q.end
    return zero and q.dimension is None and q.value in OH_SIZES


def head_of(case: Case, q: Quantity, sentence: Span) -> Head | None:
    """The head a number is, None where it counts no stitches."""
    if not is_count(q) or _counts_nothing(case, q, sentence):
        return None
    special = _listed(case, q, sentence) or _label(case, q) or _pronoun(case, q, sentence)
    if special:
        return special
    count = int(q.value or 0)
    way, total = _way(case, q, sentence), summed(case, q, sentence)
    opens = _opens(case, q)
    named = any(_counts(case, q, c) for c in nouns(case, opens, min(opens + 6, sentence.end)))
    if named or _counted_behind(case, q, sentence) or _sized_behind(case, q, sentence):
        return Head(q.start, q.end, count, way, noun=_noun_of_its_own(case, q, sentence), total=total)
    if way != "counted" or total or told(case, q.end, sentence):
        return Head(q.start, q.end, count, way, noun=False, total=total)
    place = _told_before(case, q, sentence)
    return Head(q.start, q.end, count, way, noun=False, opens=place.start) if place else None


def _sized_behind(case: Case, q: Quantity, sentence: Span) -> bool:
    """'Three two-oh, inside-out', 'one number zero, outside-in': a number before a size, and how they were put."""
    size = next((o for o in case.numbers(q.end, q.end + 2) if o.kind == "suture-size" and o.start == q.end), None)
    if size is None:
        return False
    behind = size.end + (case.words[size.end : size.end + 1] == [","])
    return behind < sentence.end and bool(case.within("technique", behind, behind + 1))


def _counts_nothing(case: Case, q: Quantity, sentence: Span) -> bool:
    """Numbers that are no number of stitches: 'each one', 'a vertical one', 'one by one', the size 'two zero'."""
    words = case.words
    before = words[q.start - 1] if q.start > sentence.start else ""
    if q.value == 1 and before == "the" and _against_another(case, q, sentence):
        return False
    if q.value == 1 and before == "the" and words[q.start - 2] in {"just", "only"}:
        return not nouns(case, q.end, q.end + 3)  # 'just the one inside-out stitch'
    no_head = before in NO_HEAD or before in case.grammar.plain_words("no-count")
    if (no_head and not _of_which(words, q.start)) or zero_follows(case, q) or _beside_the_tear(case, q, sentence):
        return True
    if before == "the" and "ones" in words[q.end : q.end + ONES] and case.within("tie", q.start - TIED, q.start):
        return True  # 'tied the two posterior ones, then the two anterior ones'
    if words[q.end : q.end + 2] in (["more", "than"], ["fewer", "than"], ["less", "than"]):
        return True  # 'one more than usual', 'two fewer than planned'
    if case.words[q.end : q.end + 2] == ["of", "each"]:
        return True  # 'a loop stitch and a simple stitch, one of each'
    if q.value != 1:
        return False
    if words[q.start - 2 : q.start - 1] in (["a"], ["an"]) and before.endswith("er") and before not in NO_COMPARATIVE:
        return True  # 'on a longer one, yes': a tear or a knee
    if before == "next" and not {"before", "until"}.isdisjoint(words[q.start - 4 : q.start]):
        return True  # 'each tied before the next one was placed'
    after = words[q.end : q.end + 2]
    told = any(c.end == q.start for n in TOLD_AS for c in case.within(n, q.start - 3, q.start))
    named = (c for n in ("surface", "compartment") for c in case.within(n, q.start - 1, q.start) if c.end == q.start)
    told = told or any(words[c.start - 1] == "the" for c in named)  # 'two on the inferior one', 'the medial one'
    return (
        told
        or before in {"the", "on", "next", *ORDINALS}
        or after in (["by", "one"], ["after", "another"], ["after", "the"])
    )


def _against_another(case: Case, q: Quantity, sentence: Span) -> bool:
    """'The one is a white tape, the other a blue suture': two told against each other."""
    words = case.words
    carried = words[q.end : q.end + 1] in (["is"], ["was"])
    behind = range(q.end, min(q.end + ANOTHER, sentence.end - 1))
    return carried or any(words[i] == "the" and words[i + 1] == "other" for i in behind)


def _beside_the_tear(case: Case, q: Quantity, sentence: Span) -> bool:
    """'Two inside-out sutures, one on either side', '..., one on each side of the tear': both are counted already."""
    behind = case.words[q.end : q.end + 4]
    of_it = behind[1:] in (["each", "side", "of"], ["both", "sides", "of"])
    if behind[:1] not in (["on"], ["at"], ["to"], ["either"]) or not ("either" in behind[:3] or of_it):
        return False
    before = [o for o in case.numbers(sentence.start, q.start) if is_count(o)]
    return any(o.value == 2 * (q.value or 0) for o in before)


def _of_which(words: Sequence[str], start: int) -> bool:
    """'Seven in all, of which four on top', 'out of these four': the number of a part."""
    return start > 1 and words[start - 2] == "of" and words[start - 1] in PRONOUNS


def _label(case: Case, q: Quantity) -> Head | None:
    """'Stitch one', 'suture number two': a stitch by its number."""
    at = q.number_start - 1
    if at > 0 and case.words[at] in NUMBERED_BY and _names(case, at - 1) and _singular(case, at - 1):
        return Head(at - 1, q.end, 1, "ordinal")
    if not _names(case, q.start - 1) or q.number_start != q.end - 1 or not _singular(case, q.start - 1):
        return None
    colored = any(case.within(name, q.end, q.end + 2) for name in ("color", "pattern"))
    return None if colored else Head(q.start - 1, q.end, 1, "ordinal")


def _pronoun(case: Case, q: Quantity, sentence: Span) -> Head | None:
    """'Three of these', 'one is white', 'two on each surface'."""
    count, after = int(q.value or 0), case.words[q.end : q.end + 2]
    if _of_which(case.words, q.start) and told(case, q.end, sentence):
        return Head(q.start, q.end, count, "part", noun=False)
    against = case.words[q.start - 1] == "the" and _against_another(case, q, sentence)
    if count == 1 and case.words[q.start] == "one" and (against or after[:1] in (["is"], ["was"])):
        return Head(q.start, q.end, 1, "part", noun=False)
    if q.start == sentence.start and after[:1] in (["are"], ["were"]) and told(case, q.end, sentence):
        return Head(q.start, q.end, count, "part", noun=False)  # 'Two were vertical'
    if end := of_those(case, q.end):
        return Head(q.start, end, count, "part", noun=False)
    if alike := next((s for s in SAME_AGAIN if case.words[q.end : q.end + len(s)] == s), None):
        return Head(q.start, q.end + len(alike), count, "more", noun=False)
    of_each = on_each(case, q.end, sentence.end) or is_apiece(case, q.end, sentence)
    return Head(q.start, q.end, count, noun=False, each=True) if of_each else None


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
    else_counted = case.grammar.plain_words("counted-else")
    return not any(case.words[i] in APART or case.words[i] in else_counted for i in range(start, end))


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
        if c.list not in LAID or case.words[c.end - 1] in case.grammar.plain_words("stitch-word"):
            return True
    return _counted_behind(case, q, sentence)


def _counted_behind(case: Case, q: Quantity, sentence: Span) -> bool:
    """'Inside-out sutures: five', 'all-inside, three', '4 x 2-0': the number stands behind its noun, or before an x."""
    words = case.words
    if words[q.end : q.end + 1] in (["x"], ["×"], ["times"]) and any(
        s.kind == "suture-size" for s in case.numbers(q.end + 1, q.end + 2)
    ):
        return True
    if words[q.end : q.end + 2] == ["in", "number"] or _numbered(case, q, sentence):
        return True
    labelled = q.start - 2 == sentence.start and words[sentence.start] in LABELS and words[q.start - 1] == ":"
    if labelled or _in_a_list(case, q, sentence):
        return True
    if words[q.start - 1] == ":" and words[q.end : q.end + 1] in ([","], ["."], [";"], []):
        return bool(case.within("form", sentence.start, q.start) or case.within("technique", sentence.start, q.start))
    closes = q.end >= len(words) or words[q.end] in {",", ".", ";", "\n", "altogether", "("}
    named_to = q.start - (words[q.start - 1] in BY_MEANS)
    if closes and any(c.end == named_to for c in case.within("technique", named_to - 3, named_to)):
        return True  # 'all-inside 3 (vertical)', 'repaired outside-in with four'
    lead = words[q.start - 1]
    if closes and lead in PUT_THERE | COUNTED_SO and not told(case, q.end, sentence):
        before = case.within("technique", sentence.start, q.start - 1)
        others = any(is_count(o) for o in case.numbers(sentence.start, q.start))
        if before and not others and not case.within("device", before[-1].end, q.start):
            return True  # 'inside-out stitches, and there are four'
    at = q.start - 1
    while at > sentence.start and words[at] in {":", ",", "x", "-", "total"} and q.start - at <= 2:
        at -= 1
    return closes and at < q.start - 1 and _names(case, at)


def _in_a_list(case: Case, q: Quantity, sentence: Span) -> bool:
    """'Technique inside-out, stitches four, configuration vertical', '..., number six, ...', never a size."""
    words, at = case.words, q.start - 1
    if words[q.end : q.end + 1] not in ([], [","], ["."], [";"]) or at <= sentence.start or q.number_start != q.start:
        return False
    named = words[at] in LABELS and q.value not in SIZES_TOO and words[at - 1] in {",", ";"}
    several = words[at].endswith("s") and _names(case, at) and not case.within("configuration", at, at + 1)
    return (named or several) and bool(case.within("technique", sentence.start, sentence.end))


def _numbered(case: Case, q: Quantity, sentence: Span) -> bool:
    """'The number of inside-out sutures was five', 'verticals on top times three'."""
    words = case.words
    lead = case.words[q.start - 1] if q.start > sentence.start else ""
    ahead = case.words[max(sentence.start, q.start - NUMBERED) : q.start]
    if lead in MULTIPLIED:
        return bool(nouns(case, max(sentence.start, q.start - NUMBERED), q.start))
    if lead in {"numbered", "numbering"} and q.dimension is None:
        return True
    label = q.start - 1 - (lead in STATING)
    if label > sentence.start and words[label] in LABELS and _names(case, label - 1):
        return True  # 'suture count four'
    amount = next((i for i in range(len(ahead) - 1) if ahead[i] in LABELS and ahead[i + 1] == "of"), None)
    named = amount is not None and nouns(case, q.start - len(ahead) + amount, q.start)
    return bool(named) and (lead in STATING | {"to"} or _names(case, q.start - 1))


def bone_side(case: Case, token: int) -> Concept | None:
    """'Four femoral, two tibial': a surface by the bone it faces, where no noun follows."""
    if not case.within("bone", token, token + 1):
        return None
    closes = case.words[token + 1 : token + 2] in ([], [","], ["."], [";"], ["and"], [")"])
    return next(iter(case.within("suture-surface", token, token + 1)), None) if closes else None


def told(case: Case, start: int, sentence: Span) -> bool:
    """Whether words that tell of stitches follow a bare number with nothing but links between."""
    links = LINKS | case.grammar.plain_words("count-to-place")
    threads = (q for q in case.numbers(start, start + 1) if q.kind == "suture-size")
    if any(case.words[q.end - 1].endswith("s") for q in threads):
        return True  # 'two 2-0s'
    size = next((q for q in case.numbers(start + 1, start + 2) if q.kind == "suture-size"), None)
    if size and case.words[start] == "of":
        return bool(case.within("technique", sentence.start, sentence.end))  # 'four of 2-0, all-inside'
    for i in range(start, min(start + 7, sentence.end)):
        if any(case.within(name, i, i + 1) for name in TELLS) or bone_side(case, i):
            return True
        if case.words[i] not in links:
            return False
    return False


def _told_before(case: Case, q: Quantity, sentence: Span) -> Concept | None:
    """'And the body two.': a number that ends its clause, a place or surface before it there."""
    if q.end < sentence.end and case.words[q.end] not in {",", ".", ";", "and", "\n", ")"}:
        return None
    start = q.start
    headed = q.start - 1 > sentence.start and case.words[q.start - 1] in {":", ",", "("}
    start -= int(headed)  # 'body: two, above'
    while start > max(sentence.start, q.start - NEAR) and case.note.segments.level[start] < 1:
        start -= 1
    told = [c for name in ("region", "surface") for c in case.within(name, start, q.start)]
    if headed:
        return next((c for c in told if c.end == q.start - 1), None)
    links = LINKS | case.grammar.plain_words("count-to-place") | PUT_THERE | case.grammar.plain_words("place-takes")
    near = [c for c in told if q.start - c.end <= 4 and all(w in links for w in case.words[c.end : q.start])]
    return near[0] if near else None
