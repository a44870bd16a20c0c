"""Which structures a finding is said of: in its clause, before it, after it, or by what the talk is about."""

from __future__ import annotations

from extractor.facts.answered import answered
from extractor.facts.case import Case, distance
from extractor.grammar.rules import Rule
from extractor.language.clause_words import DETERMINERS, FINITE
from extractor.language.clauses import Span
from extractor.language.concepts import Concept
from extractor.language.verbs import verbal

ATTRIBUTIVE = frozenset({"a", "an", "with", "no", "normal", "complete", "partial", "of"})
GROUPS = {
    "menisci": ("medial-meniscus", "lateral-meniscus"),
    "cruciates": ("acl", "pcl"),
}
"""Words that stand for two structures."""
PARTS_OF_MENISCUS = ("_horn", "body")
TOGETHER = {"both": 2, "all": None, "each": None}
"""Words for several things listed before, and of how many."""
SUBJECTS = frozenset({"it", "this", "they", "these", "both"})
"""Words for what the sentence before is about."""
OF_SIDE = frozenset({"meniscus", "femoral-condyle", "tibial-plateau"})
"""Words for a structure of the compartment last named."""
ALONG = frozenset({"together", "along", "with", "the", "in", "combination"})
"""Words between a finding and what else it is said of."""
MENISCI = frozenset({"medial-meniscus", "lateral-meniscus"})
OF_MENISCUS = frozenset({"tear", "deficiency"})
"""What is found of a meniscus where only a compartment is named."""
AHEAD_OF_SIDE = frozenset({"the", "and", "but", "also", "then", ",", "while", "whereas", "both", "only"})
ARTICLES = frozenset({"a", "an"})
BEFORE_FINDING = FINITE | ARTICLES | set("looked appeared seemed also completely totally quite still : ,".split())
"""Words between a side and what was found there."""
ADJECTIVES = 3
"""Words between an article and what was found, at most: 'the lateral has a complete radial tear'."""
RELATING = frozenset({"which", "that", "it"})
"""'The root of the lateral meniscus, | which is torn off' says nothing of the ligaments named before its sentence."""


def structures_of(case: Case, rule: Rule, clause: Span, trigger: Concept) -> list[tuple[str | None, Concept | None]]:
    """The structures that a finding is said of, each with the word that names it; none where it is of no structure."""
    wanted = dict(rule.fields).get("structure")
    if wanted is None:
        return [(None, None)]
    if not wanted.startswith("<"):
        return [(wanted, None)]
    said = case.within(wanted.strip("<>!"), clause.start, clause.end)
    side = None if said else _bare_side(case, rule, clause, trigger)
    own = [side] if side is not None else _named(case, rule, clause, trigger, wanted, said)
    return [(name, c) for c in own for name in expanded(case, c)]


def _named(case: Case, rule: Rule, clause: Span, trigger: Concept, wanted: str, said: list[Concept]) -> list[Concept]:
    """The structures, by their own names, that a finding is said of; `said` are those of its clause."""
    list_name = wanted.strip("<>!")
    own = [c for c in said if _suits(rule, c)]
    if not own and said:
        return []
    if not own:
        sentence = case.sentence(clause.start)
        near = [c for c in case.within(list_name, sentence.start, clause.start) if _suits(rule, c)]
        own = _listed(case, clause, trigger, near) or near[-1:]
        if own and _ruled_out(case, own[0], clause):
            own = _meant_instead(case, own[0], sentence)
        places = case.within("compartment", clause.start, trigger.start)
        if rule.value == "intact" and any(_is_place(case, c) for c in places):
            return []  # '..., lateral compartment clean' says nothing of what was named before
        if not own and rule.value != "intact":
            own = _ahead(case, rule, list_name, clause, sentence)
        if not own and rule.value == "intact":
            own = _told_of(case, rule, list_name, clause)
        own = own or [c for c in answered(case, clause, list_name) if _suits(rule, c)]
        relates = case.words[clause.start] in RELATING and case.within(list_name, sentence.start, clause.start)
        if not own and wanted.endswith("!") and not relates:
            own = _in_hand(case, rule, list_name, clause.start)
        if rule.value == "tear" and _is_meniscal(case, clause):
            own = [c for c in own if c.name in MENISCI or c.name in ("meniscus", "menisci")]
        own = _other_side(case, rule, own, trigger)
        if not own and rule.value in OF_MENISCUS and _is_meniscal(case, clause):
            own = _of_the_title(case, rule, clause)
    return _group(case, own, trigger)


