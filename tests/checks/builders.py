"""Short ways to a record for tests: facts by hand, each said by words of its own."""

from __future__ import annotations

from extractor.facts.draft import FactDraft, Span
from extractor.record import CaseRecord, build_record
from extractor.speech.transcript import Transcript


class Note:
    """Collects words and the facts they say; `record()` makes the record."""

    def __init__(self) -> None:
        self.text = ""
        self.drafts: list[FactDraft] = []

    def say(self, kind: str, words: str = "said", /, **fields: object) -> Note:
        start = len(self.text)
        self.text += words + " "
        self.drafts.append(FactDraft(kind, fields, (Span(start, start + len(words), "by hand"),)))
        return self

    def measure(
        self, what: str, value: float | None = None, unit: str | None = "mm", /, words: str = "said", **more: object
    ) -> Note:
        return self.say("measurements", words, what=what, value=value, unit=unit, **more)

    def transplant(self, **more: object) -> Note:
        fields = {"code": "meniscus-transplant", "side": "left", "compartment": "medial", "extent": "segmental", **more}
        self.say("laterality", "left knee", value="left")
        return self.say("procedures", "segmental transplant", **fields)

    def sutures(self, tissue: str, *colors: str | None) -> Note:
        """Colors at posterior superior, posterior inferior, anterior superior, anterior inferior."""
        places = [(r, s) for r in ("posterior", "anterior") for s in ("superior", "inferior")]
        for (region, surface), color in zip(places, colors, strict=False):
            if color:
                *pattern, plain = color.split()
                self.say(
                    "sutures", color, tissue=tissue, region=region, surface=surface, color=plain,
                    pattern=pattern[0] if pattern else None,
                )  # fmt: skip
        return self

    def steps(self, *codes: str) -> Note:
        for code in codes:
            self.say("steps", code.replace("-", " "), code=code)
        return self

    def ties(self, *pairs: tuple[str, str]) -> Note:
        for pair in pairs:
            self.say("ties", "tied", between=pair)
        return self

    def record(self) -> CaseRecord:
        return build_record(Transcript(text=self.text or " "), self.drafts, case_id="case")
