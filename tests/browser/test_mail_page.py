"""Can the caught mails be read at a desk and on a phone?"""

import threading
from email.message import EmailMessage

import pytest
from axe_playwright_python.sync_playwright import Axe

from contractor.local.mail import Catcher
from contractor.local.mail_page import MailPage, listen


@pytest.fixture
def mails(tmp_path):
    """The address of a page with one mail that tries to run a script."""
    mail = EmailMessage()
    mail["From"] = "Tallow Creek Electric <office@tallowcreek.example>"
    mail["To"] = "Ada Quill <ada@quill.example>"
    mail["Subject"] = "How your new panel works"
    mail.set_content("Dear Ada,\n\nyour panel: https://panels.example/p/abc\n\nTallow Creek\n")
    html = (
        "<p>Dear Ada,</p><p><a href='/look'>Your panel</a></p>"
        "<script>document.body.textContent = 'ran'</script>"
    )
    mail.add_alternative(html, subtype="html")
    mail.add_attachment(b"%PDF-1.7", "application", "pdf", filename="directory.pdf")
    Catcher(tmp_path).keep(mail.as_bytes(), ["ada@quill.example"])
    server = listen(MailPage(tmp_path), 0)
    thread = threading.Thread(target=server.serve_forever)
    thread.start()
    yield f"http://127.0.0.1:{server.server_port}/"
    server.shutdown()
    thread.join()
    server.server_close()


@pytest.mark.parametrize("width", [360, 1440])
def test_a_mail_is_found_and_read(browser, mails, width):
    with browser.new_context(viewport={"width": width, "height": 900}) as context:
        page = context.new_page()
        page.goto(mails)
        assert Axe().run(page).violations_count == 0
        page.get_by_text("How your new panel works").click()
        assert page.get_by_role("heading", level=1).inner_text() == "How your new panel works"
        frame = page.frame_locator("iframe")
        assert frame.locator("body").inner_text().startswith("Dear Ada,")  # the script did not run
        assert page.evaluate("document.documentElement.scrollWidth") <= width
        with context.expect_page() as opened:
            frame.get_by_role("link", name="Your panel").click()
        assert opened.value.url == f"{mails}look"
        assert Axe().run(page).violations_count == 0
