"""What a clause may say of a deed that is no doing of it.

'The crater begged for microfracture', 'with outside-in you risk the nerve', 'all-inside costs three times as much',
'thawing a graft takes forty minutes': a verb of mind or talk (`of-mind`) governs it, it is the subject of its worth
(`of-worth`), of its effect on anybody (`of-effect`) or of a verdict, or it is only set beside (`topic-ahead`).
"""

from __future__ import annotations

from dataclasses import dataclass
from itertools import pairwise

from extractor.language.clause_words import DETERMINERS, FINITE, PRONOUNS
from extractor.language.clauses import Span
from extractor.language.concepts import Concept
from extractor.language.numbers import atom_at
from extractor.language.verbs import MOST_NOUN, PAST

WAYS = frozenset({"technique", "brought"})
"""What is never the verb of its clause."""
NOUNS = (
    "tion",
    "plasty",
    "ectomy",
    "ing",
    "ment",
    "sis",
    "clot",
    "fracture",
    "stitch",
    "tomy",
    "out",
    "age",
    "repair",
    "sion",
    "harvest",
    "knot",
    "knots",
)
"""Ends of words that name a deed, by a noun."""
OWN = DETERMINERS | {"some", "such", "more", "further", "any", "no", "of", "formal", "single", "small", "little"}
AUXILIARY = frozenset({
    "was", "were", "is", "are", "'s", "has", "had", "have", "been", "be", "did", "does", "do", "will", "would", "could",
    "can", "should", "might", "may", "'ve", "'d", "'m", "am",
})  # fmt: skip
BE = frozenset({"is", "are", "was", "were", "'s"})
UNREAL = frozenset({"would", "might"})
ABLE = frozenset({"can", "could"})
SPEAKING = frozenset({"say", "guess", "call", "estimate", "think", "add", "stress", "note", "not", "n't", "mention"})
"""Behind a 'would' these tell what is so: 'I would call that a plasty', 'it would not pass'."""
IS = frozenset({"is", "are", "'s", "seems", "seemed", "sounds", "sounded", "felt", "feels"})
WAS = IS | {"was", "were", "remains", "remained"}
GIVES = frozenset({"give", "gives", "has", "have"})
OURS = frozenset({"i", "we"})
OPINION = frozenset({"think", "believe", "guess", "suppose", "know", "assume", "thought", "hope"})
"""'I believe two all-insides were enough': what is believed has a verb of its own."""
YOU = frozenset({"you"})
AS_WITHIN = 4
TOOL = 3
"""Words of a clause up to the 'for' of what a tool is for, at most."""
SAYS = (["says"], ["say"], ["said"])
"""Right before a deed: 'the chief says microfracture'."""
LINKS = frozenset({"but", "and", "so", "because", "since", "as"})
HOW = frozenset({"too", "so", "still", "all", "already", "not", "just", "rather", "quite", "completely"})
SHOWN = 8
"""Words before a 'how' in which somebody shows or explains it, at most."""
INDEFINITE = frozenset({"a", "an", "any", "such"})
PRESENT = frozenset({"put", "place", "do", "use", "set", "go"})
SELF = frozenset({"ourselves", "myself", "yourself", "yourselves", "himself", "herself"})
YOU_CAN = (["you", "can"], ["you", "could"], ["you", "may"], ["one", "can"], ["one", "could"], ["one", "may"])
SEEING = frozenset({"see", "can", "know"})
JOINED = frozenset({"of", "to", "about", "for", "in", "on", "between"})
FAR = 8
"""Words from a deed to the 'is' of a verdict on it, at most."""
FEW = 4
"""Words, at most, of a clause that only names a deed or what it would be."""


@dataclass(frozen=True)
class Verbs:
    """The verbs and nouns of the grammar's lists."""

    mind: frozenset[str]
    worth: frozenset[str]
    doing: frozenset[str]
    nouns: frozenset[str]
    being: frozenset[str]
    then: frozenset[str]
    effect: frozenset[str]
    tools: frozenset[str]
    showing: frozenset[str]
    staying: frozenset[str]
    once: frozenset[str]
    spoiled: frozenset[str]


def is_noun(deed: Concept, words: list[str]) -> bool:
    """Whether a deed is named by a noun: 'outside-in', 'trephination', 'rasping', and not 'rasped'."""
    return deed.list in WAYS or any(w.endswith(NOUNS) for w in words[deed.start : deed.end])


def no_deed(
    deed: Concept,
    clause: Span,
    beside: tuple[Span, ...],
    inside: list[list[Concept]],
    words: list[str],
    verbs: Verbs,
) -> bool:
    """Whether what a clause says of a deed is none."""
    lead = deed.start
    while lead > clause.start and words[lead - 1] in OWN:
        lead -= 1
    if any(c.list == "topic-ahead" and c.end in {lead, deed.start} for c in inside[clause.number]):
        return True
    if lead > clause.start and words[lead - 1] in JOINED:
        lead -= 1
    if words[deed.end : deed.end + 1] == ["being"] or words[deed.end : deed.end + 2] == ["or", "not"]:
        return True
    return (
        _minded(deed, clause, words, verbs)
        or _noun_of_mind(deed, lead, clause, words, verbs)
        or _judged(deed, lead, clause, words, verbs)
        or _imagined(clause, words)
        or _of_any(deed, clause, words, verbs)
        or _waits(deed, lead, clause, words, verbs)
        or (is_noun(deed, words) and _instead_of(clause, beside, words, verbs))
    )


