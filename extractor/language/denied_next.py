"""A deed that one sentence only speaks of, and the next says was not done.

'Microfracture came up. I did not do it.': the next sentence, or one of its clauses, denies doing and names nothing: it
points back, or says no more than that. The words of doing stand in the list `doing`, those that refuse a deed in
`negation`.
"""

from __future__ import annotations

from extractor.grammar.packs import Grammar
from extractor.language.asserted import CONTENT, Assertion
from extractor.language.clause_words import DETERMINERS, PRONOUNS
from extractor.language.clauses import Segmentation, Span
from extractor.language.concepts import Concept
from extractor.language.verbs import PAST, verbal

DEEDS = frozenset({"action", "operation", "technique"})
HEADS = DEEDS | {"tie"}
NAMES = CONTENT | {"finding", "form", "tool", "brought", "tie", "color", "configuration", "tissue", "region"}
"""Lists of which a denial would speak itself."""
REFUSALS = frozenset({"unnecessary", "deferred", "refused"})
POINTING = frozenset({"it", "that", "this", "them", "one", "none", "any", "those"})
MORE = frozenset({"more", "else", "other", "further", "another", "again", "yet", "until", "but", "only", "just"})
"""With these a denial leaves open, or says in part, that it was done."""
AUXILIARY = frozenset({"did", "do", "does", "was", "were", "is", "are", "has", "have", "had", "could", "would"})
ENDED = frozenset({"performed", "done", "used", "made"})
"""With one of these a clause tells its deed as done: 'microfracture was done'."""
HELPING = AUXILIARY - {"do"}
"""Behind a 'not' these are no deed; 'I did not do it' says of a deed that it was not done."""
ANSWERS = (["none"], ["nil"], ["neither"], ["never"])
NOT = frozenset({"not", "none", "neither", "never", "nope", "no"})
NOW = frozenset(
    "today tonight here now this that time once in knee case patient one for him her them it either of both at all"
    " needed necessary required wanted indicated done used performed thanks thank you please on with occasion"
    " however".split()
)
"""Words that say no more than where and when a thing was not done."""
OF_THEM = (["these"], ["those"], ["them"], ["that"], ["it"], ["the", "three"], ["the", "two"])
LIKING = frozenset({"like", "love", "trust"})
TITLED = frozenset({"side", "joint"})
"""What is named beside the work as a whole."""
LOOKS = "looking-over"
FOUND_NONE = frozenset({"none", "nothing", "nil", "no", "neither"})
"""Of a look these tell what it found."""
CALLS_FOR = frozenset({"need", "require", "want", "call", "warrant", "deserve"})
SETTING_APART = (["but"], ["though"], ["although"], ["only"], ["and"], ["just"], ["yet"])
HERE = frozenset({"today", "tonight", "here", "this", "her", "him"})
WE = frozenset({"i", "we"})
HEADING = 5
"""Words of a sentence that only names a deed, at most."""
SHORT = 14
"""Words of a denial that says why as well, at most."""
NONE_OF_IT = frozenset({"none", "neither", "it", "that", "nothing"})
TELLS_WHY = frozenset({"but", "that", "which", "it", "this"})
"""What stands between a deed and 'none was done' opens so: '..., | but it settled | and none was done'."""


def denied_next(
    segments: Segmentation, inside: list[list[Concept]], found: list[Assertion], words: list[str], grammar: Grammar
) -> None:
    """Deny what the next sentence or clause denies, or tells the same of."""
    _spoken_of(segments, inside, found, words, grammar)
    _likewise(segments, inside, found, words)
    _not_on_this_one(segments, inside, found, words)


