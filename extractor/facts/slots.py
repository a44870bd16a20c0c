"""Which words belong to which quantity: the hard part of reading a measurement.

A sentence is shared out among its quantities. Between two of them the cut falls at the first pause or
connector; where there is none, after the words that follow the first as its dimension ('ten millimeters
wide | twelve millimeters from ...'). A quantity's `chunk` is the part of its share in its own clause.
"""

from __future__ import annotations

from dataclasses import replace
from itertools import islice

from extractor.facts.case import Case
from extractor.facts.named_in_order import named_in_order
from extractor.facts.parts_of import measured_by_parts
from extractor.facts.slot_cuts import ATTRIBUTE, NO_NOUN, WHERE, cut
from extractor.facts.slot_openings import opening
from extractor.facts.wanted import as_share, is_wanted
from extractor.language.clause_words import DETERMINERS, FINITE, PREPOSITIONS, PRONOUNS
from extractor.language.clauses import Span
from extractor.language.concepts import Concept
from extractor.language.quantities import Quantity
from extractor.language.values import value

BEFORE = 3
"""How many sentences back a thing counts as in hand."""
HEADED = 3
"""How near a thing counts that a sentence of its own names: nearer than one a rule reads without naming it."""
MOST = 24
"""So many things named before a number are looked at, the last ones; its sentence may be a whole dictation."""
EARLIER = 4
"""So many different ones are taken from before its sentence."""
DRUG = 3
"""Words between the strength and the volume of one drug, at most."""
POINTS = ("pointing", "thing", "action", "dimension", "region", "surface", "moment", "compartment", "measured-by")
"""Lists whose words, as a subject, leave what is measured to be found in what was said before."""
NAMING = frozenset({"the", "a", "an", "this", "that", "these", "those", "its", "his", "her", "their", "our", "my"})
"""Words that open the name of one thing told of, not a number of others."""
HEADING = 4
"""Words, at most, that stand beside the name in a sentence that only names a thing, and that one more."""
TURNING = frozenset({"the", "a", "now", "next", "then", "first", "so", "and", "to", "on", "for", "about", "as", "over"})
PAUSE = 2
TRAILING = frozenset({"depth", "length", "width"})
"""Dimensions said behind an 'A by B' that are of the last number alone: 'ten by twenty-five deep'."""
SAYS_HOW_MUCH = frozenset({"is", "was", "were", "about", "at", "of", "maybe", "perhaps", "around"})
"""Words between what is measured and how much of it."""
OWN_WORDS = frozenset({"thing", "action", "dimension", "operation", "finding", "joint"})
"""Lists whose words, beside a number put right, tell of what it is."""
JOINING = frozenset({"and", "but", "then", "so"})
POINTING = frozenset({"that", "which", "this", "it"})
PRODUCT = 6
"""Tokens of an 'A by B' before its last number, at most."""
SAID_SO = frozenset({"is", "was", "'s"})
NONE = frozenset({"no", "without"})
"""'No loose bodies. The cut was four centimeters': what was not there is not what is measured later."""
NOT_MODIFIED = PREPOSITIONS - {"of"}


@value(frozen=True, slots=True)
class Slot:
    """A quantity that wants a meaning, with its own words."""

    quantity: Quantity
    number: int
    share: tuple[int, int]
    chunk: tuple[int, int]
    sentence: Span
    clause: Span
    named: tuple[int, int] | None = None
    """The words that name it, where those of several numbers follow them in order."""


@value(frozen=True, slots=True)
class Candidate:
    """A thing the quantity may belong to. `closeness`: 5 next to it ... 1 the sentence before, 0 earlier."""

    concept: Concept
    closeness: int


def find_slots(case: Case) -> list[Slot]:
    """All quantities that need a meaning, in order."""
    segments = case.note.segments
    wanted = [(i, as_share(case, q)) for i, q in enumerate(case.note.quantities) if is_wanted(case, q)]
    by_sentence: dict[int, list[tuple[int, Quantity]]] = {}
    for i, q in wanted:
        by_sentence.setdefault(case.sentence(q.number_start).number, []).append((i, q))
    slots = []
    for number, own in by_sentence.items():
        sentence = segments.sentences[number]
        cuts = [opening(case, sentence, own[0][1])]
        cuts += [cut(case, a, b) for (_, a), (_, b) in zip(own, own[1:], strict=False)]
        cuts.append(sentence.end)
        names = named_in_order(case, [q for _, q in own]) if len(own) > 1 else {}
        for (i, q), start, end in zip(own, cuts, cuts[1:], strict=False):
            chunk = _chunk(case, q, start, end)
            slots.append(Slot(q, i, (start, end), chunk, sentence, _clause(case, q), names.get(q.start)))
    ends: dict[int, int] = {}
    for slot in slots:
        if slot.quantity.product is not None:
            ends[slot.quantity.product] = max(ends.get(slot.quantity.product, 0), slot.share[1])
    last = {q.product: q.end for q in case.note.quantities if q.product is not None}
    slots = [_with_whole_product(case, slot, ends, last) for slot in slots]
    return [_with_drug(case, *around) for around in zip([None, *slots], slots, [*slots[1:], None], strict=False)]


