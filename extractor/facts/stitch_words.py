"""What the words in one share of a sentence say of stitches: how they are laid, how they look, where, of which size."""

from __future__ import annotations

from bisect import bisect_left
from collections.abc import Sequence

from extractor.facts.case import Case, distance
from extractor.facts.looks import Look
from extractor.facts.plans import OPPOSITE
from extractor.facts.stitch_counts import bone_side, zero_follows
from extractor.facts.stitch_ways import ways_said
from extractor.language.concepts import Concept
from extractor.language.corrections import taken_back
from extractor.language.quantities import Quantity

ROOT_BACK = 5
COLORED_BACK = 12
BACK = 2
"""Sentences before in which the graft in hand may have been named."""
WHOLE_SIZES = (0, 1, 2, 5)
NUMBER = frozenset({"number", "no.", "no", "#", "size"})
OVER = frozenset({"over", "on", "upon", "to", "onto", "behind", "outside", "against"})
OF_GAP = frozenset({"native", "graft"})
"""Tissues that have a middle."""
JOINS = frozenset({"and", "the", "in", "into", "on", "along"})
PAUSES = frozenset({",", ".", ";", ":", "(", ")", "\n"})
MIXED = frozenset({"alternate", "alternating", "alternately", "alternated"})
SHUTTLED = frozenset({"shuttled", "shuttling"})
NONE = frozenset({"none", "nothing", "no", "not"})

THROUGH = frozenset({"through", "under", "underneath", "beneath", "below", "outside", "from", "to"})
"""Behind one of these the skin is where a needle or a knot goes, and not what is sewn: 'I go through the skin'."""


def inside(looks: Sequence[Look], start: int, end: int) -> list[Look]:
    """The looks, sorted by place, that open in the tokens `[start, end)`."""
    return list(looks[bisect_left(looks, start, key=opens) : bisect_left(looks, end, key=opens)])


def opens(look: Look) -> int:
    """The first token of a look, to sort by."""
    return look.start


def ways(case: Case, at: int, share: tuple[int, int], alone: bool) -> dict[str, object]:
    """The configuration; of several the one told behind the head, none where they leave it open."""
    ways = ways_said(case, *share)
    if len({name for name, _ in ways}) > 1 and not alone:
        ways = [w for w in ways if w[1] >= at]
        if len({name for name, _ in ways}) > 1:
            return {}
    best = min(ways, key=lambda w: (abs(w[1] - at), w[1] > at), default=None)
    return {"configuration": best[0]} if best else {}


def look_of(case: Case, at: int, share: tuple[int, int], looks: Sequence[Look]) -> dict[str, object]:
    """Color, pattern and form; a form without a color only where it is more than 'suture'."""
    forms = [c for c in case.within("form", *share) if case.words[c.start - 1] != "not"]
    special = next((c.name for c in forms if c.name != "suture"), None)
    own = inside(looks, *share)
    if not own:
        return {"form": special} if special else {}
    best = min(own, key=lambda k: abs(k.start - at))
    form = best.form if best.form not in (None, "suture") else special or (best.form or (forms and forms[0].name))
    return {k: v for k, v in {"color": best.color, "pattern": best.pattern, "form": form}.items() if v}


