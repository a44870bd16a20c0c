"""Clauses that say of what stands beside them that it was not done, or would only be done.

'Fibrin clot: discussed, not used', 'I do not think | we need it', 'had it gapped | I would have added one',
'a fifth one came up, | but I passed on that', 'we 'll pass it later'. The words stand in the lists `negation`,
`raising`, `future` and `postponing`; this module says how they reach what they are said of.
"""

from __future__ import annotations

from extractor.language.asserted import CONTENT, Assertion
from extractor.language.clause_words import DETERMINERS, PAUSES, PREPOSITIONS, PRONOUNS
from extractor.language.clauses import Span
from extractor.language.concepts import Concept
from extractor.language.intended import got_otherwise
from extractor.language.numbers import atom_at
from extractor.language.verbs import verbal

INVERTED = frozenset({"had", "should", "were"})
"""Before their subject these are an 'if': 'should it gap', 'had the gap been thirty', 'were it loose'."""
SUBJECTS = DETERMINERS | PRONOUNS | {"it", "that", "this", "you", "any", "there"}
FURTHER = frozenset({"third", "fourth", "fifth", "sixth", "more", "further", "second"})
"""What opens so is of one more."""
UNREAL = frozenset({"would", "could", "might", "'d"})
REFUSALS = frozenset({"unnecessary", "deferred", "refused"})
"""Concepts of the list `negation` that refuse a deed; a bare 'not' may deny anything."""
DEEDS = frozenset({"action", "operation", "technique"})
SAYING = frozenset({"says", "said", "states", "stated", "reads", "reports", "reported", "describes", "tells", "notes"})
READING = SAYING | {"read", "known", "written", "learn", "learned", "see", "tell", "brought", "say"}
AS_TOLD = frozenset({"as", "like", "unlike", "despite", "although", "whatever", "per", "contrary", "against"})
"""What opens so before a chart only compares with it: 'As the chart says, ...'."""
OURS = frozenset({"i", "we"})
BE = frozenset({"be", "been", "was", "were"})
OMITTING = frozenset({"unnecessary", "deferred"})
"""Concepts of the list `negation` that a 'not' before them undoes: 'not skipped' is done."""
ACTS = frozenset({"action", "technique"})
THOUGHT = frozenset({"considered", "conditional", "planned"})
BACK = frozenset({"it", "that", "this", "them", "one"})
"""Words that stand for what was named before."""
AGREEING = frozenset({"and", "so", "which"})
DID_IT = frozenset({"so", "it", "that", "one", "them", "this"})
CONFIRMED = 3
"""Clauses behind a thought that may say that it was done, at most."""
NOTS = frozenset({"not", "n't", "no", "never", "did", "was", "were", "is"})
"""A denial that opens with one of these is a phrase of its own: 'did n't bother', 'no need for'."""
GOING_ON = frozenset({"and", "but", "so", "then", "or", "because"})
CONVERSE = frozenset({"nor", "neither"})
WHICH_WITHIN = 4
"""Words from 'not the' to the pause behind the one that it was not, at most."""
ONES = frozenset({"one", "ones"})
UNDOES_WITHIN = 3
"""Words between the two, at most: 'nor did I omit'."""
ANSWERED = 3
"""Clauses after a colon that may answer what stands before it."""


PUT_OFF = frozenset({"future", "postponing"})
WISHED = (["i", "wanted", "to"], ["we", "wanted", "to"], ["i", "wanted", "a"], ["we", "wanted", "a"])
ABOUT_WITHIN = 2
"""Words from an 'about' to the deed that is spoken about: 'about a fibrin clot'."""
OBJECTS = frozenset({"a", "an", "the", "another", "one"})
"""Words by which a thought names an object of its own: 'I would take an eight'."""
WHO = frozenset({"i", "we", "he", "she", "they"})
SPEAKING = frozenset({"say", "add", "guess", "call", "note", "stress", "mention", "estimate", "put", "see"})
"""Verbs by which 'I would add' tells what is so."""
ASKING_VERBS = frozenset({
    "ask", "asks", "asked", "wonders", "wondered", "suggests", "suggested", "proposes", "proposed", "begs", "begged",
    "thought",
})  # fmt: skip
ASKED_IN = 5
"""Words, at most, of who asked, behind what was asked: 'Thaw the graft, | they ask.'"""
NAMED = frozenset({"thing", "verb"})
"""Lists of what a heading may name without a deed: 'The slot: weighed, dropped', 'A third portal: never incised'."""
NEVER = frozenset({"not", "never"})
TODAY = frozenset({"today", "time", "here", "now", "did", "was", "were", "case", "occasion"})
"""Words by which a denial tells of this operation, and not of a habit: 'but I do not' tells of one."""


