"""Sutures of one tissue repeated in the other: 'the same on the graft', 'the same, but orange in front below'."""

from __future__ import annotations

from bisect import bisect_left
from collections.abc import Sequence

from extractor.facts.case import Case
from extractor.facts.draft import FactDraft
from extractor.facts.plans import QUADRANT
from extractor.language.clauses import Span
from extractor.language.concepts import Concept

SAME = "the same sutures in the graft"
SAME_NATIVE = "the same sutures in the native tissue"
PLACED = "suture-tissue"
ADJECTIVES = frozenset({"the", "same", "four", "six", "eight", "exact", "very", "two", "three"})
"""Plain words before that noun, beside those of `same-filler`."""
NOUN_WITHIN = 4
FEWEST = 3
"""Sutures of a tissue, at least, whose colors alone tell those of the other."""
OPENING = frozenset({"the", "exactly", "again", "and", "all", ",", "yes", "good"})
"""What may stand before 'same' where it opens a sentence."""
OF_SUTURES = ("same-of", "color", "form", "suture-role", "technique", "pattern")
MANNER = "manner"
"""'In the same way' says nothing of what was done so."""
OF_OTHERS = ("device", "dimension", "thing", "graft-handling", "joint", "structure")
ITS = frozenset({"its", "it"})
EXCEPT = frozenset({"except", "excepting", "but", "only", "apart", "aside", "exception", "however", "save", "other"})
"""Behind one of these stands what is not the same."""


def with_repeated(case: Case, drafts: list[FactDraft]) -> list[FactDraft]:
    """The sutures told, and those of the one tissue that are said to be the same in the other.

    Told in the other may be what is not the same there: 'the same on the graft, except that this one is orange'.
    """
    tissues = {d.fields["tissue"] for d in drafts}
    if len(tissues) == 1:
        other = "native" if tissues == {"graft"} else "graft"
        return drafts + (_repeated(case, drafts, other) or _by_colors(case, drafts, other))
    for tissue in ("graft", "native"):
        own = [d for d in drafts if d.fields["tissue"] == tissue]
        others = [d for d in drafts if d.fields["tissue"] != tissue]
        if not own or len(own) >= len(others):
            continue
        apart = _set_apart(case, tissue, own)
        before = [d for d in others if d.spans[0].start < min(o.spans[0].start for o in own)]
        if apart is None or not {_place(d) for d in own} <= {_place(d) for d in before}:
            continue
        told = {_place(d) for d in own}
        return drafts + [d for d in _repeated(case, before, tissue, apart) if _place(d) not in told]
    return drafts


def _place(draft: FactDraft) -> tuple[object, object]:
    return draft.fields["region"], draft.fields["surface"]


def _set_apart(case: Case, tissue: str, own: Sequence[FactDraft]) -> int | None:
    """The token that sets the sutures told of a tissue apart from those said to be the same in it."""
    starts = case.note.tokens.starts
    for same in case.by_list["same"]:
        sentence = case.sentence(same.start)
        if not _named(case, sentence, tissue):
            continue
        after = case.note.segments.sentences[min(sentence.number + 1, len(case.note.segments.sentences) - 1)]
        apart = next((i for i in range(same.end, after.end) if case.words[i] in EXCEPT), None)
        if apart is not None and all(starts[apart] < d.spans[0].end <= starts[after.end - 1] for d in own):
            return apart
    return None


def _repeated(case: Case, told_there: list[FactDraft], tissue: str, apart: int | None = None) -> list[FactDraft]:
    """The sutures of one tissue once more in the other: 'the same on the graft', 'in the native the same'.

    What stands behind the token `apart` tells what is not the same.
    """
    for same in case.by_list["same"]:
        sentence = case.sentence(same.start)
        named_there = _named(case, sentence, tissue) or _just_named(case, same, sentence, tissue)
        named_there = named_there or _its_own(case, same, sentence, tissue)
        announced = _announced(case, same, told_there, tissue)
        mood = case.assertion(same.start).mood
        if not named_there or (mood != "performed" and not announced) or case.assertion(same.start).negated:
            continue
        if not _of_sutures(case, same, sentence) or (tissue == "native" and _of_other_work(case, sentence)):
            continue
        start = case.note.tokens.starts[same.start]
        before = [d for d in told_there if d.spans[0].start < start or announced]
        told = max((d.spans[0].end for d in before), default=0)  # those may be told in one sentence with it
        here = {case.clause(same.start).number, case.clause(named_there[0].start).number}
        stop = sentence.end if apart is None else min(apart, sentence.end)
        named = [c for c in case.within("region", sentence.start, stop) if case.clause(c.start).number in here]
        ends = {c.name for c in named if case.note.tokens.starts[c.start] >= told} & QUADRANT
        before = [d for d in before if d.fields["region"] in ends] or before
        if not before:
            continue
        own = [d.fields.get("color") for d in before]
        colors = [c.name for c in case.within("color", same.start, stop)]
        said = colors if len(colors) == len(before) and set(colors) != set(own) else own
        rule = SAME if tissue == "graft" else SAME_NATIVE
        spans = case.spans([(same.start, same.end), (named_there[0].start, named_there[0].end)], rule)
        out = []
        for draft, color in zip(before, said, strict=True):
            fields = in_tissue(draft, tissue) | {"color": color}
            out.append(FactDraft("sutures", fields, (*spans, *draft.spans[:1]), 0.9))
        return out
    return []


