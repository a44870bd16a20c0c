"""One fact in one line of words."""

from __future__ import annotations

from extractor.checks.words import number
from extractor.outputs.wording import plain
from extractor.record.facts import Device, Finding, Graft, Step


def step_words(step: Step) -> str:
    """A step: 'graft cut (oblique)'."""
    asides = [plain(part) for part in (step.site, step.detail) if part]
    parts = [plain(step.code), f"({', '.join(asides)})" if asides else "", f"x{step.count}" if step.count else ""]
    return " ".join(part for part in parts if part)


def finding_words(fact: Finding) -> str:
    """A finding: 'lateral meniscus: radial tear, body'."""
    what = " ".join(plain(p) for p in (fact.pattern if fact.pattern != fact.finding else None, fact.finding) if p)
    parts = [f"no {what}" if fact.status == "absent" else what]
    parts += [plain(fact.region)] if fact.region else []
    if fact.grade:
        parts.append(" ".join(p for p in (_system(fact.grade.system), "grade", fact.grade.value) if p))
    place = f"{plain(fact.structure)}: " if fact.structure else ""
    return place + ", ".join(parts)


def _system(name: str | None) -> str:
    words = plain(name) if name else ""
    return words[:1].upper() + words[1:]


def device_words(device: Device) -> str:
    """A device: '2 x anchor 4.5 mm (femoral)'."""
    sizes = " by ".join(number(s) for s in (device.size, device.length) if s is not None)
    parts = [
        f"{device.count} x" if device.count else "",
        plain(device.kind),
        f"{sizes} {device.unit or ''}".strip() if sizes else "",
        f"({plain(device.site)})" if device.site else "",
        f"identifier {device.identifier}" if device.identifier else "",
    ]
    return " ".join(part for part in parts if part)


def graft_words(graft: Graft) -> str:
    """A graft with what traces it: 'left meniscus allograft, identifier A6107'."""
    parts = [" ".join(plain(p) for p in (graft.side, graft.tissue, graft.source) if p) or "graft"]
    parts += [f"identifier {graft.identifier}" if graft.identifier else "no identifier said"]
    parts += [f"expires {graft.expiry}"] if graft.expiry else []
    return ", ".join(parts)