def _bare_side(case: Case, rule: Rule, clause: Span, trigger: Concept) -> Concept | None:
    """'The medial was intact', 'lateral fine': a side with no noun behind it is the meniscus, of which there are two.

    Not where what was told of last has two sides as well: 'the condyles were looked at, | the medial was smooth'.
    """
    if f"finding:{rule.value}" not in case.grammar.concepts_in("found-by-side") or not case.by_list["structure"]:
        return None
    at = trigger.start
    while at > clause.start and case.words[at - 1] in BEFORE_FINDING:
        at -= 1
    told_by = range(at - 1, max(clause.start, at - ADJECTIVES) - 1, -1)
    at = next((i for i in told_by if case.words[i] in ARTICLES), at)
    while at > clause.start and case.words[at - 1] in BEFORE_FINDING:
        at -= 1
    side = next((c for c in case.in_clause[clause.number] if c.list == "compartment" and c.end == at), None)
    if side is None or side.name not in {"medial", "lateral"} or side.end - side.start > 1:
        return None
    lead = [w for w in case.words[clause.start : side.start] if w not in AHEAD_OF_SIDE]
    if lead or case.words[side.start].endswith("ly"):
        return None
    here = case.sentence(clause.start)
    bare = not verbal(case.words, clause) and clause.start != here.start
    if bare and rule.value != "intact" and not case.within("finding", here.start, clause.start):
        return None  # '..., that is what the scan said, | medial tear'
    floor = case.note.segments.sentences[max(0, here.number - 1)].start
    sided = case.grammar.plain_words("sided")
    if not sided.isdisjoint(case.words[floor : here.end]):
        return None
    before = case.within("structure", floor, side.start)
    told = before[-1].key if before else "structure:meniscus"
    menisci = any(c.name in MENISCI or c.name in {"menisci", "meniscus"} for c in case.by_list["structure"])
    if not menisci or told not in case.grammar.concepts_in("ahead-of-side"):
        return None
    return Concept("structure", f"{side.name}-meniscus", side.start, side.end)


def _listed(case: Case, clause: Span, trigger: Concept, near: list[Concept]) -> list[Concept]:
    """'Medial meniscus, | lateral meniscus, | both intact': what is said of all that was listed before, pause by pause.

    `near` are the structures named before in the sentence.
    """
    count = next((TOGETHER[w] for w in case.words[clause.start : trigger.start] if w in TOGETHER), 0)
    if count == 0:
        return []
    own: list[Concept] = []
    for c in reversed(near):
        part = case.clause(c.start)
        if verbal(case.words, part) or case.within("finding", part.start, part.end):
            break
        own.insert(0, c)
    return own if count is None else own[-count:]


def _ruled_out(case: Case, c: Concept, clause: Span) -> bool:
    """'It is not the medial meniscus | that is torn': what a clause before denies without saying what of it."""
    told = case.clause(c.start)
    return told != clause and case.assertion(c.start).negated and not case.within("finding", told.start, told.end)


def _meant_instead(case: Case, c: Concept, sentence: Span) -> list[Concept]:
    """'... | but the lateral': the structure, or the other side of the one ruled out, behind a 'but'."""
    but = next((i for i in range(c.end, sentence.end) if case.words[i] == "but"), sentence.end)
    named = case.within("structure", but, sentence.end)
    sides = case.within("compartment", but, sentence.end)
    if named or not sides or c.name not in MENISCI:
        return named[:1]
    return [Concept("structure", f"{sides[0].name}-meniscus", sides[0].start, sides[0].end)]


def _is_meniscal(case: Case, clause: Span) -> bool:
    """Whether the part said to be torn is one that only a meniscus has: 'a tear in the posterior horn'."""
    return any(c.name.endswith(PARTS_OF_MENISCUS) for c in case.within("region", clause.start, clause.end))


def _ahead(case: Case, rule: Rule, list_name: str, clause: Span, sentence: Span) -> list[Concept]:
    """The structure named after the finding: 'grade two change, by its look, was noted on the medial plateau'."""
    said = case.within(list_name, clause.end, sentence.end)
    between = said and case.within("finding", clause.end, said[0].start)
    if not said or between or not _suits(rule, said[0]):
        return []
    return [] if case.within("finding", said[0].start, case.clause(said[0].start).end) else said[:1]


def _told_of(case: Case, rule: Rule, list_name: str, clause: Span) -> list[Concept]:
    """'The ACL was examined. It was intact.': what a sentence that opens so is about, as the one before has it.

    'The ACL looked lax, but that is only the sag. In flexion it is taut': what was disproved is no finding of its own.
    """
    sentence = case.sentence(clause.start)
    before = case.note.segments.sentences[max(0, sentence.number - 1)]
    disproved = bool(case.within("disproved", before.start, before.end))
    opens = case.words[clause.start + (case.words[clause.start] in {"and", "but"})]
    goes_on = disproved or "it" in case.words[sentence.start : clause.start]  # 'I looked at it and | it is intact'
    if not sentence.number or not {case.words[sentence.start], *([opens] if goes_on else ())} & SUBJECTS:
        return []
    named = case.within(list_name, before.start, before.end)
    leads = named and DETERMINERS.issuperset(case.words[before.start : named[0].start])
    found = not disproved and case.within("finding", before.start, before.end)
    return named if leads and not found and all(_suits(rule, c) for c in named) and len(named) == 1 else []


