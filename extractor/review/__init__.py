"""The review page: hear a case, settle what is doubtful, sign it. Start reading at `web/app.py`."""
