"""What is told of another case: last week's patient, a cousin, a paper, the specimen in the lab, another knee.

'On Tuesday's lady we had a defect of twenty. It measured ...', 'I did the same thing on a right knee a month ago, and
there the tunnel was ...', 'her cousin, funny enough, needed a plug', 'in that study the gap was ...'. The words stand
in the lists `another-case`, `other-person` and `in-print`; this module says how far such an account goes.
"""

from __future__ import annotations

from extractor.grammar.packs import Grammar
from extractor.language.asserted import Assertion
from extractor.language.clause_words import CONNECTORS, DETERMINERS, FINITE, PREPOSITIONS, PRONOUNS
from extractor.language.clauses import Segmentation, Span
from extractor.language.concepts import Concept
from extractor.language.corrections import put_right
from extractor.language.frames import compares
from extractor.language.verbs import verbal

POINTS_HERE = frozenset({"this", "ours", "today", "now", "here", "tonight", "mine"})
"""First words of the list `this-case` that come back to this case; 'it measured', 'got' do not."""
COMPARED = frozenset({"exactly", "just", "like", "as", "than", "with"})
"""Before such a word this case is only compared with: 'had exactly this defect'."""
BESIDE = frozenset("like unlike as contrast comparison compared contrary than different opposed".split())
"""Before another case it is only one that this is compared with: 'like in the last patient, | we ...'."""
ALIKE = frozenset({"same-again", "counterpart"})
"""Names of the list that need a time past, or another knee, beside them."""
BACK_THERE = frozenset({"there", "that", "it", "his", "her"})
"""What opens a sentence that goes on with the account: 'That defect was twenty-two'."""
NOT_IT = frozenset({"is", "'s", "are", "will", "'ll"})
"""What is told in the present behind such a word is of today: 'That is not this file'."""
IDENTIFIED = (["this", "is"], ["this", "'s"], ["this", "was"], ["he", "is"], ["she", "is"], ["he", "'s"], ["she", "'s"])
LEAD = 2
"""Words before the other knee that opens an account, at most: 'On the other side'."""
TURNS = frozenset({"so", "but", "anyway", "well", "okay"})
FURTHER = 2
"""Sentences behind the one that opens an account, at most."""
OPENS = 5
"""Words of a clause before whoever, or whatever paper, it tells of, at most."""
SET_APART = 2
"""Clauses between them and what they had, at most: 'her cousin, | funny enough, | needed ...'."""
NOT_DOING = frozenset(
    "'s will can may would wants wanted asks asked says said told tells thinks thought knows insists who whom".split()
)
NO_DEED = DETERMINERS | PRONOUNS | CONNECTORS | PREPOSITIONS | FINITE | NOT_DOING
"""What opens so behind kin tells of nothing they did."""
UNDOING = frozenset({"negation", "unwilling", "urging"})
"""Lists of verbs by which kin do nothing themselves."""
DONE_BY = frozenset({"action", "technique", "device", "dimension", "stitch-noun"})
FOLLOWED = frozenset({"as", "like", "per", "following", "unlike", "after", "according", "against", "contrary", "for"})
"""What opens so tells of what was done today by it: 'As the paper suggests, ...'."""
OPERATED = frozenset({"operated", "done", "repaired", "fixed", "reconstructed", "replaced"})
"""'Her twin sister was operated on', 'his brother was done in May': theirs where their own clause says so."""
BEFORE_PERSON = DETERMINERS | {"own", "old", "twin", "older", "younger", "little", "big", "in", "on", "of", "'s", "and"}
SUBJECTS = frozenset({"i", "we"})
ONCE = frozenset({("i", "once"), ("we", "once")})
NOT_ONCE = frozenset({"again", "more", "and", "then", ","})
HERE = (["he", "has"], ["she", "has"], ["he", "'s"], ["she", "'s"], ["he", "is"], ["she", "is"], ["he", "got"])
"""What opens so behind somebody else's knee is of the patient again."""
ENTERED = (["put"], ["enter"], ["entered"], ["wrote"], ["write"], ["recorded"], ["noted"], ["gave"])
PERSONS = frozenset({"other-person", "aside"})
PAPER = "paper"
"""'Paper strips' are no words of a paper."""
GOES_ON = frozenset({"which", "that", "who", "where", "they", "their", "it", "and"})
"""What opens so behind a paper's figure still tells of the paper; any other subject with a verb is of today."""
READ = frozenset({"had", "have", "read", "saw", "heard", "sat", "discussed", "know", "remember", "find"})
"""Of a paper: 'In the paper we had at journal club'."""


