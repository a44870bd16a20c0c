"""The operated side: every mention that can only mean it, and none of the others.

'We're left with a rim', 'all right', the other knee, the history and the complaint are no mention.
Left and right both said for the operated knee stay both; the checks make a conflict of it.
"""

from __future__ import annotations

from extractor.facts.announced import announced_sides
from extractor.facts.both_sides import both_operated, only_ailing
from extractor.facts.case import IMAGINED, Case
from extractor.facts.draft import FactDraft
from extractor.facts.other_knee import its_motion, the_other_one
from extractor.facts.over_there import opens_set_off, set_off
from extractor.facts.sections import sections
from extractor.facts.whose_knee import told_across
from extractor.facts.worked_on import worked_on
from extractor.language.asserted import Assertion
from extractor.language.clause_words import FINITE
from extractor.language.clauses import Span as Stretch
from extractor.language.concepts import Concept
from extractor.language.corrections import only_fillers, put_right
from extractor.language.diagnosed import DIAGNOSES

RULE = "<side> <joint>"
BETWEEN = frozenset({"the", "lower", "is", "was", "'s", ",", "side", "a", "and", "first"})
"""Plain words that may stand between a side and what it is of, beside those of the list `side-filler`."""
SUBJECTS = frozenset({"we", "i", "he", "she", "they", "it", "you", "surgeon", "having"})
"""After these 'left' is the verb: 'We left the meniscus alone'."""
ONCE_MORE = frozenset({"the", "a", "on", "in", "side", "of", "we", "are", "this"})
"""Plain words that may stand between a side and the one it is corrected to, beside those of `side-again`."""
NOW = frozenset({"today", "now", "we"})
"""These, and the words of `operating-now`, tell that a side which stands alone is the operated one."""
TITLED, IS = 4, frozenset({",", ":", "is", "was", "as", "the"})
"""'Side, left', 'Laterality confirmed as right': how many words may stand between, and which, beside `side-told`."""
IDENTITY = frozenset({"is", "was", "'s", "it's", "that's"})
NEAR = 10
"""Tokens from a side to a word that makes it one of the other knee, at most."""
BEHIND = frozenset({"after", "following"})
RELATIVE = frozenset({"which", "that"})
FEW = 5
"""Tokens of a sentence that only goes on with the one before, at most."""
OF_THIS_CASE = frozenset({"both-legs", "put-away", "donor-knee", "no-knee"})
"""Of the list `aside`: what is done today to the other leg."""
SCANNED = "looked-at"
STRUCTURES_AS_JOINT = ("structure", "operation")
OPENS = 3
"""Tokens of a note before the side and knee that it opens with: 'So, the right knee of this lady, pain in front'."""
RUN_ON = 8
"""Words from the knee that opens a note to what was once done, which then is another thought."""
EACH_SIDE = tuple(frozenset({f"side:{name}"}) for name in ("left", "right", "bilateral"))
Mention = tuple[Concept, Concept, int, int]
"""A side, what it is said of, and the tokens that both stand in."""


def side_drafts(case: Case) -> list[FactDraft]:
    """One draft a mention of the operated side; one that is put right at once or outright is no mention."""
    both = both_operated(case)
    if both:
        joints = case.within("joint", both.start, both.end) or case.by_list["joint"][:1]
        fields = {"value": "bilateral"} | ({"joint": joints[0].name} if joints else {})
        return [FactDraft("laterality", fields, case.spans([(both.start, both.end)], RULE))]
    return [
        FactDraft("laterality", _fields(side, joint), case.spans([(start, end)], RULE))
        for side, joint, start, end in _without_asides(case, _mentions(case))
    ]