def _minded(deed: Concept, clause: Span, words: list[str], verbs: Verbs) -> bool:
    """Whether the verb of a deed is one of mind, or of its worth."""
    before = [i for i in range(clause.start, deed.start) if _is_verb(words, i, verbs)]
    if before:
        at = before[-1]
        if words[at - 1 : at] == ["to"] and at - 1 > clause.start:
            at -= 2
            if words[at] in {"us", "me", "him", "her", "them", "you"} and at > clause.start:
                at -= 1
        owned = words[at] in OPINION and not OURS.isdisjoint(words[clause.start : at])
        if not owned or not any(_is_verb(words, i, verbs) for i in range(deed.end, clause.end)):
            return words[at] in verbs.mind or words[before[-1]] in verbs.mind
    after = [i for i in range(deed.end, clause.end) if _is_verb(words, i, verbs) and words[i] not in AUXILIARY]
    if after and words[after[0] + 1 : after[0] + 2] and words[after[0] + 1] in SELF:
        return True  # 'the outside-in we saved ourselves'
    if not after or words[after[0]] not in verbs.mind | verbs.worth:
        return False
    if words[after[0]] in verbs.once and "the" in words[clause.start : deed.start]:
        return False  # 'the all-inside repair cost us twenty minutes'
    later = {words[i] for i in after[1:]} & (verbs.doing | verbs.then)
    return not later or "and" not in words[after[0] : clause.end]


def _is_verb(words: list[str], i: int, verbs: Verbs) -> bool:
    """Whether a word is a verb as far as is known; not the 'risk' of 'the risk' nor the 'like' of 'like this'."""
    word = words[i]
    if (word in verbs.mind or word in verbs.worth) and "as" in words[max(0, i - AS_WITHIN) : i]:
        return False  # 'as discussed', 'as my teacher taught me'
    if word in verbs.mind or word in verbs.worth:
        return words[i - 1] not in OWN and not (word == "like" and words[i - 1] not in PRONOUNS | {"would"})
    return word in FINITE or word in PAST or word in verbs.doing or (word.endswith("ed") and len(word) > MOST_NOUN)


def _noun_of_mind(deed: Concept, lead: int, clause: Span, words: list[str], verbs: Verbs) -> bool:
    """'The temptation to trim it', 'I am no fan of trephination', 'venting it was the fellow's idea'."""
    ahead = words[lead - 1 : lead] if words[lead] in JOINED else words[lead - 2 : lead - 1]
    joined = words[lead] in JOINED or words[lead - 1 : lead] == ["of"] or words[deed.start - 1] == "to"
    if joined and ahead and ahead[0] in verbs.nouns and lead - 1 >= clause.start:
        return True
    was = next((i for i in range(deed.end, clause.end) if words[i] in WAS | GIVES), None)
    first = not any(_is_verb(words, i, verbs) for i in range(clause.start, deed.start))
    if not first or was is None:
        return False
    end = clause.end if was + 1 < clause.end else was + FEW + 1  # 'venting the notch was | the fellow's idea'
    return not verbs.nouns.isdisjoint(words[was:end])


def _judged(deed: Concept, lead: int, clause: Span, words: list[str], verbs: Verbs) -> bool:
    """'Partial meniscectomy is quick', 'a chondroplasty seemed excessive': a verdict on it, and no result."""
    if (
        lead - clause.start > 1
        or not is_noun(deed, words)
        or (JOINED | IS | {"with"}).isdisjoint(words[deed.end : deed.end + 1])
    ):
        return False
    at = next((i for i in range(deed.end, min(clause.end, deed.end + FAR)) if words[i] in IS), None)
    if at is None or at + 1 >= clause.end:
        return False
    told = words[at + 1]
    if not told.isalpha() or told.endswith(("ed", "ing")) or atom_at(words, at + 1) is not None:
        return False
    return told not in verbs.being | verbs.doing


def _imagined(clause: Span, words: list[str]) -> bool:
    """'Resecting it would have left nothing', 'a brace might help', 'the front can be done outside-in'."""
    return any(
        (words[i] in UNREAL and words[i + 1 : i + 2] and words[i + 1] not in SPEAKING)
        or (words[i] in ABLE and words[i + 1 : i + 2] in (["be"], ["do"], ["go"]))
        for i in range(clause.start, clause.end)
    )


