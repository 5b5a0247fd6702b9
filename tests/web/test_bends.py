"""The bend table on the page of a bent part."""


def test_the_page_shows_the_table(client):
    """3 mm bent to 3 mm: allowance pi/2 (3 + 1.14) mm, deduction 12 mm less that, line 1 at 54 mm and half."""
    page = client.get("/parts/bracket-bent-hat?thickness=3&bend_radius=3&k=0.38").get_data(as_text=True)
    for text in ("up 90\N{DEGREE SIGN}", "down 90\N{DEGREE SIGN}", "6.503", "5.497", "57.3"):
        assert f"<td>{text}</td>" in page
    assert "Lengths in mm</caption>" in page
    assert "K: the part&#39;s K-factor. V opening: 24 mm." in page


def test_the_page_says_whose_k_it_is(client):
    page = client.get("/parts/bracket-bent-hat").get_data(as_text=True)
    assert "lengths of bends: L = c T + 1.57 R at 90 degrees (published). V opening: 50 mm." in page


def test_the_table_speaks_in_the_working_units(client):
    page = client.get("/parts/bracket-bent-hat?thickness=3mm&bend_radius=3mm&k=0.38&units=in").get_data(as_text=True)
    assert "<td>0.256</td>" in page  # 6.503 mm
    assert "Lengths in inches</caption>" in page


def test_whole_angles_and_numbers_have_no_point(client):
    page = client.get("/parts/bracket-bent-hat").get_data(as_text=True)
    assert 'name="bend" value="90"' in page
    assert 'name="k" value="0"' in page


def test_a_flat_part_has_none(client):
    page = client.get("/parts/gusset-triangle").get_data(as_text=True)
    assert "<table>" not in page
    assert 'id="bent-part"' in page  # so that the script finds its place when it is drawn anew
