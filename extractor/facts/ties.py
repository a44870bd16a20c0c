"""Ties: which position was tied to which, said by position, by color, by number, or as a pair."""

from __future__ import annotations

from collections import defaultdict
from collections.abc import Sequence
from typing import TypeVar

from extractor.facts.case import Case
from extractor.facts.draft import FactDraft
from extractor.facts.looks import Look
from extractor.facts.pairing import Laid, labels_of, numbers_of
from extractor.facts.places import Places
from extractor.facts.plans import OPPOSITE, QUADRANT, Position
from extractor.language.clauses import Span
from extractor.language.concepts import Concept
from extractor.language.corrections import put_right

Said = TypeVar("Said", Position, Look)
LONG = 45
SHORT = 14
"""A sentence of no more tokens without positions or colors does not end talk of tying."""
RULE = "<position> tied to <position>"
BY_COLOR = "<color> tied to <color>"
BY_NUMBER = "<number> tied to <number>"
JOINERS = frozenset({"/", "to", "with", "and", "onto", "against", "-", "on"})
SPARE = frozenset({
    "the", "suture", "sutures", "was", "were", "tied", "is", "then", "limb", "limbs", "one", "ones", "tie",
    "ties", "knotted", "its", "partner", "together", "stitch", "tape", "got", "gets", "goes", "went", "down",
})  # fmt: skip
ORDER = frozenset(
    {"first", "then", ",", ":", "the", "at", "in", "and", "after", "that", "next", "afterwards", "followed", "by"}
)
HEADS = ORDER | {"sutures", "suture", "ones", "pair", "limbs", "stitches", "were", "was", "are", "tied", "end", "side"}
"""Words that may stand between a region and the surfaces tied there: 'the back ones were tied, top to bottom'."""
UNTIED = frozenset({"left", "untied", "waits", "waiting", "later", "remained"})
TWO_ARE = frozenset({"are", "were", "to", "tied", "together", ",", "."})
PAIR = frozenset({"pair", "pairs", "ones", "limbs", "sutures", "tapes", "two", "couple"})
ALSO = frozenset({"too", "also", "similarly", "so", "next"})
"""Words that say of another end what was said of the first: 'tied at the back, and in front too'."""
LIKE_NEAR = 6
LEAD = frozenset({"at", "the", "in", "on", "of", "sutures", "limbs", "ones", "both"})


def tie_sentences(case: Case) -> set[int]:
    """Sentences with a word of tying that is meant."""
    meant = (c for c in case.by_list["tie"] if case.assertion(c.start).mood == "performed")
    return {case.sentence(c.start).number for c in meant if not case.assertion(c.start).declines(c.start)}


def find_ties(
    case: Case, positions: Sequence[Position], looks: Sequence[Look], laid: Sequence[Laid], said: Places
) -> tuple[list[FactDraft], set[int]]:
    """Ties told, and the first tokens of the positions and looks they used up.

    Sentences after one about tying belong to it as long as they only go on with positions, colors or numbers.
    """
    marked = tie_sentences(case)
    labels = labels_of(case, laid)
    where = _places_by_look(laid)
    drafts: list[FactDraft] = []
    used: set[int] = set()
    going_on = False
    places, colored = _by_sentence(case, positions), _by_sentence(case, looks)
    for sentence in case.note.segments.sentences:
        own, colors = places[sentence.number], colored[sentence.number]
        tying = sentence.number in marked
        if case.words[sentence.end - 1] == "?" or not (going_on or tying):
            going_on = going_on and not own
            continue
        by_surface = _surface_pairs(case, sentence.start, sentence.end, said)
        if by_surface:
            drafts += by_surface
            drafts += _likewise(case, sentence, drafts, said)
            used |= {p.start for p in own}
            going_on = True
            continue
        pairs = _position_pairs(case, own)
        renewed = [p.name for pair in pairs for p in pair] if pairs and case.correction(pairs[0][0].start) else []
        if renewed:
            drafts = [d for d in drafts if not set(renewed) & set(_ends(d))]
        for a, b in pairs:
            drafts.append(FactDraft("ties", {"between": [a.name, b.name]}, case.spans([(a.start, b.end)], RULE)))
            used |= {a.start, b.start}
        start = _tie_start(case, sentence) if tying else sentence.start
        found: list[FactDraft] = []
        if not pairs and tying:
            found = _region_pairs(case, sentence.start, sentence.end, said)
        late = [k for k in colors if k.start >= start]
        if late and not [p for p in own if p.start >= start]:
            by_color = _color_pairs(case, late, where)
            used |= {k.start for k in late} if by_color else set()
            found += by_color
        if not pairs and not found and not own and labels:
            found = _number_pairs(case, sentence, labels)
        drafts += found
        if not pairs and (likewise := _likewise(case, sentence, drafts, said)):
            drafts += likewise
            used |= {p.start for p in own}
            found += likewise
        going_on = tying or bool(pairs or found) or (not own and not colors and sentence.end - sentence.start < SHORT)
    return _unique(drafts), used


