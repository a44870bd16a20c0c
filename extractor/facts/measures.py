"""Claims to drafts: values, roles, units, and the same value said again made one fact."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass, replace

from extractor.facts.across import sited_across
from extractor.facts.case import Case
from extractor.facts.draft import FactDraft, FlagDraft
from extractor.facts.each_of import sites_of_each
from extractor.facts.first_thoughts import said_first
from extractor.facts.measuring import Claim, Unread
from extractor.facts.moments import moment_beside
from extractor.facts.others_sizes import is_anothers
from extractor.facts.planning import is_condition, plan_values
from extractor.facts.renewed import in_steps, renew
from extractor.facts.scanned import read_off_scan
from extractor.facts.settled import MEANT, SCANNED, settled
from extractor.facts.slot_cuts import ATTRIBUTE
from extractor.facts.stepping import resolve_fields
from extractor.facts.theirs import of_another, said_by_bystander
from extractor.facts.told_apart import told_apart
from extractor.facts.told_sizes import denied_thing, disproved, never_made, of_unreal_thing, promised
from extractor.language.clause_words import DETERMINERS
from extractor.language.concepts import Concept
from extractor.language.figures import in_figures
from extractor.language.numbers import atom_at, spelled
from extractor.language.quantities import Quantity
from extractor.language.units import Unit, canonical, convert, unit_words

CANONICAL = {
    "length": "mm", "angle": "deg", "time": "min", "volume": "mL", "pressure": "mm[Hg]", "force": "N", "area": "mm2",
    "share": "%", "plan_time": "wk",
}  # fmt: skip
UNDERSTOOD = frozenset({"pressure", "volume", "angle", "time"})
"""Dimensions in which surgeons use one unit only, so that none need be said; a length may be in cm."""
FAR_APART = 2
"""Two numbers further apart than this are no range: 'thirteen or thirty'. This project's choice, no source."""
LISTED = 4
"""So many sizes before one are looked at for the unit of their list."""
PROVED = frozenset({"was", "is", "looked", "seemed", "felt", "proved", "were"})
ASIDE = 10
"""Tokens of a sentence that only comments on the number before: 'Please check the sheet.'"""
ROLE_RANK = {"made": 3, "target": 2, "observed": 1, None: 0, "reference": -1}
LENGTH_WORDS = frozenset({"millimeters", "millimeter", "millimetres", "millimetre", "mm", "mms"})


@dataclass(frozen=True)
class Measured:
    """Drafts and doubts from the quantity rules, and which of the numbers that none reads are another's."""

    drafts: tuple[FactDraft, ...]
    flags: tuple[FlagDraft, ...]
    theirs: frozenset[int]


def measured(case: Case, claims: Sequence[Claim], unread: Sequence[Unread]) -> Measured:
    """All facts that carry a quantity."""
    drafts: list[FactDraft] = []
    flags: list[FlagDraft] = []
    for i, claim in enumerate(claims):
        new = _drafts(case, claim, _unit_listed(case, claims, i))
        drafts = renew(case, claim, drafts, new)
        flags += _doubts(case, claim, new)
    asked = [(u, f) for u, f in ((u, _unread(case, u)) for u in unread) if f]
    theirs = frozenset(u.slot.number for u, _ in asked if is_anothers(case, u.slot.quantity))
    flags += [f for u, f in asked if u.slot.number not in theirs]
    told = told_apart(case, sited_across(case, _merged(settled(drafts))))
    return Measured(tuple(told), tuple(flags), theirs)


def _is_meant(case: Case, claim: Claim, mood: str) -> bool:
    """Whether a number is told as so, and not denied or only thought of. The account of numbers asks about the rest."""
    q = claim.slot.quantity
    if mood == "conditional" and (claim.rule.kind != "plan" or is_condition(case, q.number_start)):
        return False
    lead = case.words[q.start - 2 : q.start]  # 'the tear is not fifteen millimeters', 'not the hundred on the form'
    denied = (lead[-1:] == ["not"] or (lead[:1] == ["not"] and lead[1] in DETERMINERS)) and not q.earlier
    denied = denied or denied_thing(case, q) or never_made(case, claim)
    return mood not in {"considered", "withdrawn"} and not denied