def _spoken_of(
    segments: Segmentation, inside: list[list[Concept]], found: list[Assertion], words: list[str], grammar: Grammar
) -> None:
    """Deny what the sentence before a bare denial only spoke of."""
    done = ENDED | grammar.plain_words("deed-past") | grammar.plain_words("deed-done")
    for before, sentence in zip(segments.sentences, segments.sentences[1:], strict=False):
        if HEADS.isdisjoint(before.lists):
            continue
        looks = {c.list for clause in segments.clauses_of(before) for c in inside[clause.number]} & {LOOKS}
        if looks and words[sentence.start] in FOUND_NONE:
            continue
        if _is_heading(before, words) and _bare_answer(sentence, segments, inside, found, words):
            for clause in segments.clauses_of(before):
                found[clause.number] = Assertion("performed", True, None, sentence.start)
            continue
        denial = _denial(segments.clauses_of(sentence), inside, found, words)
        if denial is None:
            continue
        for clause in reversed(segments.clauses_of(before)):
            deeds = [c for c in inside[clause.number] if c.list in DEEDS]
            if not deeds:
                continue
            held = found[clause.number]
            if held.mood in {"performed", "considered"} and not held.negated and not _done(clause, deeds, words, done):
                found[clause.number] = Assertion(held.mood, True, None, found[denial.number].cue)
            break


def _likewise(segments: Segmentation, inside: list[list[Concept]], found: list[Assertion], words: list[str]) -> None:
    """'No chondroplasty, | and microfracture is the same story': of what was not done, something else told the same."""
    for before, clause in zip(segments.clauses, segments.clauses[1:], strict=False):
        held = found[clause.number]
        same = "likewise" in clause.lists
        if not same:
            continue
        deed = not DEEDS.isdisjoint(clause.lists)
        denied = found[before.number].negated or found[before.number].ahead is not None
        spoken = not DEEDS.isdisjoint(before.lists)
        if deed and denied and spoken and held.mood == "performed" and not held.negated:
            found[clause.number] = Assertion("performed", True, None, found[before.number].cue)


def _not_on_this_one(
    segments: Segmentation, inside: list[list[Concept]], found: list[Assertion], words: list[str]
) -> None:
    """'I did a stitch on a floppy one, | not on this one': what is told of others, and was not done here.

    'Sometimes I add a stitch, | though not on this occasion': so is what is told in the present, as a rule.
    """
    for before, clause in zip(segments.clauses, segments.clauses[1:], strict=False):
        if HERE.isdisjoint(clause.said) or HEADS.isdisjoint(before.lists):
            continue
        held = found[before.number]
        if held.mood != "performed" or held.negated or words[before.end - 1] != ",":
            continue
        own = inside[before.number]
        if not any(c.list in HEADS for c in own):
            continue
        said = words[clause.start : clause.end]
        here = said[:1] == ["not"] and said[1:2] in (["on"], ["in"], ["for"], ["with"]) and said[2:3] == ["this"]
        one = said[3:4] in ([], ["."], ["one"], ["knee"], ["case"], ["patient"], ["lady"], ["man"], ["tear"], ["time"])
        if (here and one) or (not_here(clause, words) and _as_a_rule(before, words)):
            found[before.number] = Assertion("performed", True, None, clause.start)


def _as_a_rule(clause: Span, words: list[str]) -> bool:
    """'Sometimes I add a stitch', 'to a stitch I am partial': whoever dictates tells it in the present."""
    said = words[clause.start : clause.end]
    ours = next((i for i, w in enumerate(said[:-1]) if w in WE), None)
    return ours is not None and said[ours + 1] not in PAST and not said[ours + 1].endswith("ed")


def _is_heading(sentence: Span, words: list[str]) -> bool:
    """Whether a sentence only names a deed, and not the whole work by its side: 'Trephination.'."""
    if HEADS.isdisjoint(sentence.lists) or not TITLED.isdisjoint(sentence.lists) or verbal(words, sentence):
        return False
    return sum(w.isalpha() for w in words[sentence.start : sentence.end]) <= HEADING