def _by_sentence(case: Case, items: Sequence[Said]) -> dict[int, list[Said]]:
    table: dict[int, list[Said]] = defaultdict(list)
    for item in items:
        table[case.sentence(item.start).number].append(item)
    return table


def _tie_start(case: Case, sentence: Span) -> int:
    """Where the words of tying begin: in speech without punctuation a sentence may tell of passing first."""
    if sentence.end - sentence.start <= LONG:
        return sentence.start
    return case.clause(case.within("tie", sentence.start, sentence.end)[-1].start).start


def _surface_pairs(case: Case, start: int, end: int, said: Places) -> list[FactDraft]:
    """'Top to bottom at the back, then in front'; 'at each end the superior suture was tied to the inferior one'."""
    surfaces = said.within("surface", start, end)
    regions = [c for c in said.within("region", start, end) if c.name in QUADRANT]
    drafts = []
    used: set[int] = set()
    for a, b in zip(surfaces, surfaces[1:], strict=False):
        between = case.words[a.end : b.start]
        joined = bool(JOINERS & set(between)) and all(w in JOINERS or w in SPARE for w in between) and a.name != b.name
        if not joined:
            continue
        near = [r for r in regions if r.end <= a.start <= r.end + 4 and r.start not in used]
        before = [r for r in near if HEADS.issuperset(case.words[r.end : a.start])]
        both = {"each", "both"} & set(case.words[start:end])
        behind = [] if before else _listed(case, b, regions)
        used |= {r.start for r in behind or before[-1:]}
        named = [before[-1].name] if before else sorted(OPPOSITE) if both else [r.name for r in behind]
        for name in dict.fromkeys(named):
            between_them = [f"{name}-superior", f"{name}-inferior"]
            drafts.append(FactDraft("ties", {"between": between_them}, case.spans([(a.start, b.end)], RULE), 0.9))
    return drafts


def _listed(case: Case, surface: Concept, regions: Sequence[Concept]) -> list[Concept]:
    """The regions told behind a pair of surfaces, one after another: '... at the back first, then in front'."""
    found: list[Concept] = []
    at = surface.end
    for r in regions:
        if r.start < surface.end:
            continue
        ahead = r.end + (2 if case.words[r.end : r.end + 1] != [","] else 0)
        if r.start - at > 5 or case.within("surface", at, r.start) or case.within("surface", r.end, ahead):
            break
        if found and not ORDER.issuperset(case.words[at : r.start]):
            break
        found.append(r)
        at = r.end
    return found


def _likewise(case: Case, sentence: Span, before: Sequence[FactDraft], said: Places) -> list[FactDraft]:
    """'... and the same in front', 'repeated anteriorly': the pair of the other end is tied as the last one was."""
    words = case.words
    same = [c.start for c in case.within("same", sentence.start, sentence.end)]
    same += [i for i in range(sentence.start, sentence.end) if words[i] in ALSO]
    last = _ends(before[-1]) if before else []
    regions = {end.partition("-")[0] for end in last}
    pair = {f"{r}-{s}" for r in regions for s in ("superior", "inferior")}
    if not same or len(regions) != 1 or pair != set(last):
        return []
    for r in said.within("region", sentence.start, sentence.end):
        near = [i for i in same if r.start - LIKE_NEAR <= i < r.end + LIKE_NEAR]
        apart = [c for c in said.within("surface", r.start - LIKE_NEAR, r.end + LIKE_NEAR) if c.start > min(same)]
        if r.name in OPPOSITE and r.name not in regions and near and not apart:
            between = [f"{r.name}-superior", f"{r.name}-inferior"]
            return [FactDraft("ties", {"between": between}, case.spans([(r.start, r.end)], RULE), 0.9)]
    return []


def _position_pairs(case: Case, own: Sequence[Position]) -> list[tuple[Position, Position]]:
    pairs: list[tuple[Position, Position]] = []
    i = 0
    while i + 1 < len(own):
        if _joined(case.words[own[i].end : own[i + 1].start]):
            pairs.append((own[i], own[i + 1]))
            while i + 2 < len(own) and _put_right(case, own[i + 1], own[i + 2]):
                pairs[-1] = (own[i], own[i + 2])
                i += 1
            i += 2
        else:
            i += 1
    return pairs


