"""Quantity rules: each number with a unit is claimed by the one rule that reads it best.

Which rule wins is written down, total and never left to file order: more of its words stand next to
the number; the thing it belongs to is nearer; the rule asks for more; a procedure's pack goes before
the common one. Equal rules with different readings are both set aside, and the number is flagged.
"""

from __future__ import annotations

from dataclasses import dataclass

from extractor.facts.across import across, other_one
from extractor.facts.against import like_the_other, set_against
from extractor.facts.arcs import is_arc, is_one_angle
from extractor.facts.case import Case
from extractor.facts.in_rows import has_its_own, still_unsized, twins_before
from extractor.facts.one_by_one import next_one
from extractor.facts.put_right import put_right
from extractor.facts.requirements import clause_meets, context_meets
from extractor.facts.ruleset import BARE, NumberRules
from extractor.facts.slots import Candidate, Slot, find_slots, things_near
from extractor.facts.wanted import is_said_to_be_same
from extractor.grammar.packs import COMMON
from extractor.grammar.rules import Rule
from extractor.language.clause_words import DENIERS, FINITE
from extractor.language.concepts import Concept
from extractor.language.measure import QUANTITY
from extractor.language.quantities import Quantity
from extractor.language.values import value

CLOSENESS = {"next": 5, "clause": 4, "sentence": 2, "before": 1, "note": 0}
CARRIED = 3
"""How near a thing counts that the number before was said of: nearer than one a rule reads without naming it."""
AND = frozenset({"and", ",", "while", ";", "."})
REACHED = frozenset({"up", "to", "until"})
"""Words of a bound that is the value reached: 'up to ninety'."""
AWAY = [[w] for w in "from off behind beyond past above below beneath proximal distal".split()]
HEDGED_BY = 5
"""Millimeters between the ends of 'from ... to ...', at most, where one size lies somewhere between them."""
FROM_LEG = 4
"""Tokens from 'from' to the leg that a graft is from, at most."""
FAR = 10
"""Tokens behind 'from' in which a 'to' makes it an extent."""
IT = frozenset({"it", "they", "its", "their"})
POINTS = 4
"""Tokens from 'it' to the number told of it, at most."""
FEW = 6
"""Tokens, at most, of a sentence that only goes on with the one before."""
ELLIPSIS = 3
"""Words from the place to the number where the thing is left out, at most."""
POINTED_AT = frozenset({"the", "that", "those", "so"})
"""Words before a number that was told before: 'twelve degrees short, so twelve degrees, ...'."""
SIZES = 4
"""Sizes of one thing told in one breath, at most."""
LONE = 3
"""Tokens before a number that is said alone, at most: 'And that's fourteen millimeters.'."""
NEARER = 0.01
"""Of two things as close in kind the one named nearer to the number goes first."""
ANYWHERE = {"next": 5.5, "clause": 4.5, "sentence": 2.5, "before": 1.5, "note": 0.5}
"""Where a rule that asks for no thing ranks among those that do, by its reach."""


@value(frozen=True, slots=True)
class Claim:
    """A rule's reading of a quantity, and what it rests on."""

    rule: Rule
    slot: Slot
    thing: Candidate | None
    pieces: tuple[tuple[int, int], ...]
    rank: tuple[float, ...]


@dataclass(frozen=True)
class Unread:
    """A quantity no rule took, or that two rules read in different ways."""

    slot: Slot
    rivals: tuple[Claim, ...] = ()