def standing(own: list[Concept], words: list[str]) -> tuple[Concept | None, Concept | None]:
    """The denial of a clause and the one that reaches only ahead, None where there is none.

    Two that meet undo each other: 'the time-out was not skipped', 'nor did I omit to probe it'.
    """
    whole = [c for c in own if c.list == "negation"]
    ahead = [c for c in own if c.list == "negation-ahead"]
    for second in [c for c in whole if c.name in OMITTING and words[c.start] not in NOTS]:
        first = next((c for c in own if c.start < second.start and _undoes(c, second, words)), None)
        if first is not None:
            whole = [c for c in whole if c not in (first, second)]
            ahead = [c for c in ahead if c != first]
    only = [c for c in whole if _of_which(c, own, words)]
    whole, ahead = [c for c in whole if c not in only], sorted([*ahead, *only], key=lambda c: c.start)
    return next(iter(whole), None), next(iter(ahead), None)


def _of_which(denial: Concept, own: list[Concept], words: list[str]) -> bool:
    """'Cannula, not the big one, the eight', 'in front, not purple, blue': which of them it was not.

    It is no word that nothing was used.
    """
    if denial.name != "not" or words[denial.start - 1 : denial.start] != [","]:
        return False
    behind = words[denial.end : denial.end + 1 + WHICH_WITHIN]
    pause = next((i for i, w in enumerate(behind) if w in PAUSES), 0)
    if any(c.list == "color" and c.start >= denial.end and c.end == denial.end + pause for c in own):
        return True
    last = denial.end + pause - 1
    return behind[:1] == ["the"] and pause > 1 and (words[last] in ONES or atom_at(words, last) is not None)


def _undoes(first: Concept, second: Concept, words: list[str]) -> bool:
    denies = first.key == "negation:not" or (first.list == "negation-ahead" and words[first.start] in CONVERSE)
    between = words[first.end : second.start]
    return denies and len(between) <= UNDOES_WITHIN and all(w.isalpha() for w in between)


def inverted(clauses: tuple[Span, ...], found: list[Assertion], words: list[str]) -> None:
    """'Had the gap been thirty | I would have used a graft': neither the thirty nor the graft is so."""
    for n, clause in enumerate(clauses):
        at = clause.start + (words[clause.start] in {"and", "but", "or", "so", "then"})
        if at + 1 >= clause.end or words[at] not in INVERTED or words[at + 1] not in SUBJECTS:
            continue
        if words[clause.end - 1] == "?" or found[clause.number].mood != "performed":
            continue
        said = words[at + 1 : clause.end]
        beside = [*clauses[max(0, n - 1) : n], *clauses[n + 1 : n + 2]]
        elliptic = words[at] == "had" and words[at + 1] in {"a", "an"}  # 'had a tear', who had it left unsaid
        depends = not elliptic and any(UNREAL & set(words[c.start : c.end]) for c in beside)
        if words[at] == "should" or depends or "been" in said:
            held = found[clause.number]
            found[clause.number] = Assertion("conditional", held.negated, held.ahead, at)
            if n == 0 and len(clauses) > 1 and found[clauses[1].number].mood == "performed":
                then = found[clauses[1].number]
                found[clauses[1].number] = Assertion("conditional", then.negated, then.ahead, at)


def put_off(clause: Span, assertion: Assertion) -> Assertion:
    """'We 'll bring it out later': a future that is put off is a plan; '... and now we 'll pass it' is not."""
    if assertion.mood == "performed" and PUT_OFF <= clause.lists:
        return Assertion("planned", assertion.negated, assertion.ahead, clause.start)
    return assertion


