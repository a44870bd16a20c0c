"""Ties told of sutures in groups: top to bottom at each end, the two in front, both upper ones, 'these two'."""

from __future__ import annotations

from collections.abc import Sequence
from itertools import pairwise

from extractor.facts.case import Case
from extractor.facts.draft import FactDraft
from extractor.facts.pairing import Laid
from extractor.facts.places import Places, ordered
from extractor.facts.plans import OPPOSITE, QUADRANT, Position
from extractor.facts.tie_words import JOINERS, MUTUAL_WITHIN, ends_of, is_meant, joined, mutual, spoken_between, tie
from extractor.language.clauses import Span
from extractor.language.concepts import Concept

ORDER = frozenset({
    "first", "then", ",", "the", "at", "in", "and", "after", "that", "next", "afterwards", "followed", "by", "is",
    "was", "are", "were", ":",
})  # fmt: skip
"""Plain words between one region and the next that were tied alike, beside those of `tie-order`."""
HEADS = ORDER | {"one", "ones", "side", "of", "its"}
"""... and between a region and the surfaces tied there, beside `tied-there`: 'the back ones were tied, top to bottom'.
"""
TWO_ARE = frozenset(
    {"are", "were", "to", "tied", "together", ",", ".", "after", "next", "then", "following", "likewise"}
)
ALSO = frozenset({"too", "also", "similarly", "so", "next"})
"""Words that say of another end what was said of the first: 'tied at the back, and in front too'."""
PARTED = frozenset({",", "and", "then"})
"""What parts a region from the next pair of surfaces: 'top to bottom at the back and top to bottom in front'."""
BUT_FOR = frozenset({"except", "excepting", "but", "apart", "aside", "save", "other"})
ALL_OF_THEM = frozenset({"all", "every", "everything", "each", "both"})
LEFT_WITHIN = 7
"""Tokens from the word that sets apart to the end that was not tied, at most."""
LIKE_NEAR = 6
OTHER = frozenset({"other", "opposite"})
AT_AN_END = (["at", "each"], ["at", "either"], ["at", "that"], ["at", "the", "same"], ["of", "each"], ["of", "that"])
"""Before a word for an end these say where a suture lies that is tied: 'the upper one at each end to the lower'."""
TISSUE = ("tissue", "suture-tissue")
NEAR = 8
"""Words from an end of the meniscus to the pair of surfaces told of it, at most."""
PARTNER_NEAR = 9
TO_ITSELF = frozenset({"to", "with"})
LEAD = frozenset({"at", "the", "in", "on", "of", "ones", "both"})
"""Plain words between a count and its word of place, beside those of `tied-both`: 'the two sutures in front'."""
EACH = frozenset({"each", "both", "every", "respectively"})
COUNTED = frozenset({"two", "both", "pair"})
"""What a word of place behind it is said of two sutures by."""
THESE = frozenset({"these", "those", "they", "them", "both", "two", "pair"})
BEFORE_THESE = 3
"""Words within which a pointing word may have a noun of its own."""


def surface_pairs(case: Case, sentence: Span, said: Places, lately: Sequence[Position]) -> list[FactDraft]:
    """'Top to bottom at the back, then in front'; 'at each end the superior suture was tied to the inferior one'."""
    start, end = sentence.start, sentence.end
    surfaces = said.within("surface", start, end)
    everywhere = said.within("region", start, end)
    regions = [c for c in everywhere if c.name in QUADRANT]
    own = {c.start for c in everywhere}
    drafts = []
    heads = HEADS | case.grammar.plain_words("tie-order") | case.grammar.plain_words("tied-there")
    used: set[int] = set()
    for a, b in zip(surfaces, surfaces[1:], strict=False):
        if a.name == b.name or not _surfaces_join(case, a, b) or not is_meant(case, a.start):
            continue
        if a.start in own or b.start in own:
            continue  # 'anterosuperior with anteroinferior': two positions
        near = [r for r in regions if r.end <= a.start <= r.end + NEAR and r.start not in used]
        before = [r for r in near if heads.issuperset(spoken_between(case, r.end, a.start, TISSUE))]
        behind = [] if before else _listed(case, said, b, regions)
        used |= {r.start for r in behind or before[-1:]}
        named = [before[-1].name] if before else [r.name for r in behind]
        ends = {r.name for r in regions}
        if len(regions) == 2 and regions[0].end <= a.start and next(ordered(case, "region", start, a.start), None):
            named = [r.name for r in regions]  # 'tied from back to front, superior to inferior'
        if _of_each(case, sentence) and (not ends or ends >= set(OPPOSITE)):
            named = sorted(OPPOSITE)
        elif not named and not regions:
            named = _only_region(lately)
        for name in dict.fromkeys(named):
            drafts.append(tie(case, [f"{name}-superior", f"{name}-inferior"], a.start, b.end))
    return drafts