def _clause(case: Case, q: Quantity) -> Span:
    """The clause a number stands in: of one put right, where what was wrong stood, if no more is told of the right one.

    'Brace locked zero to ninety, | no, | scratch that, | zero to sixty degrees for now' is of the brace.
    """
    last, first = case.clause(q.number_start), case.clause(q.start)
    told = not OWN_WORDS.isdisjoint(last.lists)
    return last if not q.earlier or told else first


def _with_drug(case: Case, before: Slot | None, slot: Slot, after: Slot | None) -> Slot:
    """'Thirty cc of 0.2 percent ropivacaine', '0.5% ropivacaine 10 mL': a strength and a volume are of one drug."""
    for other in (before, after):
        if other is None or {slot.quantity.dimension, other.quantity.dimension} != {"volume", "share"}:
            continue
        first, second = (before, slot) if other is before else (slot, other)
        gap = case.words[first.quantity.end : second.quantity.start] if first else []
        if len(gap) <= DRUG and slot.sentence == other.sentence:
            start, end = min(slot.share[0], other.share[0]), max(slot.share[1], other.share[1])
            chunk = (min(slot.chunk[0], other.chunk[0]), max(slot.chunk[1], other.chunk[1]))
            return replace(slot, share=(start, end), chunk=chunk)
    return slot


def _with_whole_product(case: Case, slot: Slot, ends: dict[int, int], last: dict[int, int]) -> Slot:
    """The first of '2 cm by 1.5 cm lesion' looks as far as the last part does for what it belongs to."""
    product = slot.quantity.product
    if product is None or case.within("dimension", *slot.chunk):
        return slot
    if any(c.name in TRAILING for c in case.within("dimension", last[product], last[product] + 1)):
        return slot
    return replace(slot, share=(slot.share[0], ends[product]))


def _chunk(case: Case, q: Quantity, start: int, end: int) -> tuple[int, int]:
    level = case.note.segments.level
    a = max(start, q.start) if q.earlier else q.number_start  # 'ten degrees of extension, no, lacked five'
    while a > start and level[a] < 1:
        a -= 1
    b = q.end
    while b < end and level[b] < 1:
        b += 1
    return a, b


def things_near(case: Case, slot: Slot) -> list[Candidate]:
    """Things the quantity may belong to, nearest first."""
    found = _done_to(case, slot, _things_near(case, slot))
    owners = measured_by_parts(case, slot.sentence.start, (t.concept for t in found))
    return [t for t in found if t.concept not in owners]


def _done_to(case: Case, slot: Slot, found: list[Candidate]) -> list[Candidate]:
    """'The graft. We match the gap, | so it was cut at twenty': what that is done to, and not what was named since."""
    done = case.within("done-to", *_up_to(slot))
    if not done or any(t.closeness > 3 for t in found):
        return found
    never = case.grammar.concepts_in("never-done-to")
    if not any(t.concept.key in never for t in found):
        return found
    own = next((c for c in case.earlier("thing", slot.quantity.start) if c.name == done[-1].name), None)
    if own is None:
        return found
    kept = [t for t in found if t.concept != own and t.concept.key not in never]
    return [Candidate(own, HEADED), *kept]


def _up_to(slot: Slot) -> tuple[int, int]:
    """The words of a number's clause that stand before it."""
    return slot.clause.start, slot.quantity.start