def headings(
    clauses: tuple[Span, ...],
    inside: list[list[Concept]],
    found: list[Assertion],
    words: list[str],
    readying: frozenset[str],
) -> None:
    """'Fibrin clot: discussed, not used': what stands before a colon is meant as its answer.

    A word of `readying` names no other deed there: 'Outside-in: prepared, not required'.
    """
    for n, clause in enumerate(clauses[:-1]):
        named = clause.lists
        if words[clause.end - 1] != ":" or not found[clause.number].done or not named & (DEEDS | NAMED):
            continue
        for at, answer in enumerate(clauses[n + 1 : n + 1 + ANSWERED]):
            own = [c for c in inside[answer.number] if c.list != "doing"]
            doing = {c.start for c in inside[answer.number] if c.list == "doing" or words[c.start] in readying}
            held = found[answer.number]
            never = held.negated and words[answer.start] in NEVER and words[answer.start + 1].endswith("ed")
            if at and words[answer.start] in {"who", "which"}:
                break  # 'Time-out: everybody knew | who they were, | which is not a given'
            if held.done and any(c.key == "trying:reached" for c in inside[answer.number]):
                continue  # 'A portal: drawn on the skin, never incised'
            if not never and any(c.list in CONTENT and c.start not in doing for c in own):
                break
            if not named & DEEDS and not never and (at or held.mood != "considered"):
                break
            if held.mood in {"considered", "conditional", "planned"} or held.negated:
                mood = held.mood if not held.negated else "performed"
                found[clause.number] = Assertion(mood, held.negated, None, held.cue)
                if held.negated:
                    break


def raised(clauses: tuple[Span, ...], inside: list[list[Concept]], found: list[Assertion], words: list[str]) -> None:
    """'I do not think | we need a clot': a 'not' beside thinking denies what is thought."""
    for clause, after in zip(clauses, clauses[1:], strict=False):
        own = inside[clause.number]
        thinks = [c for c in own if c.list == "raising"] if "raising" in clause.lists else []
        if not thinks or not found[clause.number].negated or {c.list for c in own} & CONTENT:
            continue
        opens = words[after.start] in SUBJECTS | {"that", "a", "an"}
        if thinks[-1].end >= clause.end - 1 and opens and found[after.number].done:
            found[after.number] = Assertion("performed", True, None, found[clause.number].cue)


def is_habit_broken(held: Assertion, tail: Span, words: list[str]) -> bool:
    """'Usually I add a clot, | but today I did not', '... | none was used': a habit, and that today it was not kept."""
    said = tail.said
    return held.mood == "habit" and not held.negated and bool(said & TODAY) and said.isdisjoint({"when", "if"})


def is_of_another(words: list[str], clause: Span) -> bool:
    """'Three stitches all-inside | and a fourth was not needed': what is denied is one more, not those before."""
    said = [w for w in words[clause.start : min(clause.end, clause.start + 3)] if w not in {"and", "but"}]
    if said[:1] in (["though"], ["although"]) and "do" in words[clause.start : clause.end]:
        return True  # 'we did a clot, | though I usually do not': what is denied is the habit
    led = said[:1] in (["a"], ["an"], ["any"], ["the"])
    return said[:1] == ["another"] or not FURTHER.isdisjoint(said[led : led + 1])


def refused(
    clauses: tuple[Span, ...],
    inside: list[list[Concept]],
    found: list[Assertion],
    words: list[str],
    readying: frozenset[str],
) -> None:
    """'A microfracture came up, | but I passed on it': a refusal that names no deed refuses the one named before it.

    Not one that was told as done: 'the graft was trimmed | and then left alone'. Nor one that was only got ready by a
    word of `readying`, where another is named: 'inside-out sutures were prepared | and cancelled'.
    """
    for n, clause in enumerate(clauses):
        own = inside[clause.number]
        refusing = "negation" in clause.lists and any(c.list == "negation" and c.name in REFUSALS for c in own)
        if n == 0 or not refusing or {c.list for c in own} & CONTENT or is_of_another(words, clause):
            continue
        for named in reversed(clauses[max(0, n - 2) : n]):
            deeds = [c for c in inside[named.number] if c.list in DEEDS]
            deeds = [c for c in deeds if words[c.start] not in readying] or deeds
            held = found[named.number]
            if not deeds:
                continue
            if held.mood in {"performed", "considered"} and not any(_told(words[c.start : c.end]) for c in deeds):
                found[named.number] = Assertion(held.mood, True, held.ahead, found[clause.number].cue)
            break


