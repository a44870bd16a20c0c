"""Records for the outputs' tests: facts by hand, each said by words of its own, with seconds where there is sound."""

from __future__ import annotations

from extractor.facts.draft import FactDraft, RepairDraft, Span
from extractor.record import CaseRecord, build_record
from extractor.record.models import Flag, Review
from extractor.speech.transcript import Transcript, Word

POSITIONS = [(r, s) for r in ("posterior", "anterior") for s in ("superior", "inferior")]


class Said:
    """Collects words and the facts they say; a fact's words are heard at ten seconds times its number."""

    def __init__(self, *, sound: bool = True) -> None:
        self.text = ""
        self.words: list[Word] = []
        self.drafts: list[FactDraft] = []
        self.sound = sound

    def say(self, kind: str, words: str, /, **fields: object) -> Said:
        start = len(self.text)
        self.text += words + " "
        end = start + len(words)
        second = 10.0 * (len(self.drafts) + 1)
        self.words.append(Word(start=start, end=end, start_s=second, end_s=second + 1, probability=0.9))
        self.drafts.append(FactDraft(kind, fields, (Span(start, end, "by hand"),)))
        return self

    def record(self, *flags: tuple[str, str, tuple[str, ...]], rejected: tuple[str, ...] = ()) -> CaseRecord:
        """Make the record, with flags `(check, severity, fact ids)`."""
        words = tuple(self.words) if self.sound else ()
        transcript = Transcript(text=self.text, words=words, kind="audio" if self.sound else "text")
        repair = RepairDraft("interior", "anterior", "stands before 'horn'", (Span(0, 1, "sound"),))
        record = build_record(transcript, self.drafts, [repair] if self.sound and self.text else [], "case-7")
        made = tuple(
            Flag(id=f"x{n}", check=check, severity=severity, message=f"Message {n}.", facts=facts)  # type: ignore[arg-type]
            for n, (check, severity, facts) in enumerate(flags)
        )
        review = {name: Review(state="rejected") for name in rejected}
        return record.model_copy(update={"flags": made, "review": review})


def whole_case(*, sound: bool = True) -> Said:
    """A case with a fact of every kind."""
    said = Said(sound=sound)
    said.say("laterality", "left knee", value="left")
    said.say(
        "procedures", "segmental transplant", code="meniscus-transplant", side="left", compartment="medial",
        extent="segmental",
    )  # fmt: skip
    said.say("procedures", "old resection", code="partial-meniscectomy", compartment="medial", status="prior")
    said.say("findings", "ACL fine", structure="acl", finding="intact")
    said.say("findings", "worn", structure="medial-femoral-condyle", finding="chondral-lesion",
             grade={"system": "outerbridge", "value": "3"})  # fmt: skip
    said.say("findings", "no loose bodies", finding="loose-body", status="absent")
    said.say(
        "measurements",
        "nineteen",
        what="defect.ap_length",
        value=19.0,
        unit="mm",
        role="observed",
        earlier_values=[18.0],
    )
    said.say("measurements", "one to two", what="rim.width", low=1.0, high=2.0, unit="mm", role="observed")
    said.say("measurements", "nine", what="graft.width", value=9.0, unit=None, role="made")
    said.say("measurements", "an hour", what="tourniquet.time", value=60.0, unit="min")
    said.say("measurements", "about ten", what="blood_loss.volume", value=10.0, unit="mL", approximate=True)
    said.say(
        "measurements", "one under", what="graft.allowance", value=1.0, unit="mm", role="reference", purpose="habit"
    )
    for tissue, colors in (
        ("native", ("white", "blue", "green", None)),
        ("graft", ("white", "blue", "green", "black")),
    ):
        for (region, surface), color in zip(POSITIONS, colors, strict=True):
            if color:
                said.say("sutures", f"{tissue} {color}", tissue=tissue, region=region, surface=surface, color=color)
    said.say(
        "sutures", "two mattress", technique="all_inside", configuration="vertical_mattress", count=2, region="middle"
    )
    said.say("ties", "tied behind", between=("posterior-superior", "posterior-inferior"))
    said.say("steps", "rasped", code="rim-abrasion")
    said.say("steps", "cut", code="graft-cut", detail="oblique cut")
    said.say("steps", "no trimming", code="graft-trimming", status="declined")
    said.say("devices", "cannula", kind="cannula", size=8.0, unit="mm", count=1)
    said.say("grafts", "tissue number", source="allograft", identifier="Z9901")
    said.say("plan", "toe touch", item="weight-bearing", value="toe-touch")
    said.say("plan", "brace", item="brace-range", low=0.0, high=90.0, unit="deg")
    said.say("elements", "general", name="anesthesia", text="General.")
    return said