def claim_quantities(
    case: Case, table: dict[str, NumberRules], taken: frozenset[int]
) -> tuple[list[Claim], list[Unread]]:
    """The winning claim of each quantity, and the quantities left over.

    Args:
        case: the note.
        table: the rules in force, by the dimension they take.
        taken: numbers (in the note's quantities) that are read as something else already, a device's size.
    """
    claims: list[Claim] = []
    unread: list[Unread] = []
    for slot in find_slots(case):
        if slot.number in taken:
            continue
        rules = table.get(slot.quantity.dimension or BARE)
        against = set_against(case, slot, claims)
        found = _claims(case, slot, rules, _things(case, slot, against, claims)) if rules else []
        found = still_unsized(case, [c for c in found if not has_its_own(case, c, claims)], claims)
        alike = (
            put_right(case, slot, claims)
            or next_one(case, slot, claims, table.get("length"))
            or _alike(case, slot, claims)
            or across(case, slot, claims)
            or _again(case, slot, claims)
            or like_the_other(case, slot, against, found)
        )
        if alike:
            claims.append(alike)
            continue
        if not found:
            measured = slot.quantity.kind == QUANTITY and case.within("dimension", *slot.chunk)
            if case.note.quantities[slot.number].dimension or measured:
                unread.append(Unread(slot))
            continue
        best = max(c.rank for c in found)
        winners = [c for c in found if c.rank == best]
        if len({c.rule.kind if c.rule.kind == "known" else (c.rule.kind, c.rule.value) for c in winners}) > 1:
            unread.append(Unread(slot, tuple(winners)))
        elif _told_already(case, winners[0], claims):
            unread.append(Unread(slot))
        else:
            claim = min(winners, key=lambda c: c.rule.name)
            claims += [*twins_before(case, claim, claims, unread), claim]
    return claims, unread


def _told_already(case: Case, claim: Claim, claims: list[Claim]) -> bool:
    """'The tear is ten millimeters long ... I looked in the notch. Fourteen millimeters.': a number said alone.

    Of what was measured some sentences before it is no second size, unless it is put right.
    """
    slot, q = claim.slot, claim.slot.quantity
    far = claim.thing is not None and claim.thing.closeness < CLOSENESS["sentence"]
    if not far or claim.rule.words or claim.rule.kind != "measurement" or q.part or q.product is not None:
        return False
    opens = next((i + 1 for i in range(q.start - 1, slot.sentence.start, -1) if case.words[i] == ","), 0)
    if q.start - max(opens, slot.sentence.start) > LONE or case.correction(q.start):
        return False
    before = case.note.segments.sentences[max(0, slot.sentence.number - 1)].start
    if claim.thing is not None and claim.thing.concept.start >= before:
        return False
    return any(c.rule.value == claim.rule.value and c.slot.quantity.value != q.value for c in claims)


def _alike(case: Case, slot: Slot, claims: list[Claim]) -> Claim | None:
    """'The posterior tunnel was forty millimeters long and the anterior thirty nine': read like the one before.

    Where several sizes of the one before were said, it is read like the first: 'socket 9, 25 deep, tunnel 9'.
    """
    if not claims or case.within("dimension", *slot.share) or slot.quantity.part:
        return None
    q = claims[-1].slot.quantity
    thing = claims[-1].thing
    before = claims[-1]
    listed = dict(before.rule.fields).get("site", "").strip("<>!")
    for claim in reversed(claims[-SIZES:]):
        if not _together(claim.slot, slot) or case.within(listed, claim.slot.quantity.end, q.start):
            break  # what was said of both is no size of the one told of last
        if thing and claim.thing and claim.thing.concept == thing.concept:
            before = claim
    if (
        not _together(before.slot, slot)
        or not before.rule.words
        or before.thing is None
        or len({slot.quantity.dimension, q.dimension} - {None}) > 1
    ):
        return None
    own = [
        t
        for t in things_near(case, slot)
        if t.closeness >= 3 and t.concept.key == before.thing.concept.key and t.concept != before.thing.concept
    ]
    named = own[0].concept if own else _other_site(case, slot, before) or other_one(case, slot, before)
    if named is None or not AND & set(case.words[q.end : slot.quantity.start]):
        return None
    said = case.words[slot.sentence.start : slot.quantity.start]
    apart = before.slot.sentence != slot.sentence and not FINITE.isdisjoint(said)
    if apart and not case.within(listed, slot.sentence.start, slot.quantity.start):
        return None  # 'Nine millimeters from the root to the gap. The gap is eighteen.': another size of the same thing
    pieces = ((slot.quantity.start, slot.quantity.end), (named.start, named.end))
    return Claim(before.rule, slot, own[0] if own else before.thing, pieces, before.rank)