def off_hand(deed: Concept, clause: Span, words: list[str], verbs: Verbs) -> bool:
    """Whether a deed, be it told by a verb, is only shown, is what others do, or what anybody gets.

    'I showed how it is passed', 'it looked as if it had been rasped', 'where others resect', 'with the tunnel drilled
    so you end up vertical'.
    """
    start = clause.start if words[clause.start - 1] != "how" else max(0, clause.start - SHOWN)
    ahead = words[start : deed.start]
    if ahead[-1:] in SAYS and is_noun(deed, words) and ahead[-2:-1] not in ([], ["it"], ["i"], ["we"]):
        return True
    if "how" in ahead and any(w in verbs.mind or w in verbs.showing for w in ahead):
        return True
    if "as" in ahead and any(pair in (("as", "if"), ("as", "though")) for pair in pairwise(ahead)):
        return True
    if _of_its_tool(deed, clause, words, verbs):
        return True
    you = _of_you(deed, clause, words) and (is_noun(deed, words) or words[clause.start] == "with")
    return you or ahead[-1:] == ["others"] or _in_others(clause, words, verbs)


def _of_its_tool(deed: Concept, clause: Span, words: list[str], verbs: Verbs) -> bool:
    """'The rasp was dirty', 'the shaver broke': what is told of a tool, and nothing done with it."""
    opens = deed.start - (deed.start > clause.start)
    lead = opens > clause.start and words[opens - 1] not in LINKS
    if lead or words[opens] not in DETERMINERS or words[deed.end - 1] not in verbs.tools or deed.end - deed.start > 1:
        return False
    behind = words[deed.end : clause.end]
    behind = behind[behind[:1] != [] and behind[0] in WAS :]
    behind = behind[behind[:1] != [] and behind[0] in HOW :]
    return not verbs.spoiled.isdisjoint(behind[:1])


def _in_others(clause: Span, words: list[str], verbs: Verbs) -> bool:
    """'In smokers I add a clot': in which of them one does it, in the present."""
    if words[clause.start] != "in" or clause.end - clause.start <= FEW or not words[clause.start + 1].endswith("s"):
        return False
    who, verb = words[clause.start + 2 : clause.start + 4]
    return who in OURS and verb not in PAST | verbs.then - PRESENT and not verb.endswith("ed")


def _of_any(deed: Concept, clause: Span, words: list[str], verbs: Verbs) -> bool:
    """'Thawing a graft takes forty minutes', 'trephination doubles the rate': any of them, in the present."""
    if deed.start - clause.start > 1 or (deed.start > clause.start and words[clause.start] not in INDEFINITE):
        return False
    behind = words[deed.start + 1 : clause.end]
    first = next((w for w in behind if w in verbs.effect or w in PAST or w in FINITE or w in verbs.doing), "")
    if first in verbs.effect:
        return True
    if not words[deed.start].endswith("ing"):
        return False
    if INDEFINITE.isdisjoint(behind[:2]) or any(w in PAST or w.endswith("ed") for w in behind):
        return False
    return any(w.endswith("s") and w in verbs.doing for w in behind)


def _waits(deed: Concept, lead: int, clause: Span, words: list[str], verbs: Verbs) -> bool:
    """'The awls for a microfracture remained on the tray': what was there for it, and that it stayed so."""
    if words[lead] != "for" or lead == clause.start:
        return False
    if "too" in words[max(clause.start, lead - FEW) : lead]:
        return True  # 'the tear is too short for all-inside'
    behind = words[deed.end : deed.end + 2]
    tool = words[lead - 1] in verbs.tools and words[clause.start] in DETERMINERS and lead - clause.start <= TOOL
    if tool and behind and behind[0] in BE and verbs.doing.isdisjoint(words[deed.end : clause.end]):
        return True
    return behind[:1] != [] and (behind[0] in verbs.staying or behind == ["went", "back"])


def _of_you(deed: Concept, clause: Span, words: list[str]) -> bool:
    """'With outside-in you risk the nerve': what anybody gets of it."""
    if words[clause.start : clause.start + 2] in YOU_CAN:
        return SEEING.isdisjoint(words[clause.start + 2 : clause.start + 3])
    if words[clause.start] != "with":
        return False
    at = next((i for i in range(deed.end, clause.end - 1) if words[i] in YOU), None)
    return at is not None and words[at + 1] not in SEEING


def _instead_of(clause: Span, beside: tuple[Span, ...], words: list[str], verbs: Verbs) -> bool:
    """'The alternative, | outside-in, | takes longer', 'outside-in, | that is what my chief would say'."""
    few = sum(w.isalpha() for w in words[clause.start : clause.end]) <= FEW
    if not few or words[clause.end - 1] != ",":
        return False
    n = beside.index(clause)
    first = words[beside[n - 1].start : clause.end] if n else words[clause.start : clause.end]
    if "," in first[:FEW] and first[first.index(",") - 1] in verbs.nouns:
        return True
    if n + 1 == len(beside):
        return False
    aside = beside[n + 1]
    if words[aside.start] == "so" and {words[aside.end - 1], words[aside.end - 2]} & {"says", "say", "claims", "tells"}:
        return True  # 'trephination, | so the paper says, | doubles the rate'
    behind = words[beside[n + 1].start : beside[-1].end]
    return behind[:1] in (["that"], ["this"]) and behind[1:2] in (["is"], ["'s"], ["was"]) and "what" in behind[:3]