def _things_near(case: Case, slot: Slot) -> list[Candidate]:
    q = slot.quantity
    found: dict[Concept, int] = {}
    follow = _modified(case, q, slot) or _of_it(case, q) or _told_behind(case, q, slot)
    if follow:
        found[follow] = 5
    start, end = slot.chunk
    for c in _around(case, q, start, end):
        found.setdefault(c, 4)
    around = _around(case, q, *slot.share)
    if 4 not in found.values():
        last = next(case.backwards("thing", slot.sentence.end, q.end), None)
        found |= {last: 4} if last and _set_off(case, q, last) else {}
    behind = [c for c in around if _behind_a_pause(case, q, c)]
    for c in around:
        if c not in behind:
            found.setdefault(c, 3)
    for c in islice(case.backwards("thing", slot.share[0], slot.sentence.start), MOST):
        found.setdefault(c, 2)
    for c in behind:
        found.setdefault(c, 2)
    if _has_own_subject(case, slot):
        return [Candidate(c, n) for c, n in found.items()]
    headed = 2 if any(c.start >= slot.sentence.start for c in found) else HEADED
    seen: set[str] = set()
    floor = _sentences_back(case, slot.sentence.number)
    for c in islice(case.earlier("thing", slot.sentence.start), MOST):
        if c.key in seen or len(seen) >= EARLIER:
            continue
        if not _found_sound(case, c) and not _not_there(case, c):
            seen.add(c.key)
            found.setdefault(c, headed if _heads(case, c, slot) else 1 if c.start >= floor else 0)
    return [Candidate(c, n) for c, n in found.items()]


def _heads(case: Case, c: Concept, slot: Slot) -> bool:
    """'The slot. I made it eight wide.', 'Rim next. I left two.': a sentence that only names what the next is about.

    Talk may stand between them that names nothing: 'The slot. Can you read that? Nine? Okay, nine millimeters wide.'
    """
    head = case.sentence(c.start)
    if not 0 < slot.sentence.number - head.number <= BEFORE or head.end - head.start > 2 * HEADING:
        return False
    dimension = slot.quantity.dimension
    told = dimension and any(q.dimension == dimension for q in case.numbers(head.end, slot.sentence.start))
    if told or case.within("thing", head.end, slot.sentence.start):
        return False  # 'Follow up. In two weeks. Sport not before. Nine months.'
    said = [w for w in case.words[head.start : head.end] if w.isalpha()]
    named = [c, *_where(case, head.start, head.end)]
    named_words = {w for p in named for w in case.words[p.start : p.end]}
    return set(said) <= TURNING | named_words and sum(w not in named_words for w in said) < HEADING


def _sentences_back(case: Case, number: int) -> int:
    """Where the sentences begin in which a thing counts as in hand.

    A question goes on with what was told, so that the end of a paragraph before it is none of them: 'How long is it?'
    """
    sentences, words = case.note.segments.sentences, case.words
    asked = number > 0 and words[sentences[number - 1].end - 1] == "?"
    told = 0
    while number and told < BEFORE:
        number -= 1
        told += not (asked and words[sentences[number].start : sentences[number].end] == ["\n"])
    return sentences[number].start


def _behind_a_pause(case: Case, q: Quantity, c: Concept) -> bool:
    """'The socket ten wide and fifteen deep, | plug tapped in': what opens a new thought behind the number.

    In speech without pauses it is known by its verb: 'the socket ... fifteen deep | and the plugs were tapped in'.
    """
    level = case.note.segments.level
    if c.start < q.end or not any(level[i] for i in range(q.end, c.start + 1)):
        return False
    if any(level[i] >= PAUSE for i in range(q.end, c.start + 1)):
        return True
    clause = case.clause(c.start)
    said = [w for w in case.words[clause.start : clause.end] if w not in JOINING]
    return clause.start >= q.end and not FINITE.isdisjoint(said) and said[0] not in PRONOUNS | POINTING


def _set_off(case: Case, q: Quantity, c: Concept) -> bool:
    """'Ten millimeters deep, the bone bridge.': what is measured stands behind its size, and nothing more is said."""
    end = case.sentence(q.number_start).end
    if any(w[:1].isalnum() for w in case.words[c.end : min(end, c.end + 2)]) or end > c.end + 2:
        return False
    floor = max(q.end, c.start - 2 * ATTRIBUTE)
    opens = next((i + 1 for i in range(c.start - 1, floor - 1, -1) if case.words[i] == ","), 0)
    if opens <= q.end or next(case.backwards("thing", opens, q.end), None):
        return False
    words = {w for p in _where(case, opens, c.start) for w in case.words[p.start : p.end]}
    named = case.words[opens] in NAMING  # and not '..., meniscus torn.', '..., three stitches.'
    return named and (DETERMINERS | words).issuperset(case.words[opens : c.start])


