"""Many notes: finding them, reading them on all cores, and going on past a bad one."""
