"""An allowance told without a number: 'I always cut exactly as large as the defect' is an allowance of nothing.

An allowance with its number is a measurement like any other (`measures.py`).
"""

from __future__ import annotations

from extractor.facts.case import Case
from extractor.facts.draft import FactDraft
from extractor.language.clauses import Span

RULE = "cut as large as the defect"
SPEAKER = frozenset({"i", "we", "my", "our", "it", "was"})
"""Whose cutting it is: the surgeon's, or this graft's (`graft-said`). What others do is no allowance in force."""
UNREAL = frozenset({"conditional", "considered", "planned"})


def exact_drafts(case: Case) -> list[FactDraft]:
    """One allowance of 0 mm for each sentence that says the graft is cut to the size of the defect."""
    found = []
    for exact in case.by_list["exact-cut"]:
        sentence = case.sentence(exact.start)
        assertion = case.assertion(exact.start)
        if assertion.mood in UNREAL or assertion.declines(exact.start) or not _cut_by_us(case, sentence):
            continue
        fields: dict[str, object] = {
            "what": "graft.allowance", "value": 0.0, "unit": "mm", "role": "reference", "approximate": False,
            "earlier_values": [],
        }  # fmt: skip
        scope = case.within("allowance-scope", sentence.start, sentence.end)
        if scope:
            fields["purpose"] = scope[0].name
        found.append(FactDraft("measurements", fields, case.spans([(exact.start, exact.end)], RULE), 0.85))
    return found


def _cut_by_us(case: Case, sentence: Span) -> bool:
    cutting = case.within("graft-role", sentence.start, sentence.end)
    ours = SPEAKER | case.grammar.plain_words("graft-said")
    return bool(cutting) and not ours.isdisjoint(case.words[sentence.start : sentence.end])