def _where(case: Case, start: int, end: int) -> list[Concept]:
    return [c for name in WHERE for c in case.within(name, start, end)]


def _found_sound(case: Case, c: Concept) -> bool:
    """'Cartilage fine': what was found sound of a structure is not what is measured later."""
    clause = case.clause(c.start)
    return "structure" in clause.lists and "finding:intact" in case.clause_keys[clause.number]


def _not_there(case: Case, c: Concept) -> bool:
    """'No loose bodies.', 'Loose bodies were not seen.': what was not there has no size."""
    found = "finding" in case.clause(c.start).lists and any(
        f.start <= c.start < f.end for f in case.within("finding", c.start, c.end)
    )
    return case.words[c.start - 1] in NONE or (found and case.assertion(c.start).declines(c.start))


def _has_own_subject(case: Case, slot: Slot) -> bool:
    """Whether the clause measures something of its own that is not known: 'the nodule beside the PCL measures 22'.

    What was named in sentences before is then not what is measured, near as it may stand.
    """
    start = slot.clause.start
    verb = next((i for i in range(start, slot.quantity.start) if case.words[i] in FINITE), None)
    if verb is None or any(case.within(name, start, verb) for name in POINTS):
        return False
    subject = [w for w in case.words[start:verb] if w.isalpha()]
    return any(w not in NO_NOUN for w in subject)


def _around(case: Case, q: Quantity, start: int, end: int) -> list[Concept]:
    before = islice(case.backwards("thing", q.number_start, start), MOST)
    return [*before, *case.within("thing", q.end, end)[:MOST]]


def _of_it(case: Case, q: Quantity) -> Concept | None:
    """The thing a quantity is said of in so many words: 'a graft of 20 mm'."""
    before = q.start
    if case.words[before - 1 : before] != ["of"]:
        return None
    return next((c for c in case.within("thing", max(0, before - 5), before) if c.end == before - 1), None)


def _told_behind(case: Case, q: Quantity, slot: Slot) -> Concept | None:
    """'Sixteen millimeters, that was the tear': a size that opens its sentence, and then what it is of."""
    words, sentence = case.words, slot.sentence
    if q.start - sentence.start > PRODUCT:
        return None
    opening = case.numbers(sentence.start, min(sentence.end, sentence.start + 2 * PRODUCT))
    whole = [n for n in opening if n.start == q.start or None is not n.product == q.product]
    last = whole[-1].end if whole else q.end
    if not whole or whole[0].start != sentence.start or words[last : last + 1] != [","] or last + 2 >= sentence.end:
        return None
    if words[last + 1] not in POINTING or words[last + 2] not in SAID_SO:
        return None
    return next(iter(case.within("thing", last + 2, case.clause(last + 2).end)), None)


def _led_by_thing(case: Case, q: Quantity) -> bool:
    """'Physio at two weeks | clinic with an x ray': the time is that of what stands right before it."""
    before = next(case.backwards("thing", q.start, max(0, q.start - ATTRIBUTE)), None)
    return before is not None and NOT_MODIFIED.issuperset(case.words[before.end : q.start]) and before.end < q.start


def _modified(case: Case, q: Quantity, slot: Slot) -> Concept | None:
    """The thing a quantity stands before as its attribute: 'a three centimeter skin incision'."""
    if q.dimension == "plan_time" and _led_by_thing(case, q):
        return None
    for c in case.within("thing", q.end, min(q.end + 4, slot.share[1])):
        between = case.words[q.end : c.start]
        if any(q.end <= o.number_start < c.start for o in case.numbers(q.end, c.start)):
            return None
        if any(w in NOT_MODIFIED or w in DETERMINERS or w in {",", ".", ":", "and", "then"} for w in between):
            return None
        if case.within("dimension", q.end, c.start):
            return None
        return None if _owned_before(case, q, c) else c
    return None


def _owned_before(case: Case, q: Quantity, behind: Concept) -> bool:
    """'Blood loss less than fifty cc | irrigated': of what stands right before it, and what is behind is done next."""
    before = next(case.backwards("thing", q.start, max(0, q.start - ATTRIBUTE)), None)
    plain = SAYS_HOW_MUCH | case.grammar.plain_words("how-much")
    if before is None or not plain.issuperset(case.words[before.end : q.start]):
        return False
    if case.words[q.end : behind.start] == ["of"]:
        return False  # 'blood loss minimal thirty cc of ropivacaine'
    return q.dimension == "volume" or case.words[behind.start].endswith("ed")