def _bare_answer(
    sentence: Span, segments: Segmentation, inside: list[list[Concept]], found: list[Assertion], words: list[str]
) -> bool:
    """Whether a sentence says 'not done' and nothing else: 'No.', 'Skipped.', 'Not needed here.'."""
    clauses = segments.clauses_of(sentence)
    held = found[clauses[0].number]
    if len(clauses) > 1 or held.mood != "performed" or not (held.negated or held.ahead is not None):
        return False
    said = {
        i
        for c in inside[clauses[0].number]
        if c.list in {"negation", "negation-ahead", "doing"}
        for i in range(c.start, c.end)
    }
    return all(i in said or words[i] in NOW or not words[i].isalpha() for i in range(sentence.start, sentence.end))


def not_now(clause: Span, words: list[str]) -> bool:
    """'A fibrin clot from his arm, | not today.': a denial in a few words, that names nothing."""
    said = [w for w in words[clause.start : clause.end] if w[:1].isalpha()]
    return len(said) > 1 and said[0] in NOT and NOW.issuperset(said[1:])


def not_here(clause: Span, words: list[str]) -> bool:
    """'Sometimes I do, | though not on this occasion', '... | but this one we did not': not in this case."""
    pause = max((i + 1 for i in range(clause.start, clause.end - 1) if words[i] == ","), default=clause.start)
    said = [w for w in words[pause : clause.end] if w[:1].isalpha() or w == "n't"]
    said = said[said[:1] in SETTING_APART :]
    if HERE.isdisjoint(said):
        return False
    bare = len(said) > 1 and said[0] in NOT and NOW.issuperset(said[1:])
    return bare or (said[-1] in {"not", "n't"} and said[-2] in AUXILIARY and NOW.issuperset(set(said[:-2]) - WE))


def judged(clause: Span, tail: Span, words: list[str]) -> bool:
    """'We tied it, | did n't like it': how a deed of ours looked is no word of its not being done."""
    at = clause.start + (words[clause.start] in {"and", "then", "so"})
    return words[at] in {"i", "we"} and any(
        a in {"n't", "not"} and b in LIKING
        for a, b in zip(words[tail.start : tail.end], words[tail.start + 1 : tail.end], strict=False)
    )


def behaves(clause: Span, doing: set[int], words: list[str]) -> bool:
    """'Probed it, stable, | does n't flip in': how a thing behaves is no word of what was not done."""
    at = clause.start + 2
    opens = words[clause.start : at] in (["does", "n't"], ["does", "not"]) and at < clause.end
    return opens and words[at].isalpha() and at not in doing and words[at] not in CALLS_FOR


def joined_before(clauses: tuple[Span, ...], tail: Span, words: list[str]) -> list[Span]:
    """The clause before a denial, with those that it is joined to: 'Clot | and trephination, | not today'."""
    out: list[Span] = []
    for clause in reversed([c for c in clauses if c.number < tail.number]):
        out.append(clause)
        if words[clause.start] not in {"and", "or", "nor"}:
            break
    return out


def _denial(
    clauses: tuple[Span, ...], inside: list[list[Concept]], found: list[Assertion], words: list[str]
) -> Span | None:
    """The clause of a sentence that only denies what was spoken of before; None where the sentence names a deed."""
    for clause in clauses:
        own = inside[clause.number]
        if words[clause.end - 1] == ":":
            return None  # 'One thing I did not do: ...' looks ahead
        if not NAMES.isdisjoint(clause.lists) and any(
            c.list in NAMES and c.name != "make" and not _doing(c, own) for c in own
        ):
            return None
        if _only_denies(clause, own, found[clause.number], words) or not_here(clause, words):
            return clause
        if found[clause.number].mood not in {"performed", "habit"}:
            return None  # 'I was going to add a tenodesis | and decided against it'
    return None


def _doing(c: Concept, own: list[Concept]) -> bool:
    return any(d.list == "doing" and d.start <= c.start < d.end for d in own)