def _drafts(case: Case, claim: Claim, listed: Unit | None = None) -> list[FactDraft]:
    rule, q = claim.rule, claim.slot.quantity
    mood = _mood(case, q)
    if rule.kind == "known" or not _is_meant(case, claim, mood) or only_tried(case, q):
        return []
    q, unit = _with_unit(case, claim, listed)
    anchor = Concept("", "", q.number_start, q.end)
    fields: dict[str, object] = dict(
        resolve_fields(case, rule, claim.slot.clause, anchor, claim.thing.concept if claim.thing else None)
    )
    fields |= _role(case, claim, mood, fields.get("role"))
    if "when" in fields and (when := moment_beside(case, q)):
        fields["when"] = when
    spans = case.spans([*claim.pieces, *([q.put_right] if q.put_right else [])], rule.name)
    certainty = 0.95 if claim.thing is None or claim.thing.closeness >= 2 else 0.85
    if rule.kind == "range":
        low, high = rule.value.split()
        if q.low is None or q.high is None:
            return []
        return [
            FactDraft("measurements", {**fields, "what": what, "value": value, "unit": unit}, spans, certainty)
            for what, value in ((low, q.low), (high, q.high))
        ]
    values = {"value": q.value, "low": q.low, "high": q.high, "unit": unit}
    if q.value is None and q.low is None and (rule.reached or _drilled_up_to(case, fields, q)):
        values |= {"value": q.high, "high": None}
    elif q.value is None and q.high is not None and fields.get("role") == "made" and in_steps(case, q):
        values = {"value": q.high, "unit": unit}
    elif rule.reached and rule.kind == "plan" and q.value is None and q.high is None:
        values |= {"value": q.low, "low": None}  # 'not to bend it more than ninety degrees'
    if rule.kind == "plan":
        values = plan_values(rule, values, fields)
        kept = {k: v for k, v in values.items() if v is not None}
        return (
            [FactDraft("plan", {"item": rule.value, **kept}, spans, certainty)]
            if mood not in {"history", "habit"}
            else []
        )
    if rule.kind == "claim" and mood in {"history", "habit"}:
        return []  # 'the one before took nine stitches'
    if rule.kind == "claim":
        return [FactDraft("claims", {"what": rule.value, "count": int(q.value or 0), **fields}, spans, certainty)]
    extra: dict[str, object] = {
        "approximate": q.approximate,
        "earlier_values": list(dict.fromkeys((*q.earlier, *q.counted))),
    }
    said = [values, *({**values, "value": rival} for rival in _said_otherwise(case, q))]
    sited: list[dict[str, object]] = [{"site": site} for site in sites_of_each(case, claim)] or [{}]
    told = [{**fields, "what": rule.value, **one, **extra, **site} for site in sited for one in said]
    return [FactDraft("measurements", one, spans, certainty) for one in told]


def _mood(case: Case, q: Quantity) -> str:
    """How a value is told; one put right is told as what it puts right: 'three, correction, the paper says two'."""
    mood = case.assertion(said_at(q)).mood
    if q.put_right:
        return mood  # 'I 'd have said fifty, | but the sheet says sixty-one, so sixty-one'
    first = case.assertion(q.start).mood
    return first if q.earlier and mood in {"history", "habit", "conditional"} else mood


def said_at(q: Quantity) -> int:
    """The token of the value that holds: of one put right later, where the right one was said."""
    return q.put_right[0] if q.put_right else q.number_start


