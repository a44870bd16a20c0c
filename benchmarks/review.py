"""How fast the review page answers: first page, case page, clicks; with few cases in the store and with thousands.

Run `python -m benchmarks.review [--cases 5000] [--out FILE]`. A real server on loopback, a real HTTP client; each
figure is the median and the slowest of twenty requests, in milliseconds, with what is asked for beside it.
"""

from __future__ import annotations

import argparse
import json
import re
import socket
import statistics
import sys
import tempfile
import threading
import time
from collections.abc import Callable, Iterator
from pathlib import Path
from typing import Any

import httpx
import uvicorn

from extractor.review.act.summary import summarize
from extractor.review.command import Door, make_site
from extractor.review.hear.arrive import take_text
from extractor.review.models import Person
from extractor.review.store.cases import Change, create_case, read_case, write_in
from extractor.review.store.connect import Store, open_store, writing
from extractor.review.web.app import make_app
from extractor.speech.transcript import Transcript

DEMO = Path(__file__).resolve().parent.parent / "audio_demo" / "segmental-transplant.txt"
MINUTES, WORDS_A_MINUTE = 10, 150
"""Length of the long note, and how fast people dictate (from memory, no source)."""
ASKED = {"first page": 200.0, "case page, 10 min note": 300.0, "click: accept": 100.0, "click: search": 100.0,
         "click: open a form": 100.0, "value as typed": 100.0}  # fmt: skip
PERSON = Person(name="bench", role="surgeon")
TIMES = 20
LEAST_MS = 10.0
"""Below this a request takes so little that what it changes by is chance."""


def long_note() -> str:
    """A note of some ten minutes: the demo note, told again and again with other sentences between."""
    text = DEMO.read_text(encoding="utf-8")
    filler = " The camera was moved around the joint and everything was looked at once more without haste."
    out = text
    while len(out.split()) < MINUTES * WORDS_A_MINUTE:
        out += filler
    return out


def fill(store: Store, like: str, count: int) -> None:
    """Put copies of a case into the store."""
    case = read_case(store, like)
    assert case.sheet is not None
    change = Change(case.sheet, summarize(case.sheet), "read", {"words": 1}, "new")
    for start in range(0, count, 500):
        with writing(store) as connection:
            for number in range(start, min(count, start + 500)):
                made = create_case(connection, label=f"copy-{number}", state="new", who="bench", how="benchmark")
                write_in(connection, made, 0, change, PERSON)


def timed(ask: Callable[[], httpx.Response]) -> dict[str, float]:
    """Median, slowest and fastest of some requests, in milliseconds."""
    times = []
    for _ in range(TIMES):
        started = time.perf_counter()
        answer = ask()
        times.append((time.perf_counter() - started) * 1000)
        answer.raise_for_status()
    return {
        "median_ms": round(statistics.median(times), 1),
        "slowest_ms": round(max(times), 1),
        "fastest_ms": round(min(times), 1),
    }


def measure(client: httpx.Client, csrf: str, case: str) -> dict[str, dict[str, float]]:
    """Every figure, with the store as it is."""
    headers = {"x-csrf": csrf}

    def post(path: str, body: dict[str, Any]) -> httpx.Response:
        return client.post(path, json=body, headers=headers)

    version = client.get(f"/api/cases/{case}").json()["version"]

    def accept() -> httpx.Response:
        nonlocal version
        answer = post(f"/cases/{case}/acts", {"version": version, "act": {"do": "accept", "fact": "side"}})
        version = answer.json()["version"]
        return answer

    return {
        "first page": timed(lambda: client.get("/")),
        "case page, 10 min note": timed(lambda: client.get(f"/cases/{case}")),
        "click: accept": timed(accept),
        "click: search": timed(lambda: post("/list", {"query": "right transplant bridge", "show": "all"})),
        "click: open a form": timed(lambda: client.get(f"/cases/{case}/forms/m1")),
        "value as typed": timed(lambda: post("/judge", {"what": "graft.ap_length", "text": "2.1 cm"})),
    }


def measure_all(count: int) -> dict[str, Any]:
    """Measure with a handful of cases, then with `count` more."""
    with tempfile.TemporaryDirectory() as folder:
        store = open_store(str(Path(folder) / "cases.sqlite"))
        door = Door(port=0)
        with socket.socket(socket.AF_INET, socket.SOCK_STREAM, socket.IPPROTO_TCP) as listener:
            listener.bind(("127.0.0.1", 0))
            listener.listen(16)
            port = listener.getsockname()[1]
            site = make_site(store, port, door, recognizer=lambda path: Transcript(text=""), name="bench")
            server = uvicorn.Server(uvicorn.Config(make_app(site), log_level="error", access_log=False))
            thread = threading.Thread(target=server.run, kwargs={"sockets": [listener]}, daemon=True)
            thread.start()
            case = take_text(store, site.reader, long_note(), label="long", person=PERSON, how="benchmark")
            short = take_text(store, site.reader, DEMO.read_text("utf-8"), label="s", person=PERSON, how="benchmark")
            with httpx.Client(base_url=f"http://127.0.0.1:{port}", follow_redirects=True, timeout=60) as client:
                html = client.get(f"/enter?token={site.launch_token}").text
                found = re.search(r'name="csrf" content="([^"]+)"', html)
                assert found
                few = measure(client, found[1], case)
                fill(store, short, count)
                many = measure(client, found[1], case)
            server.should_exit = True
            thread.join(10)
        store.close()
    return {"cases": count + 2, "few": few, "many": many}


def lines_of(result: dict[str, Any]) -> Iterator[str]:
    """The figures as lines, what is over marked."""
    yield f"{'':24}{'2 cases':>10}{'slowest':>10}{result['cases']:>10} cases{'slowest':>8}{'asked':>8}"
    for name, asked in ASKED.items():
        few, many = result["few"][name], result["many"][name]
        over = "  OVER" if max(many["median_ms"], few["median_ms"]) > asked else ""
        if many["fastest_ms"] > 1.5 * max(few["fastest_ms"], LEAST_MS):  # the fastest tell the work, not the load
            over += "  more than half as much again"
        yield (
            f"{name:24}{few['median_ms']:7.1f} ms{few['slowest_ms']:10.1f}{many['median_ms']:13.1f} ms"
            f"{many['slowest_ms']:8.1f}{asked:8.0f}{over}"
        )


def run() -> Iterator[str]:
    """For `make bench`."""
    yield from lines_of(measure_all(5000))


def main() -> int:
    """Print the figures; exit 1 where one is over what was asked."""
    parser = argparse.ArgumentParser(description=__doc__)
    parser.add_argument("--cases", type=int, default=5000)
    parser.add_argument("--out", type=Path)
    options = parser.parse_args()
    result = measure_all(options.cases)
    lines = list(lines_of(result))
    print("\n".join(lines))
    if options.out:
        options.out.write_text(json.dumps(result, indent=1) + "\n", encoding="utf-8")
    return int(any("OVER" in line for line in lines))


if __name__ == "__main__":
    sys.exit(main())
