"""What was asked is meant as it is answered: 'Trim? No.', 'Drain? None left.', 'Is it thawed? It is.'."""

from __future__ import annotations

from extractor.language.asserted import Assertion
from extractor.language.clause_words import FINITE, OPEN_QUESTION, PRONOUNS
from extractor.language.clauses import Segmentation, Span
from extractor.language.concepts import Concept
from extractor.language.numbers import number_words

ANSWER = 4
"""Words of an answer that may say yes."""
HEDGES = frozenset({"maybe", "perhaps", "possibly", "later", "let", "wait"})
"""An answer that opens so says neither yes nor no."""
ASKED_BACK = frozenset({"what", "why", "whatever"})
"""A question answered by one of these is answered no: 'Trephination? What for.'."""
SAYS_YES = frozenset({"yes", "yep", "yeah"})
NOTS = frozenset({"not", "n't", "never", "but"})
INVERTING = frozenset({"do", "did", "should", "shall", "must", "are", "am", "have", "can", "may", "will"})
ASKERS = (["we"], ["i"], ["you"])
ASKED_OF_ALL = frozenset({"do", "did", "should", "shall", "must"})
US = ASKERS[:2]
"""Of the others with 'you' one asks for a thing: 'Can you let it down'."""
USED = frozenset({"affirmed", "doing", "device", "tool", "form", "technique", "configuration"})
ASKING = FINITE | INVERTING | frozenset({"may", "might"})
"""Verbs that, said first, ask; 'Can we let it down, what's our time?' is a request."""
OPINION = "think"
AFFIRMING = frozenset({
    "yes", "yep", "yeah", "sure", "course", "naturally", "absolutely", "certainly", "indeed", "bet", "done", "fine",
    "good", "put", "cut", "made", "taken", "gone", "went", "always", "check", "agree",
})  # fmt: skip
TURNS = frozenset({"and", "so", "now", "but", "then", "well"})
SHOWING = frozenset({"do", "can", "did"})
SENSING = frozenset({"see", "feel", "hear", "notice"})
TAG = 4
TAGS = frozenset({"right", "okay", "ok", "yes", "yeah", "see", "correct", "good", "eh", "huh", "clear", "agreed"})
"""Words that ask no more than whether what was told before a pause is followed."""
SHORT = 3
"""Words of an answer that may be what was done: 'The usual two.'"""
DEEDS = frozenset({"action", "operation", "technique"})
SHOW_ME = frozenset({"show", "look", "hang", "hold", "wait", "let", "give"})
"""An order that opens so puts the answer off: 'All-inside here? Show me the gap first.'"""
NOT_US = frozenset({
    "some", "many", "most", "others", "people", "colleagues", "everybody", "everyone", "half", "few", "plenty", "books",
})  # fmt: skip
"""What these do is no answer: 'A screw? Some people do that. This is press fit, so no.'"""
LATER = 3
"""Sentences behind an answer put off that may give it."""
YES = frozenset(
    {
        "yes",
        "yep",
        "yeah",
        "is",
        "are",
        "does",
        "do",
        "did",
        "was",
        "were",
        "has",
        "have",
        "good",
        "great",
        "perfect",
        "thank",
        "thanks",
        "super",
        "wonderful",
        "beautiful",
        "lovely",
        "excellent",
        "fine",
        "agreed",
        "affirmative",
        "sure",
        "done",
        "right",
        "correct",
        "naturally",
        "obviously",
        "certainly",
        "absolutely",
        "definitely",
        "course",
    }
)