def _surfaces_join(case: Case, a: Concept, b: Concept) -> bool:
    between = _without_ends(case, spoken_between(case, a.end, b.start, TISSUE))
    return bool(JOINERS & set(between)) and joined(case, between)


def _without_ends(case: Case, words: list[str]) -> list[str]:
    ends = case.grammar.plain_words("end-word")
    for lead in AT_AN_END:
        for i in range(len(words) - len(lead)):
            if words[i : i + len(lead)] == lead and words[i + len(lead)] in ends:
                return words[:i] + words[i + len(lead) + 1 :]
    return words


def _of_each(case: Case, sentence: Span) -> bool:
    """Whether something is said of each of two: 'each superior one', 'at either end'."""
    words = case.words[sentence.start : sentence.end]
    ends = case.grammar.plain_words("end-word") | case.grammar.plain_words("tied-each")
    return bool(EACH & set(words)) or any(a == "either" and b in ends for a, b in pairwise(words))


def _only_region(lately: Sequence[Position]) -> list[str]:
    """The region of the pair told just before, which 'the upper was tied to the lower' is then said of."""
    regions = {p.region for p in lately}
    return sorted(regions) if len(regions) == 1 and len({p.surface for p in lately}) == 2 else []


def _listed(case: Case, said: Places, surface: Concept, regions: Sequence[Concept]) -> list[Concept]:
    """The regions told behind a pair of surfaces, one after another: '... at the back first, then in front'."""
    found: list[Concept] = []
    at = surface.end
    order = ORDER | case.grammar.plain_words("tie-order")
    for r in regions:
        if r.start < surface.end:
            continue
        ahead = r.end + (0 if PARTED & set(case.words[r.end : r.end + 1]) else 2)
        if r.start - at > 5 or said.within("surface", at, r.start) or said.within("surface", r.end, ahead):
            break
        if found and not order.issuperset(case.words[at : r.start]):
            break
        found.append(r)
        at = r.end
    return found


def partner_pairs(case: Case, own: Sequence[Position], said: Places) -> list[FactDraft]:
    """'The one on top in the back was tied to the one below it': the other surface of the same end."""
    drafts = []
    for n, position in enumerate(own):
        stop = own[n + 1].start if n + 1 < len(own) else len(case.words)
        for c in said.within("surface", position.end, min(stop, position.end + PARTNER_NEAR))[:1]:
            between = spoken_between(case, position.end, c.start)
            ties = (JOINERS - {"and"}) & set(between) and joined(case, between)
            if ties and c.name != position.surface and is_meant(case, position.start):
                ends = [position.name, f"{position.region}-{c.name}"]
                drafts.append(tie(case, ends, position.start, c.end))
    return drafts


def likewise(case: Case, sentence: Span, before: Sequence[FactDraft], said: Places) -> list[FactDraft]:
    """'... and the same in front', 'repeated anteriorly': the pair of the other end is tied as the last one was."""
    words = case.words
    same = [c.start for c in case.within("same", sentence.start, sentence.end)]
    same += [i for i in range(sentence.start, sentence.end) if words[i] in ALSO or words[i : i + 2] == ["as", "well"]]
    last = ends_of(before[-1]) if before else []
    regions = {end.partition("-")[0] for end in last}
    pair = {f"{r}-{s}" for r in regions for s in ("superior", "inferior")}
    if not same or len(regions) != 1 or pair != set(last):
        return []
    for r in [*said.within("region", sentence.start, sentence.end), *_other_end(case, sentence, regions)]:
        near = [i for i in same if r.start - LIKE_NEAR <= i < r.end + LIKE_NEAR]
        apart = [c for c in said.within("surface", r.start - LIKE_NEAR, r.end + LIKE_NEAR) if c.start > min(same)]
        if r.name in OPPOSITE and r.name not in regions and near and not apart:
            return [tie(case, [f"{r.name}-superior", f"{r.name}-inferior"], r.start, r.end)]
    return []