def undecided(
    clauses: tuple[Span, ...],
    inside: list[list[Concept]],
    found: list[Assertion],
    words: list[str],
    verbs: frozenset[str],
) -> None:
    """'Microfracture crossed my mind', 'a word about trephination': a deed that is only spoken of.

    It is named by a noun, and is the subject of a verb of `verbs`, or stands behind an 'about'. So is what one wanted
    where a 'but' follows: 'I wanted to hold it with an anchor, | but the bone was so good that ...'.
    """
    for clause, after in zip(clauses, (*clauses[1:], None), strict=True):
        held = found[clause.number]
        if held.mood != "performed":
            continue
        said = words[clause.start : clause.end]
        but = after is not None and words[after.start] == "but"
        if after is not None and ((but and said[:3] in WISHED) or got_otherwise(clause, after, words)):
            found[clause.number] = Assertion("considered", held.negated, held.ahead, clause.start)
            continue
        if DEEDS.isdisjoint(clause.lists):
            continue
        for deed in (c for c in inside[clause.number] if c.list in DEEDS and not _told(words[c.start : c.end])):
            lead = [w for w in words[clause.start : deed.start] if w not in DETERMINERS]
            before = [
                w for w in words[max(clause.start, deed.start - ABOUT_WITHIN) : deed.start] if w not in DETERMINERS
            ]
            subject = not lead and deed.end < clause.end and words[deed.end] in verbs
            counted = atom_at(words, deed.start - 1) is not None and words[deed.start - 1] != "one"  # 'about four'
            if subject or (before[-1:] == ["about"] and not counted and words[deed.start] not in PREPOSITIONS):
                found[clause.number] = Assertion("considered", held.negated, held.ahead, deed.start)
                break


def coordinated(clauses: tuple[Span, ...], found: list[Assertion], words: list[str]) -> None:
    """'It still has to be whipped | and folded', 'it was not cut | or marked': one 'be' for both."""
    for clause, after in zip(clauses, clauses[1:], strict=False):
        here, there = found[clause.number], found[after.number]
        said = [w for w in words[after.start : after.end] if w.isalnum()]
        if here.done or not there.done or here.mood in {"history", "habit"} or len(said) not in {2, 3}:
            continue
        if said[0] in {"and", "or"} and said[1].endswith("ed") and BE & clause.said:
            found[after.number] = Assertion(here.mood, here.negated, None, here.cue)


def fronted(clauses: tuple[Span, ...], inside: list[list[Concept]], found: list[Assertion], words: list[str]) -> None:
    """'Abrasion of the rim | there was no call for', 'the harvest | we had set up for was cancelled'.

    What stands first and has no verb is meant as what follows without a pause refuses it, or points back to it:
    'Outside-in for the front, | I had it on the list'.
    """
    for clause, after in zip(clauses, clauses[1:], strict=False):
        own = clause.lists
        named = own & DEEDS or "device" in own
        if clause is clauses[0] and own & ACTS and _points_back(after, inside, found, words):
            if found[clause.number].done and not verbal(words, clause):
                meant = found[after.number]
                found[clause.number] = Assertion(meant.mood, meant.negated, None, meant.cue)
            continue
        if not named or not found[clause.number].done or words[after.start - 1] in PAUSES or verbal(words, clause):
            continue
        held = found[after.number]
        if words[after.start] in SUBJECTS and held.cue is not None and _refuses(after, inside[after.number]):
            found[clause.number] = Assertion("performed", True, None, held.cue)


def fronted_in_parts(
    clauses: tuple[Span, ...], inside: list[list[Concept]], found: list[Assertion], words: list[str]
) -> None:
    """'A stitch in front, | outside-in, | I 'd gladly have given her': told in pieces ahead of what is thought."""
    parts: list[Span] = []
    for clause in clauses:
        if verbal(words, clause) or not found[clause.number].done or words[clause.start] in PRONOUNS:
            break
        parts.append(clause)
    if not parts or len(parts) == len(clauses):
        return
    after = clauses[len(parts)]
    said = words[after.start : after.end]
    thought = found[after.number].mood in THOUGHT and said[0] in WHO and (SPEAKING | OBJECTS).isdisjoint(said)
    asked = len(said) <= ASKED_IN and not ASKING_VERBS.isdisjoint(said)
    own = after.lists
    if (thought or asked) and not own & CONTENT:
        for part in parts:
            if part.lists & DEEDS:
                found[part.number] = Assertion("considered", False, None, after.start)


