"""A reader of QR codes of versions 1 to 8 at level L, from ISO/IEC 18004 alone; what is damaged isn't mended.

Tables from memory of ISO/IEC 18004: the centres of alignment patterns (annex E), codewords and blocks (table 9).
"""

CENTRES = {1: (), 2: (6, 18), 3: (6, 22), 4: (6, 26), 5: (6, 30), 6: (6, 34), 7: (6, 22, 38), 8: (6, 24, 42)}
BLOCKS = {1: (19,), 2: (34,), 3: (55,), 4: (80,), 5: (108,), 6: (68, 68), 7: (78, 78), 8: (97, 97)}
MASKS = (
    lambda i, j: (i + j) % 2,
    lambda i, j: i % 2,
    lambda i, j: j % 3,
    lambda i, j: (i + j) % 3,
    lambda i, j: (i // 2 + j // 3) % 2,
    lambda i, j: i * j % 2 + i * j % 3,
    lambda i, j: (i * j % 2 + i * j % 3) % 2,
    lambda i, j: ((i + j) % 2 + i * j % 3) % 2,
)
FORMAT_MASK, LEVEL_L, BYTES = 0b101010000010010, 0b01, 0b0100


def read_code(rows):
    """The bytes that a code holds, from its rows of modules, True for dark."""
    side = len(rows)
    version = (side - 17) // 4
    first = [rows[8][c] for c in (0, 1, 2, 3, 4, 5, 7, 8)] + [rows[r][8] for r in (7, 5, 4, 3, 2, 1, 0)]
    said = int("".join(str(int(bit)) for bit in first), 2) ^ FORMAT_MASK
    assert said >> 13 == LEVEL_L
    mask, taken = MASKS[said >> 10 & 7], _taken(version, side)
    bits = [rows[i][j] ^ (not mask(i, j)) for i, j in _path(side) if (i, j) not in taken]
    words = [int("".join(str(int(bit)) for bit in bits[at : at + 8]), 2) for at in range(0, len(bits) - 7, 8)]
    blocks = BLOCKS[version]
    data = [words[k + n * len(blocks)] for k in range(len(blocks)) for n in range(blocks[k])]
    text = "".join(f"{word:08b}" for word in data)
    assert int(text[:4], 2) == BYTES
    count = int(text[4:12], 2)
    return bytes(int(text[12 + 8 * i : 20 + 8 * i], 2) for i in range(count))


def _path(side):
    """The modules in the order of the bits: two columns up, two down, from the right, past the column of timing."""
    up = True
    for right in (*range(side - 1, 7, -2), 5, 3, 1):
        for i in range(side - 1, -1, -1) if up else range(side):
            yield i, right
            yield i, right - 1
        up = not up


def _taken(version, side):
    """The modules of finders, timing, alignment, format and version."""
    taken = {(6, k) for k in range(side)} | {(k, 6) for k in range(side)}
    taken |= {(i, j) for i in range(9) for j in range(9)}
    taken |= {(i, side - 8 + j) for i in range(9) for j in range(8)} | {
        (side - 8 + i, j) for i in range(8) for j in range(9)
    }
    centres = CENTRES[version]
    corners = {(centres[0], centres[0]), (centres[0], centres[-1]), (centres[-1], centres[0])} if centres else set()
    for x in centres:
        for y in centres:
            if (x, y) not in corners:
                taken |= {(x + i, y + j) for i in range(-2, 3) for j in range(-2, 3)}
    if version >= 7:
        taken |= {(i, side - 11 + j) for i in range(6) for j in range(3)} | {
            (side - 11 + j, i) for i in range(6) for j in range(3)
        }
    return taken
