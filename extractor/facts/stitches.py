"""Stitches of a repair: technique, configuration, number, size and place, told around one word of technique.

A sentence is shared out among its techniques, and a technique's share among its heads ('two vertical',
'the other three'): what stands in a share belongs to it. `stitch_links.py` joins what is told over several
sentences, a total and its parts among it.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import replace

from extractor.facts.case import Case
from extractor.facts.draft import FactDraft
from extractor.facts.looks import Look
from extractor.facts.stitch_asides import afterthought, alike, by_color_behind, foreword_of, load
from extractor.facts.stitch_counts import Head
from extractor.facts.stitch_each import each_places
from extractor.facts.stitch_exceptions import with_exceptions
from extractor.facts.stitch_groups import PLACED, Group
from extractor.facts.stitch_heads import find_heads
from extractor.facts.stitch_links import KINDS, Links
from extractor.facts.stitch_meant import really_told, zone_used
from extractor.facts.stitch_recounts import lone_number, recount, summed_up
from extractor.facts.stitch_shared import head_all, join_subjects, place_all, spread
from extractor.facts.stitch_singles import place_like_neighbors, with_singles
from extractor.facts.stitch_ways import ways_said
from extractor.facts.stitch_words import (
    closes_skin,
    graft_in_hand,
    inside,
    look_of,
    opens,
    place_of,
    role_of,
    size_of,
    ways,
)
from extractor.facts.stitch_zones import Zone, holds, parting, zones_of
from extractor.facts.stitches_lost import without_lost
from extractor.language.clauses import Span
from extractor.language.concepts import Concept

RULE = "<count> <size> sutures, <technique>, <configuration>, at <place>"
TRACTION_BACK = 6
"""Sentences before in which the graft may have been named that a traction suture pulls in."""
FURTHER = frozenset({"more", "ordinal"})
EVERY = frozenset({"all", "each", "every", "everything", "throughout", "everywhere", "lot", "always"})


def stitch_drafts(case: Case, looks: Sequence[Look], busy: frozenset[int]) -> list[FactDraft]:
    """Suture facts of all stitches told, and numbers announced that their parts do not make up.

    Args:
        case: the note.
        looks: the looks of sutures said in it.
        busy: sentences that tell of quadrants; only a technique opens stitches there.
    """
    links = Links(case, RULE)
    looks = sorted(looks, key=opens)
    foreword: str | None = None
    found: tuple[Span | None, Sequence[Head]] = (None, ())
    for sentence in case.note.segments.sentences:
        quadrants = sentence.number in busy
        (before, meant), found = found, (sentence, find_heads(case, sentence))
        heads = really_told(case, sentence, found[1])
        if not quadrants and links.is_open and _adds_to(case, sentence, heads, looks, links):
            continue
        if not quadrants and (colored := by_color_behind(case, sentence, looks, links)):
            links.add(sentence, colored)
            continue
        if not quadrants:
            heads = with_singles(case, sentence, heads, looks, links.open)
        zones = zones_of(case, sentence, heads, quadrants)
        if not zones and not quadrants:
            zones = _pointing(case, sentence, heads, links)
        if not heads and not quadrants and before and "technique" not in sentence.lists:
            zones = zone_used(case, before, meant, sentence) or zones
        told = [group for zone in zones if _performed(case, zone) for group in _groups(case, zone, looks)]
        if told:
            told = _completed(case, sentence, told, looks, foreword)
        foreword = foreword_of(case, sentence) if not told and not quadrants else None
        if not told and not quadrants:
            told = alike(case, sentence, looks, links)
        if heads and not told and not quadrants:
            told = _rows(case, sentence, heads, looks) or _announced(case, sentence, heads, looks)
        links.add(sentence, without_lost(case, sentence, told, links.open))
        if told and told[-1].whole and (tail := _tail(case, sentence)):
            told[-1].whole.tell_parts(afterthought(case, tail, looks))
    return links.drafts()


def _completed(
    case: Case, sentence: Span, told: list[Group], looks: Sequence[Look], foreword: str | None
) -> list[Group]:
    """The stitches of a sentence with what it says of all of them; the `foreword` is the size named ahead of them."""
    told = with_exceptions(case, sentence, told)
    head_all(case, sentence, told)
    join_subjects(case, told)
    spread(case, sentence, told, looks)
    place_all(case, sentence, told)
    place_like_neighbors(told)
    load(case, sentence, told, looks)
    for group in told:
        if foreword and "technique" in group.fields and "usp_size" not in group.fields:
            group.fields["usp_size"] = foreword
    return told


def _adds_to(case: Case, sentence: Span, heads: Sequence[Head], looks: Sequence[Look], links: Links) -> bool:
    """Whether a sentence only puts right, sums up or fills in what was told of stitches before; then it is taken in."""
    if again := recount(case, sentence):
        links.recount(int(again.value or 0), (again.start, again.end))
        return True
    if links.awaits_number and (count := lone_number(case, sentence)):
        links.open[0].fields["count"] = int(count.value or 0)
        links.open[0].pieces.append((count.start, count.end))
        return True
    if (total := summed_up(case, sentence)) and links.sums_to(total):
        return True
    said = {} if heads else afterthought(case, sentence, looks)
    if said:
        all_told = not EVERY.isdisjoint(sentence.said)
        every = all_told or (set(said) == {"usp_size"} and links.in_one_way)
        links.fill(said, (sentence.start, sentence.end), every=every)
    return bool(said)


def _tail(case: Case, sentence: Span) -> Span | None:
    """'..., a purple one, all vertical mattress.': what a sentence says last, of all parts of a number."""
    last = (i for i in range(sentence.end - 1, sentence.start, -1) if case.words[i] in EVERY)
    start = next((i for i in last if case.note.segments.level[i] >= 2), None)
    return None if start is None else case.part(start, sentence)


def _announced(case: Case, sentence: Span, heads: Sequence[Head], looks: Sequence[Look]) -> list[Group]:
    """'Two stitches were passed through the root.': no fact yet, but what follows may be its parts."""
    own = [h for h in heads if h.noun and h.way == "counted" and (h.count or 0) > 1]
    zone = Zone(None, sentence.start, sentence.end, tuple(own))
    if len(own) != 1 or not _performed(case, zone):
        return []
    (group,) = _groups(case, zone, looks)[:1]
    group.announced = True
    return [group]


def _rows(case: Case, sentence: Span, heads: Sequence[Head], looks: Sequence[Look]) -> list[Group]:
    """'Top: 3 vertical.', 'Posterior horn, three stitches.': numbers at their places, the technique not yet told.

    The first may be the number of all: 'Five stitches, three on top and two below'.
    """
    zone = Zone(None, sentence.start, sentence.end, tuple(heads))
    if not heads or case.within("tie", sentence.start, sentence.end) or not _performed(case, zone):
        return []
    groups = _groups(case, zone, looks)
    rows = [g for g in groups if g.count and PLACED & set(g.fields) and not {"role", "tissue"} & set(g.fields)]
    whole = len(rows) + 1 == len(groups) > 1 and groups[0] not in rows and heads[0].noun and groups[0].count
    if len(rows) < len(groups) and not whole:
        return []
    for group in groups:
        group.announced, group.row = True, group in rows
    return groups


def _pointing(case: Case, sentence: Span, heads: Sequence[Head], links: Links) -> list[Zone]:
    """A sentence that says no technique, but points back at stitches: 'the other two are below'."""
    if not links.is_open or case.within("tie", sentence.start, sentence.end):
        return []
    own = tuple(h for h in heads if not h.noun or h.way != "counted" or links.awaits_number)
    others = case.grammar.concepts_in("other-ones")
    if own and any(c.key in others for c in case.within("thing", sentence.start, own[0].start)):
        return []  # 'the posterior plug first, then the anterior one'
    return [Zone(None, sentence.start, sentence.end, own)] if own else []


def _performed(case: Case, zone: Zone) -> bool:
    """Whether the stitches were placed in this case, and are none of the skin's."""
    technique = zone.trigger is not None and zone.trigger.list == "technique"
    if any(h.used for h in zone.heads):
        return True
    if not technique and closes_skin(case, zone.start, zone.end):
        return False
    at = zone.trigger.start if zone.trigger else zone.heads[0].start
    return holds(case, at)


