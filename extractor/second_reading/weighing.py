"""How sound, doubt and constraints are weighed: the packs' `second-reading.toml`."""

from __future__ import annotations

import math
from collections.abc import Sequence
from dataclasses import dataclass, fields
from functools import lru_cache

from extractor.errors import GrammarError
from extractor.grammar.files import pack_table
from extractor.grammar.packs import Grammar
from extractor.speech.transcript import Transcript

FILE = "second-reading.toml"
LEAST = 1e-4


@dataclass(frozen=True)
class Hearing:
    """From the decoder's log-odds to probabilities; the file says what each is."""

    scale: float
    ear: float
    ear_most: float
    rival: float
    rival_unsure: float
    other: float
    other_unsure: float
    noise: float
    noise_least: float
    noise_most: float
    split: float
    alike: float
    expected: float
    expected_fits: float
    beside: float
    beside_fits: float
    within: float
    within_asked: float
    sure_word: float
    sure_number: float
    sure_asked: float
    sure_beside: float
    sure_other: float


@dataclass(frozen=True)
class Prior:
    """What a value counts before anything is heard, in nats, to rank what may have been said."""

    unusual: float
    untypical: float
    odd: float
    settles: float
    impossible: float
    unheard: float


@dataclass(frozen=True)
class Weighing:
    """All weights in force.

    Attributes:
        hearing: see `Hearing`.
        number: doubt of a number from which it is flagged.
        term: the same for a word.
        garbled: doubt of the words around a fact, in nats a word, from which it is flagged.
        take: probability from which a word is read as what was said.
        settled: probability from which that is listed only, and not flagged.
        against: nats against a reading, by the check it raises.
        prior: see `Prior`.
    """

    hearing: Hearing
    number: float
    term: float
    garbled: float
    take: float
    settled: float
    against: dict[str, float]
    prior: Prior


@lru_cache(maxsize=8)
def weighing_of(grammar: Grammar) -> Weighing:
    """Read the weights of all packs, later ones over earlier ones.

    Raises:
        GrammarError: naming the file, for what is no TOML, an unknown heading or key, or a value that is no number.
    """
    found: dict[str, dict[str, float]] = {"hearing": {}, "flags": {}, "repairs": {}, "against": {}, "prior": {}}
    known = {
        "hearing": {f.name for f in fields(Hearing)},
        "flags": {"number", "term", "garbled"},
        "repairs": {"take", "settled"},
        "prior": {f.name for f in fields(Prior)},
    }
    for folder in grammar.folders:
        path = folder / FILE
        if not path.is_file():
            continue
        for heading, entries in pack_table(path).items():
            if heading not in found or not isinstance(entries, dict):
                raise GrammarError(f"{FILE}: [{heading}] in {folder.name} is none of {', '.join(found)}")
            for key, value in entries.items():
                if key not in known.get(heading, {key}):
                    names = ", ".join(sorted(known[heading]))
                    raise GrammarError(f"{FILE}: {key!r} in {folder.name} is none of {names}")
                if isinstance(value, bool) or not isinstance(value, int | float):
                    raise GrammarError(f"{FILE}: {key} in {folder.name} is no number but {value!r}")
                found[heading][key] = float(value)
    flags, repairs = found["flags"], found["repairs"]
    return Weighing(
        Hearing(**found["hearing"]),
        flags["number"],
        flags["term"],
        flags["garbled"],
        repairs["take"],
        repairs["settled"],
        found["against"],
        Prior(**found["prior"]),
    )


def by_the_ear(nats: float, hearing: Hearing) -> float:
    """What the ear's log-odds are worth, in nats of the decoder's; beyond `ear_most` they count no more."""
    return hearing.ear * max(-hearing.ear_most, min(hearing.ear_most, nats))


def noise_of(transcript: Transcript) -> float:
    """How badly a recording is heard: the recognizer's own doubt of its words, in nats a word; 0 where it gave none."""
    known = [w.probability for w in transcript.words if w.probability is not None]
    return -sum(math.log(max(p, LEAST)) for p in known) / len(known) if known else 0.0


def in_noise(hearing: Hearing, noise: float) -> float:
    """Nats by which any other reading of a number is likelier in a recording that is badly heard all over."""
    return hearing.noise * min(hearing.noise_most, max(0.0, noise - hearing.noise_least))


def scores(log_odds: Sequence[float], probability: float, hearing: Hearing, likelier: float = 0.0) -> tuple[float, ...]:
    """Nats for each reading of a slot: as heard (0), each rival, and last something else.

    Args:
        log_odds: the decoder's, of each rival against what was heard.
        probability: the recognizer's own, of the least sure word heard.
        hearing: the weights.
        likelier: nats for all but what was heard (`in_noise`).
    """
    unsure = -math.log(max(probability, LEAST))
    rival = hearing.rival + hearing.rival_unsure * unsure + likelier
    other = hearing.other + hearing.other_unsure * unsure + likelier
    return (0.0, *(hearing.scale * odds + rival for odds in log_odds), other)
