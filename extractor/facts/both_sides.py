"""Operations on both knees in one sitting: 'Both knees today, on the right a meniscectomy, left only a look'."""

from __future__ import annotations

from extractor.facts.case import IMAGINED, Case
from extractor.language.concepts import Concept

WORK = frozenset({"operative:arthroscopic"})
TODAY = "today"


def only_ailing(case: Case, side: Concept) -> bool:
    """'Bilateral knee arthritis. Right knee arthroscopy': what both knees have is no side to operate on."""
    sentence = case.sentence(side.start)
    passive = case.grammar.plain_words("no-work-on-both")
    return side.name == "bilateral" and not passive.isdisjoint(sentence.said)


def both_operated(case: Case) -> Concept | None:
    """The words that tell of an operation on both knees, where parts of it are told of each side.

    They open the account. Both knees may be examined, scanned or draped for an operation on one (list
    `no-work-on-both`).
    """
    told = case.by_list.get("both-knees", [])
    if not told or not {"side:left", "side:right"} <= case.keys:
        return None
    operating = case.grammar.plain_words("operating-now") | case.grammar.plain_words("operated-on") | {TODAY}
    passive = case.grammar.plain_words("no-work-on-both")
    one = min(c.start for c in case.by_list["side"] if c.name != "bilateral")
    for c in told:
        sentence = case.sentence(c.start)
        if one < sentence.start:
            return None  # the operation was announced for one knee
        said = sentence.said
        work = case.said(WORK, sentence) or bool(case.within("operation", sentence.start, sentence.end))
        if (work or operating & said) and not passive & said and case.assertion(c.start).mood not in IMAGINED:
            return c
    return None
