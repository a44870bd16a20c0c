"""Findings: which structure shows what, one fact a structure, absent ones kept as absent."""

from __future__ import annotations

from extractor.facts.case import Case, distance
from extractor.facts.draft import FactDraft
from extractor.facts.grades import grade_of
from extractor.facts.hearsay import Verdict, verdict
from extractor.facts.ruleset import ClauseRules
from extractor.facts.stepping import fired, resolve_fields
from extractor.grammar.rules import Rule
from extractor.language.clause_words import DETERMINERS, FINITE
from extractor.language.clauses import Span
from extractor.language.concepts import Concept

MOODS = frozenset({"performed", "planned", "considered"})
ATTRIBUTIVE = frozenset({"a", "an", "with", "no", "normal", "complete", "partial", "of"})
GROUPS = {
    "menisci": ("medial-meniscus", "lateral-meniscus"),
    "cruciates": ("acl", "pcl"),
}
"""Words that stand for two structures."""
FELLOWS = {
    "compartment": (("medial", "lateral", "medial"), ("lateral", "medial", "lateral")),
    "region": (("posterior", "acl", "pcl"), ("anterior", "pcl", "acl")),
}
"""Words that tell a structure from its fellow: the word, how the one ends or opens, and the other."""
INTACT = "intact"
SOUND = "0"
"""The grade of sound cartilage."""
LIKEWISE = ("finding", "status", "grade")
OF_SIDE = frozenset({"meniscus", "femoral-condyle", "tibial-plateau"})
"""Words for a structure of the compartment last named."""
MENISCI = frozenset({"medial-meniscus", "lateral-meniscus"})
OF_MENISCUS = frozenset({"tear", "deficiency"})
"""What is found of a meniscus where only a compartment is named."""
PARTS_OF_MENISCUS = ("_horn", "body")
TOLD_OF_TEAR = ("tear-pattern", "region", "compartment")
PARTS = {"middle": "body"}
"""Parts of a defect that are parts of a meniscus by another name."""
REFUSALS = frozenset({"negation:unnecessary", "negation:deferred", "negation:refused"})
"""Of these it is a deed that is denied, never what was found."""
TREATING = frozenset(
    {"verb:repairing", "verb:refixing", "verb:removing", "verb:reshaping", "verb:sewing", "verb:knotting"}
)
DEEDS = frozenset({"action", "operation", "technique"})
SUBJECTS = frozenset({"it", "this", "they", "these", "both"})
"""Words for what the sentence before is about."""
EXCEPT = frozenset({"except", "excepting", "save", "bar", "excluding", "apart", "aside"})
DEED_WITHIN = 3
"""Words from a 'not' to the deed that it denies, at most."""


def read_findings(case: Case, table: ClauseRules) -> list[FactDraft]:
    """Findings of all clauses about this operation."""
    seen: dict[tuple[object, ...], FactDraft] = {}
    firm: set[tuple[object, ...]] = set()
    for rule, clause, trigger, rests in fired(case, table):
        assertion = case.assertion(trigger.start)
        told = assertion.mood in MOODS or (rule.lasting and assertion.mood == "history")
        if not told:
            continue
        for trigger in [c for c in case.in_clause[clause.number] if c.key in rule.meets[0]]:
            apart = [c for c in case.in_clause[clause.number] if c.list == "uninvolved"]
            if not all(case.said_of_part(clause, c) for c in apart):
                continue
            if rule.value in OF_MENISCUS and _points_back(case, clause, trigger, seen):
                continue
            said = Verdict() if rule.value == INTACT else verdict(case, clause, trigger)
            if rule.value == INTACT and _but_for(case, clause, trigger):
                continue
            if said.holds or said.denied:
                added = _add(case, rule, clause, trigger, rests, seen, said)
                firm.update(() if said.told else added)
    _drop_hearsay(seen, firm)
    _add_likewise(case, seen)
    return list(_specific(seen).values())


def _but_for(case: Case, clause: Span, trigger: Concept) -> bool:
    """'All normal except Outerbridge one of the patella': what is named behind an 'except' alone is not sound."""
    at = next((i for i in range(trigger.end, clause.end) if case.words[i] in EXCEPT), None)
    return at is not None and not case.within("structure", clause.start, at)