def _joined(between: Sequence[str]) -> bool:
    """Whether these words tie what stands before them to what follows; behind a pause a bare 'and' goes on a list."""
    spoken = [w for w in between if w != ","]
    joiners = JOINERS & set(spoken)
    if len(spoken) < len(between):
        joiners -= {"and", "/"}
    return bool(joiners) and all(w in JOINERS or w in SPARE for w in spoken)


def _put_right(case: Case, wrong: Position, right: Position) -> bool:
    """'... tied to anterior inferior, no, to posterior inferior'."""
    return put_right(case.words, wrong.end, right.start, JOINERS | SPARE)


def _region_pairs(case: Case, start: int, end: int, said: Places) -> list[FactDraft]:
    """'The two posterior ones were tied to each other', 'tie the two at the front', 'anterior pair tied'."""
    drafts = []
    words = case.words
    for region in said.within("region", start, end):
        clause = case.clause(region.start)
        if region.name not in QUADRANT or not UNTIED.isdisjoint(words[clause.start : clause.end]):
            continue
        lead = region.start
        while lead > start and region.start - lead < 5 and words[lead - 1] in LEAD:
            lead -= 1
        before = set(words[max(start, lead - 1) : region.start])
        after = set(words[region.end : min(end, region.end + 2)])
        two = words[region.end : region.end + 1] == ["two"] and bool(
            TWO_ARE & set(words[region.end + 1 : region.end + 2])
        )
        if (before & {"two", "both"} or after & (PAIR - {"two"}) or two) and not case.assertion(region.start).declines(
            region.start
        ):
            between = [f"{region.name}-superior", f"{region.name}-inferior"]
            drafts.append(FactDraft("ties", {"between": between}, case.spans([(region.start, region.end)], RULE), 0.9))
    return drafts


def _places_by_look(laid: Sequence[Laid]) -> dict[tuple[str, str | None], list[str]]:
    """Positions of each color with its pattern, and of each color alone."""
    where: dict[tuple[str, str | None], list[str]] = {}
    for item in laid:
        if item.look:
            for key in {(item.look.color, item.look.pattern), (item.look.color, "any")}:
                names = where.setdefault(key, [])
                if item.position.name not in names:
                    names.append(item.position.name)
    return where


def _color_pairs(case: Case, colors: Sequence[Look], where: dict[tuple[str, str | None], list[str]]) -> list[FactDraft]:
    """'Yellow was tied to blue': the colors stand for the positions they were laid at; none where that is open."""
    drafts = []
    i = 0
    while i + 1 < len(colors):
        a, b = colors[i], colors[i + 1]
        between = case.words[a.end : b.start]
        if JOINERS.isdisjoint(between) or not {",", ".", ";"}.isdisjoint(between):
            i += 1
            continue
        i += 2
        at, to = (where.get((k.color, k.pattern)) or where.get((k.color, "any"), []) for k in (a, b))
        if a.color == b.color and len(where.get((a.color, "any"), ())) == 2:
            at, to = ([name] for name in where[(a.color, "any")])  # one color twice: its two places
        if len(at) == len(to) == 1 and at != to:
            ends = [(a.start, b.end)]
            drafts.append(FactDraft("ties", {"between": [*at, *to]}, case.spans(ends, BY_COLOR), 0.9))
    return drafts


def _number_pairs(case: Case, sentence: Span, labels: dict[int, Position]) -> list[FactDraft]:
    """'One ties to two, and three to four', where positions were numbered."""
    named = [n for n in numbers_of(case, sentence.start, sentence.end) if n[0] in labels]
    drafts = []
    i = 0
    while i + 1 < len(named):
        (one, start, end), (two, next_start, next_end) = named[i], named[i + 1]
        between = case.words[end:next_start]
        if not (
            any(w in JOINERS for w in between) and all(w in JOINERS or w in SPARE or w == "number" for w in between)
        ):
            i += 1
            continue
        i += 2
        names = [labels[one].name, labels[two].name]
        drafts.append(FactDraft("ties", {"between": names}, case.spans([(start, next_end)], BY_NUMBER), 0.9))
    return drafts


def _ends(draft: FactDraft) -> list[str]:
    between = draft.fields["between"]
    return [str(end) for end in between] if isinstance(between, list) else []


def _unique(drafts: list[FactDraft]) -> list[FactDraft]:
    seen: dict[frozenset[str], FactDraft] = {}
    for d in drafts:
        key = frozenset(d.fields["between"])  # type: ignore[call-overload]
        old = seen.get(key)
        seen[key] = FactDraft("ties", old.fields, (*old.spans, *d.spans), old.certainty) if old else d
    return list(seen.values())
