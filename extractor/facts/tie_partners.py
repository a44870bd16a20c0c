"""Ties told by a color and its partner's place: 'the white is tied to the one below it', 'green to its mate'."""

from __future__ import annotations

from collections.abc import Mapping, Sequence

from extractor.facts.case import Case
from extractor.facts.draft import FactDraft
from extractor.facts.looks import Look
from extractor.facts.places import Places
from extractor.facts.plans import BELOW, Position
from extractor.facts.tie_words import THE, is_meant, tie
from extractor.language.clauses import Span

RULE = "<color> tied to its partner"
LEADS = frozenset({"to", "with", "onto"})
WITHIN = 5
"""Tokens from a color to the 'to' behind it, at most: 'the white suture is tied down to'."""
GLOSSING = frozenset(
    ", that is 's which was are meaning means so i e ie or in other words the by color colors - (".split()
)
PAIRING = ("to", "with", "on", "and", "onto")
PAIRED_BY = (*([by] for by in PAIRING), *([by, the] for by in PAIRING for the in THE))
"""What may lead to the colors of two ends tied, and stand between them."""
NEAR = 4
"""Tokens from 'the one' to the surface it lies at, at most."""


def color_partners(
    case: Case,
    sentence: Span,
    looks: Sequence[Look],
    where: Mapping[tuple[str, str | None], Sequence[str]],
    said: Places,
) -> list[FactDraft]:
    """Ties of a sentence's colors to the suture at the other surface of the same end, where each lies at one place."""
    drafts = []
    for k in looks:
        end = _partner_of(case, k, sentence, said)
        at = where.get((k.color, k.pattern)) or where.get((k.color, "any"), ())
        if end is None or len(at) != 1 or not is_meant(case, k.start):
            continue
        region, surface = at[0].split("-")
        if surface in BELOW and end[1] in (None, BELOW[surface]):
            drafts.append(tie(case, [at[0], f"{region}-{BELOW[surface]}"], k.start, end[0], RULE))
    return drafts


def _partner_of(case: Case, look: Look, sentence: Span, said: Places) -> tuple[int, str | None] | None:
    """Where the words for a color's partner end, and the surface they say; None where it is tied to none."""
    words = case.words
    behind = range(look.end, min(look.end + WITHIN, sentence.end - 1))
    lead = next((i for i in behind if words[i] in LEADS and words[i + 1] in THE), None)
    if lead is None:
        return None
    named = words[lead + 2 : lead + 3]
    if named and named[0] in case.grammar.plain_words("tied-partner"):
        return lead + 3, None
    surfaces = said.within("surface", lead + 2, min(lead + 2 + NEAR, sentence.end))
    if named in (["one"], ["suture"], ["limb"]) and surfaces and not case.within("color", lead, surfaces[0].start):
        return surfaces[0].end, surfaces[0].name
    return None


def glossed(case: Case, own: Sequence[Position], colors: Sequence[Look]) -> bool:
    """'Posterior superior to posterior inferior, that is white to purple': the colors only say the pair again."""
    if len(own) != 2 or len(colors) != 2 or colors[0].start < own[1].end:
        return False
    lead = set(case.words[own[1].end : colors[0].start])
    return lead <= GLOSSING and case.words[colors[0].end : colors[1].start] in PAIRED_BY