def other_knee(case: Case) -> tuple[frozenset[int], frozenset[int]]:
    """Clauses that tell of the knee not operated on, and tokens of others that do.

    They are known by a mention set aside beside firm ones of one side.

    'The left knee has an old reconstruction in it, not our problem today': what is said there is none of this case.
    How that leg was placed, and what was taken from it, is.
    """
    if both_operated(case):
        return frozenset(), frozenset()
    mentions = _mentions(case)
    firm = _without_asides(case, mentions)
    operated = {side.name for side, _, _, _ in firm}
    if len(operated) != 1:
        return frozenset(), frozenset()
    found, sure = set(), {mention[2:] for mention in firm}
    for mention in mentions:
        clause = case.clause(mention[2])
        names = {c.name for c in case.within("side", clause.start, clause.end)}
        if mention[2:] not in sure and names.isdisjoint(operated) and not OF_THIS_CASE & set(_asides(case, mention)):
            found.add(clause.number)
            found.update(its_motion(case, clause))
    clauses, parts = told_across(case, operated)
    return frozenset(found) | the_other_one(case, operated) | set_off(case, operated) | clauses, parts


def _mentions(case: Case) -> list[Mention]:
    found: list[Mention] = []
    for side in case.by_list["side"]:
        if side.name == "left" and side.start and case.words[side.start - 1] in SUBJECTS:
            continue
        joint = _joint(case, side) or _put_right_alone(case, found, side)
        if joint is None:
            continue
        start, end = min(side.start, joint.start), max(side.end, joint.end)
        corrects = _corrects(case, found, side, start)
        if not _about_now(case, side, joint, corrects):
            continue
        if corrects:
            found = [mention for mention in found if mention[0].name == side.name]
        found.append((side, joint, start, end))
    return _without_history(case, found or _announced(case))


def _announced(case: Case) -> list[Mention]:
    """Sides announced without their knee, none of them of the other knee or of a person at the table."""
    mentions = [(side, side, side.start, side.end) for side in announced_sides(case)]
    return [m for m in mentions if _about_now(case, m[0], m[1], False) and not _beside_an_aside(case, m)]


def _without_history(case: Case, found: list[Mention]) -> list[Mention]:
    """The mentions outside 'History: the right knee was replaced.', where there are any."""
    told = [
        (start, min(end, case.sentence(start).end))
        for heading, start, end in sections(case)
        if heading.name == "indication" and start < end
    ]
    outside = [m for m in found if not any(start <= m[2] < end for start, end in told)]
    return outside or found


def _without_asides(case: Case, found: list[Mention]) -> list[Mention]:
    """The mentions that a word beside them does not make one of the other knee, where there are any.

    'The left knee is normal', 'a stocking on the left leg': alone they may well be of the operated knee, but beside
    another that must be of it they are no second one.
    """
    firm = [m for m in found if not _beside_an_aside(case, m) and not only_ailing(case, m[0])]
    return worked_on(case, firm or found)


def _asides(case: Case, mention: Mention) -> list[str]:
    """The words beside a side that make it the other knee's, by their names."""
    sentence = case.sentence(mention[2])
    around = sentence if sum(case.said(side, sentence) for side in EACH_SIDE) == 1 else case.clause(mention[2])
    start, end = max(around.start, mention[2] - NEAR), min(around.end, mention[3] + NEAR)
    today = bool(case.within("now", sentence.start, sentence.end))  # 'on its scan a flap, and we trimmed it today'
    return [c.name for c in case.within("aside", start, end) if not (today and c.name == SCANNED)]


def _beside_an_aside(case: Case, mention: Mention) -> bool:
    sentence = case.sentence(mention[2])
    if _asides(case, mention) or opens_set_off(case, mention[0]):
        return True
    return bool(case.within("donor-side", 0, len(case.words))) and bool(
        case.within("harvest-word", sentence.start, sentence.end)
    )


def _fields(side: Concept, joint: Concept) -> dict[str, str]:
    return {"value": side.name} | ({"joint": joint.name} if joint.list == "joint" else {})


