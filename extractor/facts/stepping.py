"""Concept rules that give steps: what was done, in the order told, and what was only thought of or declined."""

from __future__ import annotations

from collections import defaultdict
from itertools import islice

from extractor.facts.case import UNREAL, Case, distance
from extractor.facts.draft import FactDraft
from extractor.facts.named_beside import is_bare
from extractor.facts.requirements import clause_meets, context_meets
from extractor.facts.ruleset import ClauseRules
from extractor.facts.telling import Told, placed
from extractor.facts.untested import left_out
from extractor.grammar.rules import Rule
from extractor.language.clause_words import FINITE, PRONOUNS
from extractor.language.clauses import Span
from extractor.language.concepts import Concept
from extractor.language.verbs import verbal

MOST_PASSED = 6
"""Things passed over on the way back to the one meant, at most."""
POINTING = frozenset({"it", "this", "that", "them", "these", "those"})
POINTING_BACK = POINTING | {"one", "ones", "any", "none", "either"}
"""Words by which a clause leaves to the one before it what it is about."""
ELLIPTIC = frozenset({"not", "n't", "never", "was", "were", "has", "had", "did"})
"""A clause that opens with one of these, or with it behind a 'but', has its subject in the one before it."""
DENYING = frozenset({"not", "n't", "never", "without"})
LIGHT = frozenset({
    "then", "again", "even", "also", "be", "been", "to", "have", "had", "do", "did", "need", "needed", "get",
})  # fmt: skip
"""Words that may stand between a 'not' and the verb it denies: 'we did not even have to probe it'."""
REFUSED_WITHIN = 6
"""Words from a refusal to what is refused, at most: 'no need to look for a bridge of soft tissue'."""
AROUND = 30
"""Tokens on either side in which a sentence, which may be a whole dictation, still tells of a thing."""
HEADED, HEADING = 2, 5
"""How many sentences a heading holds for, and its words with the full stop, at most."""
REFUSALS = frozenset({"negation:unnecessary", "negation:deferred", "negation:refused"})
NONE_OF = frozenset({"no", "without"})
NOTHING: frozenset[str] = frozenset()
IMPLEMENTS = ("device", "thing")
"""Lists of what a step may be told by alone."""
STATUS = {"performed": "performed", "conditional": "conditional", "considered": "planned", "planned": "planned"}


def fired(case: Case, rules: ClauseRules) -> list[tuple[Rule, Span, Concept, list[Concept]]]:
    """Every rule whose requirements a clause meets, with the concept that triggered it and all it rests on."""
    found = []
    for clause in case.note.segments.clauses:
        own = case.clause_keys[clause.number]
        if not own and not rules.elliptic:
            continue
        pointed = _pointed_at(case, clause) if rules.elliptic else NOTHING
        keys = own | pointed if pointed else own
        tried: set[str] = set()
        for key in keys & rules.known:
            for rule in rules.by_key[key]:
                if rule.name in tried:
                    continue
                tried.add(rule.name)
                within = keys if pointed and _names_deed(rule, own) else own
                if clause_meets(rule, within) and context_meets(case, rule, clause):
                    rests = [case.first(wanted, clause.start, clause.end) for wanted in rule.meets]
                    concepts = [c for c in rests if c]
                    thing = _thing(case, rule, clause, rules.done)
                    if rule.of and thing is None and rule.kind != "finding":
                        continue
                    found.append((rule, clause, concepts[0], concepts + ([thing] if thing else [])))
    return sorted(found, key=lambda f: (f[2].start, f[0].name))


def _pointed_at(case: Case, clause: Span) -> frozenset[str]:
    """What a clause that says something was not done leaves to the ones before it.

    'There is room for a fifth suture in the graft, | but I decided against passing one.'
    """
    assertion = case.note.assertions[clause.number]
    if assertion.done or assertion.mood in UNREAL:
        return frozenset()
    said = case.words[clause.start : clause.end]
    if not POINTING_BACK & set(said) and not ELLIPTIC & set(said[:2]):
        return frozenset()
    before = [c for c in case.note.segments.clauses_of(case.sentence(clause.start)) if c.number < clause.number]
    return frozenset().union(*(case.clause_keys[c.number] for c in before))


def _names_deed(rule: Rule, keys: frozenset[str]) -> bool:
    """Whether a clause itself names what is done, be it only by a word of what the rule opens with."""
    deed = any(key.startswith(("action:", "verb:")) for wanted in rule.meets for key in wanted & keys)
    return deed or bool(rule.meets and rule.meets[0] & keys)