def place_of(case: Case, at: int, share: tuple[int, int]) -> dict[str, object]:
    """Region, surface and tissue. A bare 'front' or 'back' only where no part is named."""
    found = _without_runs(case, standing(case, case.within("region", *share), at))
    named = [c for c in found if c.name not in OPPOSITE] or found
    if len({c.name for c in named}) == len(named) == 2 and joined(case, *named):
        named = []  # 'along the body and the posterior horn'
    region = min(named, key=lambda c: abs(c.start - at), default=None)
    fields: dict[str, object] = {"region": region.name} if region else {}
    faces = standing(case, case.within("surface", *share), at)
    surfaces = {c.name for c in faces if case.words[c.start - 1] not in NONE}
    surfaces |= {c.name for i in range(*share) if (c := bone_side(case, i))} if not surfaces else set()
    mixed = any(case.words[i] in MIXED and case.words[i + 1] != "," for i in range(share[0], share[1] - 1))
    if len(surfaces) == 1 and not mixed:
        fields["surface"] = surfaces.pop()
    tissues = [
        c
        for c in case.within("tissue", *share)
        if not from_there(case, c)
        and (c.name != "capsule" or not OVER & set(case.words[max(0, c.start - 2) : c.start]))
    ]
    tissue = min(tissues, key=lambda c: (distance(c, at), c.start > at), default=None)
    if tissue is None and region and region.name == "middle":
        tissue = case.last("tissue", at)
        tissue = tissue if tissue and tissue.name in OF_GAP else None
    if tissue is None and not case.within("technique", *share):
        tissue = _root_in_hand(case, at)
    if tissue is None and region and region.name.endswith("_horn") and not case.within("technique", *share):
        tissue = graft_in_hand(case, at)
    if tissue and tissue.name == "root":
        if fields.get("surface") and case.words[case.within("surface", *share)[0].start - 1] == "from":
            del fields["surface"]  # 'passed from underneath' says from where
        tissue = graft_in_hand(case, at) or tissue
    return fields | ({"tissue": tissue.name} if tissue else {})


def joined(case: Case, a: Concept, b: Concept) -> bool:
    """Whether two places are told as one stretch: 'the body and the posterior horn'."""
    return "and" in case.words[a.end : b.start] and all(w in JOINS for w in case.words[a.end : b.start])


def standing(case: Case, said: Sequence[Concept], at: int) -> list[Concept]:
    """Of what is said of one list what holds: not what is taken back, nor what a clause of its own denies."""
    own = case.clause(at).number
    put_right = {a for a, b in zip(said, said[1:], strict=False) if taken_back(case.words, a.end, b.start)}
    return [
        c
        for c in said
        if c not in put_right and (case.clause(c.start).number == own or not case.assertion(c.start).declines(c.start))
    ]


def _without_runs(case: Case, regions: list[Concept]) -> list[Concept]:
    """The regions that are no ends of a row: 'from the back to the front', 'from the root to the body' is no place."""
    ends = {
        c
        for a, b in zip(regions, regions[1:], strict=False)
        if a.name != b.name and case.words[a.end : b.start] in (["to"], ["to", "the"])
        and (a.name in OPPOSITE or from_there(case, a))
        for c in (a, b)
    }  # fmt: skip
    return [c for c in regions if c not in ends and not _to_there(case, c)]


def from_there(case: Case, place: Concept) -> bool:
    """'From the root to ...'."""
    lead = case.words[max(0, place.start - 2) : place.start]
    return ("from" in lead) and case.words[place.end : place.end + 1] == ["to"]


def _to_there(case: Case, region: Concept) -> bool:
    """'From the root | to the body': a row that opens at a tissue."""
    lead = region.start - 1 - (case.words[region.start - 1] == "the")
    return case.words[lead] == "to" and any(
        c.end == lead and from_there(case, c) for c in case.within("tissue", max(0, lead - 3), lead)
    )


def _root_in_hand(case: Case, at: int) -> Concept | None:
    """The root, where it was the tissue last named: 'the root is off ... two luggage tag stitches of tape'."""
    number = case.sentence(at).number
    near = case.note.segments.sentences[max(0, number - 1)].start
    back = COLORED_BACK if case.within("color", near, _around(case, at)[1]) else ROOT_BACK
    floor = case.note.segments.sentences[max(0, number - back)].start
    last = case.last("tissue", at, floor=floor)
    return last if last and last.name == "root" and case.within("configuration", *_around(case, at)) else None


def closes_skin(case: Case, start: int, end: int) -> bool:
    """Whether what is sewn is skin or a tendon, and no tear: 'it was closed with two vertical mattress sutures'."""
    return any(
        case.words[c.end - 1] != "with" or not _torn(case, case.clause(c.start).start, c.start)
        for c in case.within("skin-closure", start, end)
        if THROUGH.isdisjoint(case.words[max(start, c.start - 2) : c.start])
    )


