"""Operations that a diagnosis or an indication names: they lie behind the patient, and are not those told of.

'Preoperative diagnosis, left knee after total lateral meniscectomy.', 'Indication: pain after a meniscectomy.'
"""

from __future__ import annotations

from extractor.language.asserted import Assertion
from extractor.language.clauses import Segmentation, Span
from extractor.language.concepts import Concept

DIAGNOSES = frozenset({"preoperative_diagnosis", "diagnoses"})
"""Not the one after the operation: 'medial meniscus tear, status post repair' may be of today's."""
HEADINGS = DIAGNOSES | {"indication"}
AFTER = frozenset("after following post status since failed prior previous earlier old".split())
"""Before an operation these say that it lies behind the patient."""
FOR = frozenset("for needing requiring undergoing wants desires elects proceed performed today".split())
"""In its clause these say that it is the one to be done."""
AFTER_WITHIN = 6
NOUNS = ("ectomy", "fracture", "plasty", "tion")
WORK = frozenset({"operation", "action"})


def diagnosed(segments: Segmentation, inside: list[list[Concept]], found: list[Assertion], words: list[str]) -> None:
    """Put the operations that a diagnosis names, or an indication as done before, in another time."""
    for sentence in segments.sentences:
        if "heading" not in sentence.lists:
            continue
        heading = ""
        for clause in segments.clauses_of(sentence):
            heads = [c for c in inside[clause.number] if c.list == "heading"]
            opens = [c for c in heads if c.start == clause.start]
            if opens or heads and words[clause.end - 1] == ":":
                heading = (opens or heads)[0].name
            if heading in HEADINGS and found[clause.number].done:
                _put_back(clause, sentence, heading, inside, found, words)


def _put_back(
    clause: Span, sentence: Span, heading: str, inside: list[list[Concept]], found: list[Assertion], words: list[str]
) -> None:
    work = [c for c in inside[clause.number] if c.list in WORK]
    heads = [c for c in inside[clause.number] if c.list == "heading" and c.start > clause.start]
    if not work or any(c.name == "procedure" for c in heads) or not FOR.isdisjoint(clause.said):
        return
    lead = words[max(sentence.start, work[0].start - AFTER_WITHIN) : work[0].start]
    told = any(c.list == "operation" for c in work)
    if not AFTER.isdisjoint(lead) or (heading in DIAGNOSES and told and _is_noun(work, words)):
        found[clause.number] = Assertion("history", False, None, work[0].start)


def _is_noun(work: list[Concept], words: list[str]) -> bool:
    """'Meniscectomy', 'reconstruction': what is a noun of work, and no part of a finding's name."""
    return any(words[c.end - 1].endswith(NOUNS) for c in work if c.list == "operation")
