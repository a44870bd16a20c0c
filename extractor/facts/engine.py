"""From the annotated note to drafts of all facts. The order here is the order of dependence."""

from __future__ import annotations

from extractor.facts.account import closed
from extractor.facts.allowance import exact_drafts
from extractor.facts.appositions import with_appositions
from extractor.facts.carried_over import in_graft_too
from extractor.facts.case import Case
from extractor.facts.derived import told_steps
from extractor.facts.devices import device_drafts
from extractor.facts.doubts import doubtful_numbers
from extractor.facts.findings import read_findings
from extractor.facts.first_look import without_first_looks
from extractor.facts.forms import shared_looks
from extractor.facts.graded_list import with_listed_grades
from extractor.facts.looks import find_looks, without_taken_back
from extractor.facts.measures import measured
from extractor.facts.measuring import claim_quantities
from extractor.facts.one_root import at_both_roots, in_one_root
from extractor.facts.others_sizes import left_aside
from extractor.facts.pairing import pair_up
from extractor.facts.places import find_places
from extractor.facts.planning import plan_drafts
from extractor.facts.positions import find_positions
from extractor.facts.procedure_conflicts import with_conflicts
from extractor.facts.procedures import procedure_drafts
from extractor.facts.quadrants import claim_drafts, landmark_doubts, order_doubts, quadrant_drafts
from extractor.facts.reading import Reading
from extractor.facts.report import element_drafts, graft_drafts
from extractor.facts.ruleset import common_ruleset_of, ruleset_of
from extractor.facts.same_size import same_sizes
from extractor.facts.scope import kept, scope_of
from extractor.facts.sides import other_knee, side_drafts
from extractor.facts.stepping import read_steps
from extractor.facts.stitches import stitch_drafts
from extractor.facts.telling import in_order
from extractor.facts.ties import find_ties
from extractor.facts.titled import titled
from extractor.facts.unread_sutures import unread_sutures
from extractor.language.annotate import Note


def _case(note: Note) -> Case:
    case = Case(note)
    elsewhere, parts = other_knee(case)
    return Case(note, elsewhere, parts) if elsewhere or parts else case


def read_facts(note: Note) -> Reading:
    """Read all facts of a note. A note that is about nothing the packs know has none."""
    case, grammar = _case(note), note.grammar
    scope = scope_of(case)
    if not scope.about:
        return Reading(case, scope)
    rules = ruleset_of(grammar) if scope.packs else common_ruleset_of(grammar)
    devices, taken = device_drafts(case) if scope.packs else ([], frozenset())
    claims, unread = claim_quantities(case, rules.numbers, taken)
    numbers = measured(case, claims, unread)
    told, asked = left_aside(case, numbers.drafts) if scope.operation else (list(numbers.drafts), [])
    sizes = [*told, *same_sizes(case, told), *exact_drafts(case)]
    looks = shared_looks(case, with_appositions(case, without_taken_back(case, find_looks(case))))
    places = find_places(case, looks)
    positions = find_positions(case, looks, places)
    laid = pair_up(case, positions, looks)
    ties, tied = find_ties(case, positions, looks, laid, places)
    laid = [item for item in laid if item.position.start not in tied]
    quadrants = at_both_roots(case, quadrant_drafts(case, laid))
    busy = frozenset(case.sentence(item.position.start).number for item in laid if item.look)
    stitches = at_both_roots(case, titled(case, in_one_root(stitch_drafts(case, looks, busy)))) if scope.packs else []
    stitches, doubts = doubtful_numbers(case, stitches)
    devices, more = doubtful_numbers(case, devices)
    steps = read_steps(case, rules.by_kind["step"])
    quadrants += in_graft_too(case, [*quadrants, *stitches], steps)
    findings = without_first_looks(case, with_listed_grades(case, read_findings(case, rules.by_kind["finding"])))
    facts = [*side_drafts(case), *sizes, *quadrants, *stitches, *ties, *findings, *devices]
    steps = in_order(case, [*steps, *told_steps(rules.told_steps, facts, steps, case.keys)])
    facts += steps
    procedures = procedure_drafts(case, rules.by_kind["procedure"], rules.told_procedures, facts)
    facts += element_drafts(case, rules.by_kind["element"])
    facts += with_conflicts(case, procedures, facts)
    facts += plan_drafts(case, rules.by_kind["plan"])
    facts += [*graft_drafts(case), *claim_drafts(case, laid)]
    flags = [*numbers.flags, *asked, *doubts, *more, *landmark_doubts(case, laid), *order_doubts(case, laid)]
    flags += unread_sutures(case, looks, places, facts) if scope.packs else []
    flags = flags if scope.operation else []
    facts = kept(case, scope, facts)
    return closed(Reading(case, scope, tuple(facts), tuple(flags), tuple(claims), taken, numbers.theirs))