def _corrects(case: Case, found: list[Mention], side: Concept, start: int) -> bool:
    """'Left knee, sorry, right knee', 'Correction. It is the right knee': the side takes the other one back.

    A word that only halts the talk does so where nothing else stands between the two sides.
    """
    if not found or found[-1][0].name == side.name:
        return False
    end = found[-1][3]
    again = ONCE_MORE | case.grammar.plain_words("side-again")
    if put_right(case.words, end, start, again):
        return True  # 'on the right, actually on the left knee'
    cue = case.correction(start, floor=end)
    if cue and cue[1] < start and case.words[start - 1] in {"the", "a", *IS} and _says_again(case, cue[1], start):
        return True
    if cue is None or not only_fillers(case.words, cue[1], start, again):
        return False
    return cue[0] == "strong" or only_fillers(case.words, end, start, again)


def _put_right_alone(case: Case, found: list[Mention], side: Concept) -> Concept | None:
    """'ACL on the right, no, left.': a side that nothing is said of but that it is not the one before."""
    alone = _ends(case, side) and bool(found) and side.start - found[-1][3] <= NEAR
    return side if alone and _corrects(case, found, side, side.start) else None


def _says_again(case: Case, cue_end: int, start: int) -> bool:
    """'Right knee arthroscopy. No wait, it's the left knee.': the word of correction, and what it is."""
    words = [w for w in case.words[cue_end:start] if w not in {",", ".", "a", "the"}]
    return len(words) in (1, 2) and words[-1] in IDENTITY and words[0] in {"it", "this", "that", *IDENTITY}


def _says(case: Case, list_name: str, start: int, end: int) -> bool:
    """Whether one of the tokens `[start, end)` stands in a plain list."""
    return not case.grammar.plain_words(list_name).isdisjoint(case.words[start:end])


def _now(case: Case, start: int, end: int) -> bool:
    """Whether the tokens `[start, end)` tell of this operation."""
    return not NOW.isdisjoint(case.words[start:end]) or _says(case, "operating-now", start, end)


def _joint(case: Case, side: Concept) -> Concept | None:
    """The joint or part a side word belongs to: 'left knee', 'knee, left', 'left medial meniscus'."""
    between = BETWEEN | case.grammar.plain_words("side-filler")
    short = _says(case, "side-short", side.start, side.start + 1)  # a full stop behind it ends no sentence: 'Rt. knee'
    opens = side.end + (short and case.words[side.end : side.end + 1] == ["."])
    for c in case.within("joint", opens, opens + 4):
        if between.issuperset(case.words[opens : c.start]):
            return c
    before = [c for c in case.within("joint", max(0, side.start - 4), side.start) if c.end <= side.start]
    for c in reversed(before):
        if (
            all(w in {",", "is", "the", "(", "side", ":", "-"} for w in case.words[c.end : side.start])
            and side.end <= len(case.words)
            and _ends(case, side)
        ):
            return c
    lead = case.words[max(0, side.start - 2) : side.start]
    if lead == ["on", "the"] and _ends(case, side):
        start = case.sentence(side.start).start
        if _now(case, start, side.start) or case.within("operation", start, side.start):
            return side
    alone = _alone(case, side)
    if alone:
        return alone
    for name in STRUCTURES_AS_JOINT:
        for c in case.within(name, side.end, side.end + 3):
            if (between - {","}).issuperset(case.words[side.end : c.start]):
                return c
    return None