def _together(before: Slot, slot: Slot) -> bool:
    """Whether two numbers are told in one sentence, or the second in a few words behind it: 'Anterior tunnel 39'."""
    sentence = slot.sentence
    if before.sentence == sentence:
        return True
    return sentence.number - before.sentence.number == 1 and sentence.end - sentence.start <= FEW


def _other_site(case: Case, slot: Slot, before: Claim) -> Concept | None:
    """'... and the anterior thirty nine': the thing is left out, and only where it is is said, right beside."""
    listed = dict(before.rule.fields).get("site", "").strip("<>!")
    start, number = slot.chunk[0], slot.quantity.number_start
    found = case.within(listed, max(start, number - ELLIPSIS), number)
    if len(found) != 1 or any(t.closeness >= CLOSENESS["clause"] for t in things_near(case, slot)):
        return None
    used = case.within(listed, before.slot.chunk[0], before.slot.chunk[1])
    return found[0] if found[0].name not in {c.name for c in used} else None


def _again(case: Case, slot: Slot, claims: list[Claim]) -> Claim | None:
    """A number pointed at is the one said of something before: 'for the half inch', 'front one, same, five'."""
    q = slot.quantity
    same = is_said_to_be_same(case, q)
    pointed = bool(q.start) and case.words[q.start - 1] in POINTED_AT and q.dimension is not None
    if q.value is None or not (pointed or same):
        return None
    alike = {q.dimension} if q.dimension else {"length"}
    said = [c for c in claims if c.slot.quantity.value == q.value and c.slot.quantity.dimension in alike]
    named = any(t.closeness >= CLOSENESS["next"] for t in things_near(case, slot))
    if not said or named or case.within("dimension", *slot.chunk):
        return None
    before = said[-1]
    return Claim(before.rule, slot, before.thing, ((q.start, q.end),), before.rank)


def _things(case: Case, slot: Slot, against: Claim | None, claims: list[Claim]) -> list[Candidate]:
    """Things a number may belong to: named near it, or what the number before it was said of.

    'Fifteen by ten, starting thirteen from its root': a sentence goes on with what was in hand when it opened.
    """
    things = things_near(case, slot)
    if against is not None and against.thing is not None:
        return [*things, Candidate(against.thing.concept, CLOSENESS["sentence"])]
    goes_on = claims and (claims[-1].slot.sentence == slot.sentence or _in_series(case, claims, slot))
    before = claims[-1] if claims and (goes_on or _points_back(case, claims[-1], slot)) else None
    in_hand = before.thing if before else None
    tools = case.grammar.concepts_in("measuring-tool")
    named = any(t.closeness > 1 and t.concept.key not in tools for t in things)
    if in_hand is None or in_hand.concept.start >= slot.sentence.start or named:
        return things
    return [Candidate(in_hand.concept, CARRIED), *things]


def _in_series(case: Case, claims: list[Claim], slot: Slot) -> bool:
    """'Graft. Length eighteen. Width nine. From its root ten.': sizes of one thing, each in a few words of its own."""
    last = claims[-1]
    said = case.words[slot.sentence.start : slot.sentence.end]
    follows = slot.sentence.number - last.slot.sentence.number == 1 and FINITE.isdisjoint(said)
    return follows and slot.sentence.end - slot.sentence.start <= FEW and last.rule.kind == "measurement"