def only_tried(case: Case, q: Quantity) -> bool:
    """'First depth 8, not enough, deeper to 10', 'ten was too much': a size that was tried and not kept."""
    if q.dimension is None and case.words[q.end + 1 : q.end + 2] == ["too"] and case.words[q.end] in PROVED:
        return True
    tried = case.within("first-try", case.clause(q.number_start).start, q.number_start)
    return bool(tried) and bool(case.within("not-enough", q.end, case.sentence(q.number_start).end))


def _drilled_up_to(case: Case, fields: dict[str, object], q: Quantity) -> bool:
    """'A socket made up to thirty millimeters': of a length that was made the end is what was reached."""
    return fields.get("role") == "made" and q.dimension == "length" and "up" in case.words[q.start : q.number_start]


def _role(case: Case, claim: Claim, mood: str, told: object) -> dict[str, object]:
    """The role that a number's surroundings give it, where they do: another's, meant to be made, or off a scan."""
    if of_another(case, said_at(claim.slot.quantity)) or of_unreal_thing(case, claim):
        return {"role": "reference"}
    if told in (None, "observed", "made") and (first := said_first(case, claim.slot.quantity)):
        return {"role": first}
    if told in (None, "observed") and disproved(case, claim.slot.quantity):
        return {"role": "reference"}
    if mood == "planned" and told in (None, "made"):
        return {"role": MEANT}  # meant to be made, and not yet made
    hearsay = read_off_scan(case, claim.slot.quantity) or said_by_bystander(case, claim.slot.quantity)
    if told in (None, "observed", "made") and hearsay:
        return {"role": SCANNED}  # 'the scan spoke of a tunnel of twelve millimeters': of another time, or only seen
    if told in (None, "observed", "made") and promised(case, claim):
        return {"role": "reference"}
    return {}


def _said_otherwise(case: Case, q: Quantity) -> tuple[float, ...]:
    """The value of the second saying of 'fifteen, five zero', which is kept beside the first."""
    if q.said_twice or "," in case.words[q.start : q.end]:
        return q.rivals
    atoms = (atom_at(case.words, i) for i in range(q.number_start + 1, q.end))
    digits = "".join(a.digit for a in atoms if a)
    return tuple(r for r in q.rivals if len(digits) > 1 and digits == spelled(r))


def _unit_listed(case: Case, claims: Sequence[Claim], at: int) -> Unit | None:
    """The unit of a list told in sentences: 'Length of the defect two centimeters. Width zero point nine'.

    Each tells a size of the same object, and none is larger than the one said with its unit: nine would be millimeters.
    """
    claim = claims[at]
    q, after = claim.slot.quantity, claim.slot.sentence.number
    if q.unit is not None or q.value is None or claim.rule.takes != "length":
        return None
    for other in reversed(claims[max(0, at - LISTED) : at]):
        same = other.rule.value.split(".")[0] == claim.rule.value.split(".")[0]
        if not same or after - other.slot.sentence.number > 1:
            return None
        after = other.slot.sentence.number
        o = other.slot.quantity
        if o.said_unit and o.unit and o.value is not None:
            unit = next((u for u in unit_words().units.values() if u.code == o.said_unit), None)
            fits = unit is not None and convert(q.value, unit, canonical(unit)) <= o.value
            return unit if fits else None
    return None


def _with_unit(case: Case, claim: Claim, listed: Unit | None) -> tuple[Quantity, str | None]:
    """The quantity in canonical units; for a bare one holds the unit said after its list, or before it in the sentence.

    'All in centimeters'; 'two centimeters from front to back and one and a half across'.
    """
    q = claim.slot.quantity
    if q.unit is None:
        said = _unit_after(case, q.end, claim.slot.sentence.end)
        if said is None or said.dimension != claim.rule.takes:
            named = claim.thing.concept.start if claim.thing else 0  # a unit said before it was another thing's
            floor = max(claim.slot.sentence.start, named if named < q.start else 0)
            said = _unit_before(case, claim, floor) or listed
        if said:
            into = canonical(said)
            value, low, high = (v if v is None else convert(v, said, into) for v in (q.value, q.low, q.high))
            return replace(q, value=value, low=low, high=high), into.code
    rule = claim.rule
    sure = rule.bare_within or rule.kind in {"range", "plan"} or rule.takes == "angle"
    if q.unit is None and sure and rule.takes in UNDERSTOOD:
        return q, CANONICAL[str(rule.takes)]
    return q, _unit(case, q, claim.rule.takes or "")