def confirmed(clauses: tuple[Span, ...], inside: list[list[Concept]], found: list[Assertion], words: list[str]) -> None:
    """'The resident wanted inside-out, | and that is what we did': what was thought of and then done."""
    for n, clause in enumerate(clauses[:-1]):
        held = found[clause.number]
        if held.mood not in {"considered", "planned"} or held.negated or held.ahead is not None:
            continue
        said, own = [], set[str]()
        for after in clauses[n + 1 : n + 1 + CONFIRMED]:
            said += [w for w in words[after.start : after.end] if w.isalpha() or w == "n't"]
            own |= {c.list for c in inside[after.number] if words[c.start] != "did"}
            if "did" in said:
                break
        refused = own & (CONTENT | {"negation", "negation-ahead"}) or {"not", "n't", "never"} & set(said)
        did = said[-1:] == ["did"] or (said[-2:-1] == ["did"] and said[-1] in DID_IT)
        if did and said[0] in AGREEING and not refused:
            found[clause.number] = Assertion("performed", False, None, held.cue)


def _points_back(clause: Span, inside: list[list[Concept]], found: list[Assertion], words: list[str]) -> bool:
    """Whether a clause says of what stands before it, by 'it' or 'that' alone, that it was only thought of."""
    own = clause.lists
    spoken = words[clause.start] in PRONOUNS | BACK and not BACK.isdisjoint(clause.said)
    return spoken and found[clause.number].mood in THOUGHT and not own & CONTENT


def _refuses(clause: Span, own: list[Concept]) -> bool:
    """Whether a clause refuses a deed, or says that it was not done, and names none behind that."""
    refusals = [c for c in own if c.list == "negation" and (c.name in REFUSALS or c.name in {"not", "none"})]
    for c in refusals:
        behind = [o for o in own if o.start >= c.end]
        doing = {o.start for o in behind if o.list == "doing"}
        if any(o.list in CONTENT and o.start not in doing for o in behind):
            continue
        if c.name in REFUSALS or doing:
            return True
    return False


def interrupted(clauses: tuple[Span, ...], found: list[Assertion], words: list[str]) -> None:
    """'We do not, | as some do, | trephine the rim': a denial set apart from its verb by what stands between commas."""
    for clause, between, after in zip(clauses, clauses[1:], clauses[2:], strict=False):
        if words[clause.end - 1] != "," or words[between.end - 1] != "," or words[between.start] in GOING_ON:
            continue
        said = [w for w in words[clause.start : clause.end] if w.isalnum() or w == "n't"]
        goes_on = words[after.start] not in SUBJECTS | GOING_ON
        if goes_on and said and said[-1] in {"not", "n't", "never"} and found[after.number].done:
            held = found[clause.number]
            found[after.number] = Assertion(held.mood, True, None, held.cue)


def reported(clauses: tuple[Span, ...], inside: list[list[Concept]], found: list[Assertion], words: list[str]) -> None:
    """'The note of the first operation says | they drilled a tunnel | and fixed it': all of it is of that operation.

    Of what is read out of a letter or a chart ('I read in the chart | that the rim was trephined') what hangs on it is.
    """
    for clause, after in zip(clauses, clauses[1:], strict=False):
        there = found[after.number]
        lists = clause.lists
        source = "outside-word" in lists or (found[clause.number].mood == "history" and "operation" not in lists)
        reads = not READING.isdisjoint(clause.said) and words[clause.start] not in AS_TOLD
        opens = words[after.start] == "that" or words[clause.end - 1] == ":" or words[clause.end - 1] in SAYING
        named = after.lists
        if source and opens and reads and there.mood == "performed":
            if named.isdisjoint({"finding", "now", "this-case"}) and OURS.isdisjoint(
                words[after.start : after.start + 2]
            ):
                found[after.number] = Assertion("history", there.negated, there.ahead, clause.start)
    told = False
    for clause in clauses:
        held = found[clause.number]
        if told and held.mood == "performed":
            found[clause.number] = Assertion("history", held.negated, held.ahead, held.cue)
        elif held.mood == "history" and SAYING & set(words[clause.start : clause.end][-2:]):
            told = True


def _told(said: list[str]) -> bool:
    """Whether words of a deed are a verb of the past, as far as their form shows it."""
    return any(w.endswith("ed") or w in {"put", "cut", "made", "took", "taken", "went", "drew", "drawn"} for w in said)