def _points_back(case: Case, last: Claim, slot: Slot) -> bool:
    """'The bridge was thirteen deep. Then I saw that it was eight wide.': 'it' is what the sentence before told of.

    So is it behind one more sentence that names nothing but what it is measured with.
    """
    start = slot.sentence.start
    said = case.words[max(start, slot.quantity.start - POINTS) : slot.quantity.start]
    if slot.sentence.number - last.slot.sentence.number not in (1, 2) or IT.isdisjoint(said):
        return False
    told = case.within("thing", last.slot.sentence.start, last.slot.sentence.end)[:1]
    if last.thing is not None and told and told[0].key != last.thing.concept.key:
        return False  # 'the tendon through a cut of four centimeters. It is seventy long.'
    tools = case.grammar.concepts_in("measuring-tool")
    return all(c.key in tools for c in case.within("thing", last.slot.quantity.end, slot.quantity.start))


def _claims(case: Case, slot: Slot, rules: NumberRules, things: list[Candidate]) -> list[Claim]:
    clause_keys = case.clause_keys[slot.clause.number]
    q = slot.quantity
    own_start = q.number_start if q.earlier else q.start
    if q.is_hedged_length:
        own_start = q.end  # 'three millimeters wide, maybe four'
    chunk = case.within("dimension", *(slot.named or slot.chunk))
    said_near = [c for c in chunk if c.key in rules.beside]  # an angle is not 'long'
    chunk = [c for c in said_near if not own_start <= c.start < slot.quantity.end]
    chunk = [c for c in chunk if not _none_of(case, c, q)]
    share = [c for c in case.within("dimension", *(slot.named or slot.share)) if not _none_of(case, c, q)]
    named = frozenset(c.key for c in chunk)
    found = []
    for rule in rules.likely(named, {c.key for c in share}, {t.concept.key for t in things}, clause_keys):
        if not named <= rule.dimensions or not _part_fits(case, rule, slot):
            continue  # a dimension word is left over
        if not _value_fits(case, rule, slot.quantity) or not clause_meets(rule, clause_keys):
            continue
        said = _words(rule, chunk, share)
        plain = rule.kind == "measurement" and not rule.words and not rule.meets
        if said is None or (plain and _lies_off(case, slot)) or _of_the_rule_before(case, slot, said[1]):
            continue
        thing = _thing(rule, things, rules)
        if (rule.of and thing is None) or not context_meets(case, rule, slot.clause):
            continue
        if rule.words and not named and _kept_by_another(rule, things, rules.sized, slot.quantity.start):
            continue
        score, pieces = said
        closeness = thing.closeness - NEARER * things.index(thing) if thing else ANYWHERE[rule.reach]
        own = [(q.start, q.end), *pieces]
        if thing:
            own.append((thing.concept.start, thing.concept.end))
        rank = (rule.kind == "range", score, closeness, rule.weight, rule.pack != COMMON)
        found.append(Claim(rule, slot, thing, tuple(own), rank))
    return found


def _none_of(case: Case, size: Concept, q: Quantity) -> bool:
    """'The hinge stops at ten, so no hyperextension': what there is none of has no number before it."""
    return case.words[size.start - 1] in DENIERS and q.end <= size.start


def _of_the_rule_before(case: Case, slot: Slot, pieces: list[tuple[int, int]]) -> bool:
    """'... never under in width. So what do I mark? 21 by 9': a word of size told before an 'A by B' is none of it."""
    return slot.quantity.product is not None and any(
        not {".", "?"}.isdisjoint(case.words[end : slot.quantity.start]) for _, end in pieces
    )


def _kept_by_another(rule: Rule, things: list[Candidate], sized: frozenset[str], at: int) -> bool:
    """'Round the rim, incision four centimeters': the thing right before a number keeps it from words farther off."""
    return any(t.concept.end == at and t.concept.key in sized - rule.of for t in things)


