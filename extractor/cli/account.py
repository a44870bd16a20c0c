"""`extractor account`: who may sign in to the review page."""

from __future__ import annotations

import argparse
import getpass
import sys

from extractor.errors import InputError


def run(args: argparse.Namespace) -> int:
    """Make, change or remove an account."""
    try:
        from extractor.review.command import account, forget
    except ModuleNotFoundError as missing:
        raise InputError(f"accounts need {missing.name}; install extractor with its extra 'review'") from missing
    if args.remove:
        forget(args.who, store=args.store)
        print(f"{args.who} has no account any more.")
        return 0
    account(args.who, args.role, _password(args.who), store=args.store)
    print(f"{args.who} can sign in as {args.role}.")
    return 0


def _password(who: str) -> str:
    """The password, typed twice where a person types it."""
    if not sys.stdin.isatty():
        return sys.stdin.readline().rstrip("\r\n")
    first = getpass.getpass(f"Password for {who}: ")
    if getpass.getpass("The same again: ") != first:
        raise InputError("the two passwords differ; give the same one twice")
    return first
