"""Shuttle sutures: each native one has its partner in the graft, of its color, and each is tied once, in place."""

from __future__ import annotations

import itertools
from collections.abc import Iterator, Sequence
from dataclasses import dataclass

from extractor.checks.case import Case, Doubt
from extractor.checks.words import listed
from extractor.record.facts import Suture, Tie

STITCHES = ("inside_out", "outside_in", "all_inside")
"""Techniques of a stitch that holds by itself; what is placed so is no shuttle."""
TISSUES = ("native", "graft")
DEFAULTS = {"pattern": "solid", "form": "suture"}
"""What a color alone means beside the same color with a pattern or form ('blue' beside 'striped blue')."""


@dataclass(frozen=True)
class TieGraph:
    """The ties as a graph on positions (`region-surface`).

    Attributes:
        crossing: ties that join positions which differ in both region and surface.
        left_out: positions described that no tie names.
        unknown: positions tied at which no suture was described.
    """

    crossing: tuple[Tie, ...]
    left_out: tuple[str, ...]
    unknown: tuple[str, ...]


def position(suture: Suture) -> str:
    """Where a suture is, as in ties: `region-surface`, or the region alone where no surface was said."""
    return f"{suture.region}-{suture.surface}" if suture.surface else str(suture.region)


def shuttles(case: Case, tissue: str) -> list[Suture]:
    """Sutures of one tissue that were described one by one, at a region, and are to be tied to others."""
    return [
        s
        for s in case.live(case.record.sutures)
        if s.tissue == tissue
        and s.region
        and (s.region != "middle" or s.surface)
        and s.technique not in STITCHES
        and s.role in (None, "shuttle")
        and (s.count or 1) == 1
    ]


def pair_sutures(native: Sequence[Suture], graft: Sequence[Suture]) -> dict[str, tuple[list[Suture], list[Suture]]]:
    """Native and graft sutures of each position, positions in the order first told."""
    pairs: dict[str, tuple[list[Suture], list[Suture]]] = {}
    for index, sutures in enumerate((native, graft)):
        for suture in sutures:
            pairs.setdefault(position(suture), ([], []))[index].append(suture)
    return pairs


def tie_graph(ties: Sequence[Tie], described: Sequence[str]) -> TieGraph:
    """See which ties cross, and which positions they leave out or bring in. Only full positions count."""
    tied = dict.fromkeys(end for tie in ties for end in tie.between)
    full = [place for place in dict.fromkeys(described) if "-" in place]
    return TieGraph(
        crossing=tuple(tie for tie in ties if _crosses(*tie.between)),
        left_out=tuple(place for place in full if place not in tied) if ties else (),
        unknown=tuple(place for place in tied if place not in full) if len(full) > 1 else (),
    )


def suture_unpaired(case: Case) -> Iterator[Doubt]:
    """A native suture without its graft partner or the reverse, once both are described one by one."""
    native, graft = shuttles(case, "native"), shuttles(case, "graft")
    if not native or not graft:
        return
    pairs = pair_sutures(native, graft)
    for index, here, there in ((0, "native tissue", "graft"), (1, "graft", "native tissue")):
        alone = {place: both[index] for place, both in pairs.items() if both[index] and not both[1 - index]}
        if alone:
            yield Doubt(
                f"A suture is described in the {here} at {listed(map(_plain, alone))}, and none in the {there} there.",
                tuple(itertools.chain.from_iterable(alone.values())),
                suggestion=f"Add the suture of the {there}, or say that there is none.",
            )


def suture_color_conflict(case: Case) -> Iterator[Doubt]:
    """One look at two positions of one tissue, two looks at one, or native and graft differing at a position."""
    sets = {tissue: shuttles(case, tissue) for tissue in TISSUES}
    yield from _same_look_twice(sets)
    for tissue, sutures in sets.items():
        for place, here in _by_place(sutures).items():
            looks = dict.fromkeys(_shown(s) for s in here if s.color)
            if len(looks) > 1:
                yield Doubt(
                    f"At {_plain(place)} of the {_of(tissue)} two sutures are described: {listed(looks)}.", tuple(here)
                )
    for place, (native, graft) in pair_sutures(sets["native"], sets["graft"]).items():
        if len(native) == len(graft) == 1 and not _alike(native[0], graft[0], sets["native"], sets["graft"]):
            yield Doubt(
                f"At {_plain(place)} the native suture is {_shown(native[0])} and the graft's is {_shown(graft[0])}.",
                (native[0], graft[0]),
                suggestion="Partners are of one color; check which was meant.",
            )


