"""What a report has to say, and what tissue has to carry."""

from __future__ import annotations

from collections.abc import Iterator

from extractor.checks.case import Case, Doubt
from extractor.checks.words import listed
from extractor.grammar.limits import RequiredElement
from extractor.record.facts import Element, Graft
from extractor.record.vocabulary import ELEMENTS


def element_missing(case: Case) -> Iterator[Doubt]:
    """The note is a report, and a required element is not said. One doubt a severity."""
    elements = case.record.elements
    said = {name: e for name in ELEMENTS if (e := getattr(elements, name)) is not None and case.live([e])}
    least = case.limits.constants.get("elements-of-a-report")
    measured = [e for e in case.limits.elements.values() if _is_measured(case, e) and not set(e.said_by) & set(said)]
    if least is None or len(said) + len(measured) < least.value:
        return
    missing = [e for e in case.limits.elements.values() if not _is_said(case, e, said)]
    needed = [e for e in missing if not e.optional]
    optional = [e for e in missing if e.optional]
    if needed:
        yield Doubt(
            f"The note is a report ({len(said) + len(measured)} elements said) and does not say {_names(needed)}.",
            suggestion="Add what was left out.",
        )
    if optional:
        yield Doubt(f"The report does not say {_names(optional)}; it need not, where there was none.", severity="note")


def graft_identifier_missing(case: Case) -> Iterator[Doubt]:
    """An allograft without its tissue identifier."""
    grafts = case.live(case.record.grafts)
    allografts = [g for g in grafts if g.source == "allograft"]
    bare = [g for g in allografts if not g.identifier and not _named_elsewhere(g, grafts)]
    if bare:
        yield Doubt(
            "An allograft is used and its tissue identifier is not said.",
            tuple(bare),
            suggestion="Add the identifier from the graft's label.",
        )
        return
    needing = {e.procedure for e in case.limits.expected.values() if e.identifier}
    procedures = [p for p in case.procedures() if p.code in needing]
    if procedures and not any(g.identifier for g in grafts):
        yield Doubt(
            f"{listed(dict.fromkeys(p.code.replace('-', ' ') for p in procedures)).capitalize()} uses donor tissue, "
            "and no tissue identifier is said.",
            tuple(procedures),
            suggestion="Add the identifier from the graft's label.",
        )


def _is_said(case: Case, element: RequiredElement, said: dict[str, Element]) -> bool:
    return _is_measured(case, element) or any(name in said for name in element.said_by)


def _is_measured(case: Case, element: RequiredElement) -> bool:
    return element.measured is not None and bool(case.measurements(element.measured))


def _names(elements: list[RequiredElement]) -> str:
    return listed(e.name.partition(".")[2].replace("-", " ") for e in elements)


def _named_elsewhere(graft: Graft, grafts: list[Graft]) -> bool:
    """Tell whether another entry, of the same tissue or of none said, carries the identifier."""
    return any(g.identifier and (g.tissue is None or graft.tissue is None or g.tissue == graft.tissue) for g in grafts)
