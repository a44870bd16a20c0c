"""How well the second reading hears, on recordings that `benchmarks.speech_set` made: rank of the truth, calibration.

    python -m benchmarks.second_reading OUT GOLD_DIR [...]          # figures with the weights in force
    python -m benchmarks.second_reading OUT GOLD_DIR [...] --fit    # weights that fit these recordings best

The thresholds under [flags] in the packs' second-reading.toml are chosen where the cost printed is least. Fit on one
set of notes and voices, measure on another. The truth of a slot is what stands in the note where the recognized words
are laid beside it with the fewest differences.
"""

from __future__ import annotations

import argparse
import math
import sys
from collections.abc import Iterator, Sequence
from dataclasses import asdict, dataclass
from pathlib import Path

import numpy as np
import yaml
from numpy.typing import NDArray

from extractor.grammar.packs import Grammar, load_grammar
from extractor.language.annotate import Note, annotate
from extractor.language.numbers import atom_at
from extractor.language.tokens import tokenize
from extractor.pipeline import extract
from extractor.second_reading.read import slots_to_hear
from extractor.second_reading.rivals import rivals_of, sound_alike
from extractor.second_reading.sound import probability_of, score_slots
from extractor.second_reading.weighing import Hearing, by_the_ear, in_noise, noise_of, scores, weighing_of
from extractor.speech.audio import read_whole
from extractor.speech.files import read_transcript
from extractor.speech.model import SpeechModel, load_model
from training.score import align

Floats = NDArray[np.float64]
FITTED = ("scale", "ear", "rival", "rival_unsure", "other", "other_unsure", "alike")
STEPS = 2500
THRESHOLDS = (0.03, 0.05, 0.07, 0.1, 0.15, 0.2, 0.3, 0.5)
MISS = 20
"""What a wrong reading that is not asked about costs, in right ones that are."""
BINS = 5


@dataclass(frozen=True)
class Case:
    """One slot as it was scored: values or words heard, said and possible, all in one spelling."""

    heard: str
    said: str | None
    rivals: tuple[str, ...]
    log_odds: tuple[float, ...]
    probability: float
    number: bool
    alike: tuple[bool, ...] = ()
    ear: tuple[float, ...] = ()
    noise: float = 0.0

    @property
    def truth(self) -> int:
        """Index of what was said among heard, rivals and something else."""
        readings = (self.heard, *self.rivals)
        return readings.index(self.said) if self.said in readings else len(readings)


def cases(transcript_path: Path, gold: Path, model: SpeechModel, grammar: Grammar) -> Iterator[Case]:
    """Score the slots of one recording and tell what was really said there."""
    transcript = read_transcript(transcript_path)
    note = annotate(transcript.text, grammar)
    said = _said(yaml.safe_load(gold.read_text(encoding="utf-8"))["note"], note, grammar)
    slots = [s for s in slots_to_hear(extract(transcript, grammar), transcript, grammar) if not s.open]
    known, noise = rivals_of(grammar), noise_of(transcript)
    samples = read_whole(transcript_path.with_suffix(".flac"))
    for odds in score_slots(slots, transcript, samples, model, grammar):
        rivals = tuple(map(plain, odds.slot.rivals))
        doubt = probability_of(odds.slot, transcript)
        truth = said.get(odds.slot.start)
        alike = tuple(odds.slot.number and sound_alike(odds.slot.heard, r, known) for r in odds.slot.rivals)
        yield Case(
            plain(odds.slot.heard), truth, rivals, odds.log_odds, doubt, odds.slot.number, alike, odds.ear, noise
        )


def plain(text: str) -> str:
    """A reading in one spelling: its number in figures, else its words in small letters."""
    number = atom_at(tokenize(text).words, 0)
    return f"{number.value:g}" if number and number.value is not None else text.lower()


def _said(gold: str, heard: Note, grammar: Grammar) -> dict[int, str | None]:
    ours = _items(heard)
    pairs = align([word for word, _ in _items(annotate(gold, grammar))], [word for word, _ in ours])
    found = [truth for truth, other in pairs if other is not None]
    return {start: truth for (_, start), truth in zip(ours, found, strict=True)}


def _items(note: Note) -> list[tuple[str, int]]:
    items: list[tuple[str, int]] = []
    joined = {q.number_start: q for q in note.quantities if q.value is not None and q.said_unit == q.unit}
    i = 0
    while i < len(note.tokens):
        number = atom_at(note.words, i)
        whole = joined.get(i)
        if number and whole and whole.number_end > number.end:  # 'two fifty', which is heard as 250
            items.append((f"{whole.value:g}", note.tokens.starts[i]))
            i = whole.number_end
            continue
        if number and number.value is not None:
            items.append((f"{number.value:g}", note.tokens.starts[i]))
        elif note.words[i].isalnum():
            items.append((note.words[i], note.tokens.starts[i]))
        i = number.end if number else i + 1
    return items