def but_for_pairs(case: Case, sentence: Span, said: Places, everywhere: frozenset[str]) -> list[FactDraft]:
    """'All were tied top to bottom except the anterior pair': each end with two sutures but that one."""
    words, start = case.words, sentence.start
    cues = [i for i in range(start, sentence.end) if words[i] in BUT_FOR and words[i : i + 2] != ["apart", "by"]]
    at = next((i for i in cues if not ALL_OF_THEM.isdisjoint(words[start:i])), None)
    tied = [c for c in case.within("tie", start, sentence.end) if is_meant(case, c.start)]
    if at is None or not tied:
        return []
    left = {c.name for c in said.within("region", at, min(at + LEFT_WITHIN, sentence.end)) if c.name in QUADRANT}
    named = {c.name for c in said.within("region", start, at) if c.name in QUADRANT}
    ends = [r for r in sorted(QUADRANT) if {f"{r}-superior", f"{r}-inferior"} <= everywhere]
    if len(left) != 1 or named or not left < set(ends):
        return []
    return [tie(case, [f"{r}-superior", f"{r}-inferior"], tied[0].start, at + 1) for r in ends if r not in left]


def _other_end(case: Case, sentence: Span, regions: set[str]) -> list[Concept]:
    """'Other end likewise': the end that was not tied just before."""
    (last,) = regions
    ends = case.grammar.plain_words("other-end")
    return [
        Concept("region", OPPOSITE[last], i, i + 2)
        for i in range(sentence.start, sentence.end - 1)
        if last in OPPOSITE and case.words[i] in OTHER and case.words[i + 1] in ends
    ]


def region_pairs(case: Case, sentence: Span, said: Places) -> list[FactDraft]:
    """'The two posterior ones were tied to each other', 'tie the two at the front', 'posterior tied to posterior'."""
    drafts = []
    regions = said.within("region", sentence.start, sentence.end)
    for a, b in zip(regions, regions[1:], strict=False):
        itself = a.name == b.name and a.name in QUADRANT and _to_itself(case, case.words[a.end : b.start])
        if itself and is_meant(case, a.start) and not said.within("surface", sentence.start, sentence.end):
            drafts.append(tie(case, [f"{a.name}-superior", f"{a.name}-inferior"], a.start, b.end))
    untied = case.grammar.plain_words("untied")
    in_pairs = "pairs" in case.words[sentence.start : sentence.end] and _only_in_order(case, sentence, regions, said)
    for region in [] if drafts else regions:
        clause = case.clause(region.start)
        if region.name not in QUADRANT or not untied.isdisjoint(clause.said):
            continue
        if (in_pairs or _is_pair(case, sentence, region)) and is_meant(case, region.start):
            between = [f"{region.name}-superior", f"{region.name}-inferior"]
            drafts.append(tie(case, between, region.start, region.end))
    return drafts


def _only_in_order(case: Case, sentence: Span, regions: Sequence[Concept], said: Places) -> bool:
    """'The pairs were tied, first the posterior, then the anterior': the ends in their order, and nothing else."""
    if said.within("surface", sentence.start, sentence.end) or {r.name for r in regions} != set(OPPOSITE):
        return False
    order = ORDER | case.grammar.plain_words("tie-order") | case.grammar.plain_words("tied-pair")
    first = regions[0].end
    return len(regions) == 2 and order.issuperset(case.words[first : regions[1].start])


def _to_itself(case: Case, between: list[str]) -> bool:
    """Whether between a region and the same again stands 'to', 'tied to', 'knotted with'."""
    tied = len(between) == 1 or (len(between) == 2 and between[0] in case.grammar.plain_words("tied-word"))
    return tied and between[-1] in TO_ITSELF


def each_pair(case: Case, sentence: Span, said: Places) -> list[FactDraft]:
    """'Each pair was tied to itself', 'both pairs to each other': at either end the upper to the lower."""
    words = case.words
    start, end = sentence.start, sentence.end
    ends = case.grammar.plain_words("tied-each")
    eaches = [i for i in range(start, end - 1) if words[i] in EACH and words[i + 1] in ends]
    mutually = mutual(case, start, end) is not None or "itself" in words[start:end]
    if not eaches or not mutually or not is_meant(case, eaches[0]) or said.within("surface", start, end):
        return []
    at = eaches[0], eaches[0] + 2
    return [tie(case, [f"{r}-superior", f"{r}-inferior"], *at) for r in sorted(OPPOSITE, reverse=True)]


