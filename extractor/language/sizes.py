"""Sizes of sutures as they are written: '2-0', '2.0 nylon', 'no. 2 braided', '20 sutures', 'size 0'."""

from __future__ import annotations

import re
from collections.abc import Sequence
from dataclasses import replace

from extractor.language.measure import Measure
from extractor.language.numbers import number_words, spelled
from extractor.language.quantity_words import QuantityWords

NEAR = 4
"""How many tokens before or after a size the word for a suture is looked for."""
USP_WHOLE = (0, 1, 2, 3, 5)
"""Suture sizes said without an 'oh' (common practice, no source)."""
LABEL_ENDS = ([":"], ["is"], ["goes"], ["lies"])
"""'Suture number two: all-inside': what follows a running number, and no size."""
DECIMAL = re.compile(r"([1-9])\.0$")


def thread_follows(words: Sequence[str], i: int, lexicon: QuantityWords, adjectives: int = 0) -> bool:
    """Whether sutures are named at token `i` or a few adjectives on, and no tool for them ('suture anchor').

    Args:
        words: reading tokens.
        i: the token after the number.
        lexicon: the words around numbers.
        adjectives: words that may stand between, as in '820 vertical mattress sutures'.
    """
    for k in range(i, min(i + adjectives + 1, len(words))):
        if words[k] in lexicon.threads:
            return not lexicon.suture_tools & {*words[k : k + 3]}
        if not words[k].isalpha() or words[k] in lexicon.after_value:
            return False
    return False


def suture_size(words: Sequence[str], measure: Measure, floor: int, lexicon: QuantityWords) -> Measure | None:
    """The suture size or running number that a bare number is, or None where it is neither."""
    start, end = measure.number_start, measure.end
    label = _label(words, start, floor, lexicon)
    if label:
        return _labeled(words, measure, label, lexicon)
    text = words[start] if end == start + 1 else ""
    decimal = DECIMAL.match(text)
    if decimal and thread_follows(words, end, lexicon):
        return _size(measure, f"{decimal[1]}-0", start)
    direct = thread_follows(words, end, lexicon)
    if text in lexicon.oh_sizes and direct:
        counted = words[end] in lexicon.thread_plurals
        return replace(_size(measure, f"{lexicon.oh_sizes[text]}-0", start), rivals=(float(text),) if counted else ())
    if measure.value == 0 and direct and (words[end] not in lexicon.thread_plurals or start == floor > 0):
        return _size(measure, "0", start)
    return None


def lone_zero(words: Sequence[str], i: int, last: Measure | None, lexicon: QuantityWords) -> Measure | None:
    """'Two stitches with oh monofilament', 'number oh nylon': a zero alone at token `i`, which only a size can be.

    None where no sutures follow, or where another number stands right before.
    """
    follows = i > 0 and words[i] in number_words().zeros and thread_follows(words, i + 1, lexicon)
    if not follows or words[i - 1] == "." or (last is not None and last.end == i):
        return None
    start = i - 1 if words[i - 1] in lexicon.size_before or words[i - 1] == "number" else i
    return Measure(start, i + 1, i, i + 1, 0.0, sort="suture-size", text="0")


def _size(measure: Measure, text: str, start: int) -> Measure:
    return replace(measure, sort="suture-size", text=text, start=start)


def _label(words: Sequence[str], start: int, floor: int, lexicon: QuantityWords) -> tuple[str, int] | None:
    """'number', '#', 'no.' or 'size' before the number, and its first token."""
    if start <= floor:
        return None
    word = words[start - 1]
    if word == "#":
        return "#", start - 1
    found = lexicon.sort_before.before(words, start, floor)
    if found and found[0] == "number":
        return found
    if word in lexicon.size_before:
        return "size", start - 1
    spoken_denial = start > 1 and words[start - 2] in (",", "-")
    if word == "no." or (word == "no" and words[start][:1].isdigit() and not spoken_denial):
        return "no", start - 1
    return None


def _labeled(words: Sequence[str], measure: Measure, label: tuple[str, int], lexicon: QuantityWords) -> Measure | None:
    name, start = label
    end = measure.end
    after = words[end : end + NEAR]
    near = {*words[max(0, start - NEAR) : start], *after}
    threads = bool(near & lexicon.suture_words) and not lexicon.suture_tools & {*words[end : end + 2]}
    decimal = DECIMAL.match(words[measure.number_start]) if measure.number_end - measure.number_start == 1 else None
    if decimal and threads:
        return _size(measure, f"{decimal[1]}-0", start)
    if name in ("size", "no"):
        text = words[measure.number_start]
        if text in lexicon.oh_sizes and threads:
            return _size(measure, f"{lexicon.oh_sizes[text]}-0", start)
        if (measure.value == 0 and name == "size") or (threads and measure.value in USP_WHOLE):
            return _size(measure, spelled(measure.value or 0), start)
        return None
    if name == "number" and words[end : end + 1] in LABEL_ENDS and words[start - 1] in lexicon.threads:
        return replace(measure, sort="ordinal", start=start)
    beside = _beside_size(words, end)
    if measure.value == 0 or (measure.value in USP_WHOLE and (name == "#" or threads or beside)):
        return _size(measure, spelled(measure.value or 0), start)
    return replace(measure, sort="ordinal", start=start)


def _beside_size(words: Sequence[str], end: int) -> bool:
    """'one number 2 and two 2-0 sutures': a size follows in the same list."""
    if words[end : end + 1] not in (["and"], ["or"]):
        return False
    return any(words[k] == "-" and words[k + 1] == "0" for k in range(end + 2, min(end + 5, len(words) - 1)))
