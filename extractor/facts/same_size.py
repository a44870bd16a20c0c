"""A size told as that of another: 'Femoral socket nine millimeters across. Tibial tunnel, same diameter.'.

Read only where the place differs from that of the size before, so that nothing said twice is made two of. What is
'the same as' something named behind is left alone.
"""

from __future__ import annotations

from collections.abc import Sequence

from extractor.facts.case import Case
from extractor.facts.draft import FactDraft
from extractor.language.clauses import Span
from extractor.language.concepts import Concept

RULE = "the same <size> at another place"
NAMED_BEHIND = frozenset({"as", "like", "of", "in", "that", "than"})
DIMENSIONS = {"size": ("diameter", "length")}
"""What 'size' may be; any other word is a dimension itself."""
SITES = ("tunnel-site", "bone")
CERTAINTY = 0.85


def same_sizes(case: Case, measured: Sequence[FactDraft]) -> list[FactDraft]:
    """A measurement for each place said to have the size of the one before."""
    found: list[FactDraft] = []
    for same in case.by_list["same-size"]:
        after = case.words[same.end : same.end + 1]
        assertion = case.assertion(same.start)
        if (after and after[0] in NAMED_BEHIND) or assertion.mood != "performed" or assertion.declines(same.start):
            continue
        draft = _like_before(case, same, [*measured, *found])
        if draft:
            found.append(draft)
    return found


def _like_before(case: Case, same: Concept, measured: Sequence[FactDraft]) -> FactDraft | None:
    sentence = case.sentence(same.start)
    thing = next(case.backwards("thing", same.start, sentence.start), None)
    things = [c for c in case.within("thing", sentence.start, same.start) if _sized(c, same, measured)]
    thing = things[-1] if things else thing
    site = _site(case, same, sentence)
    if thing is None or site is None:
        return None
    starts = case.note.tokens.starts[same.start]
    before = [d for d in measured if _is_size(d, thing, same) and d.spans[0].start < starts]
    if not before or before[-1].fields.get("role") == "reference" or before[-1].fields.get("site") in (None, site):
        return None
    last = before[-1]
    spans = (*case.spans([(same.start, same.end), (thing.start, thing.end)], RULE), *last.spans[:1])
    return FactDraft("measurements", {**last.fields, "site": site, "earlier_values": []}, spans, CERTAINTY)


def _sized(thing: Concept, same: Concept, measured: Sequence[FactDraft]) -> bool:
    return any(_is_size(d, thing, same) for d in measured)


def _is_size(draft: FactDraft, thing: Concept, same: Concept) -> bool:
    dimension = same.name.removeprefix("same-")
    dimensions = DIMENSIONS.get(dimension, (dimension,))
    return draft.fields.get("what") in {f"{thing.name.replace('-', '_')}.{d}" for d in dimensions}


def _site(case: Case, same: Concept, sentence: Span) -> str | None:
    """The place named in the sentence of the words 'same diameter', nearest before them."""
    for name in SITES:
        found = case.within(name, sentence.start, same.start)
        if found:
            return found[-1].name
    return None
