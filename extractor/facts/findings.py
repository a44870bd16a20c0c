"""Findings: which structure shows what, one fact a structure, absent ones kept as absent."""

from __future__ import annotations

from dataclasses import replace

from extractor.facts.answered import told_before
from extractor.facts.case import Case
from extractor.facts.compartments import SURFACES
from extractor.facts.draft import FactDraft
from extractor.facts.found_on import MENISCI, OF_MENISCUS, OF_SIDE, expanded, structures_of
from extractor.facts.grades import grade_of
from extractor.facts.hearsay import Verdict, verdict
from extractor.facts.ruleset import ClauseRules
from extractor.facts.stepping import fired, resolve_fields
from extractor.grammar.rules import Rule
from extractor.language.clauses import Span
from extractor.language.concepts import Concept
from extractor.language.corrections import put_right, taken_back
from extractor.language.verbs import verbal

MOODS = frozenset({"performed", "planned", "considered"})
FELLOWS = {
    "compartment": (("medial", "lateral", "medial"), ("lateral", "medial", "lateral")),
    "region": (("posterior", "acl", "pcl"), ("anterior", "pcl", "acl")),
}
"""Words that tell a structure from its fellow: the word, how the one ends or opens, and the other."""
INTACT = "intact"
SOUND = "0"
"""The grade of sound cartilage."""
LIKEWISE = ("finding", "status", "grade")
PUT_RIGHT_WITHIN = 16
"""Tokens from a structure to the one that it was said for, at most."""
TOLD_OF_TEAR = ("tear-pattern", "region", "compartment")
PARTS = {"middle": "body"}
"""Parts of a defect that are parts of a meniscus by another name."""
REFUSALS = frozenset({"negation:unnecessary", "negation:deferred", "negation:refused"})
"""Of these it is a deed that is denied, never what was found."""
ANEW_WITHIN = 12
"""Tokens behind a clause in which the part of a meniscus may be named anew, at most."""
BEFORE_PART = frozenset({"in", "at", "of", "the", "its", "his", "her"})
"""Words that lead up to a part of a meniscus named anew."""
DEEDS = frozenset({"action", "operation", "technique"})
EXCEPT = frozenset({"except", "excepting", "save", "bar", "excluding", "apart", "aside"})
ALL_OF_IT = frozenset({"everything", "all", "rest", "joint", "knee", "else", "remainder", "others"})
TOLD_WITHIN = 60
"""Words around a clause in which the part of its tear may have been told."""
LED_IN, WAY_WITHIN = 2, 6
LEADING = frozenset({"in", "at", "on", "the", "for", "of", "from", "through", "to"})
"""Words between a way of stitching and where, and how many at most: 'inside-out in the | body'."""
PRESENT = frozenset({"is", "are", "'s", "looks", "look", "appears", "appear", "seems", "remains", "remain", "stays"})
SUBJECT_WITHIN = 30
"""Words from the name of a thing to what is found of it, at most."""
DENYING = frozenset({"no", "not", "n't", "without", "or", "nor", "never"})
ADVERBS = 3
"""Words from a verb of the present to what it says of a thing, at most: 'is still quite intact'."""
DEED_WITHIN = 3
"""Words from a 'not' to the deed that it denies, at most."""
ENDING = frozenset({"too", "also"})
"""Words of likewise that stand behind what they are said of: 'and the PCL too | so the patella ...'."""


def read_findings(case: Case, table: ClauseRules) -> list[FactDraft]:
    """Findings of all clauses about this operation."""
    seen: dict[tuple[object, ...], FactDraft] = {}
    firm: set[tuple[object, ...]] = set()
    for rule, clause, trigger, rests in fired(case, table):
        assertion = case.assertion(trigger.start)
        told = assertion.mood in MOODS or (rule.lasting and assertion.mood == "history")
        if not told and not (assertion.mood == "history" and _is_so_today(case, clause, trigger)):
            continue
        apart = [c for c in case.in_clause[clause.number] if c.list == "uninvolved"]
        for trigger in [c for c in case.in_clause[clause.number] if c.key in rule.meets[0]]:
            if apart and not all(case.said_of_part(clause, c) for c in apart):
                continue
            if rule.value in OF_MENISCUS and _points_back(case, clause, trigger, seen):
                continue
            if rule.value == "tear" and _adds_pattern(case, clause, trigger, seen):
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


def _is_so_today(case: Case, clause: Span, trigger: Concept) -> bool:
    """'The graft from his last reconstruction is intact': told in the present of a thing of another time."""
    cue = case.assertion(trigger.start).cue
    before = set(case.words[max(trigger.start - ADVERBS, clause.start) : trigger.start])
    if cue is None or cue >= trigger.start or before.isdisjoint(PRESENT):
        return False
    opens = max(clause.start, trigger.start - SUBJECT_WITHIN)
    return any(c.end <= cue for c in case.within("structure", opens, trigger.start))


