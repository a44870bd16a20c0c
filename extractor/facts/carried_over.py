"""The native sutures once more in the graft, where sutures went through it and nothing tells which.

In a segmental transplant each native suture has its partner in the graft, so that 'four sutures were passed through
the graft' needs no more words. That is common practice, no source; a graft of which anything else is told is left
alone: another number, one end only, a color that the native meniscus has not, or that it differs.
"""

from __future__ import annotations

from bisect import bisect_left
from collections.abc import Iterable, Sequence

from extractor.facts.case import Case
from extractor.facts.draft import FactDraft
from extractor.facts.plans import QUADRANT
from extractor.facts.repeated import in_tissue
from extractor.facts.stitch_counts import is_count
from extractor.language.clauses import Span

RULE = "sutures through the graft, the native ones told"
PASSAGE = "graft-suture-passage"
FEWEST = 2
"""Sutures of the native meniscus with their places, at least."""
MORE = 1
"""Sutures of the graft at most that were read at another place, such as one more that holds its root."""
MOST = 12
CERTAINTY = 0.75
"""Below that of 'the same in the graft': here it is not said, only done so."""
REGIONS = ("region", "suture-region")
EACH = frozenset({"each", "both", "either", "every"})
ONLY = frozenset({"only", "just", "some", "except", "but", "part"})


def in_graft_too(case: Case, sutures: Sequence[FactDraft], steps: Iterable[FactDraft]) -> list[FactDraft]:
    """The graft's sutures as the native ones: none where one of these was read of it, or none went through it."""
    native = [d for d in sutures if d.fields.get("tissue") == "native" and d.fields.get("surface")]
    more = [d for d in sutures if d.fields.get("tissue") == "graft"]
    if len(native) < FEWEST or len(more) > MORE or {_place(d) for d in more} & {_place(d) for d in native}:
        return []
    passed = next((d for d in steps if d.fields["code"] == PASSAGE and d.fields["status"] == "performed"), None)
    if passed is None or case.grammar.concepts_in("transplanting").isdisjoint(case.keys) or _said_to_differ(case):
        return []
    starts = case.note.tokens.starts
    told = {bisect_left(starts, span.start) for span in passed.spans}
    sentences = {s.number: s for s in (case.sentence(at) for at in told if at < len(starts))}
    if not _of_all(case, list(sentences.values()), native, more):
        return []
    spans = case.spans([(s.start, s.end) for _, s in sorted(sentences.items())], RULE)
    return [FactDraft(d.kind, in_tissue(d, "graft"), (*spans, *d.spans[:1]), CERTAINTY) for d in native]


def _said_to_differ(case: Case) -> bool:
    """'The graft has other colors', 'its own colors': whatever its sutures are, they are not the native ones."""
    for c in case.by_list["set-apart"]:
        sentence = case.sentence(c.start)
        before = case.note.segments.sentences[max(0, sentence.number - 1)]
        if any(t.name == "graft" for t in case.within("tissue", before.start, sentence.end)):
            return True
    return False


def _place(suture: FactDraft) -> tuple[object, object]:
    return suture.fields.get("region"), suture.fields.get("surface")


def _of_all(case: Case, told: Sequence[Span], native: Sequence[FactDraft], more: Sequence[FactDraft]) -> bool:
    """Whether the sentences that tell of the passage tell it of all sutures: by number, end and color, where said."""
    counts, ends, colors = [], set(), set()
    for sentence in told:
        if not ONLY.isdisjoint(sentence.said):
            return False
        counts += [int(q.value or 0) for q in case.numbers(sentence.start, sentence.end) if is_count(q)]
        for name in REGIONS:
            ends |= {c.name for c in case.within(name, sentence.start, sentence.end)} & QUADRANT
        colors |= {c.name for c in case.within("color", sentence.start, sentence.end)}
    counts = [n for n in counts if 1 < n <= MOST]
    each = any(not EACH.isdisjoint(s.said) for s in told)
    numbers = {*counts, sum(counts)}
    all_told = not counts or not numbers.isdisjoint((len(native), len(native) + len(more)))
    all_told = all_told or (each and 2 * counts[0] == len(native))
    ends -= {d.fields.get("region") for d in more} - {d.fields["region"] for d in native}
    colors -= {d.fields.get("color") for d in more} - {d.fields.get("color") for d in native}
    same_ends = not ends or ends == {d.fields["region"] for d in native}
    return all_told and same_ends and (not colors or colors == {d.fields.get("color") for d in native})