def _groups(case: Case, zone: Zone, looks: Sequence[Look]) -> list[Group]:
    """The stitches of one share: one group a head, those of a number that its looks or ways make up split."""
    if not zone.heads:
        return _by_look(case, zone, None, (zone.start, zone.end), looks)
    out: list[Group] = []
    cuts = [parting(case, a.end, b.begins) for a, b in zip(zone.heads, zone.heads[1:], strict=False)]
    for head, start, end in zip(zone.heads, [zone.start, *cuts], [*cuts, zone.end], strict=True):
        if zone.trigger and zone.trigger.start < head.start == zone.heads[0].start and head.way == "part":
            head = replace(head, way="counted", noun=True)  # 'outside-in with number zero suture, three of those'
        group = _group(case, zone, head, (start, end), looks)
        ways = [name for name, _ in ways_said(case, head.start, end)]
        if head.each:
            kind, places = each_places(case, case.sentence(head.start))
            out += [group.copy(**{kind or "surface": place}) for place in places or ("superior", "inferior")]
        elif head.count == len(set(ways)) == len(ways) > len({k.color for k in inside(looks, head.start, end)}):
            out += [group.copy(configuration=way, count=1) for way in ways]
        elif len(zone.heads) == 1:
            out += _by_look(case, zone, head, (start, end), looks)
        elif head.count == 1 and len(own := inside(looks, start, end)) > 1 and all(_led_by_one(case, k) for k in own):
            each = _by_look(case, zone, head, (start, end), looks)  # 'two stitches, one white one blue'
            for one in each:
                one.head = head
            out += each
        else:
            out.append(group)
    _ahead_of_all(case, zone, out[1:])
    return out


