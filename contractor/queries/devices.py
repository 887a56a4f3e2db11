"""What kind of device says it is this?"""

from __future__ import annotations

from django.utils.translation import gettext as _

# The first that is found names it; the order matters, for each browser also claims to be others.
BROWSERS = (("Edg", "Edge"), ("Firefox", "Firefox"), ("Chrome", "Chrome"), ("Safari", "Safari"))
SYSTEMS = (
    ("Android", "Android"),
    ("iPhone", "iPhone"),
    ("iPad", "iPad"),
    ("Windows", "Windows"),
    ("Macintosh", "macOS"),
    ("Linux", "Linux"),
)


def device_words(agent: str) -> str:
    """`Firefox on Android` from a User-Agent header; its first word for a program."""
    browser = next((name for mark, name in BROWSERS if mark in agent), "")
    system = next((name for mark, name in SYSTEMS if mark in agent), "")
    if browser and system:
        return _("%(browser)s on %(system)s") % {"browser": browser, "system": system}
    return browser or system or agent.split("/")[0].split(" ")[0][:30]
