"""Symbols: found by name or word, without marks of makers, filled as another renderer fills them, cut in one piece."""

import numpy as np
import pytest
import resvg_py
import shapely
from PIL import Image

import parts
from parts.artwork.symbols import called, symbol, symbol_names
from parts.artwork.symbols.find import drawings
from tests.depth import several

SVG = "http://www.w3.org/2000/svg"
EVERY = symbol_names()


def test_symbols_are_called_by_name_and_by_word():
    assert called("Tree") == ("tree",)
    assert "campfire" in called("camp")
    assert called("savings nut")[0] == "acorn"
    assert called("qqqq") == ()
    assert len(EVERY) > 1400
    assert not [name for name in EVERY if "logo" in name]


def test_a_symbol_is_filled_as_resvg_fills_it(tmp_path):
    for name in EVERY[:: several(150, 10)]:
        path = drawings()[name]["path"]
        drawn = f'<svg xmlns="{SVG}" viewBox="0 0 256 256" width="512" height="512"><path d="{path}"/></svg>'
        (tmp_path / "s.png").write_bytes(bytes(resvg_py.svg_to_bytes(svg_string=drawn)))
        filled = np.asarray(Image.open(tmp_path / "s.png"))[..., 3].sum() / 255 / 512**2
        shape = symbol(name)
        xs = np.flatnonzero((np.asarray(Image.open(tmp_path / "s.png"))[..., 3] > 0).any(axis=0))
        width = (xs[-1] - xs[0] + 1) / 512
        assert shape.area * width**2 == pytest.approx(filled, rel=0.03), name


def test_a_word_that_calls_several_or_none_is_refused_with_what_there_is():
    for word, said in [("qqqq", "calls none"), ("camp", "take one of")]:
        with pytest.raises(parts.Refused) as refused:
            parts.draw("outline-symbol", symbol=word)
        assert said in refused.value.problems[0].message


@pytest.mark.parametrize("made_as", ["piece", "plate"])
def test_symbols_can_be_cut_in_one_piece_without_a_stop(made_as):
    """300 in a deep run."""
    for name in EVERY[:: several(240, 5)]:
        part = parts.draw("outline-symbol", symbol=name, made_as=made_as, overall_width="300 mm")
        assert len(part.profile.outside) == 1, name
        assert shapely.box(*part.profile.box).area > 0
        assert [f for f in part.findings if f.severity == "stop"] == [], name
