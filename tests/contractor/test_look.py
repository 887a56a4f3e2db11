"""Is the look what it promises: readable in every light, without inline code, with known files?"""

from __future__ import annotations

import hashlib
import re
from pathlib import Path

import pytest

ROOT = Path(__file__).resolve().parent.parent.parent
STATIC = ROOT / "contractor" / "static" / "contractor"
CSS = sorted(
    path
    for room in ("contractor", "panels", "jobs", "followups")
    for path in (ROOT / room / "static").rglob("*.css")
)
TEMPLATES = sorted(
    path
    for room in ("contractor", "panels", "jobs", "followups")
    for path in (ROOT / room / "templates").rglob("*.html")
)
TOKENS = (STATIC / "css" / "tokens.css").read_text()

# (ink, what it lies on, least contrast). WCAG 2.2: 1.4.3 asks 4.5 of text, 1.4.11 asks 3 of
# the edges of fields and of drawings that carry meaning.
PAPERS = ("paper", "paper-shade", "paper-field")
PAIRS = [
    *((ink, paper, 4.5) for ink in ("ink", "ink-soft", "accent", "bad") for paper in PAPERS),
    *((ink, paper, 4.5) for ink in ("accent-strong", "good", "caution") for paper in PAPERS),
    ("paper", "ink", 4.5),
    ("on-accent", "accent", 4.5),
    ("on-accent", "accent-strong", 4.5),
    ("on-bad", "bad", 4.5),
    ("ink", "accent-shade", 4.5),
    ("ink", "caution-shade", 4.5),
    ("caution", "caution-shade", 4.5),
    ("ink", "bad-shade", 4.5),
    ("bad", "bad-shade", 4.5),
    *(("on-leg", leg, 4.5) for leg in ("leg-a", "leg-b", "leg-c")),
    *((leg, "paper-field", 3.0) for leg in ("leg-a", "leg-b", "leg-c", "ground")),
    *(("rule-strong", paper, 3.0) for paper in PAPERS),
]


def _blocks() -> dict[str, dict[str, str]]:
    """Colours of each light; night, sun and print say only what differs from day."""
    night_at = TOKENS.index("@media (prefers-color-scheme: dark)")
    sun_at = TOKENS.index(':root[data-light="sun"]', night_at)
    print_at = TOKENS.index("@media print")
    cuts = {
        "day": TOKENS[:night_at],
        "night": TOKENS[night_at:sun_at],
        "sun": TOKENS[sun_at:print_at],
        "print": TOKENS[print_at:],
    }
    found = {
        light: dict(re.findall(r"--([a-z-]+): (#[0-9a-f]{6});", text))
        for light, text in cuts.items()
    }
    return {light: {**found["day"], **own} for light, own in found.items()}


LIGHTS = _blocks()


def _luminance(colour: str) -> float:
    """Relative luminance of sRGB `#rrggbb` (WCAG 2.2, definition of relative luminance)."""
    parts = [int(colour[at : at + 2], 16) / 255 for at in (1, 3, 5)]
    red, green, blue = (c / 12.92 if c <= 0.04045 else ((c + 0.055) / 1.055) ** 2.4 for c in parts)
    return 0.2126 * red + 0.7152 * green + 0.0722 * blue


def contrast(one: str, other: str) -> float:
    """(lighter + 0.05) / (darker + 0.05), WCAG 2.2, definition of contrast ratio."""
    low, high = sorted((_luminance(one), _luminance(other)))
    return (high + 0.05) / (low + 0.05)


def test_the_contrast_formula_gives_the_published_extremes():
    assert contrast("#000000", "#ffffff") == pytest.approx(21)
    assert contrast("#777777", "#ffffff") == pytest.approx(4.48, abs=0.005)


@pytest.mark.parametrize("light", LIGHTS)
@pytest.mark.parametrize(("ink", "paper", "least"), PAIRS, ids=lambda value: str(value))
def test_ink_is_readable_on_paper_in_every_light(light, ink, paper, least):
    colours = LIGHTS[light]
    assert contrast(colours[ink], colours[paper]) >= least, f"{ink} on {paper} by {light}"


def test_sunlight_reads_better_than_day():
    day, sun = LIGHTS["day"], LIGHTS["sun"]
    for ink in ("ink", "ink-soft", "accent", "bad", "caution", "good", "rule-strong"):
        assert contrast(sun[ink], sun["paper"]) > contrast(day[ink], day["paper"])


def test_colours_are_named_once():
    loose = re.compile(r"#[0-9a-fA-F]{3,8}\b|\b(?:rgb|hsl|oklch)a?\(")
    for path in CSS:
        if path.name != "tokens.css":
            assert not loose.findall(path.read_text()), f"{path.name}: colours live in tokens.css"


def test_every_token_used_exists():
    known = set(re.findall(r"--([a-z0-9-]+):", TOKENS))
    for path in CSS:
        own = set(re.findall(r"--([a-z0-9-]+):", path.read_text()))
        used = set(re.findall(r"var\(--([a-z0-9-]+)", path.read_text()))
        assert used <= known | own, path.name


def test_vendored_files_are_the_ones_that_were_read():
    vendor = STATIC / "vendor"
    listed = dict(
        reversed(line.split(maxsplit=1))
        for line in (vendor / "SHA256SUMS").read_text().splitlines()
    )
    on_disk = {path.name for path in vendor.iterdir()} - {"SHA256SUMS"}
    assert set(listed) == on_disk
    for name, digest in listed.items():
        assert hashlib.sha256((vendor / name).read_bytes()).hexdigest() == digest, name


def test_fonts_come_with_their_licence_and_every_face_exists():
    for folder in (STATIC / "fonts", ROOT / "contractor" / "paper" / "fonts"):
        assert "SIL OPEN FONT LICENSE" in (folder / "OFL.txt").read_text()
    for name in re.findall(r'url\("\.\./fonts/([^"]+)"\)', (STATIC / "css/fonts.css").read_text()):
        assert (STATIC / "fonts" / name).is_file()


def test_no_template_carries_script_or_style_of_its_own():
    forbidden = {
        "inline style": re.compile(r"<style\b|\sstyle\s*=", re.I),
        "inline script": re.compile(r"<script\b(?![^>]*\bsrc=)", re.I),
        "event attribute": re.compile(r"<[^>{%]*\son[a-z]+\s*=", re.I),
        "script address": re.compile(r"javascript:", re.I),
        "hx-on": re.compile(r"\bhx-on\b|hx-vals\s*=\s*['\"]?js:", re.I),
    }
    assert TEMPLATES
    for path in TEMPLATES:
        for what, pattern in forbidden.items():
            if what == "inline style" and path.parent.name == "mail":
                continue  # mail programs fetch no style sheets, and a mail has no policy to break
            assert not pattern.search(path.read_text()), f"{path.relative_to(ROOT)}: {what}"


def test_comments_do_not_leak_onto_the_page():
    """A `{# #}` comment that runs over two lines is shown as text."""
    for path in TEMPLATES:
        for line in path.read_text().splitlines():
            assert line.count("{#") == line.count("#}"), path.relative_to(ROOT)


def test_a_notice_says_only_what_it_is_given():
    """Without `only`, a `text` left over from another sentence of the page is said again."""
    for path in TEMPLATES:
        for tag in re.findall(
            r"{% include \"[^\"]*/(?:notice|caution)\.html\".*?%}", path.read_text()
        ):
            assert tag.endswith(" only %}"), f"{path.relative_to(ROOT)}: {tag}"
