"""From annotated clauses to facts: which number belongs to which thing, with evidence and certainty."""