def _unit_before(case: Case, claim: Claim, floor: int) -> Unit | None:
    """The unit as it was said for the last number of this dimension, no earlier than the token `floor`.

    None where that number stands before a noun of its own: 'a two centimeter cut, the graft nine and a half'.
    """
    mine = claim.thing.concept.key if claim.thing else ""
    singular = case.grammar.plain_words("singular-unit")
    for other in case.numbers_before(claim.slot.quantity.start):
        if other.start < floor:
            return None
        if other.dimension == claim.rule.takes:
            own = case.within("thing", other.end, other.end + ATTRIBUTE)
            named = case.words[other.end - 1] in singular and case.words[other.end][:1].isalpha()
            if named and all(c.key != mine for c in own):
                return None
            return next((u for u in unit_words().units.values() if u.code == other.said_unit), None)
    return None


def _unit_after(case: Case, start: int, end: int) -> Unit | None:
    words = case.words
    for i in range(start, end - 1):
        found = unit_words().at(words, i + 1, False) if words[i] == "in" else None
        if found and words[found[1] : found[1] + 1] in (["."], [], ["\n"], [","]):
            return found[0]
    return None


def _unit(case: Case, q: Quantity, dimension: str) -> str | None:
    """The unit said; for a bare number the one said for others of its kind in this note, else none."""
    if q.unit:
        return q.unit
    code = CANONICAL.get(dimension)
    if code in case.units:
        return code
    if code == "mm" and not LENGTH_WORDS.isdisjoint(case.lengths_named):
        return code
    return None


def _doubts(case: Case, claim: Claim, drafts: Sequence[FactDraft]) -> list[FlagDraft]:
    q = claim.slot.quantity
    if drafts and claim.rule.kind == "plan" and drafts[0].fields.get("unit") is None:
        return [_unit_unsaid(case, claim, drafts)]
    said = case.note.tokens.said(q.start, q.end)
    spans = case.spans([(q.start, q.end)], claim.rule.name)
    if drafts and _either(case, q):
        message = f"'{said}' is one number or the other; which one is meant?"
        return [FlagDraft("number-uncertain", message, spans, tuple(d.key for d in drafts if d.key))]
    if not q.rivals or not drafts:
        return []
    rivals = " or ".join(f"{r:g}" for r in q.rivals)
    return [
        FlagDraft(
            "number-uncertain",
            f"'{said}' says two numbers: {q.value:g} or {rivals}; which one is meant?",
            spans,
            tuple(d.key for d in drafts if d.key),
        )
    ]


def _either(case: Case, q: Quantity) -> bool:
    """'Fifteen or fifty', 'either six or seven, I could not hear': one of two numbers, and no range between them."""
    if q.low is None or q.high is None or "or" not in case.words[q.start : q.end]:
        return False
    sentence = case.sentence(q.start)
    following = case.note.segments.sentences[sentence.number + 1 : sentence.number + 2]
    end = following[0].end if following and following[0].end - following[0].start <= ASIDE else sentence.end
    return q.high > FAR_APART * q.low > 0 or bool(case.within("unsure", sentence.start, end))


def _unit_unsaid(case: Case, claim: Claim, drafts: Sequence[FactDraft]) -> FlagDraft:
    q = claim.slot.quantity
    message = f"'{case.note.tokens.said(q.start, q.end)}' was said with no unit."
    spans = case.spans([(q.start, q.end)], claim.rule.name)
    return FlagDraft("unit-missing", message, spans, tuple(d.key for d in drafts if d.key))


