"""From a surgeon's spoken note to a case record that can be trusted. Start reading at `pipeline.py`."""