def _but_for(case: Case, clause: Span, trigger: Concept) -> bool:
    """'All normal except Outerbridge one of the patella': what is named behind an 'except' alone is not sound.

    So it is where the 'except' stands first: 'except for the torn meniscus everything was fine'.
    """
    at = next((i for i in range(trigger.end, clause.end) if _excepts(case, i)), None)
    if at is not None:
        return not case.within("structure", clause.start, at)
    opens = next((i for i in range(clause.start, trigger.start) if case.words[i] in EXCEPT), None)
    return opens is not None and not ALL_OF_IT.isdisjoint(case.words[opens : trigger.start])


def _excepts(case: Case, at: int) -> bool:
    """'Except', or 'but for', which no mere 'but' is: 'fine but for a grade one patch'."""
    return case.words[at] in EXCEPT or case.words[at : at + 2] == ["but", "for"]


def _points_back(case: Case, clause: Span, trigger: Concept, seen: dict[tuple[object, ...], FactDraft]) -> bool:
    """'I freshened the tear': the one told of before, where the clause names no structure and does something to it."""
    named = case.within("structure", clause.start, clause.end)
    if _only_called(case, clause) and not named:
        return any(d.fields["finding"] == "tear" for d in seen.values())
    if case.words[trigger.start - 1 : trigger.start] not in (["the"], ["this"], ["that"]):
        return False
    acts = "action" in clause.lists
    return acts and not named and any(d.fields["finding"] == "tear" for d in seen.values())


def _adds_pattern(case: Case, clause: Span, trigger: Concept, seen: dict[tuple[object, ...], FactDraft]) -> bool:
    """'The medial root is torn off, | radial sort of tear': a few words that tell the pattern of the tear before."""
    patterns = case.within("tear-pattern", clause.start, trigger.start)
    lists = clause.lists
    bare = not verbal(case.words, clause) and lists.isdisjoint({"structure", "compartment", "region", "side"})
    if len(patterns) != 1 or not bare or clause.start == case.sentence(clause.start).start:
        return False
    before = case.note.segments.clauses[clause.number - 1]
    for key, draft in list(seen.items()):
        if draft.fields["finding"] == "tear" and draft.fields["status"] == "present" and _lies_in(case, draft, before):
            told = draft.fields.get("pattern")
            if told is None:
                fields = {**draft.fields, "pattern": patterns[0].name}
                spans = (*draft.spans, *case.spans([(patterns[0].start, trigger.end)], draft.spans[0].rule))
                del seen[key]
                seen[(*key[:3], patterns[0].name)] = replace(draft, fields=fields, spans=spans)
            return told in (None, patterns[0].name)
    return False


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
        if "finding" in clause.lists or not clause.number:
            continue
        if case.assertion(cue.start).mood not in MOODS:
            continue  # 'usually the condyle goes as well'
        before = told_before(case, clause)
        said = [d for d in seen.values() if _lies_in(case, d, before)]
        told = case.within("structure", clause.start, clause.end)
        last = told[-1].start if told else clause.end
        apart = [c for c in case.in_clause[clause.number] if clause.start <= c.start < last]
        if any(c.list in {"action", "verb"} and not cue.start <= c.start < cue.end for c in apart):
            continue  # what is done behind the last of them is another thought, in a run-on
        ends = case.words[cue.start] in ENDING or case.words[cue.start : cue.start + 2] == ["as", "well"]
        told_in = case.within("structure", clause.start, cue.start if ends else clause.end)
        named = [(name, c) for c in told_in for name in expanded(case, c)]
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


def _none_before(case: Case, clause: Span, trigger: Concept) -> bool:
    """'No plica, patella fine': the 'no' is of what stands before the pause."""
    said = case.words[clause.start : trigger.start]
    pause = max((i for i, w in enumerate(said) if w == ","), default=-1)
    return bool({"no", "without"} & set(said[: max(pause, 0)])) and DENYING.isdisjoint(said[pause:])


