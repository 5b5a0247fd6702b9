"""The description as another reads it: schemathesis asks every address for what it describes, and for what it doesn't.

No answer is an error of our own, none has a status or a shape that isn't described. An everyday run asks a few
addresses of each kind; a deep one all of them, and more.
"""

import subprocess
import sys

from tests.depth import DEEP
from tests.web.served import here

FEW = r"^/(check\.json|true\.json|shop/\{process\}|parts/\{template\}\.\{format\})$"
CHECKS = "not_a_server_error,status_code_conformance,content_type_conformance,response_schema_conformance"
COMMAND = "from schemathesis.cli import schemathesis; schemathesis()"


def test_every_answer_is_as_described(own_file, own_history, tmp_path):
    with here() as at:
        done = subprocess.run(
            [sys.executable, "-c", COMMAND, "run", f"{at}/openapi.json", "--url", at, "--checks", CHECKS,
             "--phases", "examples,coverage,fuzzing", "--generation-deterministic", "--no-color",
             "--max-examples", "5" if DEEP else "1", *([] if DEEP else ["--include-path-regex", FEW])],
            cwd=tmp_path, capture_output=True, text=True, check=False,
        )  # fmt: skip
    assert done.returncode == 0, done.stdout[-5000:] + done.stderr[-2000:]
    assert " passed" in done.stdout