def _alone(case: Case, side: Concept) -> Concept | None:
    """Read 'Side, left', and the answer to a question about the knee ('Which knee? Right.')."""
    sentence = case.sentence(side.start)
    if case.words[side.end : side.end + 1] == ["side"] and side.start > sentence.start and _after_work(case, side):
        return side
    if case.words[side.end : side.end + 1] == ["side"] and _says(case, "side-confirmed", sentence.start, side.start):
        return side
    if case.words[side.end : side.end + 1] == ["one"]:
        if _now(case, sentence.start, sentence.end):
            return side if case.within("joint", sentence.start, sentence.end) else None
        return _which_knee(case, side)
    before = case.words[max(sentence.start, side.start - TITLED) : side.start]
    told = IS | case.grammar.plain_words("side-told")
    opened = next((at for at in range(len(before) - 1, -1, -1) if before[at] not in told), None)
    if opened is not None and before[opened] in {"side", "laterality"}:
        return side
    asked = case.clause(side.start - 1) if side.start > sentence.start else None
    if asked and case.words[asked.end - 1] == "?" and asked.end == side.start and _ends(case, side):
        known = case.within("joint", asked.start, asked.end) or "side" in case.words[asked.start : asked.end]
        return side if known or _answers(case, side) else None
    if side.start == sentence.start and case.words[side.end : side.end + 1] == ["."] and sentence.number:
        asked = case.note.segments.sentences[sentence.number - 1]
        if case.words[asked.end - 1] == "?" and case.within("joint", asked.start, asked.end):
            return side
    return side if _answers(case, side) else None


def _answers(case: Case, side: Concept) -> bool:
    """'Which knee, anybody? Left, yes, it's on the thigh': the answer opens with the side, whatever is said behind."""
    opens = side.start - (case.words[side.start - 1] in {"the", "it", "'s"})
    opens -= case.words[opens - 1] == "it"
    if opens < 1 or case.words[opens - 1] != "?" or case.words[side.end : side.end + 1] not in ([","], ["."], [";"]):
        return False
    start = max((i + 1 for i in range(max(0, opens - 20), opens - 1) if case.words[i] in {".", "?", "\n"}), default=0)
    asked = case.words[start : opens - 1]
    which = "which" in asked or "what" in asked
    return which and bool(case.within("joint", start, opens) or {"side", "one"} & set(asked))


def _which_knee(case: Case, side: Concept) -> Concept | None:
    """'She came with a swollen knee, the right one': the knee named before, and nothing more said of it."""
    sentence, opens = case.sentence(side.start), side.start - (case.words[side.start - 1] == "the")
    apart = opens > sentence.start and case.words[opens - 1] in {",", "-", "("}
    after = case.words[side.end + 1 : side.end + 2]
    if not apart or (after and after[0] not in {",", ".", "\n", ")", ";"}):
        return None
    return next((c for c in case.earlier("joint", opens) if c.start >= sentence.start), None)


def _after_work(case: Case, side: Concept) -> bool:
    """'Arthroscopic meniscus repair, right side': what was done, a pause, the side, and no more."""
    clause, end = case.clause(side.start), side.end + 1
    start = case.sentence(side.start).start
    named = [c for name in ("operation", "structure") for c in case.within(name, start, clause.start)]
    closed = end >= len(case.words) or case.words[end] in {".", "\n", ";"}
    return clause.start == side.start and closed and bool(named)


def _set_aside(case: Case, side: Concept) -> bool:
    """'The right knee, operated upon in 2016, was not examined today': what the sentence goes on to say of it.

    A few words more ('... was examined. Too for comparison.') belong to it.
    """
    sentence = case.sentence(side.start)
    end = sentence.end
    if sentence.number + 1 < len(case.note.segments.sentences):
        after = case.note.segments.sentences[sentence.number + 1]
        end = after.end if after.end - after.start <= FEW else end
    sides = case.within("side", sentence.start, end)
    opens = side.start - sentence.start <= 1
    cues = case.within("set-aside", side.end, end)
    knees = case.within("joint", side.end, cues[0].start) if cues else []
    behind = bool(cues) and bool(BEHIND & set(case.words[side.end : cues[0].start]))
    return opens and sides == [side] and bool(cues) and len(knees) <= 1 and not behind


def _ends(case: Case, side: Concept) -> bool:
    """Whether nothing follows that would make 'left' or 'right' an adverb."""
    after = case.words[side.end : side.end + 1]
    return not after or after[0] in {".", ",", "\n", ")", ";", ":", "and", "side"} or side.name == "bilateral"