def told_of(
    segments: Segmentation, inside: list[list[Concept]], found: list[Assertion], words: list[str], grammar: Grammar
) -> None:
    """Give what is told of another case the mood of another time, up to the words that come back to this one.

    It ends where the leg is being prepared (concepts of `setting-up`) as well.
    """
    setting_up, had, printed = (
        grammar.concepts_in("setting-up"),
        grammar.plain_words("somebody-had"),
        grammar.plain_words("print-tells"),
    )
    until = -1
    for sentence in segments.sentences:
        clauses = segments.clauses_of(sentence)
        cue = _cue(clauses, inside, found, words)
        if cue is None and sentence.number <= until and _goes_on(sentence, words):
            cue = sentence.start
        if cue is None:
            _told_in_passing(clauses, inside, found, words, had, printed)
            continue
        until = max(until, sentence.number + 1) if cue == sentence.start else sentence.number + FURTHER
        for clause in clauses:
            if clause.end <= cue:
                continue
            own = inside[clause.number]
            turned = _comes_back(own, words) or words[clause.start] in TURNS or any(c.key in setting_up for c in own)
            if clause.start > cue and turned:
                until = -1
                break
            held = found[clause.number]
            if held.mood in {"performed", "planned"}:
                found[clause.number] = Assertion("history", held.negated, held.ahead, cue)


def told_apart(segments: Segmentation, inside: list[list[Concept]], found: list[Assertion], words: list[str]) -> None:
    """'The two before him, | the right A C L | and the root, | have their own dictations': none of it is of this case.

    The words stand in `another-one` and `told-apart`; what is told from the one to the other is of other cases.
    """
    for clause in segments.clauses:
        if "told-apart" not in clause.lists:
            continue
        apart = next((c for c in inside[clause.number] if c.list == "told-apart"), None)
        if apart is None:
            continue
        sentence = segments.sentence_at(clause.start)
        own = [k for k in segments.clauses_of(sentence) if k.number <= clause.number]
        cues = [c for k in own for c in inside[k.number] if c.list == "another-one" and c.start < apart.start]
        if not cues:
            continue
        first = cues[-1]
        while (before := next((c for c in cues if c.end == first.start), None)) is not None:
            first = before
        opened = segments.clause_at(first.start)
        for told in own:
            held = found[told.number]
            if told.number >= opened.number and held.mood in {"performed", "planned"}:
                found[told.number] = Assertion("history", held.negated, held.ahead, first.start)


def _told_in_passing(
    clauses: tuple[Span, ...],
    inside: list[list[Concept]],
    found: list[Assertion],
    words: list[str],
    had: frozenset[str],
    printed: frozenset[str],
) -> None:
    """'Her cousin had a plug of ten', 'the study had a rim of one': theirs, until the sentence turns to this case."""
    does = False
    for n, clause in enumerate(clauses):
        person = _opens_with_person(clause, inside[clause.number], words)
        worked_on = person and not OPERATED.isdisjoint(clause.said)
        does = person and _does(clauses[n : n + 1 + SET_APART], inside, words)
        if worked_on or does or (person and any(_had(c, words, had) for c in clauses[n : n + 1 + SET_APART])):
            break
        if _opens_with_print(clause, inside[clause.number], words, printed):
            if n == 0 or not put_right(words, clauses[n - 1].start, clauses[n - 1].end):
                break  # but not in '..., correction, | the paper says two'
    else:
        return
    cue, told = clauses[n].start, False
    for clause in clauses[n:]:
        here = words[clause.start : clause.start + 2]
        lists = clause.lists
        back = here in HERE if person and not does else here[0] in SUBJECTS and READ.isdisjoint(here)
        back = back or (told and not person and verbal(words, clause) and here[0] not in GOES_ON)
        told = told or ("thing" in lists and verbal(words, clause))
        if clause.start > cue and (back or words[clause.start] in TURNS or _comes_back(inside[clause.number], words)):
            return
        held = found[clause.number]
        if held.mood in {"performed", "planned"}:
            found[clause.number] = Assertion("history", held.negated, held.ahead, cue)


def _opens_with_person(clause: Span, own: list[Concept], words: list[str]) -> bool:
    """'My own father', 'her mother's knee', 'a friend of his': kin or another patient as what the clause is about."""
    if PERSONS.isdisjoint(clause.lists):
        return False
    who = next((c for c in own if c.list == "other-person" or c.key == "aside:kin"), None)
    return who is not None and BEFORE_PERSON.issuperset(words[clause.start : who.start])