def _torn(case: Case, start: int, end: int) -> bool:
    """Whether a tear, or a part of the meniscus, is named, and no cut."""
    parts = [c.name for c in case.within("region", start, end) if c.name == "body" or c.name.endswith("_horn")]
    torn = parts or any(c.name == "tear" for c in case.within("finding", start, end))
    return bool(torn) and not case.within("skin-closure", start, end)


def _around(case: Case, at: int) -> tuple[int, int]:
    sentence = case.sentence(at)
    return sentence.start, sentence.end


def role_of(case: Case, at: int, share: tuple[int, int]) -> str | None:
    """What a suture is for."""
    role = case.nearest("suture-role", at, *share) or traction_word(case, *share)
    if role and (case.words[role.end - 1] in SHUTTLED or case.words[role.start - 1] == "to"):
        return None  # 'the two stitches were shuttled into the tunnel' stay
    return role.name if role else None


def traction_word(case: Case, start: int, end: int) -> Concept | None:
    """'Green suture, corner, traction.': between pauses, where a suture is named, what it is for."""
    if not case.within("form", start, end):
        return None
    for i in range(start + 1, end):
        lone = case.words[i - 1] in PAUSES and case.words[i + 1 : i + 2] in ([], *([p] for p in PAUSES))
        if lone and case.words[i] == "traction":
            return Concept("suture-role", "traction", i, i + 1)
    return None


def graft_in_hand(case: Case, at: int, back: int = BACK) -> Concept | None:
    """The graft, where it was the tissue last named: 'the graft was thawed; white through the posterior horn'."""
    floor = case.note.segments.sentences[max(0, case.sentence(at).number - back)].start
    own = [c for c in case.within("tissue", floor, case.sentence(at).end) if c.name in {"native", "graft"}]
    last = max((c for c in own if c.start <= at), key=lambda c: c.start, default=own[0] if own else None)
    return last if last and last.name == "graft" else None


def size_of(case: Case, at: int, start: int, end: int) -> str | None:
    """The suture size said nearest to a token, as written: '2-0'."""
    sizes = [
        q
        for q in case.numbers(start, end)
        if q.kind == "suture-size" or numbered(case, q) or zero_follows(case, q) or _bare_zero(case, q)
    ]
    put_right = {a for a, b in zip(sizes, sizes[1:], strict=False) if taken_back(case.words, a.end, b.end)}
    best = min((q for q in sizes if q not in put_right), key=lambda q: abs(q.start - at), default=None)
    if best and zero_follows(case, best):
        return f"{best.value:g}-0"
    return (best.text or f"{best.value:g}") if best else None


def _bare_zero(case: Case, q: Quantity) -> bool:
    """'One outside-in, horizontal, 0.': no number of stitches, so a size."""
    plain = q.value == 0 and q.dimension is None and q.kind in {"quantity", "count"} and q.product is None
    return plain and case.words[q.end : q.end + 1] in ([], [","], ["."], [";"], [")"], ["\n"], ["and"])


def numbered(case: Case, q: Quantity) -> bool:
    """'Cross configuration, number two.': told of stitches a number of this kind is their size."""
    after = case.words[q.end : q.end + 1]
    closed = (
        not after
        or after[0] in {",", ".", ";", "\n", "and", "in", "size"}
        or any(case.within(name, q.end, q.end + 1) for name in ("color", "form", "material", "pattern"))
        or any(c.end in (q.start, q.start - 1) for c in case.within("color", max(0, q.start - 2), q.start))
    )
    named = case.words[q.start] in NUMBER or case.words[q.start - 1] in NUMBER or after == ["size"]
    return q.kind in {"ordinal", "quantity"} and q.dimension is None and q.value in WHOLE_SIZES and named and closed
