"""A measurement named again after a word of correction, or taken anew: 'Correction, the graft was cut at nineteen'.

What was said of the same thing before is no fact any more; it stays as the earlier value of the new one.
"""

from __future__ import annotations

from bisect import bisect_right
from collections.abc import Sequence
from dataclasses import replace

from extractor.facts.case import LEAD, Case
from extractor.facts.draft import FactDraft
from extractor.facts.measuring import Claim
from extractor.facts.put_right import is_put_right
from extractor.language.corrections import cue_at, looked_again, said_wrong
from extractor.language.quantities import Quantity

VALUES = ("value", "low", "high")
APART = ("site", "when", "purpose", "role", "which")
"""Two facts that differ in one of these, both saying it, are of different things."""
DENIES = frozenset({"no", "nope", "nah", "rather"})
SECOND_THOUGHT = frozenset({"well", "eh", "hm", "hmm"})
STEPPED = frozenset({"then", "finally", "last", "lastly", "ending", "finishing", "up"})
STEPS = STEPPED | {",", "and", "to", "at", "with", "by", "a", "the", "next", "first", "until"}
"""Words between the sizes of a tunnel reamed step by step: 'to six, then seven, and finally to eight millimeters'."""
NAMES = {"measurements": "what", "plan": "item"}


def renew(case: Case, claim: Claim, before: Sequence[FactDraft], new: Sequence[FactDraft]) -> list[FactDraft]:
    """All drafts so far with the new ones, those that the new ones take back left out."""
    start = claim.slot.quantity.start
    last = next((n for n in case.numbers_before(start)), None)
    floor = last.end if last and last.earlier else 0  # the word of correction in it has done its work
    corrected = case.correction(start, floor) is not None or _explained(case, claim)
    corrected = corrected or _planned_otherwise(case, claim, before) or _on_second_thought(case, claim, last)
    corrected = corrected or _stepped_up(case, last, new) or is_put_right(case, claim.slot.quantity)
    if not new or not (corrected or _measured_again(case, claim)):
        return [*before, *new]
    kept, added = list(before), []
    for draft in new:
        old = [d for d in kept if _taken_back(d, draft)]
        kept = [d for d in kept if d not in old]
        added.append(_with_earlier(draft, old))
    return [*kept, *added]


def _on_second_thought(case: Case, claim: Claim, last: Quantity | None) -> bool:
    """'About sixty percent of the width, well, once you spread it, eighty percent': a second size of the same thing."""
    q, words = claim.slot.quantity, case.words
    if last is None or last.start < claim.slot.sentence.start or last.dimension != q.dimension or q.product is not None:
        return False
    gap = range(last.end + 1, q.start - 1)
    return any(words[i - 1] == "," and words[i] in SECOND_THOUGHT and words[i + 1] == "," for i in gap)


def _stepped_up(case: Case, last: Quantity | None, new: Sequence[FactDraft]) -> bool:
    """'Reamed to seven millimeters, then eight, and finally nine': what was made grew to the last size told."""
    made = [d.fields.get("value") for d in new if d.fields.get("role") == "made"]
    if last is None or last.value is None or not made or not isinstance(made[0], float):
        return False
    at = bisect_right(case.note.tokens.starts, new[0].spans[0].start) - 1
    gap = case.words[last.end : at]
    if made[0] <= last.value or not STEPS.issuperset(gap):
        return False
    return not STEPPED.isdisjoint(gap) or _one_of_a_row(case, last) or in_steps(case, last)


def _one_of_a_row(case: Case, last: Quantity) -> bool:
    """'Reamed to seven, eight and nine': the third size, each more than the last, ends a row of reamers."""
    before = next(case.numbers_before(last.start), None)
    if before is None or before.value is None or last.value is None or before.value >= last.value:
        return False
    return before.start >= case.sentence(last.start).start and STEPS.issuperset(case.words[before.end : last.start])


def in_steps(case: Case, q: Quantity) -> bool:
    """'Drilled in two passes, nine, ten millimeters', 'from nine up to ten': told ahead of the sizes or within them."""
    up = q.low is not None and "up" in case.words[q.start : q.number_end]
    return up or bool(case.within("stepwise", case.sentence(q.start).start, q.start))


def _planned_otherwise(case: Case, claim: Claim, before: Sequence[FactDraft]) -> bool:
    """'In ten days, actually I am away, two weeks': a plan changed in one breath, whatever the reason given."""
    if claim.rule.kind != "plan":
        return False
    q, start = claim.slot.quantity, claim.slot.sentence.start
    last = next((n for n in case.numbers_before(q.start) if n.dimension == q.dimension), None)
    if last is None or last.start < start or all(d.fields.get("item") != claim.rule.value for d in before):
        return False
    words = case.words
    cues = [i for i in range(last.end + 1, q.start) if words[i - 1] == "," and cue_at(words, i)]
    return any(words[i] not in DENIES or words[i + 1] == "," for i in cues)  # '..., no driving for six weeks'


def _measured_again(case: Case, claim: Claim) -> bool:
    """'I measured it at twelve, the chief measured again and found fifteen'; 'On repeat measurement it was nine'."""
    return bool(case.within("measured-again", claim.slot.sentence.start, claim.slot.quantity.number_start))


def _explained(case: Case, claim: Claim) -> bool:
    """'Sorry, that was with the ruler tilted. The width was ten': the sentence before says why the first was wrong.

    It opens with a word of correction and holds no number; a weak one ('no') is set off by a comma. Or it says in so
    many words that something was wrong, or the sentence of the number that it was measured once more.
    """
    number = claim.slot.sentence.number
    start = claim.slot.quantity.start
    opens = max(claim.slot.sentence.start, start - LEAD)
    again = looked_again(case.words, opens, start)
    if again == "concluded":
        last = next((n for n in case.numbers_before(start)), None)
        again = looked_again(case.words, max(opens, last.end if last else opens), start)
    if again and not (again == "changed" and any("<moment>" in field for field in claim.rule.fields)):
        return True  # motion that went up to more is two facts, before and after
    if not number:
        return False
    before = case.note.segments.sentences[number - 1]
    if said_wrong(case.words, max(before.start, before.end - LEAD), before.end) and not case.numbers(
        before.start, before.end
    ):
        return True
    found = cue_at(case.words, before.start)
    if found is None or case.numbers(before.start, before.end):
        return False
    return found[0] != "weak" or case.words[found[1] : found[1] + 1] == [","]


def _taken_back(old: FactDraft, new: FactDraft) -> bool:
    name = NAMES.get(new.kind)
    if name is None or old.kind != new.kind or old.fields[name] != new.fields[name]:
        return False
    if any(None not in (pair := (old.fields.get(k), new.fields.get(k))) and pair[0] != pair[1] for k in APART):
        return False
    return any(old.fields.get(k) != new.fields.get(k) for k in VALUES)


def _with_earlier(new: FactDraft, old: Sequence[FactDraft]) -> FactDraft:
    if not old:
        return new
    if new.kind != "measurements":
        return replace(new, spans=(*new.spans, *(span for d in old for span in d.spans[:1])))
    earlier = [v for d in old for v in (*_earlier(d), *(d.fields.get(k) for k in VALUES)) if v is not None]
    fields = {**new.fields, "earlier_values": list(dict.fromkeys((*earlier, *_earlier(new))))}
    told = dict.fromkeys((*new.spans, *(span for d in old for span in d.spans)))
    return replace(new, fields=fields, spans=tuple(told))


def _earlier(draft: FactDraft) -> list[object]:
    found = draft.fields.get("earlier_values")
    return list(found) if isinstance(found, list) else []