def _unread(case: Case, unread: Unread) -> FlagDraft | None:
    q = unread.slot.quantity
    if only_tried(case, q):
        return None
    if case.assertion(q.number_start).mood in {"habit", "history", "considered", "conditional", "withdrawn"}:
        return None
    return unread_flag(case, q, unread.rivals)


def unread_flag(case: Case, q: Quantity, rivals: Sequence[Claim] = ()) -> FlagDraft:
    """Ask about a number that no rule reads, or that several `rivals` read in different ways."""
    said = case.note.tokens.said(q.start, q.end)
    spans = case.spans([(q.start, q.end)], "no rule")
    if rivals:
        ways = " or ".join(sorted({f"{c.rule.value} ({c.rule.name})" for c in rivals}))
        return FlagDraft("unread-number", f"'{said}' ({in_figures(q)}) can be read two ways: {ways}.", spans)
    sentence = case.sentence(q.number_start)
    around = case.note.tokens.said(max(sentence.start, q.start - 6), min(sentence.end, q.end + 6)).strip()
    comes_to = in_figures(q)
    value = f" ({comes_to})" if comes_to and comes_to != said else ""
    return FlagDraft("unread-number", f"'{said}'{value} in '{around}' was said, and no rule reads it.", spans)


def _merged(drafts: list[FactDraft]) -> list[FactDraft]:
    """The same value of the same thing is one fact with more evidence, in its furthest role."""
    out: dict[tuple[object, ...], FactDraft] = {}
    for d in drafts:
        f = d.fields
        if d.kind == "measurements":
            key: tuple[object, ...] = (
                d.kind,
                f["what"],
                f.get("site"),
                f.get("when"),
                f.get("value"),
                f.get("low"),
                f.get("high"),
                f.get("purpose"),
                f.get("which"),
                f.get("role") == "reference",
            )
        else:
            key = (
                d.kind,
                *sorted((k, str(v)) for k, v in f.items() if k != "value" or d.kind != "plan"),
                f.get("value"),
            )
        old = out.get(key)
        out[key] = _joined(old, d) if old else d
    return _sited(list(out.values()))


def _joined(old: FactDraft, new: FactDraft) -> FactDraft:
    fields = {**new.fields, **{k: v for k, v in old.fields.items() if v is not None}}
    roles = (old.fields.get("role"), new.fields.get("role"))
    if any(roles):
        fields["role"] = max(roles, key=lambda r: ROLE_RANK.get(r, 0))  # type: ignore[call-overload]
    if old.kind == "measurements":
        earlier = [*old.fields.get("earlier_values", []), *new.fields.get("earlier_values", [])]  # type: ignore[misc]
        fields["earlier_values"] = list(dict.fromkeys(earlier))
        fields["approximate"] = bool(old.fields.get("approximate")) and bool(new.fields.get("approximate"))
    return FactDraft(old.kind, fields, (*old.spans, *new.spans), max(old.certainty, new.certainty))


def _sited(drafts: list[FactDraft]) -> list[FactDraft]:
    """A value said again without its site is the one said with it."""
    sited: dict[tuple[object, ...], FactDraft] = {}
    for d in drafts:
        if d.kind == "measurements" and d.fields.get("site"):
            sited.setdefault(_value(d), d)
    more = {_value(d): d.spans for d in drafts if _is_bare(d) and _value(d) in sited}
    out = []
    for d in drafts:
        if _is_bare(d) and _value(d) in sited:
            continue
        again = more.get(_value(d), ()) if sited.get(_value(d)) is d else ()
        out.append(replace(d, spans=(*d.spans, *again)) if again else d)
    return out


def _is_bare(d: FactDraft) -> bool:
    return d.kind == "measurements" and d.fields.get("site") is None


def _value(d: FactDraft) -> tuple[object, ...]:
    get = d.fields.get
    return get("what"), get("value"), get("low"), get("high"), get("role")