def answer_questions(
    segments: Segmentation, inside: list[list[Concept]], found: list[Assertion], words: list[str]
) -> None:
    """A question asserts what its answer says: 'Trim? No.' is declined, 'Is it thawed? It is.' was done."""
    for asked, answer in zip(segments.sentences, (*segments.sentences[1:], None), strict=True):
        _answer_headings(asked, segments, inside, found, words)
        if not _asks(words, asked) or _asks_for_what(words, asked) or _asks_beside(words, asked):
            continue
        said: list[str] = []
        denied = False
        if answer is not None:
            said = words[answer.start : min(answer.start + ANSWER, answer.end)]
            lead = inside[segments.clause_at(answer.start).number]
            denied = any(c.list.startswith("negation") for c in lead) and not _yes_and_none(words, answer)
            denied = denied or _ends_in_no(words[answer.start : answer.end])
            denied = denied or _not_here(words, answer)
            named = {c.list for clause in segments.clauses_of(asked) for c in inside[clause.number]}
            denied = denied or (said[:1] == ["negative"] and bool(named & DEEDS) and "looking-over" not in named)
        affirmed = (bool(YES & set(said)) and not _is_of_others(said)) or _echoes(words, asked, said)
        affirmed = affirmed or (answer is not None and words[answer.end - 2] in SAYS_YES)
        if answer is not None and not denied and (_is_of_others(said) or said[0] in SHOW_ME):
            later = _answered_later(answer, segments, inside, words)
            denied, affirmed = later == "no", later == "yes"
        expects = _expects_yes(words, asked)
        for clause in segments.clauses_of(asked):
            if expects and affirmed and not denied:
                found[clause.number] = Assertion("performed", False, None, clause.start)
            elif denied:
                found[clause.number] = Assertion("performed", True, None, clause.start)
            elif not affirmed and not (_is_tagged(words, asked) and HEDGES.isdisjoint(said[:1])):
                found[clause.number] = Assertion(
                    "conditional", found[clause.number].negated, found[clause.number].ahead, clause.start
                )


def _yes_and_none(words: list[str], answer: Span) -> bool:
    """'Did you look for a bridge? Yes, none.': the answer, and then what was found."""
    return words[answer.start] in SAYS_YES and NOTS.isdisjoint(words[answer.start : answer.end])


def _is_of_others(said: list[str]) -> bool:
    """'Some people do.': what is done elsewhere, and no yes."""
    return not NOT_US.isdisjoint(said[:1])


def _answered_later(put_off: Span, segments: Segmentation, inside: list[list[Concept]], words: list[str]) -> str:
    """What a question comes to that was answered at first by 'show me', or by what others do: "yes", "no" or ""."""
    for sentence in segments.sentences[put_off.number : put_off.number + 1 + LATER]:
        if sentence.number > put_off.number and words[sentence.start] in {"yes", "yeah", "yep", "okay", "right"}:
            return "yes"
        if words[sentence.start] in {"no", "nope", "nah"} or _ends_in_no(words[sentence.start : sentence.end]):
            return "no"
        lists = {c.list for clause in segments.clauses_of(sentence) for c in inside[clause.number]}
        if sentence.number > put_off.number and lists & DEEDS:
            return ""
    return ""


def _asks(words: list[str], sentence: Span) -> bool:
    """Whether a sentence asks, by its sign or, where none was heard, by its first words: 'Do we trim it, he asks.'."""
    return words[sentence.end - 1] == "?" or (
        words[sentence.start] in INVERTING
        and words[sentence.start + 1 : sentence.start + 2] in (ASKERS if words[sentence.start] in ASKED_OF_ALL else US)
    )


def _asks_for_what(words: list[str], asked: Span) -> bool:
    """'What is it marked at?', 'And it is marked where?': what is asked about is so."""
    return words[asked.start] in OPEN_QUESTION or (
        words[asked.end - 1] == "?" and words[asked.end - 2] in OPEN_QUESTION
    )


def _asks_beside(words: list[str], asked: Span) -> bool:
    """'Let the tourniquet down please, | what are we at?': only what stands behind the order asks, and for a value.

    Or whether whoever learns sees it: 'The rim is rasped, | do you see it bleed?'
    """
    opens = [i + 1 for i in range(asked.start + 1, asked.end - 2) if words[i] == ","]
    if words[asked.start] in ASKING or OPINION in words[asked.start : asked.end]:
        return False
    opens = [i + (words[i] in TURNS) for i in opens]
    return any(words[i] in OPEN_QUESTION or _asks_if_seen(words, i) for i in opens)


def _is_tagged(words: list[str], asked: Span) -> bool:
    """'The cannula goes in laterally, | okay?': a statement, and a word that only asks whether it was followed."""
    tail = words[max(asked.start, asked.end - TAG) : asked.end - 1]
    set_off = tail[-2:-1] == [","] and tail[-1] in TAGS
    return set_off and words[asked.start] not in ASKING and OPINION not in asked.said


def _asks_if_seen(words: list[str], at: int) -> bool:
    """'Do you see it bleed?', 'you feel the step?'."""
    at += words[at] in SHOWING
    return words[at] == "you" and words[at + 1] in SENSING


def _expects_yes(words: list[str], asked: Span) -> bool:
    """'Did n't I let it down?', 'rasped, was it not?' deny nothing: they ask for the yes that follows."""
    tag = words[max(asked.start, asked.end - TAG) : asked.end - 1]
    return words[asked.start + 1 : asked.start + 2] == ["n't"] or (tag[-1:] == ["not"] or tag[-2:-1] == ["n't"])