def _by_colors(case: Case, told: list[FactDraft], tissue: str) -> list[FactDraft]:
    """'White, blue, green and black went through the graft.': the colors told of the other tissue, without places.

    Each color is of one suture there, and all of them are named, so that the places are those of the colors.
    """
    by_color = {d.fields.get("color"): d for d in told}
    if len(by_color) < len(told) or len(told) < FEWEST or None in by_color:
        return []
    start = case.sentence(bisect_left(case.note.tokens.starts, max(d.spans[0].start for d in told))).number + 1
    for sentence in case.note.segments.sentences[start:]:
        colors = [c for c in case.within("color", sentence.start, sentence.end) if case.assertion(c.start).done]
        named = _named(case, sentence, tissue)
        other = any(case.within(name, sentence.start, sentence.end) for name in ("tie", "region", "surface"))
        if not named or other or {c.name for c in colors} != set(by_color) or len(colors) != len(told):
            continue
        spans = [case.spans([(c.start, c.end), (named[0].start, named[0].end)], SAME) for c in colors]
        return [
            FactDraft("sutures", in_tissue(by_color[c.name], tissue), (*own, *by_color[c.name].spans[:1]), 0.9)
            for c, own in zip(colors, spans, strict=True)
        ]
    return []


def in_tissue(draft: FactDraft, tissue: str) -> dict[str, object]:
    """What is told of a suture, of the one in the other tissue."""
    return {k: v for k, v in draft.fields.items() if k != "role"} | {"tissue": tissue}


def _announced(case: Case, same: Concept, told: Sequence[FactDraft], tissue: str) -> bool:
    """'The graft will get the same as the native.': said ahead of the table, and sutures were passed there later."""
    if case.assertion(same.start).mood != "planned" or not told:
        return False
    if any(d.spans[0].start < case.note.tokens.ends[case.sentence(same.start).end - 1] for d in told):
        return False
    last = case.sentence(bisect_left(case.note.tokens.starts, max(d.spans[0].start for d in told))).number
    for sentence in case.note.segments.sentences[last:]:
        done = [c for c in case.within("action", sentence.start, sentence.end) if c.name == "pass"]
        sutures = case.within("form", sentence.start, sentence.end)
        if sutures and _named(case, sentence, tissue) and any(case.assertion(c.start).done for c in done):
            return True
    return False


def _of_other_work(case: Case, sentence: Span) -> bool:
    """'The native rim was rasped in the same way': another deed is told of the native tissue, and no suture."""
    deeds = {c.name for c in case.within("action", sentence.start, sentence.end)}
    sutured = any(case.within(name, sentence.start, sentence.end) for name in ("form", "color", "suture-role"))
    return bool(deeds) and "pass" not in deeds and not sutured


def _just_named(case: Case, same: Concept, sentence: Span, tissue: str) -> list[Concept]:
    """'How is the graft? | Same four colors, same four corners': the only tissue of the sentence before."""
    opens = case.words[sentence.start : same.start]
    own = case.within("tissue", sentence.start, sentence.end) + case.within(PLACED, sentence.start, sentence.end)
    sutures = any(case.within(name, same.end, sentence.end) for name in ("form", "color"))
    sutures = sutures or any(c.name != MANNER for c in case.within("same-of", same.end, sentence.end))
    if not sentence.number or own or not sutures or not OPENING.issuperset(opens):
        return []
    before = case.note.segments.sentences[sentence.number - 1]
    other = "native" if tissue == "graft" else "graft"
    return [] if _named(case, before, other) else _named(case, before, tissue)[-1:]


def _its_own(case: Case, same: Concept, sentence: Span, tissue: str) -> list[Concept]:
    """'The donor meniscus was cut. | Its sutures duplicate those in the native tissue': the graft as a pronoun."""
    if tissue != "graft" or not sentence.number or ITS.isdisjoint(case.words[sentence.start : same.start]):
        return []
    before = case.note.segments.sentences[sentence.number - 1]
    return [] if _named(case, before, "native") else _named(case, before, tissue)[-1:]


def _named(case: Case, sentence: Span, tissue: str) -> list[Concept]:
    """Where a sentence names a tissue; the native one also by a name of its place, 'in the rim'."""
    named = [c for c in case.within("tissue", sentence.start, sentence.end) if c.name == tissue]
    if tissue == "native":
        named += [c for c in case.within(PLACED, sentence.start, sentence.end) if c.name == "native-place"]
    elif not named:  # 'the transplant got its sutures in the same arrangement'
        named = [c for c in case.within(PLACED, sentence.start, sentence.end) if c.name == "graft-place"]
    return named


def _of_sutures(case: Case, same: Concept, sentence: Span) -> bool:
    """Whether it is sutures that are the same: not 'through the same portal', nor a graft passed in the same way."""
    if not case.grammar.plain_words("same-ahead").isdisjoint(case.words[same.start : same.end]):
        after = range(same.end, min(same.end + NOUN_WITHIN, sentence.end))
        beside = ADJECTIVES | case.grammar.plain_words("same-filler")
        noun = next((i for i in after if case.words[i] not in beside), sentence.end)
        if any(c.name != MANNER for name in OF_SUTURES for c in case.within(name, noun, noun + 1)):
            return True
        if any(case.within(name, noun, noun + 1) for name in OF_OTHERS):
            return False
    if same.key in case.grammar.concepts_in("same-look"):
        return True  # 'color for color'
    sutured = any(case.within(name, sentence.start, sentence.end) for name in ("form", "color", "suture-role"))
    return sutured or not case.within("graft-handling", sentence.start, sentence.end)
