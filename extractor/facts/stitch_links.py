"""Stitches told over several sentences: totals and their parts, pronouns, and what is said of all afterwards.

'Five all-inside implants. Three of these are above, each a vertical mattress. The other two are below.' A total
told beside its parts is no fact of its own; where the parts do not make it up, it stays as a number announced.
"""

from __future__ import annotations

from extractor.facts.case import Case
from extractor.facts.draft import FactDraft
from extractor.facts.stitch_bare import INFERRED, only_numbers
from extractor.facts.stitch_counts import Head
from extractor.facts.stitch_groups import (
    PLACED,
    PLACES,
    Group,
    are_one,
    by_color,
    by_technique,
    divides,
    is_of_repair,
    is_part,
    lies_elsewhere,
    may_be_total,
    of_root,
    only_where,
    opens_with_part,
    runs,
    says_enough,
    sewn,
    tells_of_all,
    under_heading,
)
from extractor.facts.stitch_growing import go_on, grown
from extractor.facts.stitch_recounts import counted_again
from extractor.language.clauses import Span

KINDS = ("technique", "configuration", "usp_size", "form", "tissue", "role", "color", "pattern", *PLACES)
APART_ONE = frozenset({"configuration", "surface", "color", "usp_size", "region"})
"""One of these must be told of a stitch that is counted up to be a fact of its own."""
HEADED = frozenset({"count", "form", "usp_size", "technique"})
"""What a number that follows its technique has, where nothing more is said of it."""
CLAIM = "<count> stitches, announced"
GAP = 1
"""Sentences that tell of something else, over which stitches may be pointed back at."""
OF_ALL = frozenset({"all", "both", "each", "every", "everything", "throughout", "these", "those", "they", "everywhere"})
"""With one of these a technique is told of the stitches before it."""
AHEAD = OF_ALL | {"only", "always"}
FEW = 12
"""Tokens of a sentence that closes a list of stitches with their technique, at most."""