def _ends_in_no(answer: list[str]) -> bool:
    """Whether an answer comes to a no at its end: 'It lay flat, so no.'."""
    said = [w for w in answer if w.isalpha()]
    return len(said) > 1 and said[-1] == "no" and said[-2] in {"so", "then", "and", "but"}


def _not_here(words: list[str], answer: Span) -> bool:
    """'On a longer one, yes, not on this one.': what may be done elsewhere, and was not here."""
    return any(
        words[i] == "not" and words[i + 1] in {"on", "in", "for", "with"} and words[i + 2] in {"this", "her", "him"}
        for i in range(answer.start, answer.end - 2)
    )


def _answer_headings(
    sentence: Span, segments: Segmentation, inside: list[list[Concept]], found: list[Assertion], words: list[str]
) -> None:
    """'Drain? None left.' 'A plug? Considered.': a heading that was asked is meant as its answer is."""
    clauses = segments.clauses_of(sentence)
    asked = next((n for n, clause in enumerate(clauses[:-1]) if words[clause.end - 1] == "?"), None)
    if asked is None:
        return
    answer = clauses[asked + 1 : asked + 3]
    lead = found[answer[0].number]
    refused = any(c.name == "refused" for clause in answer for c in inside[clause.number])
    denied = lead.negated or (lead.ahead is not None and lead.cue == answer[0].start) or refused
    denied = denied or _ends_in_no(words[clauses[asked].end : sentence.end])
    denied = denied or words[clauses[asked].end] in ASKED_BACK
    beside = not denied and _beside_the_point(asked, clauses, inside, words)
    unreal = beside or _only_imagined(answer, asked, clauses, inside, found)
    put_off = words[answer[0].start] in SHOW_ME and _names_deed(clauses[: asked + 1], inside)
    if put_off and not denied:
        later = _answered_later(sentence, segments, inside, words)
        denied, put_off = later == "no", later != "yes"
    hedged = words[answer[0].start] in HEDGES and (put_off or words[answer[0].start] not in SHOW_ME)
    mood = "conditional" if hedged or put_off or unreal else lead.mood
    for clause in clauses[: asked + 1]:
        held = found[clause.number]
        meant = mood if held.mood == "performed" else held.mood
        found[clause.number] = Assertion(meant, denied or held.negated, held.ahead, lead.cue)


def _names_deed(clauses: tuple[Span, ...], inside: list[list[Concept]]) -> bool:
    """Whether work is named, and not only a look."""
    lists = {c.list for clause in clauses for c in inside[clause.number]}
    return bool(lists & DEEDS) and "looking-over" not in lists


def _only_imagined(
    answer: tuple[Span, ...],
    asked: int,
    clauses: tuple[Span, ...],
    inside: list[list[Concept]],
    found: list[Assertion],
) -> bool:
    """'Trim? With an edge | that smooth it 'd be a crime.': a deed that the answer only imagines."""
    named = {c.list for clause in clauses[: asked + 1] for c in inside[clause.number]}
    return bool(named & DEEDS) and any(found[c.number].mood in {"conditional", "considered"} for c in answer)


def _beside_the_point(asked: int, clauses: tuple[Span, ...], inside: list[list[Concept]], words: list[str]) -> bool:
    """'Marrow venting? The tear is red on red.': a treatment asked for, and an answer that tells of nothing done."""
    lists = {c.list for clause in clauses[: asked + 1] for c in inside[clause.number]}
    if not lists & DEEDS or "looking-over" in lists:
        return False
    told = [w for clause in clauses[asked + 1 :] for w in words[clause.start : clause.end] if w.isalnum()]
    doing = {c.list for clause in clauses[asked + 1 :] for c in inside[clause.number]} & USED
    numbers = any(w in number_words().cardinals or w.isdigit() for w in told)
    done = any((len(w) > SHORT and w.endswith("ed")) or w in AFFIRMING for w in told)
    verb = not (FINITE | PRONOUNS).isdisjoint(told)  # 'Synovectomy? In front, with the shaver.' tells how
    return verb and len(told) > SHORT and not doing and not numbers and not done


def _echoes(words: list[str], asked: Span, said: list[str]) -> bool:
    """Whether an answer opens with a number of the question: 'What was it, forty-nine minutes? Forty-nine'."""
    opens = next((w for w in said if w[:1].isalnum()), "")
    number = opens.isdigit() or opens in number_words().cardinals
    return number and opens in words[asked.start : asked.end]