def _thing(case: Case, rule: Rule, clause: Span, done: frozenset[str]) -> Concept | None:
    """The thing the rule is about: in the clause, else last named before it in the sentence, else before that.

    Things that nothing is ever `done` to are passed over: 'It was thawed in saline. We cut it.'
    """
    if not rule.of or rule.kind == "finding":
        return None
    own = case.within("thing", clause.start, clause.end)
    hit = next((c for c in own if c.key in rule.of), None)
    points_back = not own or bool(POINTING & clause.said)
    if hit or rule.reach == "clause":
        return hit
    sentence = case.sentence(clause.start)
    hit = case.latest(rule.of, clause.start, sentence.start)
    if hit and _not_there(case, hit):
        return None
    if hit or rule.reach == "sentence":
        return hit
    if not points_back:
        return None
    before = islice(case.earlier("thing", sentence.start), MOST_PASSED)
    last = next((c for c in before if c.key in done), None)
    if last is None:
        return None
    told = case.sentence(last.start)
    return case.latest(rule.of, told.end, told.start)


def _not_there(case: Case, thing: Concept) -> bool:
    """'No loose bodies in the gutters | washed out': what there was none of, nothing is done to."""
    ahead = case.assertion(thing.start).ahead
    return ahead is not None and thing.start > ahead and case.words[thing.start - 1] in NONE_OF


def read_steps(case: Case, rules: ClauseRules) -> list[FactDraft]:
    """Steps, one draft a code and status, each at the telling that shows best when it was done."""
    told: dict[tuple[str, str], list[Told]] = defaultdict(list)
    as_told = sorted(fired(case, rules), key=lambda f: (f[2].start, min(c.start for c in f[3]), f[0].name))
    denied: dict[str, list[tuple[Span, Concept]]] = defaultdict(list)
    for rule, clause, trigger, _ in as_told:
        if step_status(case, rule, trigger) == "declined":
            denied[rule.value].append((clause, trigger))
    for rule, clause, trigger, _ in as_told:
        status = step_status(case, rule, trigger)
        if status is None:
            continue
        refused = denied[rule.value] if status == "performed" else []
        if refused and (_only_named(case, clause, trigger, refused) or is_bare(case, clause, trigger, refused)):
            continue
        spans = case.spans([(trigger.start, trigger.end), (clause.start, clause.end)], rule.name)
        fields = {"code": rule.value, "status": status, **dict(resolve_fields(case, rule, clause, trigger))}
        told[rule.value, status].append(Told(trigger, FactDraft("steps", fields, spans)))
    return placed(case, {key: kept for key, found in told.items() if (kept := _of_same(case, key, found, told))})


def _of_same(
    case: Case, key: tuple[str, str], found: list[Told], told: dict[tuple[str, str], list[Told]]
) -> list[Told]:
    """What was told of a step, without refusals of another implement: 'fixed with a screw, a staple was not used'."""
    code, status = key
    used = {_implement(case, t.trigger) for t in told.get((code, "performed"), ())} - {None}
    if status != "declined" or not used:
        return found
    return [t for t in found if (refused := _implement(case, t.trigger)) is None or refused in used]


def _only_named(case: Case, clause: Span, trigger: Concept, denied: list[tuple[Span, Concept]]) -> bool:
    """'So saucerization, | I mean meniscectomy, falls away': named without a verb, and refused in the same sentence.

    'Tibia, screw nine by thirty, | a staple was not needed' refuses something else that may do the same.
    """
    sentence, mine = case.sentence(clause.start), _implement(case, trigger)
    if verbal(case.words, clause):
        return False
    later = [(c, t) for c, t in denied if clause.number < c.number and c.start < sentence.end]
    return any(not mine or _implement(case, t) in (None, mine) for _, t in later)


def _implement(case: Case, trigger: Concept) -> str | None:
    """The implant or instrument that a step is told by: the screw of 'a nine by thirty screw'."""
    own = [c for name in IMPLEMENTS for c in case.within(name, trigger.start, trigger.end)]
    return next((case.words[c.end - 1] for c in own if c.list == "device" or c.name == "instrument"), None)


def step_status(case: Case, rule: Rule, trigger: Concept) -> str | None:
    """Performed | planned | conditional | declined, None for a habit or another time."""
    assertion = case.assertion(trigger.start)
    if assertion.mood in UNREAL:
        return None
    if rule.negation == "keeps":
        return "declined" if _untried(case, trigger) else STATUS[assertion.mood]
    if assertion.declines(trigger.end - 1):
        return "declined"
    return None if rule.negation == "asks" and assertion.mood == "performed" else STATUS[assertion.mood]