def _points_back(case: Case, clause: Span, trigger: Concept, seen: dict[tuple[object, ...], FactDraft]) -> bool:
    """'I freshened the tear': the one told of before, where the clause names no structure and does something to it."""
    named = case.within("structure", clause.start, clause.end)
    if _only_called(case, clause) and not named:
        return any(d.fields["finding"] == "tear" for d in seen.values())
    if case.words[trigger.start - 1 : trigger.start] not in (["the"], ["this"], ["that"]):
        return False
    acts = any(c.list == "action" for c in case.in_clause[clause.number])
    return acts and not named and any(d.fields["finding"] == "tear" for d in seen.values())


def _only_called(case: Case, clause: Span) -> bool:
    """'But this is a long tear': what was told of before, with nothing said of its pattern or place."""
    said = [w for w in case.words[clause.start : clause.end] if w not in {"but", "and", "because", "so", "since", "as"}]
    points = said[:1] in (["this"], ["that"], ["it"]) and said[1:2] in (["is"], ["was"], ["'s"])
    points = points and said[2:3] in (["a"], ["an"])
    return points and not any(case.within(name, clause.start, clause.end) for name in TOLD_OF_TEAR)


def _add_likewise(case: Case, seen: dict[tuple[object, ...], FactDraft]) -> None:
    """'The lateral meniscus was intact, as was the ACL': what was found of one was found of the other."""
    for cue in case.by_list["as-was"]:
        clause = case.clause(cue.start)
        if any(c.list == "finding" for c in case.in_clause[clause.number]) or not clause.number:
            continue
        before = case.note.segments.clauses[clause.number - 1]
        if before.number and before.end - before.start == 1:
            before = case.note.segments.clauses[before.number - 1]  # a lone 'and' stands between
        said = [d for d in seen.values() if _lies_in(case, d, before)]
        if any(c.list in {"action", "verb"} for c in case.in_clause[clause.number]):
            continue
        named = [(name, c) for c in case.within("structure", clause.start, clause.end) for name in _expanded(case, c)]
        for draft in said[:1]:
            for name, c in named or _counterpart(case, draft, clause):
                fields = {"structure": name, **{k: draft.fields[k] for k in LIKEWISE if k in draft.fields}}
                seen.setdefault(
                    (name, fields["finding"], fields["status"], "None"),
                    FactDraft("findings", fields, case.spans([(c.start, c.end)], draft.spans[0].rule)),
                )


def _counterpart(case: Case, draft: FactDraft, clause: Span) -> list[tuple[str, Concept]]:
    """'The anterior cruciate was intact, as was the posterior': one word that tells a structure from its fellow."""
    for name, pairs in FELLOWS.items():
        for c in case.within(name, clause.start, clause.end):
            for word, mine, fellow in pairs:
                said = str(draft.fields["structure"])
                if c.name == word and said.startswith(mine):
                    return [(said.replace(mine, fellow, 1), c)]
    return []


def _lies_in(case: Case, draft: FactDraft, clause: Span) -> bool:
    starts = case.note.tokens.starts
    return any(starts[clause.start] <= s.start < case.note.tokens.ends[clause.end - 1] for s in draft.spans)


def _denied(case: Case, clause: Span, trigger: Concept) -> bool:
    """Whether the finding is denied, and not what might have been done for it: 'the tear was not repaired'."""
    assertion = case.assertion(trigger.start)
    if not assertion.negated or case.within("negation-ahead", clause.start, trigger.start):
        return assertion.declines(trigger.start)
    denials = [c for c in case.within("negation", clause.start, clause.end) if c.key not in REFUSALS]
    own = case.within("negation", clause.start, clause.end)
    if not own:  # denied by what is said behind it: of what was found and what was thought of, that was not done
        return DEEDS.isdisjoint(c.list for c in case.in_clause[clause.number])
    return any(c.start < trigger.start or not _of_deed(case, c, clause) for c in denials)


def _of_deed(case: Case, denial: Concept, clause: Span) -> bool:
    after = [c for c in case.in_clause[clause.number] if denial.end <= c.start < denial.end + DEED_WITHIN]
    return any(c.list == "action" or c.key in TREATING for c in after)