def _about_now(case: Case, side: Concept, joint: Concept, corrects: bool) -> bool:
    clause = case.clause(side.start)
    assertion = case.assertion(side.start)
    if assertion.mood == "history" and (_only_after(case, side, joint) or _in_diagnosis(case, side)):
        assertion = Assertion()
    if assertion.mood in IMAGINED or (assertion.declines(side.start) and not corrects):
        return False
    if _of_other_knee(case, side):
        return False
    end = clause.end
    if (
        clause.end - clause.start <= 5
        and case.words[clause.end - 1] == ":"
        and clause.end < case.sentence(side.start).end
    ):
        following = case.clause(clause.end)
        if case.note.assertions[following.number].mood == "history":
            return False
        end = following.end
    if case.within("uninvolved", case.clause(min(side.start, joint.start)).start, end) or _set_aside(case, side):
        return False
    behind = max(side.end, joint.end)
    ails = _says(case, "complaint", behind, min(behind + 2, case.sentence(side.start).end))
    return not ails or bool(case.within("structure", behind, behind + 1))  # 'right knee ACL injury' is a diagnosis


def _only_after(case: Case, side: Concept, joint: Concept) -> bool:
    """'Left knee stiffness after a reconstruction done elsewhere': what is told of another time stands behind."""
    clause, end = case.clause(side.start), max(side.end, joint.end)
    cue = case.assertion(side.start).cue
    opens = side.start - clause.start <= 1 and clause.start == case.sentence(side.start).start
    if opens and side.start <= OPENS and cue is not None and cue - end >= RUN_ON:
        return True  # a note that opens with its knee, and tells of an earlier operation before anybody takes breath
    return opens and cue is not None and cue > end and bool(BEHIND & set(case.words[end:cue]))


def _in_diagnosis(case: Case, side: Concept) -> bool:
    """'Preoperative diagnosis, left knee after meniscectomy': the diagnosis is of the knee to be operated on."""
    opens = case.sentence(side.start).start
    return any(c.name in DIAGNOSES for c in case.within("heading", opens, opens + 1))


def _told_of_then(case: Case, side: Concept, follows: Stretch) -> bool:
    """'Right knee, | total knee two years back, | doing fine', where the other knee is the one spoken of elsewhere."""
    then = case.note.assertions[follows.number].mood == "history"
    bare = FINITE.isdisjoint(follows.said)
    if case.words[follows.start] == "and" or case.within("another-one", follows.start, follows.end):
        return False  # 'left knee, | and the two before him ...'
    own = case.within("side", follows.start, follows.end)  # 'left knee, | the same as on the right two years ago'
    return then and bare and not own and any(other.name != side.name for other in case.by_list["side"])


def _of_other_knee(case: Case, side: Concept) -> bool:
    """'Other knee, R, ...'; 'the right knee, operated on in 2016, was not examined': said of it in the next breath."""
    sentence, clauses = case.sentence(side.start), case.note.segments.clauses
    at = case.clause(side.start).number
    own = case.words[clauses[at].start : clauses[at].end]
    if FINITE & set(own):
        return False
    lead = clauses[at - 1] if clauses[at].start > sentence.start else None
    opens = lead and not FINITE & lead.said
    if lead and opens and case.within("uninvolved", lead.start, lead.end):
        return True
    if clauses[at].end >= sentence.end or own[-1] != ",":
        return False
    follows = clauses[at + 1]
    then = case.note.assertions[follows.number].mood == "history"
    denied = case.note.assertions[
        min(at + 2, len(clauses) - 1)
    ].negated  # ', which was done last year, was not touched'
    insert = then and (case.words[follows.start].endswith("ed") or (case.words[follows.start] in RELATIVE and denied))
    opens_at = follows.start + (case.words[follows.start] in {"the", "his", "her"})
    titled = sentence.number == 0 and side.start - sentence.start <= OPENS
    insert = insert or (not titled and bool(case.within("uninvolved", opens_at, opens_at + 1)))
    insert = insert or (not titled and _told_of_then(case, side, follows))
    named = case.within("operation", clauses[at].start, clauses[at].end)
    return insert and not named
