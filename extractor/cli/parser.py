"""Commands and options, each with examples. Imports nothing heavy: `--help` answers at once."""

from __future__ import annotations

import argparse

DESCRIPTION = """\
Turns a knee surgeon's spoken or typed operative note into a checked case record: side, procedures,
measurements, sutures and ties, steps, findings, plan, each with the words it rests on, and what is doubtful.
Everything stays on this machine.
"""
EXIT_CODES = """\
exit codes:
  0  fine
  1  something must be settled: a flag of severity stop (of `grammar test`: an example that fails; of
     `explain --ledger`: a number that went nowhere)
  2  bad input: a sentence says what, where, and what to do
"""
EXAMPLES = {
    "": """\
examples:
  extractor demo
  extractor extract note.txt
  extractor extract dictation.m4a -o record.json
  extractor explain "the defect measured eighteen by nine millimeters"
""",
    "transcribe": """\
examples:
  extractor transcribe dictation.m4a
  extractor transcribe dictation.m4a -o transcript.json
  extractor transcribe monday/*.wav -o transcripts/
""",
    "extract": """\
examples:
  extractor extract note.txt                          shows what was understood
  extractor extract dictation.m4a --schedule-side left
  extractor extract note.txt --json                   the record on standard output
  extractor extract notes/ -o records/                one ID.json a note, on all cores
  extractor extract note.txt --grammars our-packs/
""",
    "check": """\
examples:
  extractor check record.json
  extractor check record.json --schedule-side right
  extractor check records/ --json
  extractor check record.json -o checked.json         the record with its flags set anew
""",
    "explain": """\
examples:
  extractor explain "the defect measured eighteen by nine millimeters"
  extractor explain "two to three centimeters" --json
  extractor explain --ledger note.txt                 where every number with a unit went
""",
    "grammar test": """\
examples:
  extractor grammar test                              every example of every rule
  extractor grammar test "the rim was abraded"        one rule
  extractor grammar test --grammars our-packs/
""",
    "schema": """\
examples:
  extractor schema
  extractor schema -o record.schema.json
""",
    "demo": """\
examples:
  extractor demo
  extractor demo --list
  extractor demo formal-repair
""",
    "note": """\
examples:
  extractor note record.json
  extractor note record.json -o note.txt
""",
    "tables": """\
examples:
  extractor tables record.json -o tables/
  extractor tables records/ -o tables/
""",
    "review": """\
examples:
  extractor review
  extractor review dictation.m4a note.txt
  extractor review --host 10.0.0.5 --certificate site.crt --key site.key   # for others too: needs an account
""",
    "account": """\
examples:
  extractor account Marlow --role surgeon
  extractor account Marlow --remove
""",
    "audit": """\
examples:
  extractor audit CASE
""",
}


def build_parser() -> argparse.ArgumentParser:
    """Give the parser; its result names the module that runs the command."""
    parser = argparse.ArgumentParser(
        prog="extractor",
        description=DESCRIPTION,
        epilog=EXAMPLES[""] + "\n" + EXIT_CODES,
        formatter_class=argparse.RawDescriptionHelpFormatter,
    )
    commands = parser.add_subparsers(title="commands", metavar="COMMAND", required=True)
    _transcribe(commands)
    _extract(commands)
    _check(commands)
    _explain(commands)
    _grammar(commands)
    _schema(commands)
    _demo(commands)
    _note(commands)
    _tables(commands)
    _review(commands)
    _account(commands)
    _audit(commands)
    return parser


Parser = argparse.ArgumentParser
Commands = argparse._SubParsersAction  # the only name argparse has for it


def _command(commands: Commands[Parser], name: str, text: str, key: str = "") -> Parser:
    parser = commands.add_parser(
        name,
        help=text,
        description=text[0].upper() + text[1:] + ".",
        epilog=EXAMPLES[key or name] + "\n" + EXIT_CODES,
        formatter_class=argparse.RawDescriptionHelpFormatter,
    )
    parser.set_defaults(module=f"extractor.cli.{name if not key else key.replace(' ', '_')}")
    return parser