def _add(
    case: Case,
    rule: Rule,
    clause: Span,
    trigger: Concept,
    rests: list[Concept],
    seen: dict[tuple[object, ...], FactDraft],
    said: Verdict,
) -> list[tuple[object, ...]]:
    """Add what a clause tells as found; gives the keys of what was added."""
    added: list[tuple[object, ...]] = []
    denied = said.denied or (rule.negation != "keeps" and _denied(case, clause, trigger))
    status = "absent" if denied else "present"
    for name, place in _structures(case, rule, clause, trigger):
        fields: dict[str, object] = {"structure": name, "finding": rule.value, "status": status}
        fields |= {k: v for k, v in resolve_fields(case, rule, clause, trigger) if k != "structure"}
        grade = grade_of(case, clause, trigger) if fields.pop("graded", None) else None
        if grade and grade["value"] == SOUND:
            fields["finding"] = INTACT  # 'cartilage grade zero'
        elif grade:
            fields["grade"] = grade
        if name in OF_SIDE:
            continue
        if place is not None and place.name == "meniscus" and rule.value in OF_MENISCUS:
            fields["structure"] = _one_torn(str(name), seen)
        name = _placed(fields)
        if said.sound and name:
            _add_sound(case, name, said.sound, rule, seen)
        key = (name, str(fields["finding"]), status, str(fields.get("pattern")))
        pieces = [(trigger.start, trigger.end), *((c.start, c.end) for c in rests)]
        if place:
            pieces.append((place.start, place.end))
        spans = case.spans([(clause.start, clause.end), *pieces], rule.name)
        draft = FactDraft("findings", fields, spans)
        old = seen.get(key)
        seen[key] = _merged(old, draft) if old else draft
        added.append(key)
    return added


def _drop_hearsay(seen: dict[tuple[object, ...], FactDraft], firm: set[tuple[object, ...]]) -> None:
    """'... with possible meniscus tear': what was only told before yields to what was seen, however much later."""
    for key in [k for k in seen if k not in firm and k[1] != INTACT and k[2] == "present"]:
        sound = seen.get((key[0], INTACT, "present", "None"))
        if sound and sound.spans[0].start > seen[key].spans[-1].start:
            del seen[key]


def _one_torn(name: str, seen: dict[tuple[object, ...], FactDraft]) -> str:
    """'The torn part of the meniscus', its side left out: of two the one told torn, where the other was intact."""
    others = sorted(MENISCI - {name})
    torn = any(k[0] == others[0] and k[1] in OF_MENISCUS and k[2] == "present" for k in seen)
    return others[0] if torn and (name, INTACT, "present", "None") in seen else name


def _add_sound(case: Case, name: str, sound: Concept, rule: Rule, seen: dict[tuple[object, ...], FactDraft]) -> None:
    """'The letter speaks of a torn ACL. Intact.': the one word is said of the ACL."""
    fields: dict[str, object] = {"structure": name, "finding": INTACT, "status": "present"}
    draft = FactDraft("findings", fields, case.spans([(sound.start, sound.end)], rule.name))
    seen.setdefault((name, INTACT, "present", "None"), draft)


def _placed(fields: dict[str, object]) -> str | None:
    """Put a root's tear to the root and the middle of a meniscus to its body; gives the structure."""
    if fields["structure"] is None:
        return None
    name = str(fields["structure"])
    if not name.endswith("-meniscus"):
        return name
    fields["region"] = PARTS.get(str(fields.get("region")), fields.get("region"))
    if fields["finding"] == "deficiency" and str(fields["region"]).endswith("_root"):
        del fields["region"]  # the root is where it is measured from
    if fields["finding"] == "tear" and str(fields["region"]).endswith("_root"):
        name = name.replace("-meniscus", "-root")
        del fields["region"]
        if fields.get("pattern") == "root":
            del fields["pattern"]
        fields["structure"] = name
    return name


def _merged(old: FactDraft, new: FactDraft) -> FactDraft:
    fields = {**new.fields, **{k: v for k, v in old.fields.items() if v is not None}}
    if str(new.fields.get("region")).startswith(f"{old.fields.get('region')}_"):
        fields["region"] = new.fields["region"]  # 'at the back, a tear of the posterior horn'
    return FactDraft("findings", fields, (*old.spans, *new.spans[:1]))