def suture_count_mismatch(case: Case) -> Iterator[Doubt]:
    """A number of sutures was announced and another number is described."""
    for claim in case.live(case.record.claims):
        if claim.what != "sutures":
            continue
        sutures = [s for s in case.live(case.record.sutures) if claim.tissue is None or s.tissue == claim.tissue]
        if sutures and claim.count not in _ways_to_count(sutures):
            of = f" of the {_of(claim.tissue)}" if claim.tissue else ""
            described = sum(s.count or 1 for s in sutures)
            verb = "is" if described == 1 else "are"
            yield Doubt(
                f"{claim.count} sutures{of} are announced, and {described} {verb} described.",
                (claim, *sutures),
                suggestion="Add the one that was not heard, or correct the number.",
            )


def tie_mismatch(case: Case) -> Iterator[Doubt]:
    """Ties that cross, leave a described suture out, or name a place where none was described."""
    ties = case.live(case.record.ties)
    sutures = [*shuttles(case, "native"), *shuttles(case, "graft")]
    graph = tie_graph(ties, [position(s) for s in sutures])
    problems = [
        f"{_plain(tie.between[0])} is tied to {_plain(tie.between[1])}, across the graft" for tie in graph.crossing
    ]
    if graph.left_out:
        problems.append(f"no tie takes {listed(map(_plain, graph.left_out))}")
    if graph.unknown:
        problems.append(f"no suture is described at {listed(map(_plain, graph.unknown))}, which is tied")
    if problems:
        concerned = {*graph.left_out, *(end for tie in graph.crossing for end in tie.between)}
        yield Doubt(
            f"The ties do not match the sutures: {'; '.join(problems)}.",
            (*ties, *(s for s in sutures if position(s) in concerned)),
            suggestion="Superior is tied to inferior at each end; check what was tied to what.",
        )


def _crosses(a: str, b: str) -> bool:
    (a_region, _, a_surface), (b_region, _, b_surface) = a.rpartition("-"), b.rpartition("-")
    return a_region != b_region and a_surface != b_surface


def _by_place(sutures: Sequence[Suture]) -> dict[str, list[Suture]]:
    places: dict[str, list[Suture]] = {}
    for suture in sutures:
        places.setdefault(position(suture), []).append(suture)
    return places


def _look(suture: Suture) -> tuple[str | None, str | None, str | None]:
    return suture.color, suture.pattern or DEFAULTS["pattern"], suture.form or DEFAULTS["form"]


def _same_look_twice(sets: dict[str, list[Suture]]) -> Iterator[Doubt]:
    """One doubt a look, for both tissues together: the graft's colors follow the native ones."""
    twice: dict[tuple[str | None, ...], dict[str, list[Suture]]] = {}
    for tissue, sutures in sets.items():
        looks: dict[tuple[str | None, ...], list[Suture]] = {}
        for suture in sutures:
            if suture.color:
                looks.setdefault(_look(suture), []).append(suture)
        for look, same in looks.items():
            if len({position(s) for s in same}) > 1:
                twice.setdefault(look, {})[tissue] = same
    for by_tissue in twice.values():
        told = [
            f"at {listed(dict.fromkeys(_plain(position(s)) for s in same))} of the {_of(tissue)}"
            for tissue, same in by_tissue.items()
        ]
        concerned = tuple(itertools.chain.from_iterable(by_tissue.values()))
        yield Doubt(
            f"The same suture, {_shown(concerned[0])}, is described {listed(told)}.",
            concerned,
            suggestion="Two sutures of one look cannot be told apart; check the colors.",
        )


def _alike(a: Suture, b: Suture, natives: Sequence[Suture], grafts: Sequence[Suture]) -> bool:
    """Tell whether two partners may look the same; what one tissue never tells does not differ."""
    if a.color and b.color and a.color != b.color:
        return False
    for name, default in DEFAULTS.items():
        mine, theirs = getattr(a, name), getattr(b, name)
        mine = mine or (default if _tells(natives, name, a.color) else None)
        theirs = theirs or (default if _tells(grafts, name, b.color) else None)
        if mine and theirs and mine != theirs:
            return False
    return True


def _tells(sutures: Sequence[Suture], name: str, color: str | None) -> bool:
    return any(getattr(s, name) for s in sutures if s.color == color)


def _ways_to_count(sutures: Sequence[Suture]) -> set[int]:
    """Every number that the sutures described come to: all, the shuttles, each tissue's, each technique's."""
    sets: list[list[Suture]] = [list(sutures), [s for s in sutures if s.technique not in STITCHES]]
    for name in ("tissue", "technique", "usp_size", "region"):
        for value in {getattr(s, name) for s in sutures}:
            same = [s for s in sutures if getattr(s, name) == value]
            sets += [same, [s for s in same if s.technique not in STITCHES]] if name == "tissue" else [same]
    return {sum(s.count or 1 for s in same) for same in sets if same}


def _plain(place: str) -> str:
    return place.replace("-", " ").replace("_", " ")


def _of(tissue: str) -> str:
    return "native tissue" if tissue == "native" else tissue


def _shown(suture: Suture) -> str:
    words = [suture.pattern, suture.color, suture.form if suture.form != "suture" else None]
    return " ".join(w for w in words if w) or "of no color said"
