"""Alike stitches, and what several such groups are to each other: totals, parts, one told twice."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass, field

from extractor.facts.stitch_counts import Head

PLACES = ("region", "surface")
PLACED = frozenset({"region", "surface"})
APART = ("region", "surface", "configuration", "color", "technique")
"""What parts of a total differ in."""
SEWN_THERE = frozenset({"configuration", "region"})
"""Told of a part of the meniscus, how it was sewn is a stitch: 'the body was sutured with a horizontal mattress'."""

HEADED = ("technique", "usp_size")
"""What a heading says of the stitches told under it."""
APART_FROM_ALL = frozenset({"color", "surface", "configuration", "tissue", "role"})
"""With one of these, stitches without a number are told for themselves and head no others."""
MENDING = frozenset({"vertical_mattress", "horizontal_mattress", "simple", "cross"})
"""Ways in which a tear is closed; others hold a root or a graft."""
BARE = frozenset({"count", "form", "usp_size", "region"})
GROWING = frozenset({"counted", "more"})
"""Ways in which a number may be added to another; a first and a second are two stitches, however alike."""


@dataclass(eq=False)
class Group:
    """Alike stitches, with the tokens they were said in.

    announced: a number told, and no fact yet. row: announced with its place, to be one once its technique is told.
    """

    fields: dict[str, object]
    head: Head | None
    pieces: list[tuple[int, int]]
    certainty: float = 1.0
    dropped: bool = False
    announced: bool = False
    row: bool = False
    sewn: bool = False
    parts: list[Group] = field(default_factory=list)
    whole: Group | None = None

    def copy(self, **changes: object) -> Group:
        """The same stitches with some fields changed; a field given as None is left out."""
        fields = {k: v for k, v in {**self.fields, **changes}.items() if v is not None}
        return Group(fields, self.head, list(self.pieces), self.certainty)

    @property
    def count(self) -> int | None:
        """How many, where that was said."""
        value = self.fields.get("count")
        return value if isinstance(value, int) else None

    def tell_parts(self, said: dict[str, object]) -> None:
        """Fill what is unsaid of the parts."""
        for part in self.parts:
            part.fields.update({k: v for k, v in said.items() if k not in part.fields})

    def take(self, other: Group, kinds: Sequence[str]) -> None:
        """Fill what is unsaid here from other stitches, and rest on their words too."""
        taken = [k for k in kinds if k in other.fields and k not in self.fields]
        for kind in taken:
            self.fields[kind] = other.fields[kind]
        if taken:
            self.pieces += other.pieces[:1]


def runs(groups: Sequence[Group]) -> list[list[Group]]:
    """The groups of a sentence cut before each that names stitches of its own: a number and what may be its parts."""
    out: list[list[Group]] = []
    for group in groups:
        if not out or group.head is None or (group.head.noun and group.head.way == "counted"):
            out.append([])
        out[-1].append(group)
    return out


def may_be_total(head: Head) -> bool:
    """A counted noun, or 'six of them'."""
    return (head.way == "part" and head.count != 1) or (head.noun and head.way == "counted")


def only_where(group: Group, groups: Sequence[Group]) -> bool:
    """Whether a 'first' or 'last' of a counted number says only where that one lies."""
    counted = [g for g in groups if g.head and g.head.way == "counted" and g.head.noun and (g.count or 0) > 1]
    ordinal = [g for g in groups if g.head and g.head.way == "ordinal"]
    if not counted or len(ordinal) >= (counted[0].count or 0) or "color" in group.fields:
        return False
    same = ("configuration", "usp_size")
    return all(group.fields.get(k) in (None, counted[0].fields.get(k)) for k in same)


def is_part(group: Group) -> bool:
    """Whether a number names no stitches of its own, or says that it is a part: 'two above', 'the other three'."""
    return bool(group.head) and (not group.head.noun or group.head.way in {"part", "half", "ordinal"})  # type: ignore[union-attr]


def opens_with_part(total: Group, part: Group) -> bool:
    """'Five stitches, three on top. Two below.': a number, and the first of its parts."""
    plain = total.head is not None and total.head.noun and not total.dropped and not PLACED & set(total.fields)
    placed = is_part(part) and part.whole is None and bool(PLACED & set(part.fields))
    return plain and placed and (part.count or 0) < (total.count or 0)


def are_one(total: Group, parts: Sequence[Group]) -> bool:
    """'Three in the body, then one more, one more, that makes five': parts in which nothing differs are one number."""
    if len(parts) < 2 or any(not p.count or not p.head or p.head.way not in GROWING for p in parts):
        return False
    first = parts[0].fields
    differ = any(first.get(k) != v for p in parts[1:] for k, v in p.fields.items() if k != "count")
    differ = differ or any(first.get(k, v) != v for k, v in total.fields.items() if k != "count")
    return not differ and sum(p.count or 0 for p in parts) == total.count


def by_technique(total: Group, parts: Sequence[Group]) -> bool:
    """'Four stitches, two all-inside implants and two inside-out sutures': a number, made up by what differs in how."""
    told = [p.fields.get("technique") for p in parts]
    apart = None not in told and len(set(told)) == len(told) > 1 and not any(PLACED & set(p.fields) for p in parts)
    return apart and total.count == sum(p.count or 0 for p in parts)


OWN_LOOK = ("color", "surface")
"""Where parts differ from a number in one of these, they are none of its parts."""


def by_color(total: Group, parts: Sequence[Group]) -> bool:
    """'Two cinch sutures, one white tape and one blue tape': as many single colored ones as the number says."""
    single = all(p.count == 1 and "color" in p.fields for p in parts)
    return single and "color" not in total.fields and total.count == len(parts) > 1


def points(groups: Sequence[Group]) -> bool:
    """Whether some say themselves that they are parts: 'two of these', 'half of them'."""
    return any(g.head and g.head.way in {"part", "half"} for g in groups)


def divides(total: Group, parts: Sequence[Group]) -> bool:
    """Whether parts are parts of a total: they say 'of them', or differ in what the total leaves open and sum up."""
    if total.count is None or (total.count == 1 and total.head is not None and total.head.way == "part"):
        return False  # 'the one is a white tape. The other is a blue suture'
    techniques = {str(g.fields["technique"]) for g in (total, *parts) if "technique" in g.fields}
    if "technique" in total.fields and len(techniques) > 1:
        return False
    laid = total.fields.get("configuration")
    if laid and any(p.fields.get("configuration", laid) != laid for p in parts):
        return False
    other = any(
        p.fields.get(k, total.fields[k]) != total.fields[k] for p in parts for k in OWN_LOOK if k in total.fields
    )
    if other and total.count != sum(p.count or 1 for p in parts):
        return False  # 'two green ones above and one red below'
    if points(parts):
        return True
    if "color" not in total.fields and total.count > len(parts) and all("color" in p.fields for p in parts):
        return True
    apart = {k for k in APART if all(k in p.fields for p in parts)}
    if apart & {k for k in total.fields if k in PLACES}:
        return False
    counts = [p.count or 1 for p in parts]
    return len(parts) > 1 and (sum(counts) == total.count or bool(apart) and sum(counts) <= total.count + 1)


def lies_elsewhere(total: Group, parts: Sequence[Group]) -> bool:
    """'Four lie on the femoral surface. Two were put on the tibial one.': no parts of those told before."""
    return any(total.fields.get(k, v) != v for p in parts for k, v in p.fields.items() if k in PLACED)


def of_root(group: Group) -> bool:
    """Whether stitches lie in a root."""
    return group.fields.get("tissue") == "root" or str(group.fields.get("region")).endswith("_root")


def is_of_repair(group: Group) -> bool:
    """Whether stitches with a way of stitching may be those of a torn meniscus: none of a root or a graft."""
    laid = group.fields.get("configuration") in MENDING
    return laid and not {"role", "tissue"} & set(group.fields) and not of_root(group)


def under_heading(heading: Group | None, groups: Sequence[Group]) -> Group | None:
    """'Inside-out, all with 2-0. Two on top. Then a single one below.': a heading holds for all that it opens.

    Returns the heading that holds for the next sentence: it ends where another technique is told.
    """
    for group in groups:
        if heading and "technique" not in group.fields and is_of_repair(group):
            group.take(heading, HEADED)
        if heading and group.fields.get("technique") not in (None, heading.fields["technique"]):
            heading = None
        if group.head is None and "technique" in group.fields and not APART_FROM_ALL & set(group.fields):
            heading = group
    return heading


def tells_of_all(group: Group) -> bool:
    """Whether a technique is told without a number and a place: 'All inside-out, 2-0'."""
    return group.head is None and "technique" in group.fields and not (PLACED | {"tissue", "role"}) & set(group.fields)


def sewn(group: Group) -> bool:
    """Whether a way of stitching told of a part of the meniscus is a stitch."""
    return group.sewn and SEWN_THERE <= set(group.fields)


def says_enough(fields: dict[str, object]) -> bool:
    """A technique alone is no stitch; a number, size or color alone is none of a repair."""
    told = set(fields)
    if "technique" in told:
        return bool({"count", "configuration", "usp_size", "color"} & told)
    rooted = fields.get("tissue") == "root" or str(fields.get("region")).endswith("_root")
    horned = fields.get("tissue") == "graft" and str(fields.get("region")).endswith("_horn") and "color" in told
    sewn = rooted or horned or bool(told & {"configuration", "role"})
    return sewn and (bool({"count", "usp_size", "color", "form"} & told) or {"role", "region"} <= told)


def is_bare(group: Group) -> bool:
    """Whether no more is said of stitches than how many there are, several at least."""
    counted = group.head is not None and group.head.way == "counted" and group.head.noun
    return counted and (group.count or 0) > 1 and set(group.fields) <= BARE
