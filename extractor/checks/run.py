"""All checks, and running them. None raises, none edits a fact; each is one plain function."""

from __future__ import annotations

from collections.abc import Iterable, Mapping
from pathlib import Path

from extractor.checks.case import Case, Check, CheckConfig, Doubt, Schedule
from extractor.checks.fit import mismatch
from extractor.checks.report import element_missing, graft_identifier_missing
from extractor.checks.sides import compartment_conflict, side_conflict, side_missing
from extractor.checks.steps import step_missing, step_order
from extractor.checks.sutures import suture_color_conflict, suture_count_mismatch, suture_unpaired, tie_mismatch
from extractor.checks.values import (
    tourniquet_long,
    unit_missing,
    unit_suspect,
    value_conflict,
    value_implausible,
    value_unusual,
)
from extractor.grammar.limits import Limits, load_limits
from extractor.record.facts import Evidence
from extractor.record.files import read_record
from extractor.record.models import CaseRecord, Flag

PRACTICE = "common practice, no source"
PACKS = "the packs' limits, each with its source"

CHECKS: tuple[Check, ...] = (
    Check(
        "side-missing", "stop", "A case without a side cannot be trusted with anything else.",
        "Joint Commission Universal Protocol, from memory, not seen", side_missing,
    ),
    Check(
        "side-conflict", "stop", "Left for right is the gravest error a note can hold.",
        "laterality errors in reports: Luetmer 2013, 0.055% of reports corrected after the fact, abstract read",
        side_conflict,
    ),
    Check(
        "compartment-conflict", "stop", "Medial and lateral are as easily confused as left and right.",
        PRACTICE, compartment_conflict,
    ),
    Check(
        "value-implausible", "stop", "A number that cannot be was misheard or misspoken.", PACKS, value_implausible,
    ),
    Check("unit-suspect", "stop", "Centimeters said for millimeters make a value ten times too large.", PACKS,
          unit_suspect),
    Check("value-conflict", "stop", "Of two numbers for one thing one is wrong.", PRACTICE, value_conflict),
    Check(
        "graft-length-mismatch", "stop", "The graft is cut to the defect, less an allowance.",
        PRACTICE, mismatch("graft-length-mismatch"),
    ),
    Check("graft-width-mismatch", "stop", "The graft is as wide as the defect.", PRACTICE,
          mismatch("graft-width-mismatch")),
    Check(
        "root-distance-mismatch", "stop", "The cut starts as far from the graft's root as the defect from the joint's.",
        PRACTICE, mismatch("root-distance-mismatch"),
    ),
    Check("suture-color-conflict", "stop", "Sutures are told apart by their look.", PRACTICE, suture_color_conflict),
    Check("tie-mismatch", "stop", "A tie across twists the graft, a suture left out holds nothing.", PRACTICE,
          tie_mismatch),
    Check("unit-missing", "review", "A number without unit can be read two ways.", PACKS, unit_missing),
    Check("suture-unpaired", "review", "A shuttle suture pulls in its partner of the graft.", PRACTICE,
          suture_unpaired),
    Check("suture-count-mismatch", "review", "A number announced and not reached means something was not heard.",
          PRACTICE, suture_count_mismatch),
    Check("step-order", "review", "A step cannot come before what it needs.", PRACTICE, step_order),
    Check(
        "element-missing", "review", "A report without its required elements is incomplete.",
        "Joint Commission RC.02.01.03 and FAQ 000002043, abstract read; C-CDA operative note, source read",
        element_missing,
    ),
    Check(
        "graft-identifier-missing", "review", "Donor tissue must be traced from donor to recipient.",
        "21 CFR 1271.290(b),(c), rule text read", graft_identifier_missing,
    ),
    Check(
        "tourniquet-long", "review", "Two hours of tourniquet are to be known and justified.",
        "AST guideline on pneumatic tourniquets, rev. 2018, p. 19, text read", tourniquet_long,
    ),
    Check("value-unusual", "note", "A rare value is worth a second look.", PACKS, value_unusual),
    Check("step-missing", "note", "What most notes tell may have been forgotten.", PRACTICE, step_missing),
)  # fmt: skip
"""In the order of their severity, and of harm within it."""

RANK = {"stop": 0, "review": 1, "note": 2}


def run_checks(
    record: CaseRecord,
    limits: Limits,
    *,
    schedule: Schedule | None = None,
    config: CheckConfig | None = None,
    heard: Mapping[str, float] | None = None,
) -> CaseRecord:
    """Give a copy of the record with its flags set anew, the gravest first; nothing else is changed.

    Flags from reading and from a second reading stay; those of earlier checks go. A flag's id is
    made of its check and its facts, so the same doubt has the same id after any run.
    `heard` tells how surely numbers were heard, by the id of their fact: of two that do not fit,
    the one heard less surely is proposed to be changed first.
    """
    case = Case(record, limits, schedule or Schedule(), config or CheckConfig(), heard or {})
    kept = [flag for flag in record.flags if flag.origin != "check"]
    flags = list(kept)
    ids = {flag.id for flag in kept}
    for check in CHECKS:
        if check.code in case.config.off:
            continue
        for doubt in check.run(case):
            facts = tuple(dict.fromkeys(fact.id for fact in doubt.facts))
            if facts and any(flag.check == check.code and set(facts) <= set(flag.facts) for flag in kept):
                continue
            flag = _flag(check, doubt, facts, ids)
            ids.add(flag.id)
            flags.append(flag)
    order = {check.code: number for number, check in enumerate(CHECKS)}
    flags.sort(key=lambda f: (RANK[f.severity], order.get(f.check, len(order)), _place(f.evidence), f.id))
    return record.model_copy(update={"flags": tuple(flags)})


def check_file(path: Path, limits: Limits | None = None, *, schedule: Schedule | None = None) -> CaseRecord:
    """Read a record and check it, with the shipped packs' limits where none are given.

    Raises:
        InputError: where the file holds no record.
        GrammarError: where a pack holds a mistake.
    """
    return run_checks(read_record(path), limits or load_limits(), schedule=schedule)


def _flag(check: Check, doubt: Doubt, facts: tuple[str, ...], taken: set[str]) -> Flag:
    evidence = [e for fact in doubt.facts for e in fact.evidence] + list(doubt.evidence)
    name = ":".join([check.code, *([",".join(facts)] if facts else [])])
    identity = next(i for n in range(1, len(taken) + 2) if (i := name if n == 1 else f"{name}#{n}") not in taken)
    return Flag(
        id=identity,
        check=check.code,
        severity=doubt.severity or check.severity,
        message=doubt.message,
        facts=facts,
        evidence=tuple(dict.fromkeys(evidence)),
        suggestion=doubt.suggestion,
        origin="check",
    )


def _place(evidence: Iterable[Evidence]) -> int:
    return min((e.start for e in evidence), default=-1)