def shares(case: Case, hearing: Hearing) -> Floats:
    """Probability of each reading by its sound: heard, rivals, something else."""
    by_ear = case.ear or (0.0,) * len(case.rivals)
    odds = zip(case.log_odds, by_ear, case.alike, strict=True)
    heard = [lag + by_the_ear(nats, hearing) + hearing.alike * alike for lag, nats, alike in odds]
    likelier = in_noise(hearing, case.noise) if case.number else 0.0
    nats = np.array(scores(heard, case.probability, hearing, likelier))
    weights = np.exp(nats - nats.max())
    found: Floats = weights / weights.sum()
    return found


def loss(found: Sequence[Case], hearing: Hearing) -> float:
    """Mean surprise in nats at what was said."""
    return float(np.mean([-math.log(max(1e-9, shares(c, hearing)[c.truth])) for c in found]))


def fit(found: Sequence[Case], start: Hearing) -> Hearing:
    """Weights of least surprise, by small steps drawn with a fixed seed; kept near the start by a weak pull."""
    draw = np.random.default_rng(1)

    def cost(hearing: Hearing) -> float:
        pull = sum((getattr(hearing, n) - getattr(start, n)) ** 2 for n in FITTED)
        return float(loss(found, hearing) + 0.002 * pull)

    best, least = start, cost(start)
    for step in range(STEPS):
        moved = asdict(best)
        for name in FITTED:
            moved[name] += draw.normal(0, 0.4 * 0.999**step + 0.01)
        moved["scale"], moved["ear"] = max(0.05, moved["scale"]), max(0.0, moved["ear"])
        moved["other_unsure"] = max(0.0, moved["other_unsure"])
        now = cost(Hearing(**moved))
        if now < least:
            best, least = Hearing(**moved), now
    return best


def figures(found: Sequence[Case], hearing: Hearing) -> Iterator[str]:
    """Lines of figures."""
    for kind, own in (("numbers", [c for c in found if c.number]), ("words", [c for c in found if not c.number])):
        wrong = [c for c in own if c.truth]
        among = [c for c in wrong if c.truth <= len(c.rivals)]
        first = [c for c in among if int(np.argmax(shares(c, hearing)[1:-1])) == c.truth - 1]
        yield f"{kind}: {len(own)} listened to, {len(wrong)} wrong; truth among rivals {len(among)}, first {len(first)}"
        for threshold in THRESHOLDS:
            asked = [c for c in own if 1 - shares(c, hearing)[0] >= threshold]
            caught = sum(c.truth > 0 for c in asked)
            good = len(asked) - caught
            cost = MISS * (len(wrong) - caught) + good
            yield f"  asked from a doubt of {threshold:.2f}: {caught} of {len(wrong)} wrong, {good} right; cost {cost}"
    yield f"surprise {loss(found, hearing):.3f} nats, expected calibration error {calibration(found, hearing):.3f}"


def calibration(found: Sequence[Case], hearing: Hearing) -> float:
    """Expected calibration error of the doubt, slots in bins of equal size."""
    doubts = sorted((1 - shares(c, hearing)[0], float(c.truth > 0)) for c in found)
    bins = np.array_split(np.array(doubts), BINS)
    return float(sum(abs(b[:, 0].mean() - b[:, 1].mean()) * len(b) for b in bins if len(b)) / max(1, len(doubts)))


def main() -> None:
    """Command line."""
    parser = argparse.ArgumentParser(description=__doc__, formatter_class=argparse.RawDescriptionHelpFormatter)
    parser.add_argument("out", type=Path)
    parser.add_argument("gold", type=Path, nargs="+")
    parser.add_argument("--fit", action="store_true")
    options = parser.parse_args()
    notes = {path.stem: path for folder in options.gold for path in folder.glob("*.yaml")}
    model, grammar = load_model(), load_grammar()
    found: list[Case] = []
    for path in sorted(options.out.glob("*.json")):
        gold = notes.get(path.name.split(".")[0])
        if gold and path.with_suffix(".flac").exists():
            found += cases(path, gold, model, grammar)
    hearing = weighing_of(grammar).hearing
    if options.fit:
        hearing = fit(found, hearing)
        for name in FITTED:
            sys.stdout.write(f"{name} = {getattr(hearing, name):.2f}\n")
    for line in figures(found, hearing):
        sys.stdout.write(line + "\n")


if __name__ == "__main__":
    main()
