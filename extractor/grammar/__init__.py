"""Loading of the grammar packs: words, rules and limits as data, refused with file and line when wrong."""
