"""The printed page, read by another PDF library and a barcode reader; the badge's picture."""

import hashlib
import io
from dataclasses import replace

import numpy as np
import pypdfium2
import pytest
import zxingcpp
from PIL import Image

from autograde.award.certificate import Certificate, certificate_pdf, qr_text
from autograde.award.decision import decide
from autograde.award.embed import bake_png, extract, seal_pdf
from autograde.award.errors import AwardError
from autograde.award.ring import Issuer
from autograde.award.typeset import font_file


@pytest.fixture
def certificate(table, blueprint, standard, key, invented):
    return Certificate(
        issuer=key.issuer,
        blueprint=blueprint,
        standard=standard,
        results=decide(table, "wren", blueprint, standard, on=invented.DAY).competencies,
        recipient="Wren Łąkowa-Höhn",
        awarded=invented.NOW,
        valid_until=invented.NOW.replace(year=2028),
        credential_id="urn:uuid:00000000-0000-4000-8000-000000000001",
        kid=key.kid,
        token="eyJhbGciOiJFZERTQSJ9.e30.AAAA",
    )


def text_of(pdf):
    document = pypdfium2.PdfDocument(pdf)
    assert len(document) == 1
    return " ".join(document[0].get_textpage().get_text_bounded().split())


def test_the_page_says_what_it_must(certificate):
    text = text_of(certificate_pdf(certificate))
    for words in (
        "INVENTED DEMONSTRATION",
        "Fenwick Quay Cycle School",
        "Bicycle fitter: support and alignment",
        "Wren Łąkowa-Höhn",
        "21 November 2025",
        "valid until 21 November 2028",
        "Not assessed",
        "Work on a real rider",
        "82 % (at least 50 %)",
        "does not license medical or physiotherapeutic practice",
        "modified Angoff method",
        "pedalwright verify",
        "urn:uuid:00000000-0000-4000-8000-000000000001",
    ):
        assert words in text, words


def test_a_real_school_carries_no_demonstration_mark(certificate):
    real = replace(certificate, issuer=Issuer("https://school.example", "A School"), valid_until=None)
    text = text_of(certificate_pdf(real))
    assert "INVENTED" not in text
    assert "valid without end" in text


def test_the_token_is_attached(certificate):
    document = pypdfium2.PdfDocument(certificate_pdf(certificate))
    assert document.count_attachments() == 1
    attachment = document.get_attachment(0)
    assert attachment.get_name() == "award.jwt"
    assert bytes(attachment.get_data()).decode() == certificate.token
    assert extract(certificate_pdf(certificate)).token == certificate.token


def test_the_code_is_read_from_the_rendered_page(certificate):
    """150 dots an inch, as a phone sees a print at arm's length."""
    page = pypdfium2.PdfDocument(certificate_pdf(certificate))[0].render(scale=150 / 72).to_numpy()
    (code,) = zxingcpp.read_barcodes(np.ascontiguousarray(page[:, :, :3]))
    digest = hashlib.sha256(certificate.token.encode()).hexdigest()
    assert code.text == qr_text(certificate.credential_id, certificate.token)
    assert code.text == f"AWARD {certificate.credential_id}\nSHA-256 {digest}"


def test_fonts_are_embedded_and_letters_have_a_shape(certificate):
    pdf = certificate_pdf(certificate)
    assert pdf.count(b"/FontFile2") >= 4
    with_name, without = (
        pypdfium2.PdfDocument(certificate_pdf(replace(certificate, recipient=name)))[0].render().to_numpy()
        for name in ("łöş", "los")
    )
    assert (with_name != without).any()


def test_equal_content_gives_equal_bytes(certificate, key):
    first, second = certificate_pdf(certificate), certificate_pdf(replace(certificate))
    assert first == second
    assert seal_pdf(first, certificate.credential_id, key) == seal_pdf(second, certificate.credential_id, key)


def test_a_sealed_page_still_opens(certificate, key):
    sealed = seal_pdf(certificate_pdf(certificate), certificate.credential_id, key)
    assert "Wren" in text_of(sealed)
    assert sealed.rindex(b"%%EOF") > len(sealed) - 1024  # where readers look for it


def test_markup_in_names_is_printed_and_not_obeyed(certificate):
    text = text_of(certificate_pdf(replace(certificate, recipient="<b>Wren</b> & Co")))
    assert "<b>Wren</b> & Co" in text


@pytest.mark.parametrize("name", ["鳥", "طائر", "ציפור", "Wren 😀"])
def test_signs_that_cannot_be_printed_are_refused(certificate, name):
    with pytest.raises(AwardError, match="transcribe it"):
        certificate_pdf(replace(certificate, recipient=name))


def test_another_font_can_be_given_for_the_name(certificate, tmp_path):
    text = text_of(certificate_pdf(replace(certificate, name_font=font_file("DejaVuSansMono"))))
    assert "Wren Łąkowa-Höhn" in text
    broken = tmp_path / "broken.ttf"
    broken.write_bytes(b"no font")
    with pytest.raises(AwardError, match="no TrueType font"):
        certificate_pdf(replace(certificate, name_font=broken))


def test_long_texts_shrink_or_are_refused(certificate, blueprint):
    longer = replace(certificate, recipient="Wren " * 8)
    assert "Wren Wren" in text_of(certificate_pdf(longer))
    with pytest.raises(AwardError, match="too long for one line"):
        certificate_pdf(replace(certificate, recipient="Wren " * 40))
    wordy = replace(blueprint, not_assessed=("A long matter that was not assessed at all. " * 3,) * 14)
    with pytest.raises(AwardError, match="mm too long for one page"):
        certificate_pdf(replace(certificate, blueprint=wordy))


def test_the_badge_is_a_picture_with_the_token(award):
    content = award.badge.read_bytes()
    image = Image.open(io.BytesIO(content))
    image.load()
    assert image.size == (640, 640)
    assert image.text["openbadgecredential"] == award.token.read_text()
    assert len({image.getpixel((x, 320)) for x in range(640)}) > 2
    with pytest.raises(AwardError, match="holds a credential already"):
        bake_png(content, "a.b.c")
