"""A number put right later, as people talk: 'The ten is rubbish, put an eight there', 'nine. Eight, sorry'.

`settle.py` folds a correction into its number where both stand side by side. Here the number is said again to be
dismissed, or what stands between tells why it was wrong (the ruler had slipped), or the apology comes after. The value
is put right where it was first said, so that what it is of stays found; `put_right` keeps where the right one stands.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import replace

from extractor.language import links
from extractor.language.measure import QUANTITY, Measure
from extractor.language.quantity_words import QuantityWords
from extractor.language.said_anew import near
from extractor.language.sorts import follows_noun

MOST_BACK = 6
"""Numbers passed over on the way back to the one dismissed, at most."""
LONGEST = 20
"""Tokens between a number, or its dismissal, and the right one, at most."""
MOST_TOLD = 6
"""Words between a number and what dismisses it, at most, where it was not said before."""
MOST_REASON = 8
"""Words in no list that tell why a number was wrong, at most."""
MOST_TIMES = 2
"""How much larger than the other one of a number and its correction may be, at most, where the reason is in no list."""
MOST_NAMED = 5
"""Words of 'the correction is', at most."""
DENYING = frozenset({"no", "well", "but", "wait", "sorry", "hang", "hold", "oh"})
THAT_WAS = frozenset({("that", "was"), ("it", "was"), ("this", "was")})
"""What opens so behind a number tells why it does not hold, denied or not."""
ARTICLES = frozenset({"a", "an", "the"})
INTO = frozenset({"to", "into", "by", "with", "for"})
SAID_OF = frozenset({"for", "in", "of", "as"})
MOST_SIZE = 3
"""Tokens from a number to the size it is said of, at most: 'for the length'."""
STOPS = frozenset({",", ".", "?", "!", ";", ":", "-", "\n"})
ENDS = frozenset({".", "?", "!", ";", "\n"})
STATED = frozenset({"is", "then", "it"})
"""After the right number these say no more than that it is right: 'twenty-one is right', 'three it is'."""


def put_right_later(words: Sequence[str], measures: list[Measure], lexicon: QuantityWords) -> list[Measure]:
    """The measures with those put right later, and without those that only put them right."""
    kept: list[Measure] = []
    n = 0
    while n < len(measures):
        here = measures[n]
        after = measures[n + 1] if n + 1 < len(measures) else None
        named = after is not None and after.pronoun  # 'for six weeks, no, this is a small one, four weeks'
        behind = measures[n + 2] if named and n + 2 < len(measures) else None
        old = _dismissed(words, kept, here, after, lexicon)
        last = measures[n + 2] if n + 2 < len(measures) else None
        struck = _struck(words, kept, here)
        if struck is not None:
            kept[struck] = _put_right(kept[struck], here)
            n += 1
        elif old is not None and after is not None:
            if old == len(kept):
                kept.append(here)
            kept[old] = _put_right(kept[old], after)
            n += 2
        elif after is not None and (
            _provisional(words, here, after, lexicon)
            or _denied(words, here, after, lexicon)
            or _concluded(words, here, after, lexicon)
            or _set_right(words, here, after, lexicon)
        ):
            kept.append(_put_right(here, after))
            n += 2
        elif behind is not None and _set_right(words, here, behind, lexicon):
            kept.append(_put_right(here, behind))
            n += 3
        elif after is not None and last is not None and _sized_anew(words, (here, after, last), lexicon):
            kept.append(_put_right(here, last))
            n += 3
        elif kept and (_excused(words, kept[-1], here, lexicon) or _apologized(words, kept[-1], here, lexicon)):
            kept[-1] = _put_right(kept[-1], here)
            n += 1
        else:
            kept.append(here)
            n += 1
    return kept


def _put_right(old: Measure, right: Measure) -> Measure:
    earlier = (*old.earlier, *((v, old.unit) for v in (old.value, old.low, old.high) if v is not None))
    return replace(
        old,
        value=right.value,
        low=right.low,
        high=right.high,
        unit=right.unit or old.unit,
        earlier=earlier,
        about=right.about,
        rivals=right.rivals,
        put_right=(right.start, right.end),
    )


def _dismissed(
    words: Sequence[str], kept: list[Measure], again: Measure, right: Measure | None, lexicon: QuantityWords
) -> int | None:
    """Which number the one after it replaces: 'the ten is rubbish, put an eight there'.

    Where none was said before, the number itself: 'the length that I gave as twenty should read twelve'.
    """
    if right is None or again.value is None or not _may_correct(words, again, right, lexicon):
        return None
    back = range(len(kept) - 1, max(-1, len(kept) - 1 - MOST_BACK), -1)
    old = next((i for i in back if kept[i].value == again.value and links.same_kind(kept[i], again)), None)
    old = len(kept) if old is None else old
    if not links.same_kind(again, right):
        return None
    gap = range(again.end, right.start)
    changing = lexicon.changing.before(words, _lead(words, again.start))
    if changing and set(words[again.end : right.start]) <= INTO | ARTICLES:
        return old
    if changing and changing[0] == "strike" and old < len(kept):
        enters = _only_enters(words, again.end, right.start, lexicon) or _names_it(words, again.end, right.start)
        return old if enters else None
    dismissal = next((k for k in gap if lexicon.dismissal.at(words, k)), None)
    most = MOST_TOLD if old == len(kept) else 1
    if dismissal is None or dismissal - again.end > most or ENDS & set(words[again.end : dismissal]):
        return None
    end = _end(lexicon.dismissal.at(words, dismissal))
    return old if _only_enters(words, end, right.start, lexicon) else None


def _struck(words: Sequence[str], kept: list[Measure], right: Measure) -> int | None:
    """Which number is said again behind a 'not' and the right one at once: 'to nine degrees, ..., not nine, eleven'."""
    if words[right.start - 1 : right.start] != ["not"] or len(right.earlier) != 1 or right.value is None:
        return None
    for i in range(len(kept) - 1, max(-1, len(kept) - 1 - MOST_BACK), -1):
        if kept[i].value == right.earlier[0][0] and links.same_kind(kept[i], right):
            return i if right.start - kept[i].end <= LONGEST else None
    return None


def _excused(words: Sequence[str], old: Measure, right: Measure, lexicon: QuantityWords) -> bool:
    """'Three millimeters. Ah, I had the probe upside down. Two millimeters.': why it was wrong, and the right one."""
    if not links.same_kind(old, right) or not _may_correct(words, old, right, lexicon):
        return False
    gap = range(old.end, right.start)
    fault = next((k for k in gap if lexicon.fault.at(words, k)), None)
    if fault is None or not _only_enters(words, _end(lexicon.fault.at(words, fault)), right.start, lexicon):
        return False
    told = [w for w in words[_size_said(words, old.end, lexicon) : fault] if w[:1].isalpha()]
    return len(told) <= MOST_REASON and not any(w in lexicon.sizes for w in told[1:])


def _size_said(words: Sequence[str], end: int, lexicon: QuantityWords) -> int:
    """The token after the size that a number is said of at once: 'fifteen millimeters | for the length | but ...'."""
    size = next((k for k in range(end, min(end + MOST_SIZE, len(words))) if words[k] in lexicon.sizes), None)
    return size + 1 if size is not None and set(words[end:size]) <= SAID_OF | ARTICLES else end


def _apologized(words: Sequence[str], old: Measure, right: Measure, lexicon: QuantityWords) -> bool:
    """'Fifty minutes. Forty, pardon me.': the right number in a few words of its own, and the apology behind it."""
    if not links.same_kind(old, right) or right.value is None or old.value is None or old.value == right.value:
        return False
    if not words[old.end : right.start] or not _only_enters(words, old.end, right.start, lexicon):
        return False
    if words[old.end] not in STOPS or not 0 < right.start - old.end <= 3:
        return False
    at = right.end + (words[right.end : right.end + 1] == [","])
    cue = lexicon.correction.at(words, at)
    if cue is None or cue[0] == "weak":
        return False
    return cue[1] >= len(words) or words[cue[1]] in STOPS


def _provisional(words: Sequence[str], old: Measure, right: Measure, lexicon: QuantityWords) -> bool:
    """'Nine millimeters, or so I thought; with the probe straight it is eight': a value said to be a first look."""
    at = old.end + (words[old.end : old.end + 1] == [","])
    first = lexicon.provisional.at(words, at)
    if first is None or not links.same_kind(old, right) or old.value is None or right.value in (None, old.value):
        return False
    if right.pronoun or right.sort != QUANTITY or right.start - first[1] > LONGEST:
        return False
    if right.unit is None and follows_noun(words, right.end, lexicon):
        return False
    between = words[first[1] : right.start]
    return sum(w in ENDS for w in between) <= 1 and not any(w in lexicon.sizes for w in between)


def _denied(words: Sequence[str], old: Measure, right: Measure, lexicon: QuantityWords) -> bool:
    """'Not fifteen millimeters as I said before but thirteen', 'do not write fifteen. It is thirteen'."""
    if not links.same_kind(old, right) or right.value in (None, old.value) or right.start - old.end > LONGEST:
        return False
    if right.unit is None and follows_noun(words, right.end, lexicon):
        return False
    between = words[old.end : right.start]
    lead = _lead(words, old.start)
    if lexicon.not_entering.before(words, lead):
        return sum(w in ENDS for w in between) <= 1 and _only_enters(words, right.start - 2, right.start, lexicon)
    if not between or any(w in lexicon.sizes for w in between):
        return False
    return words[lead - 1] == "not" and between[-1] == "but" and ENDS.isdisjoint(between)


def _concluded(words: Sequence[str], old: Measure, right: Measure, lexicon: QuantityWords) -> bool:
    """'Seven point five but it goes only into the hole of eight, so eight': what is said against it, and what follows.

    The two are near, nothing else is measured between them, and the second is led up to by 'so' alone.
    """
    between = words[old.end : right.number_start]
    if "but" not in between[:2] or not links.same_kind(old, right):
        return False
    if not _may_correct(words, old, replace(right, start=right.number_start), lexicon):
        return False
    if not ENDS.isdisjoint(between) or any(w in lexicon.sizes for w in between):
        return False
    so = max((k for k in range(old.end, right.end) if words[k] == "so"), default=0)
    return bool(so) and near(old, right) and _only_enters(words, so + 1, right.number_start, lexicon)


def _set_right(words: Sequence[str], old: Measure, right: Measure, lexicon: QuantityWords) -> bool:
    """'Thirty percent of the meniscus is gone, no, that's harsh, twenty-five': a denial, why, and the number alone.

    All in one sentence, each between pauses, with no other size named between, and nothing behind the number.
    """
    after = words[right.end] if right.end < len(words) else "."
    if not links.same_kind(old, right) or after[:1].isalnum() or words[right.start - 1] != ",":
        return False
    if not _in_one_unit(old, right) or right.sort != QUANTITY or right.start - old.end > LONGEST:
        return False
    if not right.value or not old.value or max(old.value, right.value) > MOST_TIMES * min(old.value, right.value):
        return False
    if not ENDS.isdisjoint(words[old.end : right.start]):
        return False
    parts = [part.split() for part in " ".join(words[old.end : right.start]).split(",")][1:]
    parts = [part for part in parts if part]
    denied = any(set(part) == {"no"} for part in parts)
    reason = next((part for part in reversed(parts) if DENYING.isdisjoint(part[:1])), [])
    denied = denied or tuple(reason[:2]) in THAT_WAS  # 'four, well, that was before the biter, two millimeters'
    led = all(len(part) <= 2 and not DENYING.isdisjoint(part) for part in parts if part is not reason)
    return denied and led and len(reason) <= MOST_REASON and not any(w in lexicon.sizes for w in reason)


def _in_one_unit(old: Measure, right: Measure) -> bool:
    """'Thirty percent, ..., twenty-five', 'four, ..., two millimeters': one says the unit, or both say the same."""
    return (
        right.unit == old.unit
        if old.unit and right.unit
        else (old.bare or right.bare) and (old.unit or right.unit) is not None
    )


def _sized_anew(words: Sequence[str], three: tuple[Measure, Measure, Measure], lexicon: QuantityWords) -> bool:
    """'Seven point five but it would only go through the eight block, so eight': the right one is named before."""
    old, first, right = three
    return first.bare and first.value == right.value and _concluded(words, old, right, lexicon)


def _may_correct(words: Sequence[str], before: Measure, right: Measure, lexicon: QuantityWords) -> bool:
    """Whether a number may be the right one: single, near by, and with nothing measured by it in so many words."""
    if right.value is None or right.pronoun or right.value == before.value or right.start - before.end > LONGEST:
        return False
    if right.sort != QUANTITY or right.start <= before.end:
        return False
    if right.unit is None and follows_noun(words, right.end, lexicon):
        return False
    after = words[right.end] if right.end < len(words) else "."
    return not after[:1].isalnum() or after in STATED or lexicon.entering.at(words, right.end) is not None


def _only_enters(words: Sequence[str], start: int, end: int, lexicon: QuantityWords) -> bool:
    """Whether tokens only lead up to the right number: 'write', 'it reads', 'make that an', and what `fault` adds."""
    k = start
    while k < end:
        found = max(
            (_end(p.at(words, k)) for p in (lexicon.entering, lexicon.filler, lexicon.correction, lexicon.fault)),
            default=0,
        )
        if 0 < found <= end:
            k = found
        elif words[k] in STOPS or words[k] in ARTICLES:
            k += 1
        elif words[k - 1] == "," and words[k + 1 : k + 2] == [","]:
            k += 1  # 'Three, Anna, type three': somebody is spoken to
        else:
            return False
    return True


def _names_it(words: Sequence[str], start: int, end: int) -> bool:
    """'Not nine, the correction is eleven': the thing named again, and that it is so much."""
    said = [w for w in words[start:end] if w not in STOPS]
    return 3 <= len(said) <= MOST_NAMED and said[0] in ARTICLES and said[-1] in {"is", "was"}


def _lead(words: Sequence[str], start: int) -> int:
    """Where the words before a number end: 'change the | twelve'."""
    return start - (start > 0 and words[start - 1] in ARTICLES)


def _end(found: tuple[str, int] | None) -> int:
    return found[1] if found else 0