def _transcribe(commands: Commands[Parser]) -> None:
    parser = _command(commands, "transcribe", "recognize the words of recordings, with seconds and probabilities")
    parser.add_argument("inputs", nargs="+", metavar="AUDIO", help="a recording, or a folder of them")
    _output(parser, "ID.json")
    parser.add_argument("--json", action="store_true", help="print the transcript as JSON instead of its text")
    _model(parser)
    _grammars(parser)


def _extract(commands: Commands[Parser]) -> None:
    parser = _command(commands, "extract", "read notes into checked case records")
    parser.add_argument(
        "inputs", nargs="+", metavar="INPUT",
        help="a recording, a .txt note, a transcript .json, a .yaml with 'note:', or a folder of these",
    )  # fmt: skip
    _output(parser, "ID.json")
    parser.add_argument("--json", action="store_true", help="print the record as JSON instead of the view")
    _model(parser)
    _grammars(parser)
    parser.add_argument(
        "--no-second-reading", action="store_true", help="do not listen again to the words that primary facts hang on"
    )
    _schedule(parser)
    _cores(parser)


def _check(commands: Commands[Parser]) -> None:
    parser = _command(commands, "check", "check records anew and list what is doubtful")
    parser.add_argument("inputs", nargs="+", metavar="RECORD", help="a record, or a folder of them")
    _output(parser, "ID.json")
    parser.add_argument("--json", action="store_true", help="print the flags as JSON")
    _grammars(parser)
    _schedule(parser)
    parser.add_argument("--allowance", type=float, metavar="MM", help="how much shorter a graft is cut than its defect")
    parser.add_argument("--tourniquet-long", type=float, metavar="MIN", help="tourniquet time from which to ask (120)")
    parser.add_argument(
        "--off", action="append", default=[], metavar="CHECK", help="leave a check out (again for more)"
    )


def _explain(commands: Commands[Parser]) -> None:
    parser = _command(commands, "explain", "show how a sentence is read: quantities, concepts, clauses, rules")
    parser.add_argument("sentence", nargs="?", metavar="SENTENCE", help="the words, in quotes")
    parser.add_argument("--json", action="store_true", help="print it as JSON")
    parser.add_argument(
        "--ledger", action="append", default=[], metavar="FILE",
        help="list every number with a unit in a note and what it was read as (again for more)",
    )  # fmt: skip
    _grammars(parser)


def _grammar(commands: Commands[Parser]) -> None:
    grammar = commands.add_parser("grammar", help="work on the grammar packs", description="Work on the grammar packs.")
    inner = grammar.add_subparsers(title="commands", metavar="COMMAND", required=True)
    parser = _command(inner, "test", "read every example of every rule through the whole program", "grammar test")
    parser.add_argument("rules", nargs="*", metavar="RULE", help="names of rules, or of packs; all when none is given")
    _grammars(parser)


def _schema(commands: Commands[Parser]) -> None:
    parser = _command(commands, "schema", "print the JSON Schema of a case record")
    parser.add_argument("-o", "--output", metavar="FILE", help="write it to a file")


def _demo(commands: Commands[Parser]) -> None:
    parser = _command(commands, "demo", "run the main job on a demo recording: sound in, checked record out")
    parser.add_argument("name", nargs="?", metavar="NAME", help="which recording; the first when left out")
    parser.add_argument("--list", action="store_true", help="list the recordings")
    parser.add_argument("--json", action="store_true", help="print the record as JSON instead of the view")
    _model(parser)


def _note(commands: Commands[Parser]) -> None:
    parser = _command(commands, "note", "write the operative note of a record, as plain text, a draft")
    parser.add_argument("record", metavar="RECORD", help="a record")
    parser.add_argument("-o", "--output", metavar="FILE", help="write it to a file")
    _grammars(parser)