def _other_side(case: Case, rule: Rule, own: list[Concept], trigger: Concept) -> list[Concept]:
    """'Over to the lateral side, where there was a tear': a compartment gone to later tells which meniscus is meant."""
    if own and own[0].name not in MENISCI:
        return own
    floor = own[0].end if own else case.sentence(trigger.start).start
    gone_to = [c for c in case.within("compartment", floor, trigger.start) if _is_place(case, c)]
    if not gone_to:
        return own
    name = f"{gone_to[-1].name}-meniscus"
    there = Concept("structure", name, gone_to[-1].start, gone_to[-1].end)
    return [there] if name in MENISCI and _suits(rule, there) and rule.value in OF_MENISCUS else own


def _of_the_title(case: Case, rule: Rule, clause: Span) -> list[Concept]:
    """'Partial medial meniscectomy. Flap tear, posterior horn': of the one compartment said."""
    said = [c for c in case.by_list["compartment"] if c.start < clause.start]
    if not said or {c.name for c in said} not in ({"medial"}, {"lateral"}):
        return []
    there = Concept("structure", f"{said[0].name}-meniscus", said[0].start, said[0].end)
    return [there] if _suits(rule, there) else []


def _is_place(case: Case, c: Concept) -> bool:
    """Whether a compartment word says where one is: 'laterally', 'the lateral side', 'the medial (one) was torn'."""
    after = case.words[c.end : c.end + 1]
    subject = case.words[c.start - 1 : c.start] == ["the"] and bool(FINITE & set(after))
    return subject or case.words[c.start].endswith("ly") or after in (["side"], ["compartment"], ["one"])


def _in_hand(case: Case, rule: Rule, list_name: str, before: int) -> list[Concept]:
    """The structure last named that the rule may be about, passing over those found intact."""
    for c in case.backwards(list_name, before, 0):
        if (
            _suits(rule, c)
            and not _found_intact(case, c)
            and case.assertion(c.start).mood not in {"history", "withdrawn"}
        ):
            return [c]
    return []


def _found_intact(case: Case, c: Concept) -> bool:
    """Whether a structure's clause tells that it is intact, or the answer to it as a heading: 'ACL: intact.'."""
    clause = case.clause(c.start)
    if "finding:intact" in case.clause_keys[clause.number]:
        return True
    heads = case.words[clause.end - 1] == ":" and clause.end < case.sentence(c.start).end
    return heads and "finding:intact" in case.clause_keys[clause.number + 1]


def _suits(rule: Rule, concept: Concept) -> bool:
    return not rule.of or concept.key in rule.of


def _group(case: Case, structures: list[Concept], trigger: Concept) -> list[Concept]:
    """The structures joined to the one nearest to the finding; 'A and B were intact' has both."""
    if trigger.name == "intact":
        structures = [
            c for c in structures if case.words[c.start - 1] != "no"
        ] or structures  # 'no plica, patella fine'
    if len(structures) < 2:
        return structures
    nearest = _subject(case, structures, trigger)
    i = structures.index(nearest)
    first = last = i
    along = [c for c in structures[i + 1 :] if _along_with(case, trigger.end, c.start)]
    while first > 0 and _joined(case, structures[first - 1], structures[first]):
        first -= 1
    while last < len(structures) - 1 and _joined(case, structures[last], structures[last + 1]):
        last += 1
    return [*structures[first : last + 1], *(c for c in along if c not in structures[first : last + 1])]


def _along_with(case: Case, start: int, end: int) -> bool:
    """'The ACL was torn together with the lateral meniscus': what else the finding is said of."""
    words = case.words[start:end]
    return "with" in words and words[0] != "with" and ALONG.issuperset(words)  # not 'a tear with both menisci intact'


def _subject(case: Case, structures: list[Concept], trigger: Concept) -> Concept:
    """What a finding is said of: what stands before it ('the ACL was intact'), or after 'an intact', 'a tear of'."""
    before = [c for c in structures if c.end <= trigger.start]
    after = [c for c in structures if c.start >= trigger.end]
    lead = case.words[trigger.start - 1] if trigger.start else ""
    follow = case.words[trigger.end] if trigger.end < len(case.words) else ""
    attributive = lead in ATTRIBUTIVE or follow in {"of", "in", "to"}
    between = before and case.within("finding", before[-1].end, trigger.start)
    if after and (attributive or not before or between):
        return after[0]
    return before[-1] if before else min(structures, key=lambda c: distance(c, trigger.start))


def _joined(case: Case, left: Concept, right: Concept) -> bool:
    return all(
        w in {",", "and", "or", "the", "both", "/", "as", "well", "an", "a", "but", "also", "even"}
        for w in case.words[left.end : right.start]
    )


def expanded(case: Case, c: Concept) -> tuple[str, ...]:
    """The structures that a word stands for: both of 'menisci', and the meniscus of the compartment last named."""
    if c.name in GROUPS:
        return GROUPS[c.name]
    if c.name in OF_SIDE:
        side = case.last("compartment", c.end)
        return (f"{side.name}-{c.name}",) if side and side.name in {"medial", "lateral"} else (c.name,)
    return (c.name,)