class Links:
    """The stitches of a note as they are told, sentence by sentence."""

    def __init__(self, case: Case, rule: str) -> None:
        """Start with none told."""
        self.case, self.rule = case, rule
        self.groups: list[Group] = []
        self.open: list[Group] = []
        self.run: list[Group] = []
        self.apart: list[Group] = []
        self.rows: list[Group] = []
        self.since = 0
        self.heading: Group | None = None
        self.laid: Group | None = None

    @property
    def is_open(self) -> bool:
        """Whether stitches told a moment ago may be pointed back at."""
        return bool(self.open)

    @property
    def awaits_number(self) -> bool:
        """Whether a technique was told without a number: 'We went inside-out. Five sutures'."""
        if len(self.open) != 1 or self.open[0].whole or self.open[0].count is not None:
            return False
        if self.heading and self.open[0] is not self.heading:
            return False  # one told under it
        return "technique" in self.open[0].fields

    @property
    def in_one_way(self) -> bool:
        """Whether the stitches told lately are of one technique, and of none the size is known."""
        told = [g for g in self.run if not g.dropped]
        sized = any("usp_size" in g.fields for g in told)
        return not sized and len({g.fields.get("technique") for g in told}) == 1

    def sums_to(self, total: int) -> bool:
        """'Four in the body, then one more. That's five.': told in parts, one number where nothing differs."""
        told = [g for g in self.open if not g.dropped]
        if not are_one(Group({"count": total}, None, []), told):
            return False
        told[0].fields["count"] = total
        for group in told[1:]:
            told[0].pieces += group.pieces[:1]
            group.dropped = True
        self.open = told[:1]
        return True

    def add(self, sentence: Span, groups: list[Group]) -> None:
        """Take in the stitches of the next sentence; without any it ends after a while what is open."""
        if not groups:
            self.rows = []
            self.since += 1
            if self.since > GAP:
                self.open, self.run, self.heading, self.laid = [], [], None, None
            return
        if self.open and all(of_root(g) for g in groups) and not any(of_root(g) for g in self.open):
            self.open, self.run, self.heading = [], [], None  # stitches of a root are no parts of those told before it
        counted = any(g.count and says_enough(g.fields) for g in self.run)
        if len(groups) == 1 and groups[0].head and groups[0].head.total and counted:
            self._sum_up(groups[0])
            return
        groups = grown(self.case, self.open, groups)
        if not groups:
            self.since = 0
            return
        for group in groups:
            told = APART_ONE & set(group.fields)
            if any(q.dimension == "length" for q in self.case.numbers(*group.pieces[-1])):
                told -= {"region"}  # what it lies so far from
            if group.head and group.head.way == "ordinal" and (not told or only_where(group, groups)):
                group.announced = True  # 'the first five millimeters from the root' only says where
        if self._tell_rows(sentence, groups):
            return
        self._count_again(groups)
        self._take_number(groups)
        headed = self.awaits_number and all("technique" not in g.fields for g in groups)
        if headed:
            self.open[0].dropped = True
            for group in groups:
                group.take(self.open[0], KINDS)
                group.announced &= len(groups) > 1 or not set(group.fields) <= HEADED
            self.open = []
        self._share_out(groups, lend=not headed)
        self._told_apart(groups)
        self._lend_places(groups)
        self._laid_alike(sentence, groups)
        go_on(self.open if self.since == 0 else [], groups)
        self.heading = under_heading(self.heading, groups)
        self.groups += groups
        self.open = [g for g in groups if not g.dropped]
        self.run += self.open
        self.since = 0

    def recount(self, count: int, piece: tuple[int, int]) -> None:
        """'... eight verticals. Correction: nine.': another number of the stitches told last."""
        last = self.open[-1]
        if last.count and not last.parts:
            last.fields["count"] = count
            last.pieces.append(piece)

    def _tell_rows(self, sentence: Span, groups: list[Group]) -> bool:
        """'Top: three. Bottom: two. All inside-out.': numbers at their places, and behind them the technique of all."""
        told = groups[0] if len(groups) == 1 else None
        words = self.case.words[sentence.start : sentence.end]
        few = len(self.rows) > 1 and len(words) <= FEW
        if told and self.rows and tells_of_all(told) and (few or not OF_ALL.isdisjoint(words)):
            for row in self.rows:
                row.take(told, KINDS)
                row.announced = False
            self.open = self.rows
            self.since, self.rows = 0, []
            return True
        untold = [g for g in groups if g.count and PLACED & set(g.fields) and "technique" not in g.fields]
        wholes = [g for g in groups if g.announced and g not in untold]
        self.rows = [*self.rows, *untold] if len(untold) + len(wholes) == len(groups) else []
        return False

    def _laid_alike(self, sentence: Span, groups: list[Group]) -> None:
        """'Vertical mattress throughout. Two all-inside here, three inside-out there.': a way said ahead of all."""
        words = self.case.words[sentence.start : sentence.end]
        if len(groups) == 1 and set(groups[0].fields) == {"configuration"} and groups[0].head is None:
            self.laid = groups[0] if not AHEAD.isdisjoint(words) and not self.open else None
            return
        for group in groups:
            if self.laid and "technique" in group.fields:
                group.take(self.laid, ("configuration",))

    def _count_again(self, groups: list[Group]) -> None:
        """'Four horizontals all-inside. Hang on, count again. Five horizontals.': told in place of those before."""
        last = self.open[-1] if self.open else None
        if last is None or len(groups) != 1 or not last.count or last.parts or not groups[0].head:
            return
        (group,) = groups
        alike = all(group.fields.get(k, v) == v for k, v in last.fields.items() if k != "count")
        if alike and group.count and group.head and counted_again(self.case, group.head.start):
            last.dropped = True
            group.take(last, KINDS)

    def _take_number(self, groups: list[Group]) -> None:
        """'Number of sutures: 6. Technique: inside-out.': a number told ahead of the technique it is of."""
        before = self.open[0] if len(self.open) == 1 else None
        if before is None or not before.announced or before.parts or "technique" in before.fields:
            return
        if len(groups) == 1 and groups[0].head is None and "technique" in groups[0].fields:
            groups[0].take(before, ("count", *KINDS))
            before.dropped = True

    def _told_apart(self, groups: list[Group]) -> None:
        """'Eight stitches. Three went in the posterior horn. Four went in the body.': parts, each in its sentence."""
        part = groups[0] if len(groups) == 1 else None
        if len(groups) == 2 and opens_with_part(*groups):
            self.apart = list(groups)
            return
        if part is None or part.dropped or part.whole or not is_part(part) or not PLACED & set(part.fields):
            self.apart = []
            return
        before = self.open[0] if len(self.open) == 1 else None
        if not self.apart and before and before.count and not PLACED & set(before.fields):
            self.apart = [before]
        if not self.apart:
            return
        total, told = self.apart[0], [*self.apart[1:], part]
        places = {(p.fields.get("region"), p.fields.get("surface")) for p in told}
        counted = sum(p.count or 1 for p in told)
        if len(places) < len(told) or counted > (total.count or 0):
            self.apart = []
            return
        self.apart.append(part)
        if len(told) > 1 and (counted == total.count or all("region" in p.fields for p in told)):
            self._divide(total, [p for p in told if p.whole is None])

    def _sum_up(self, total: Group) -> None:
        """'All told that makes ten.': no stitches more; a number announced where it is not what was told."""
        told = [g for g in self.run if not g.dropped and not g.announced]
        if are_one(total, told):
            self.groups.append(total)
            for group in told:
                total.take(group, KINDS)
                group.dropped = True
        elif total.count != sum(g.count or 1 for g in told):
            total.announced = True
            self.groups.append(total)

    def _share_out(self, groups: list[Group], *, lend: bool) -> None:
        """Tell totals from their parts, and let elliptical numbers take what they leave unsaid."""
        total = self._total_of(groups)
        if total is not None:
            self._divide(total, [g for g in groups if g is not total])
            if total in groups:
                self._lend([g for g in groups if g is not total])
        elif lend:
            for part in runs(groups):
                owner = self._total_of(part) if 1 < len(part) < len(groups) else None
                if owner is part[0]:
                    self._divide(owner, part[1:])
            self._lend([g for g in groups if not g.dropped])
        else:
            self._lend([g for g in groups if not g.dropped], further=True)

    def _total_of(self, groups: list[Group]) -> Group | None:
        """The number that the others of its sentence, or of this one, are the parts of."""
        heads = [g for g in groups if g.head]
        summed = [g for g in heads if g.head and g.head.total]
        if len(summed) == 1 and len(groups) > 1:
            return summed[0]
        if len(heads) > 1 and heads[0].head and may_be_total(heads[0].head):
            if all(is_part(g) for g in heads[1:]) and divides(heads[0], heads[1:]):
                return heads[0]
            if by_technique(heads[0], heads[1:]) and not self.case.within("technique", *heads[0].pieces[-1]):
                return heads[0]
            if by_color(heads[0], heads[1:]):
                return heads[0]
        pointing = heads and all(is_part(g) for g in heads)
        if pointing and self.open:
            owner = self.open[-1].whole
            colored = all("color" in g.fields for g in heads)
            if owner and (colored or any(g.head and g.head.way in {"part", "ordinal"} for g in heads)):
                return owner
            if len(self.open) == 1 and not lies_elsewhere(self.open[0], heads) and divides(self.open[0], heads):
                return self.open[0]
        return None

    def _divide(self, total: Group, parts: list[Group]) -> None:
        if are_one(total, parts):
            for part in parts:
                total.take(part, KINDS)
                part.dropped = True
            return
        for again in [g for g in self.groups if g.fields == total.fields and not g.parts]:
            again.dropped = True  # told twice: 'four, one misfired, so there are three. Two of them ...'
        total.dropped = True
        for part in parts:
            if part.head and part.head.way == "half" and total.count and total.count % 2 == 0:
                part.fields["count"] = total.count // 2
            if part.head and part.head.count is None and part.head.way == "part" and total.count:
                told = sum(p.count or 1 for p in [*total.parts, *parts] if p is not part)
                if told < total.count:
                    part.fields["count"] = total.count - told
            if part.fields.get("color") and part.count == 1:
                del part.fields["count"]
            part.take(total, KINDS)
            part.whole = total
        total.parts += parts

    def _lend(self, groups: list[Group], *, further: bool = False) -> None:
        """What an elliptical number leaves unsaid is said for its neighbor, or for the stitches before.

        Where it is said what is `further` stitches ('another three likewise') alone take so.
        """
        for i, group in enumerate(groups):
            head = group.head
            if head is None or (head.noun and head.way == "counted") or (further and head.way != "more"):
                continue
            near = [*reversed(groups[:i]), *groups[i + 1 :], *reversed(self.open)]
            full = next((g for g in near if "technique" in g.fields), None)
            if full is None and "color" in group.fields:
                noun = next((g for g in groups if g.head and g.head.noun), None)
                noun = noun or next((g for g in groups if "configuration" in g.fields), None)
                if noun:
                    group.take(noun, ("configuration", "usp_size", "form", "tissue"))
            if full is None and "configuration" not in group.fields and head.way == "more":
                full = next((g for g in near if "configuration" in g.fields), None)  # '... and another in the body'
            if full is None:
                continue
            same = "technique" not in group.fields or group.fields["technique"] == full.fields.get("technique")
            if same:
                group.take(full, ("technique", "configuration", "usp_size", "form", "tissue"))

    def _lend_places(self, groups: list[Group]) -> None:
        """'Posterior horn three above and two below', 'two more on the undersurface': the part stays that of before."""
        for before, group in zip([None, *groups], groups, strict=False):
            elliptical = group.head is not None and (not group.head.noun or group.head.way == "more")
            owner = before or (self.open[-1] if self.open and elliptical else None)
            if owner is None or "region" in group.fields or "region" not in owner.fields:
                continue
            surfaces = owner.fields.get("surface"), group.fields.get("surface")
            if None not in surfaces and surfaces[0] != surfaces[1]:
                group.take(owner, ("region",))

    def fill(self, fields: dict[str, object], piece: tuple[int, int], *, every: bool) -> None:
        """What a few words say of the stitches just told, or of `every` one: 'Horizontal', 'all number zero'."""
        for group in self.run if every else self.open:
            if group.dropped:
                continue
            new = {k: v for k, v in fields.items() if k not in group.fields}
            group.fields.update(new)
            if new:
                group.pieces.append(piece)
            if APART_ONE & set(new) and not group.parts and not (group.head and group.head.total):
                group.announced = False  # 'Two sutures through the root. Both white.': told, not only announced
        self.since = 0

    def drafts(self) -> list[FactDraft]:
        """The facts, the same stitches told twice made one, and numbers that no parts make up."""
        kept = [g for g in self.groups if not g.dropped and not g.announced and (says_enough(g.fields) or sewn(g))]
        self._only_technique(kept)
        out: dict[tuple[object, ...], FactDraft] = {}
        for g in kept:
            spans = self.case.spans(g.pieces, self.rule)
            key: tuple[object, ...] = tuple(sorted((k, str(v)) for k, v in g.fields.items()))
            if g.head and g.head.way == "ordinal":  # the first and the second are two, however alike
                key = (*key, g.head.start if g.whole else self.case.words[g.head.start])
            old = out.get(key)
            out[key] = FactDraft("sutures", g.fields, (*(old.spans if old else ()), *spans), g.certainty)
        return [*out.values(), *self._announced(kept), *only_numbers(self.case, self.groups, kept, self.rule)]

    def _only_technique(self, kept: list[Group]) -> None:
        """Stitches of a meniscus whose technique is unsaid have the one that the note tells of, where it is one."""
        said = [c for c in self.case.by_list["technique"] if self.case.assertion(c.start).mood == "performed"]
        names = {c.name for c in said if not self.case.assertion(c.start).declines(c.start)}
        if len(names) != 1:
            return
        for group in kept:
            if "technique" not in group.fields and is_of_repair(group):
                group.fields["technique"] = next(iter(names))
                group.pieces.append((said[0].start, said[0].end))
                group.certainty = INFERRED

    def _announced(self, kept: list[Group]) -> list[FactDraft]:
        """Numbers told before their parts, to be compared with what was described."""
        claims: dict[int, Head] = {}
        facts = {id(g) for g in kept}
        for i, g in enumerate(self.groups):
            if g.head is None or g.count is None or (g.head.way == "ordinal" and g.count == 1):
                continue  # a first one announces none
            if g.parts and g.count != sum(p.count or 1 for p in g.parts):
                claims.setdefault(g.count, g.head)
            elif g.announced and not g.parts:
                after = [o for o in self.groups[i + 1 : i + 5] if id(o) in facts and o.count]
                if g.head.total or len(after) > 1:
                    claims.setdefault(g.count, g.head)
        return [
            FactDraft("claims", {"what": "sutures", "count": n}, self.case.spans([(h.start, h.end)], CLAIM))
            for n, h in claims.items()
        ]