def _lies_off(case: Case, slot: Slot) -> bool:
    """'Four millimeters from the edge': how far off a thing lies, which is none of its sizes.

    'From the hiatus to the horn' is an extent.
    """
    q = slot.quantity
    behind = q.end + (case.words[q.end : q.end + 1] in (["in"], ["away"]))
    if q.dimension != "length" or case.words[behind : behind + 1] not in AWAY or case.words[q.start - 1] == "of":
        return False  # 'an incision of two centimeters behind the fibula'
    if any(case.numbers(behind + 1, behind + 2)):
        return False  # 'sixteen by eight from six off its root'
    if case.within("joint", behind, behind + FROM_LEG):
        return False  # 'a graft of eight millimeters from the same leg'
    return "to" not in case.words[behind + 2 : min(q.end + FAR, slot.clause.end)]  # 'proximal to' is no extent


def _part_fits(case: Case, rule: Rule, slot: Slot) -> bool:
    q = slot.quantity
    arc = rule.kind == "range" and len(set(rule.value.split())) > 1  # not 'flexion went from 60 to 110'
    if arc and not is_arc(case, q):
        return False
    if rule.part is None:
        return q.product is None or bool(rule.words)
    return q.product is not None and q.part == rule.part


def _value_fits(case: Case, rule: Rule, q: Quantity) -> bool:
    """Whether the number is of a form the rule takes: single, a value reached, a bare number of likely size."""
    bounded = q.value is None and (q.low is None) != (q.high is None)
    if rule.single and q.value is None and not (rule.reached and bounded) and not is_one_angle(case, q):
        return False
    if rule.kind == "measurement" and _two_ends(case, rule, q):
        return False
    if rule.counted and not q.counted:
        return False
    limit = rule.kind == "plan"  # 'no more than ninety' is what a limit is
    if rule.reached and bounded and not limit and not REACHED & set(case.words[q.start : q.number_start]):
        return False
    if not rule.bare_within and not rule.within:
        return True
    ranges = [r for r in (rule.bare_within, rule.within) if r]
    said = next((v for v in (q.value, q.high, q.low) if v is not None), None)
    return said is not None and all(low <= said <= high for low, high in ranges)


def _two_ends(case: Case, rule: Rule, q: Quantity) -> bool:
    """'Flexion went from 70 to 115', 'it is missing from 13 to 33 millimeters': two values, and none between them."""
    if q.low is None or q.high is None or "from" not in case.words[max(0, q.start - 1) : q.number_start]:
        return False
    return rule.takes == "angle" or (rule.takes == "length" and q.high - q.low > HEDGED_BY)


def _words(rule: Rule, chunk: list[Concept], share: list[Concept]) -> tuple[float, list[tuple[int, int]]] | None:
    """How well a rule's dimension words stand by the quantity, in its `chunk` or its `share`; None where one lacks."""
    score, pieces = 0.0, []
    for wanted in rule.words:
        near = [c for c in chunk if c.key in wanted]
        far = near or [c for c in share if c.key in wanted]
        if not far:
            return None
        score += 2 if near else 1
        pieces += [(c.start, c.end) for c in far]
    score += 0.5 * len(chunk[1:])  # all of them are the rule's
    return score, pieces


def _thing(rule: Rule, things: list[Candidate], rules: NumberRules) -> Candidate | None:
    """The thing a rule's number belongs to. Another thing that has sizes, named nearer, keeps the number for itself.

    Right beside the number ('a graft of 20 mm', 'a 4.5 mm shaver') it does so whatever the rule asks for, elsewhere in
    the clause only where the rule asks for no dimension words.
    """
    if not rule.of:
        return None
    least = CLOSENESS[rule.reach]
    for t in things:
        if t.concept.key in rule.of:
            return t if t.closeness >= least else None
        beside = t.closeness >= CLOSENESS["next"]
        nearer = t.closeness >= CLOSENESS["clause"] and rule.kind == "measurement" and not rule.words
        if t.concept.key in (rules.named if beside else rules.sized if nearer and rule.part is None else ()):
            return None
    return None