def _specific(seen: dict[tuple[object, ...], FactDraft]) -> dict[tuple[object, ...], FactDraft]:
    """A tear told again without its pattern is the one told with it."""
    out = dict(seen)
    for key in seen:
        if key[3] == "None" and any(k[:3] == key[:3] and k[3] != "None" for k in seen):
            others = [k for k in seen if k[:3] == key[:3] and k[3] != "None"]
            out[others[0]] = _merged(out[others[0]], out[key])
            del out[key]
    return out


def _structures(case: Case, rule: Rule, clause: Span, trigger: Concept) -> list[tuple[str | None, Concept | None]]:
    wanted = dict(rule.fields).get("structure")
    if wanted is None:
        return [(None, None)]
    if not wanted.startswith("<"):
        return [(wanted, None)]
    list_name = wanted.strip("<>!")
    said = case.within(list_name, clause.start, clause.end)
    own = [c for c in said if _suits(rule, c)]
    if not own and said:
        return []
    if not own:
        sentence = case.sentence(clause.start)
        near = [c for c in case.within(list_name, sentence.start, clause.start) if _suits(rule, c)]
        own = near[-1:]
        if own and _ruled_out(case, own[0], clause):
            own = _meant_instead(case, own[0], sentence)
        places = case.within("compartment", clause.start, trigger.start)
        if rule.value == "intact" and any(_is_place(case, c) for c in places):
            return []  # '..., lateral compartment clean' says nothing of what was named before
        if not own and rule.value != "intact":
            own = _ahead(case, rule, list_name, clause, sentence)
        if not own and rule.value == "intact":
            own = _told_of(case, rule, list_name, clause)
        if not own and wanted.endswith("!"):
            own = _in_hand(case, rule, list_name, clause.start)
        if rule.value == "tear" and _is_meniscal(case, clause):
            own = [c for c in own if c.name in MENISCI or c.name in ("meniscus", "menisci")]
        own = _other_side(case, rule, own, trigger)
    own = _group(case, own, trigger)
    return [(name, c) for c in own for name in _expanded(case, c)]


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
    if not sentence.number or not {case.words[sentence.start], *([opens] if disproved else ())} & SUBJECTS:
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


def _is_place(case: Case, c: Concept) -> bool:
    """Whether a compartment word says where one is: 'laterally', 'the lateral side', 'the medial (one) was torn'."""
    after = case.words[c.end : c.end + 1]
    subject = case.words[c.start - 1 : c.start] == ["the"] and bool(FINITE & set(after))
    return subject or case.words[c.start].endswith("ly") or after in (["side"], ["compartment"], ["one"])


def _in_hand(case: Case, rule: Rule, list_name: str, before: int) -> list[Concept]:
    """The structure last named that the rule may be about, passing over those found intact."""
    for c in case.backwards(list_name, before, 0):
        keys = case.clause_keys[case.clause(c.start).number]
        if (
            _suits(rule, c)
            and "finding:intact" not in keys
            and case.assertion(c.start).mood not in {"history", "withdrawn"}
        ):
            return [c]
    return []


def _suits(rule: Rule, concept: Concept) -> bool:
    return not rule.of or concept.key in rule.of


def _group(case: Case, structures: list[Concept], trigger: Concept) -> list[Concept]:
    """The structures joined to the one nearest to the finding; 'A and B were intact' has both."""
    if len(structures) < 2:
        return structures
    nearest = _subject(case, structures, trigger)
    i = structures.index(nearest)
    first = last = i
    while first > 0 and _joined(case, structures[first - 1], structures[first]):
        first -= 1
    while last < len(structures) - 1 and _joined(case, structures[last], structures[last + 1]):
        last += 1
    return structures[first : last + 1]


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
        w in {",", "and", "or", "the", "both", "/", "as", "well", "an", "a"} for w in case.words[left.end : right.start]
    )


def _expanded(case: Case, c: Concept) -> tuple[str, ...]:
    if c.name in GROUPS:
        return GROUPS[c.name]
    if c.name in OF_SIDE:
        side = case.last("compartment", c.end)
        return (f"{side.name}-{c.name}",) if side and side.name in {"medial", "lateral"} else (c.name,)
    return (c.name,)
