"""The judge of ../shared/tools (dxf_check.py) over many drawings in one process.

    judge.py JUDGE < JSON list of [FILE, ORIGINAL or null]

Prints a JSON list: for each drawing whether it stands, and what the judge said.
"""
import contextlib
import importlib.util
import io
import json
import sys

spec = importlib.util.spec_from_file_location("dxf_check", sys.argv[1])
judge = importlib.util.module_from_spec(spec)
spec.loader.exec_module(judge)


def verdict(path, original):
    sys.argv = ["dxf_check.py", path, "--quiet", *(["--against", original] if original else [])]
    said = io.StringIO()
    with contextlib.redirect_stdout(said):
        code = judge.main()
    return {"ok": code == 0, "said": said.getvalue()}


json.dump([verdict(*pair) for pair in json.load(sys.stdin)], sys.stdout)