def _does(clauses: tuple[Span, ...], inside: list[list[Concept]], words: list[str]) -> bool:
    """'My grandfather, | a tailor, | put his stitches twelve apart', 'his uncle sets screws': what kin does themselves.

    What they want, say or will see to is of this case, and so is how long something is to hold.
    """
    kin = next((c for c in inside[clauses[0].number] if c.key == "aside:kin"), None)
    if kin is None or kin.start == clauses[0].start:
        return False
    verb, does = kin.end, clauses[0]
    if words[verb : verb + 1] == [","]:
        behind = [c for c in clauses[1:] if words[c.start] not in DETERMINERS | GOES_ON]
        if not behind:
            return False
        verb, does = behind[0].start, behind[0]
    if verb >= does.end or not words[verb].isalpha() or words[verb] in NO_DEED or "span" in does.lists:
        return False
    if any(c.start == verb and c.list in UNDOING for c in inside[does.number]):
        return False  # 'the mother refused a synovectomy'
    return not DONE_BY.isdisjoint(does.lists)


def _had(clause: Span, words: list[str], had: frozenset[str]) -> bool:
    return words[clause.start] != "who" and any(w in had for w in words[clause.start : clause.end])


def _opens_with_print(clause: Span, own: list[Concept], words: list[str], printed: frozenset[str]) -> bool:
    """'The study everybody quotes had ...', 'in the paper we had ...', 'there is a series with ...'."""
    if "in-print" not in clause.lists:
        return False
    told = next((c for c in own if c.list == "in-print"), None)
    if told is None or told.start - clause.start > OPENS or words[clause.start] in FOLLOWED:
        return False
    if compares(words, clause.start):
        return False
    lead = words[clause.start : told.start]
    lead = lead[2:] if lead[:1] == ["there"] else lead
    if not (FINITE | (PRONOUNS - {"there"})).isdisjoint(lead) or told.end >= clause.end:
        return False
    named = bool(lead) or words[told.end - 1].endswith("s")  # 'Review with me in six weeks' is no paper
    if words[told.end] in SUBJECTS and words[told.end + 1 : told.end + 2] in ENTERED:
        return False  # 'in the registry | I put a length of sixteen'
    says = words[told.end].endswith("s") and words[told.end] not in FINITE and words[told.start] != PAPER
    says = says or words[told.end] in printed
    return named and (says or lead[:1] in (["in"], ["at"], ["on"]))


def of_habit(segments: Segmentation, inside: list[list[Concept]], found: list[Assertion], words: list[str]) -> None:
    """'Usually I see the condyle go, | craters of three or four, | not here': what stands between is of the habit."""
    for sentence in segments.sentences:
        opened: list[Span] = []
        cue: int | None = None
        for clause in segments.clauses_of(sentence):
            held = found[clause.number]
            if held.mood == "habit":
                opened, cue = [], held.cue
            elif cue is not None and held.negated and _comes_back(inside[clause.number], words):
                for told in opened:
                    found[told.number] = Assertion("habit", found[told.number].negated, None, cue)
                cue = None
            elif held.mood == "performed":
                opened.append(clause)


def _cue(
    clauses: tuple[Span, ...], inside: list[list[Concept]], found: list[Assertion], words: list[str]
) -> int | None:
    """Where a sentence begins to tell of another case."""
    past = any(found[c.number].mood == "history" for c in clauses)
    for clause in clauses:
        once = tuple(words[clause.start : clause.start + 2]) in ONCE  # 'I once left a rim of six'
        if once and NOT_ONCE.isdisjoint(words[clause.start + 2 : clause.start + 3]):
            return clause.start
        for c in inside[clause.number]:
            if c.list != "another-case" or (c.name in ALIKE and not past):
                continue
            if not BESIDE.isdisjoint(words[clause.start : c.start]) or compares(words, clause.start):
                continue
            if words[max(0, c.start - 2) : c.start] in IDENTIFIED and words[c.start] != "not":
                continue  # 'This is our first case today'
            if c.name != "counterpart" or c.start - clauses[0].start <= LEAD:
                return clause.start
    return None


def _goes_on(sentence: Span, words: list[str]) -> bool:
    opening = words[sentence.start : sentence.start + 3]
    opening = opening[1:] if opening[:1] == ["and"] else opening
    return opening[0] in BACK_THERE and NOT_IT.isdisjoint(opening)


def _comes_back(own: list[Concept], words: list[str]) -> bool:
    here = (c for c in own if c.list == "this-case" and words[c.start] in POINTS_HERE)
    return any(c.list == "now" for c in own) or any(words[c.start - 1] not in COMPARED for c in here)
