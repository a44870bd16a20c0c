"""An allowance told without a number: 'I always cut exactly as large as the defect' is an allowance of nothing.

An allowance with its number is a measurement like any other (`measures.py`).
"""

from __future__ import annotations

from extractor.facts.case import Case
from extractor.facts.draft import FactDraft
from extractor.language.clauses import Span
from extractor.language.concepts import Concept

RULE = "cut as large as the defect"
SPEAKER = frozenset({"i", "we", "my", "our", "it", "was"})
"""Whose cutting it is: the surgeon's, or this graft's (`graft-said`). What others do is no allowance in force."""
HOUSE = frozenset({"house", "clinic", "here"})
AS_A_RULE = "exact-rule"
"""What names the rule by itself: 'size for size'."""
UNREAL = frozenset({"conditional", "considered", "planned"})


def exact_drafts(case: Case) -> list[FactDraft]:
    """One allowance of 0 mm for each sentence that says the graft is cut to the size of the defect."""
    found: list[FactDraft] = []
    told: set[int] = set()
    for exact in case.by_list["exact-cut"]:
        sentence = case.sentence(exact.start)
        if sentence.number in told:
            continue
        assertion = case.assertion(exact.start)
        if assertion.mood in UNREAL or assertion.declines(exact.start) or not _cut_by_us(case, exact, sentence):
            continue
        told.add(sentence.number)
        fields: dict[str, object] = {
            "what": "graft.allowance", "value": 0.0, "unit": "mm", "role": "reference", "approximate": False,
            "earlier_values": [],
        }  # fmt: skip
        scope = case.within("allowance-scope", sentence.start, sentence.end)
        if scope:
            fields["purpose"] = scope[0].name
        found.append(FactDraft("measurements", fields, case.spans([(exact.start, exact.end)], RULE), 0.85))
    return found


def _cut_by_us(case: Case, exact: Concept, sentence: Span) -> bool:
    cutting = exact.name == AS_A_RULE or bool(case.within("graft-role", sentence.start, sentence.end))
    ours = SPEAKER | HOUSE | case.grammar.plain_words("graft-said")
    return cutting and not ours.isdisjoint(sentence.said)
