"""Speed, memory and start-up, each beside a plain library doing the same: `python -m benchmarks`."""
