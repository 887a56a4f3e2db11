"""Is a name on a directory clear, and will it stay right whoever lives there?

What 408.4(A) asks in words is judged here by lists of words (`words.toml`): common practice, no
source. A saint's possessive names a building and passes; a person's does not.
"""

from __future__ import annotations

import re
import tomllib
from dataclasses import dataclass
from functools import cache, lru_cache
from pathlib import Path

APOSTROPHES = str.maketrans("’‘ʼ`´", "'''''")  # noqa: RUF001
WORD = re.compile(r"[^\W_]+(?:'[^\W_]+)*'?")
POSSESSIVE = re.compile(r"^([^\W\d_]+)'s$|^([^\W\d_]+s)'$")
LEAST_FOR_A_SLIP = 6  # letters of a word before one letter's difference looks like a slip


@dataclass(frozen=True, kw_only=True)
class Words:
    """The lists, each as a set; `same` leads every other way of writing to one."""

    vague: frozenset[str]
    rooms: frozenset[str]
    unused: frozenset[str]
    people: frozenset[str]
    given: frozenset[str]
    roles: frozenset[str]
    saints: frozenset[str]
    numbered: frozenset[str]
    same: dict[str, str]


@cache
def words() -> Words:
    with (Path(__file__).parent / "words.toml").open("rb") as file:
        read = tomllib.load(file)
    same = {other: word for word, others in read.pop("same").items() for other in others}
    return Words(same=same, **{name: frozenset(listed) for name, listed in read.items()})


def tokens(name: str) -> list[str]:
    """The words and numbers of a name, in lower case, with their apostrophes."""
    return WORD.findall(name.translate(APOSTROPHES).casefold())


def plain(token: str) -> str:
    """The word by which its other spellings go: plug for receptacles, light for lighting."""
    known = words()
    bare = token.removesuffix("'").removesuffix("'s")
    if bare in known.same:
        return known.same[bare]
    single = bare[:-1] if len(bare) > 3 and bare.endswith("s") and bare[-2] != "s" else bare
    return known.same.get(single, single)


@lru_cache(maxsize=8192)  # each name is held against every other of its panel
def reads_as(name: str) -> tuple[str, ...]:
    """The name as a hurried reader takes it: two names that read alike are not distinct."""
    return tuple(word for token in tokens(name) if (word := plain(token)) not in {"the", "and"})


def occupant(name: str) -> str | None:
    """The word that ties the name to whoever is there now; None when there is none."""
    known, said = words(), tokens(name)
    for before, token in zip(["", *said], said, strict=False):
        match = POSSESSIVE.match(token)
        owner = next(filter(None, match.groups()), "") if match else ""
        if owner and before not in known.saints and owner not in known.roles:
            return token
        bare = token.strip("'")
        if bare in known.people or (bare in known.given and before not in known.saints):
            return token
        if bare.removesuffix("s") in known.given and before not in known.saints:
            return token
    return None


def is_unused(name: str) -> bool:
    """Does the name say that nothing hangs on the breaker?"""
    return " ".join(tokens(name)).rstrip(" 0123456789") in words().unused


def is_vague(name: str) -> bool:
    """Does it say neither what nor where? "Lights", "Plugs 2", "Misc", "20 A circuit"."""
    known = words()
    said = [token for token in tokens(name) if not _is_number(token)]
    return all(plain(token) in known.vague or token in known.vague for token in said)


def is_bare_room(name: str) -> bool:
    """Does it say where and not what? "Bedroom", "Bedroom 2", "Upstairs"."""
    known = words()
    said = [token for token in tokens(name) if not _is_number(token)]
    filler = known.rooms | {"room", "floor", "and"}
    return bool(said) and all(plain(token) in filler or token in filler for token in said)


def without_number(name: str) -> tuple[str, ...] | None:
    """The name less a trailing number that says nothing; None when it has none, or a real one."""
    read = reads_as(name)
    if len(read) < 2 or not read[-1].isdigit() or read[-2] in words().numbered:
        return None
    return read[:-1]


def slip(one: str, other: str) -> bool:
    """Do the names differ by one letter of one long word, as a slip of the key makes them?"""
    first, second = reads_as(one), reads_as(other)
    if len(first) != len(second):
        return False
    apart = [pair for pair in zip(first, second, strict=True) if pair[0] != pair[1]]
    return len(apart) == 1 and _one_letter(*apart[0])


def _one_letter(one: str, other: str) -> bool:
    if min(len(one), len(other)) < LEAST_FOR_A_SLIP or _is_number(one) or _is_number(other):
        return False
    short, long = sorted((one, other), key=len)
    if len(long) - len(short) > 1:
        return False
    same = next((i for i, (a, b) in enumerate(zip(short, long, strict=False)) if a != b), None)
    at = len(short) if same is None else same
    left, right = short[at:], long[at:]
    return right[1:] in (left, left[1:]) or (right[1::-1] + right[2:]) == left


def _is_number(token: str) -> bool:
    return token.isdigit() or bool(re.fullmatch(r"\d+[a-z]{0,2}", token))