def _of_deed(case: Case, denial: Concept, clause: Span) -> bool:
    after = [c for c in case.in_clause[clause.number] if denial.end <= c.start < denial.end + DEED_WITHIN]
    return any(c.list == "action" or c.key in case.grammar.concepts_in("treating") for c in after)


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
    denied = denied and not (rule.value == INTACT and _none_before(case, clause, trigger))
    status = "absent" if denied else "present"
    for name, place in structures_of(case, rule, clause, trigger):
        fields: dict[str, object] = {"structure": name, "finding": rule.value, "status": status}
        fields |= {k: v for k, v in resolve_fields(case, rule, clause, trigger) if k != "structure"}
        if fields.get("region"):
            fields["region"] = _region_put_right(case, clause, str(fields["region"]))
            if _of_stitches(case, clause, str(fields["region"])):
                del fields["region"]
        grade = grade_of(case, clause, trigger) if fields.pop("graded", None) else None
        if grade and grade["value"] == SOUND:
            fields["finding"] = INTACT  # 'cartilage grade zero'
        elif grade:
            fields["grade"] = grade
        if name in OF_SIDE or (rule.value == INTACT and _found_ill(case, str(name), place, clause, seen)):
            continue
        if place is not None and place.name == "meniscus" and rule.value in OF_MENISCUS:
            fields["structure"] = _one_torn(str(name), seen)
        if _never_torn_so(case, str(name), fields):
            fields["structure"] = _meniscus_of(case, trigger, seen)
        elif place is not None and (right := _put_right_at(case, place)):
            fields["structure"] = right
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


def _never_torn_so(case: Case, name: str, fields: dict[str, object]) -> bool:
    """Whether only a meniscus tears in this pattern, and the structure is a ligament."""
    meniscal = f"tear-pattern:{fields.get('pattern')}" in case.grammar.concepts_in("meniscal-pattern")
    return meniscal and f"structure:{name}" in case.grammar.concepts_in("ligament-structure")


def _meniscus_of(case: Case, trigger: Concept, seen: dict[tuple[object, ...], FactDraft]) -> str | None:
    """'On the medial side a bucket handle': torn is the meniscus on the side named last, of two not the sound one."""
    named = [c.name for c in case.within("compartment", 0, trigger.start) if c.name in {"medial", "lateral"}]
    named.sort(key=lambda side: (f"{side}-meniscus", INTACT, "present", "None") not in seen)
    return f"{named[-1]}-meniscus" if named else None


def _put_right_at(case: Case, place: Concept) -> str | None:
    """'Softening on the femoral condyle, no, that's wrong, it was the plateau': the structure said for another."""
    end = min(case.sentence(place.start).end, place.end + PUT_RIGHT_WITHIN)
    said = [c for c in case.within("structure", place.end, end) if c.start >= place.end]
    right = next((c for c in said if c.name != place.name), None)
    if right is None or not case.grammar.concepts_in(SURFACES).issuperset({right.key, place.key}):
        return None
    between = case.words[place.end : right.start]
    apart = any(case.within(name, place.end, right.start) for name in ("finding", "grade-system", "grade-word"))
    told = apart or "and" in between or not taken_back(case.words, place.end, right.start)
    return None if told else right.name


def _found_ill(
    case: Case, name: str, place: Concept | None, clause: Span, seen: dict[tuple[object, ...], FactDraft]
) -> bool:
    """'A chondral lesion on the medial condyle, grade one, | nothing to treat': a remark on what was found ill there.

    So it is where the clause names no structure, and its sentence told of something on that one.
    """
    if place is None or place.start >= clause.start:
        return False
    sentence = case.sentence(clause.start)
    own = case.part(sentence.start, sentence, clause.start)
    return any(
        k[0] == name and k[1] != INTACT and k[2] == "present" and _lies_in(case, d, own) for k, d in seen.items()
    )


def _region_put_right(case: Case, clause: Span, region: str) -> str:
    """'Torn in the posterior horn, no, wait, in its body': the part that was said for another, with nothing between."""
    end = min(case.sentence(clause.start).end, clause.end + ANEW_WITHIN)
    said = case.within("region", clause.start, end)
    for wrong, right in zip(said, said[1:], strict=False):
        between = case.words, wrong.end, right.start
        if wrong.name == region and put_right(*between, BEFORE_PART) and taken_back(*between):
            return right.name
    return region


def _of_stitches(case: Case, clause: Span, region: str) -> bool:
    """'A repair of the tear, all-inside behind and inside-out in the middle': where it was stitched, not torn."""
    sentence = case.sentence(clause.start)
    opens, ends = max(sentence.start, clause.start - TOLD_WITHIN), min(sentence.end, clause.end + TOLD_WITHIN)
    said = [c for c in case.within("region", opens, ends) if c.name == region]
    return bool(said) and all(_led_in(case, c) for c in said)


def _led_in(case: Case, place: Concept) -> bool:
    """Whether a way of stitching stands right before a place: 'inside-out in the | middle'."""
    ways = case.within("technique", place.start - WAY_WITHIN, place.start)
    return any(
        0 <= place.start - way.end <= LED_IN and set(case.words[way.end : place.start]) <= LEADING for way in ways
    )


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
    of_root = fields.get("pattern") == "root" and fields["region"] in (None, "posterior_horn", "anterior_horn")
    if fields["finding"] == "tear" and (of_root or str(fields["region"]).endswith("_root")):
        name = name.replace("-meniscus", "-root")
        fields.pop("region", None)
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