def _ahead_of_all(case: Case, zone: Zone, later: Sequence[Group]) -> None:
    """What is said with the technique before any number holds for each: 'inside-out, 2-0: two here, three there'."""
    if not later or not zone.trigger or zone.trigger.start >= zone.heads[0].start:
        return
    share = (zone.start, zone.heads[0].start)
    said = {**ways(case, zone.trigger.start, share, True), "usp_size": size_of(case, zone.trigger.start, *share)}
    for group in later:
        if group.head and group.fields.get("technique") == zone.trigger.name:
            group.fields.update({k: v for k, v in said.items() if v and k not in group.fields})


def _by_look(case: Case, zone: Zone, head: Head | None, share: tuple[int, int], looks: Sequence[Look]) -> list[Group]:
    """Sutures told by their colors, a group each: 'two tapes, one white and one blue'.

    What is said once for all of them holds for each; what is said beside one is its own.
    """
    own = inside(looks, *share)
    named_at = head.start if head and head.way in FURTHER else share[1]
    if head and head.count == 1 and len(own) > 1:
        each = "each" in case.words[head.end : own[0].start]
        further = own[0].start < named_at < own[-1].start  # 'white here, and one more, blue'
        if each or further or all(_led_by_one(case, k) for k in own):
            head = None  # 'a blue tape here, a white tape there, and one green suture'; 'one in each, white behind ...'
    whole = _group(case, zone, head, share, looks)
    if len({(k.color, k.pattern) for k in own}) < 2 or (head and whole.count not in (None, len(own))):
        return [whole]
    out = []
    openings = [named_at if a.end <= named_at < b.start else b.start for a, b in zip(own, own[1:], strict=False)]
    cuts = [parting(case, a.end, opens) for a, opens in zip(own, openings, strict=False)]
    parts = [
        _group(case, zone, None, part, looks, at=k.start)
        for k, part in zip(own, zip([share[0], *cuts], [*cuts, share[1]], strict=True), strict=True)
    ]
    for k, part in zip(own, parts, strict=True):
        said = {"color": k.color or None, "pattern": k.pattern, "form": k.form, "count": None}
        group = part.copy(**said)
        for kind in KINDS:
            tellers = [p for p in parts if kind in p.fields]
            values = {str(p.fields[kind]) for p in tellers}
            shared = kind not in ("color", "pattern", "form") and _said_for(case, kind, part, tellers[:1], parts)
            if len(values) == 1 and shared:
                group.fields.setdefault(kind, values.pop())
        if "form" not in group.fields and not any(o.form for o in own) and "form" in whole.fields:
            group.fields["form"] = whole.fields["form"]
        group.pieces.insert(0, (k.start, k.end))
        out.append(group)
    return out


def _led_by_one(case: Case, look: Look) -> bool:
    """Whether a look is told of one suture: 'a blue tape', 'one green suture'."""
    return any(case.words[i] in {"a", "an", "one", "another"} for i in range(max(0, look.start - 2), look.start))


def _said_for(case: Case, kind: str, part: Group, tellers: Sequence[Group], parts: Sequence[Group]) -> bool:
    """Whether what one part tells holds for another: a role only from the first, what 'both' are only for the two."""
    if not tellers:
        return False
    teller, at = tellers[0], parts.index(part)
    told_at = parts.index(teller)
    start, end = teller.pieces[-1]
    if len(parts) > 2 and told_at and "both" in case.words[start:end]:
        return at in (told_at, told_at - 1)
    return kind != "role" or told_at == 0 or part is teller


def _group(
    case: Case, zone: Zone, head: Head | None, share: tuple[int, int], looks: Sequence[Look], at: int | None = None
) -> Group:
    """What one share says of its stitches, `at` being the token they are named at."""
    start, end = share
    if at is None:
        at = head.start if head else zone.trigger.start if zone.trigger else start
    fields = ways(case, at, share, head is None) | look_of(case, at, share, looks) | place_of(case, at, share)
    technique = zone.trigger
    if technique and technique.list == "technique" and _lends(case, zone, head, technique, share):
        fields["technique"] = technique.name
    role = role_of(case, at, share)
    if role and not (role == "shuttle" and "technique" in fields):  # 'outside-in, a loop used to shuttle' stays none
        fields["role"] = role
        if role == "traction" and not {"tissue", "technique"} & set(fields) and graft_in_hand(case, at, TRACTION_BACK):
            fields["tissue"] = "graft"
    size = size_of(case, at, start, end)
    if size:
        fields["usp_size"] = size
    count = head.count if head else None
    if count:
        fields["count"] = count
    first = (head.start, head.end) if head else (at, zone.trigger.end if zone.trigger else at + 1)
    sewn = any(c.key in case.grammar.concepts_in("stitching") for c in case.within("verb", start, end))
    return Group(fields, head, [first, share], sewn=sewn)


def _lends(case: Case, zone: Zone, head: Head | None, technique: Concept, share: tuple[int, int]) -> bool:
    """Whether a technique is said of a head: in its share, before or behind all heads, or of an elliptical one."""
    if head is None or share[0] <= technique.start < share[1] or not head.noun or head.way != "counted":
        return True
    level = case.note.segments.level
    behind = any(level[i] >= 2 for i in range(zone.heads[-1].end, technique.start + 1))
    return technique.start < zone.heads[0].start or behind
