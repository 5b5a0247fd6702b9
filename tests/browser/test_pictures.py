"""The picture of the page in the documents can be made anew, in a copy of the tree."""

import subprocess
import sys

from tests.documents import copied

PNG = b"\x89PNG\r\n"


def test_the_picture_of_the_page_is_made(tmp_path):
    tree = copied(tmp_path / "platewright")
    picture = tree / "docs" / "page.png"
    before = picture.read_bytes()
    picture.unlink()
    told = subprocess.run([sys.executable, "docs/pictures.py"], cwd=tree, capture_output=True, text=True, check=False)
    assert told.returncode == 0, told.stderr
    made = picture.read_bytes()
    assert made.startswith(PNG)
    assert made[16:24] == before[16:24], "as wide and high as it is shown"