def _is_pair(case: Case, sentence: Span, place: Concept) -> bool:
    """Whether a word of place is said of two sutures: 'the two in front', 'both upper ones', 'the lower pair'."""
    words = case.words
    lead = place.start
    leads, pair = LEAD | case.grammar.plain_words("tied-both"), case.grammar.plain_words("tied-pair")
    while lead > sentence.start and place.start - lead < 5 and words[lead - 1] in leads:
        lead -= 1
    before = set(words[max(sentence.start, lead - 1) : place.start])
    after = set(words[place.end : min(sentence.end, place.end + 2)])
    counted = words[place.end : place.end + 1] == ["two"] and bool(TWO_ARE & set(words[place.end + 1 : place.end + 2]))
    return bool(before & COUNTED or after & pair or counted)


def along_pairs(case: Case, sentence: Span, said: Places) -> list[FactDraft]:
    """'Both superior sutures to each other, then both inferior ones': ties along the meniscus, front to back.

    Only where they are said to be tied to each other or from end to end, and no end is named.
    """
    start, end = sentence.start, sentence.end
    orders = [*ordered(case, "region", start, end), *_both_named(case, said, start, end)]
    inside = {c.start for pair in orders for c in pair}
    if any(c.start not in inside for c in said.within("region", start, end)):
        return []
    drafts: list[FactDraft] = []
    for surface in said.within("surface", start, end):
        if not _is_pair(case, sentence, surface) or not is_meant(case, surface.start):
            continue
        paired = case.words[surface.end : surface.end + 1] == ["pair"]
        to_each_other = mutual(case, surface.end, min(end, surface.end + MUTUAL_WITHIN)) is not None
        if drafts or orders or to_each_other or paired:
            drafts.append(tie(case, [f"{r}-{surface.name}" for r in sorted(OPPOSITE)], surface.start, surface.end))
    return drafts


def _both_named(case: Case, said: Places, start: int, end: int) -> list[tuple[Concept, Concept]]:
    """'The upper sutures, front and back, ...': the two ends that a surface's sutures lie at."""
    regions = said.within("region", start, end)
    return [
        (a, b)
        for a, b in pairwise(regions)
        if OPPOSITE.get(a.name) == b.name and case.words[a.end : b.start] in (["and"], ["and", "the"], ["and", "in"])
    ]


def pointed_pairs(
    case: Case, sentence: Span, own: Sequence[Position], near: Sequence[Laid], everywhere: frozenset[str]
) -> list[FactDraft]:
    """'These two were tied together', after just two positions were told; never two that lie crosswise.

    `near` are the sutures told in this sentence and the one before, `everywhere` the places of all. Without a word
    that they were tied to each other they must be all that were told.
    """
    meant = [c for c in case.within("tie", sentence.start, sentence.end) if is_meant(case, c.start)]
    other = mutual(case, sentence.start, sentence.end)
    told = [p for p in own if meant and p.start < meant[-1].start]
    pointing = [i for i in range(sentence.start, sentence.end) if case.words[i] in THESE]
    joined = [i for i in [*pointing, *([other] if other else [])] if told and i >= told[-1].end]
    if told and (len(told) != len(own) or not joined):
        return []
    if not told:
        told = [item.position for item in near]
        all_told = everywhere == {p.name for p in told}
        if not pointing or _names_another(case, sentence, pointing) or (other is None and not all_told):
            return []
    places = {p.name: p for p in told}
    if len(places) != 2:
        return []
    a, b = places.values()
    if a.region != b.region and a.surface != b.surface:
        return []
    return [tie(case, list(places), meant[0].start, meant[-1].end)]


def _names_another(case: Case, sentence: Span, pointing: Sequence[int]) -> bool:
    """Whether a pointing word stands before a noun of its own that is no suture: 'both menisci'."""
    others = ("structure", "thing", "device", "tissue")
    return any(case.within(name, i + 1, min(i + BEFORE_THESE, sentence.end)) for name in others for i in pointing)
