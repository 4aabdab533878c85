"""Pictures in few colours: what can be kept is kept, and nothing hangs on chance."""

import numpy as np

from autograde.cases.drawing import PAPER, new_figure, to_png
from autograde.cases.palette import COLOURS, KEPT, in_few_colours


def picture(colours, size=(40, 50), seed=3):
    """Pixels of the given colours, the first one by far the most frequent."""
    chosen = np.random.default_rng(seed).integers(0, len(colours), size)
    chosen[:20] = 0
    pixels = np.full((*size, 4), 255, dtype=np.uint8)
    pixels[..., :3] = np.array(colours, dtype=np.uint8)[chosen]
    return pixels


def test_few_colours_come_out_just_as_they_are():
    pixels = picture([(7 * n, 255 - 5 * n, (90 * n) % 256) for n in range(KEPT)])
    assert np.array_equal(np.asarray(in_few_colours(pixels).convert("RGB")), pixels[..., :3])


def test_many_colours_end_in_64_and_the_most_frequent_one_is_kept():
    pixels = picture([(252, 251, 248), *np.random.default_rng(1).integers(0, 256, (900, 3)).tolist()])
    few = np.asarray(in_few_colours(pixels).convert("RGB"))
    assert len(np.unique(few.reshape(-1, 3), axis=0)) <= COLOURS
    frequent = (pixels[..., :3] == (252, 251, 248)).all(axis=-1)
    assert (few[frequent] == (252, 251, 248)).all()


def test_each_pixel_takes_the_nearest_colour_of_the_palette():
    """Looked for here one by one, by the sum of squared differences."""
    pixels = picture(np.random.default_rng(2).integers(0, 256, (300, 3)).tolist(), size=(20, 30))
    image = in_few_colours(pixels)
    palette = np.array(image.getpalette(), dtype=float).reshape(-1, 3)
    got = np.asarray(image.convert("RGB")).astype(float)
    for row, column in ((0, 0), (3, 29), (19, 11), (12, 5)):
        nearest = min(((colour - pixels[row, column, :3]) ** 2).sum() for colour in palette)
        assert ((got[row, column] - pixels[row, column, :3]) ** 2).sum() == nearest


def test_the_same_figure_gives_the_same_bytes_on_paper_of_its_colour():
    def draw():
        figure = new_figure(200, 120)
        figure.add_subplot().plot([0, 1, 3], [2, 0, 1])
        return to_png(figure)

    first = draw()
    assert draw() == first
    from io import BytesIO

    from PIL import Image

    paper = tuple(int(PAPER[place : place + 2], 16) for place in (1, 3, 5))
    with Image.open(BytesIO(first)) as shown:
        assert shown.size == (200, 120)
        assert shown.convert("RGB").getpixel((1, 1)) == paper
