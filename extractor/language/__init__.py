"""Transcript to annotated note: tokens, quantities, concepts and clauses with their assertion."""