def _tables(commands: Commands[Parser]) -> None:
    parser = _command(commands, "tables", "write records as tables, one CSV a kind of fact")
    parser.add_argument("inputs", nargs="+", metavar="RECORD", help="a record, or a folder of them")
    parser.add_argument("-o", "--output", metavar="DIR", required=True, help="folder for the tables")


def _review(commands: Commands[Parser]) -> None:
    parser = _command(commands, "review", "open the page on which a scribe confirms cases against the sound")
    parser.add_argument("inputs", nargs="*", metavar="INPUT", help="recordings or notes to add as cases first")
    _store(parser)
    parser.add_argument("--watch", metavar="DIR", help="make a case of every new note in a folder")
    parser.add_argument("--port", type=int, metavar="N", help="port of the page on this machine; 0 takes any free one")
    parser.add_argument("--host", metavar="ADDRESS", help="address to listen at (127.0.0.1: this machine only)")
    parser.add_argument("--certificate", metavar="FILE", help="TLS certificate, needed where others can reach the page")
    parser.add_argument("--key", metavar="FILE", help="key of the certificate")
    parser.add_argument(
        "--served-as", action="append", default=[], metavar="NAME", help="another name the page answers to; repeatable"
    )
    parser.add_argument("--name", metavar="NAME", help="whose name acts carry (yours on this machine)")
    parser.add_argument("--model", metavar="M", help="folder or name of another faster-whisper model (packaged: base)")
    _grammars(parser)


def _account(commands: Commands[Parser]) -> None:
    text = "make or remove an account of the review page; the password is asked for, or read from standard input"
    parser = _command(commands, "account", text)
    parser.add_argument("who", metavar="NAME", help="name to sign in with")
    parser.add_argument(
        "--role", choices=("surgeon", "scribe", "researcher"), default="scribe",
        help="what the account may do: a researcher only reads (scribe)",
    )  # fmt: skip
    parser.add_argument("--remove", action="store_true", help="take the account away; what it did stays on record")
    _store(parser)


def _audit(commands: Commands[Parser]) -> None:
    parser = _command(commands, "audit", "print who did what to a case, and whether that account is whole")
    parser.add_argument("case", metavar="CASE", help="the case's id, as in its address")
    _store(parser)


def _store(parser: argparse.ArgumentParser) -> None:
    parser.add_argument("--store", metavar="FILE_OR_URL", help="SQLite file or postgresql:// URL that holds the cases")


def _output(parser: argparse.ArgumentParser, name: str) -> None:
    parser.add_argument(
        "-o", "--output", metavar="FILE_OR_DIR",
        help=f"for one input a file (or a folder, for {name} in it); for several, or a folder, a folder of {name}",
    )  # fmt: skip


def _model(parser: argparse.ArgumentParser) -> None:
    parser.add_argument("--model", metavar="M", help="folder or name of another faster-whisper model (packaged: base)")
    parser.add_argument(
        "--plain", action="store_true", help="the packaged model as published, not taught the trade's words"
    )
    parser.add_argument("--device", choices=("cpu", "cuda", "auto"), default="cpu", help="where recognition runs (cpu)")


def _grammars(parser: argparse.ArgumentParser) -> None:
    parser.add_argument(
        "--grammars", action="append", default=[], metavar="DIR",
        help="a folder of further grammar packs (again for more; or set EXTRACTOR_GRAMMARS)",
    )  # fmt: skip


def _schedule(parser: argparse.ArgumentParser) -> None:
    parser.add_argument("--schedule-side", choices=("left", "right"), help="side on the operating list, to check by")


def _cores(parser: argparse.ArgumentParser) -> None:
    parser.add_argument("--cores", type=_positive, metavar="N", help="processes for a folder of notes (all cores)")


def _positive(text: str) -> int:
    if not text.isdigit() or int(text) < 1:
        raise argparse.ArgumentTypeError(f"{text!r} is no number of processes; give 1 or more")
    return int(text)