def _only_denies(clause: Span, own: list[Concept], held: Assertion, words: list[str]) -> bool:
    """'I did not do it', 'none was done', 'I saw no call for it', 'I did not': a denial of doing, and of no more."""
    said = words[clause.start : clause.end]
    spoken = [w for w in said if w[:1].isalpha() or w == "n't"]
    if held.mood != "performed" or not MORE.isdisjoint(spoken) or len(spoken) > SHORT:
        return False
    denials = [c for c in own if c.list in {"negation", "negation-ahead"}]
    if not denials or not (held.negated or held.ahead is not None):
        return False
    if spoken[-1] in {"n't", "not"} and spoken[-2:-1] and spoken[-2] in AUXILIARY:
        return True
    doing = any(c.list == "doing" and c.start >= denials[0].start and words[c.start] not in HELPING for c in own)
    refused = any(c.name in REFUSALS and not _unfinished(words[c.end - 1]) for c in denials)
    return (doing or refused) and not POINTING.isdisjoint(spoken)


def _unfinished(word: str) -> bool:
    """'Left them untied': what was not done to a thing, and not that the thing was not done."""
    return word.startswith("un") and word.endswith("ed") and word != "unneeded"


def _done(clause: Span, deeds: list[Concept], words: list[str], done: frozenset[str]) -> bool:
    """Whether a clause tells its deed as done: by a verb of the past, or with 'was done'."""
    said = words[clause.start : clause.end]
    verb = any(w in done or w.endswith("ed") for c in deeds for w in words[c.start : c.end])
    return verb or not ENDED.isdisjoint(said)


def takes_back(clause: Span, words: list[str]) -> bool:
    """Whether a clause takes back the one before it, or only answers it: 'Fibrin clot: no', 'Bodies, none.'."""
    said = [w for w in words[clause.start : clause.end] if w.isalnum()]
    alone = len(said) == 1 and said[0] in {"no", "none", "nil", "never", "neither"}
    ends = words[clause.end - 1] == "." and words[clause.start - 1] == "," and said[:1] in ANSWERS
    alone = alone or (said[:2] == ["none", "of"] and said[2:] in OF_THEM)
    return (alone and (ends or words[clause.start - 1] == ":")) or "taken-back" in clause.lists


def named_before(
    clauses: tuple[Span, ...], tail: Span, inside: list[list[Concept]], found: list[Assertion], words: list[str]
) -> list[Span]:
    """What a tail denies: the clause before it, and those before that as long as none of them has a verb.

    What stands first as its object is all it denies: '... | and the number of the tissue | I do not have'. What only
    tells why is passed over: 'A clot had been prepared, | but the tear bled by itself | and none was used'.
    """
    out: list[Span] = []
    for clause in reversed([c for c in clauses if c.number < tail.number]):
        if not out and only_why(clause, tail, inside, found, words):
            continue
        out.append(clause)
        fronted = words[clause.start] in {"and", "but"} and not DETERMINERS.isdisjoint(
            words[clause.start + 1 : clause.start + 2]
        )
        own = not out[1:] and fronted and words[tail.start] in PRONOUNS
        if own or verbal(words, clause) or found[clause.number].mood != "performed":
            break
    return out


def only_why(clause: Span, tail: Span, inside: list[list[Concept]], found: list[Assertion], words: list[str]) -> bool:
    """Whether a clause before 'and none was used' tells why, and names no deed, and the one before it names one.

    That one is no deed told as done.
    """
    at = tail.start + (words[tail.start] in {"and", "so"})
    before = clause.number - 1
    if NONE_OF_IT.isdisjoint(words[at : at + 1]) or clause.number == 0 or words[clause.start] not in TELLS_WHY:
        return False
    named = {c.list for c in inside[before]}
    held = found[before]
    done = held.mood == "performed" and _verbal_deed(inside[before], words)
    return bool(named & DEEDS) and not clause.lists & DEEDS and not done


def _verbal_deed(own: list[Concept], words: list[str]) -> bool:
    """Whether the deed of a clause is a verb of the past: 'trephined'; 'a clot was prepared' only gets ready."""
    return any(c.list in DEEDS and words[c.end - 1].endswith("ed") and words[c.start - 1] != "been" for c in own)