def _untried(case: Case, trigger: Concept) -> bool:
    """Whether a test was not made; 'nothing moved on probing' and 'no bridge' tell that it was, and what it showed."""
    clause = case.clause(trigger.start)
    if case.assertion(trigger.start).done:
        return False  # 'it could not have been probed more thoroughly'
    tested = [c.start for c in case.within("testing", clause.start, clause.end)]
    if any(_denied(case.words, at, clause.start) for at in [trigger.start, *tested]):
        return True
    if any(at > clause.start and case.words[at - 1] == "no" for at in tested) or left_out(case, clause, trigger):
        return True  # 'no probing was done'
    if not case.assertion(trigger.start).negated:
        return False  # 'nor did I omit to probe it'
    refused = case.within("negation", max(clause.start, trigger.start - REFUSED_WITHIN), trigger.start)
    return any(c.key in REFUSALS and PRONOUNS.isdisjoint(case.words[c.end : trigger.start]) for c in refused)


def _denied(words: list[str], at: int, floor: int) -> bool:
    """Whether a 'not' stands just before a verb."""
    i = at - 1
    while i > floor and (words[i] in LIGHT or words[i].endswith("ly")):
        i -= 1
    return i >= floor and words[i] in DENYING


def _fullest(case: Case, list_name: str, token: int, clause: Span) -> Concept | None:
    """The nearest concept of a list in the clause; 'posterior horn' goes before a nearer bare 'back'."""
    found = case.within(list_name, clause.start, clause.end)
    longest = max((c.end - c.start for c in found), default=0)
    full = [c for c in found if c.end - c.start == longest] if longest > 1 else found
    return min(full, key=lambda c: (distance(c, token), c.start > token), default=None)


def _headed(case: Case, list_name: str, number: int) -> Concept | None:
    """What a few words without a verb headed ('Tibial tunnel.'), up to two sentences before that of this number."""
    for sentence in reversed(case.note.segments.sentences[max(0, number - HEADED) : number]):
        if sentence.end - sentence.start <= HEADING and FINITE.isdisjoint(sentence.said):
            found = case.last(list_name, sentence.end, floor=sentence.start)
            if found:
                return found
    return None


def _going_on(case: Case, list_name: str, clause: Span, sentence: Span) -> Concept | None:
    """'The posterior one six across | and forty-eight long, the anterior one ...': an 'and' goes on with it."""
    if case.words[clause.start] != "and" or clause.start == sentence.start:
        return None
    before = case.clause(clause.start - 1)
    said = case.within(list_name, before.start, before.end)
    return said[-1] if said else None


def _between(case: Case, rule: Rule, list_name: str, trigger: Concept, thing: Concept | None) -> Concept | None:
    """'9 mm femoral and 10 mm tibial tunnel': which of them a size is of stands between it and the noun."""
    if rule.kind != "measurement" or thing is None or thing.start < trigger.end:
        return None
    return next((c for c in case.within(list_name, trigger.end, trigger.end + 1)), None)


def resolve_fields(
    case: Case, rule: Rule, clause: Span, trigger: Concept, thing: Concept | None = None
) -> list[tuple[str, str]]:
    """A rule's further fields: written values as they stand, `<list>` by the nearest concept of that list.

    `<list>` looks in the clause, then between the thing it belongs to and the clause ('tunnels, the anterior one six |
    and forty long'), then beside the thing, if that is in the sentence, then in the sentence, then beside a thing named
    earlier; `<list>!` also takes what was last said in the sentence before.
    """
    out = []
    for name, value in rule.fields:
        if not value.startswith("<"):
            out.append((name, value))
            continue
        list_name = value.strip("<>!")
        sentence = case.sentence(clause.start)
        near = _between(case, rule, list_name, trigger, thing)
        near = near or _fullest(case, list_name, trigger.start, clause) or _going_on(case, list_name, clause, sentence)
        beside = case.clause(thing.start) if thing is not None else None
        if near is None and thing is not None and beside and sentence.start <= thing.start:
            near = case.last(list_name, clause.start, floor=beside.end)
        if near is None and thing and beside and beside.start >= sentence.start:
            near = _fullest(case, list_name, thing.start, beside)
        near = near or case.last(list_name, clause.start, floor=sentence.start)
        if near is None and thing is not None and beside and thing.start < sentence.start:
            near = _fullest(case, list_name, thing.start, beside)  # '... the posterior socket. | I drilled it to eight'
            near = near if near and abs(near.end - thing.start) <= 1 else None
        around = max(sentence.start, trigger.start - AROUND), min(sentence.end, trigger.end + AROUND)
        near = near or case.nearest(list_name, trigger.start, *around)
        if near is None and thing and beside:
            near = _fullest(case, list_name, thing.start, beside)
        if near is None and value.endswith("!"):
            before = case.note.segments.sentences[max(0, sentence.number - 1)]
            near = case.last(list_name, clause.start, floor=before.start) or _headed(case, list_name, before.number)
        if near is not None:
            out.append((name, near.name))
    return out
