"""What does the directory of a panel say? The content of one issue, frozen, apart from its look."""

from __future__ import annotations

import hashlib
import json
from collections.abc import Mapping
from dataclasses import asdict, dataclass
from typing import Any

from panels.rules.layout import Frame, Half, Numbering, Seat, System, seat


@dataclass(frozen=True, kw_only=True)
class Circuit:
    """A breaker as the directory shows it; `feeds` names the panels its feeder goes to.

    `kind` is one of branch, feeder, source, spare.
    """

    space: int
    poles: int
    rating_a: int
    kind: str
    name: str
    half: str = ""
    protection: str = ""
    multiwire: str = ""
    backed_up: bool = False
    shed_order: int | None = None
    feeds: str = ""
    feeds_id: str = ""


@dataclass(frozen=True, kw_only=True)
class Supply:
    """Where the panel's power comes from: the service, a feeder's breaker, or another's lugs.

    `way` is one of service, feeder, lugs; `spaces` is the feeder's place as written, e.g. 2,4.
    """

    way: str = "service"
    panel: str = ""
    panel_id: str = ""
    spaces: str = ""
    rating_a: int | None = None


@dataclass(frozen=True, kw_only=True)
class Source:
    """Equipment on site that can feed conductors while the service is off."""

    kind: str
    name: str
    location: str = ""
    disconnect_at: str = ""
    connected_at: str = ""


@dataclass(frozen=True, kw_only=True)
class Identity:
    """Which panel it is: the facts of its nameplate, and where it is."""

    panel_id: str
    site: str
    name: str
    location: str
    mounting: str
    outdoors: bool
    system: str
    rating_a: int
    main_a: int | None
    interrupting_ka: float | None
    spaces: int
    numbering: str
    directory_at: str = ""
    lugs_feed: tuple[str, ...] = ()


@dataclass(frozen=True, kw_only=True)
class Issuer:
    """The firm that issues it, as printed: whom to call."""

    name: str = ""
    licence_number: str = ""
    phone: str = ""


@dataclass(frozen=True, kw_only=True)
class Directory:
    """The whole directory of one panel. Raises `LayoutError` when a breaker cannot sit there."""

    identity: Identity
    supply: Supply
    issuer: Issuer
    circuits: tuple[Circuit, ...]
    sources: tuple[Source, ...] = ()

    def __post_init__(self) -> None:
        ordered = tuple(sorted(self.circuits, key=lambda one: (one.space, one.half)))
        object.__setattr__(self, "circuits", ordered)
        for circuit in ordered:
            self.seat_of(circuit)

    def seat_of(self, circuit: Circuit) -> Seat:
        half = Half(circuit.half) if circuit.half else None
        return seat(self.frame, space=circuit.space, poles=circuit.poles, half=half)

    @property
    def frame(self) -> Frame:
        return Frame(
            spaces=self.identity.spaces,
            numbering=Numbering(self.identity.numbering),
            system=System(self.identity.system),
        )

    @property
    def several_sources(self) -> bool:
        """The service is not the only source: opening the main does not make everything dead."""
        return bool(self.sources)


def to_plain(directory: Directory) -> dict[str, Any]:
    """The content as JSON values."""
    plain: dict[str, Any] = json.loads(json.dumps(asdict(directory)))
    return plain


def from_plain(plain: Mapping[str, Any]) -> Directory:
    """The directory that `to_plain` wrote."""
    identity = {**plain["identity"], "lugs_feed": tuple(plain["identity"]["lugs_feed"])}
    return Directory(
        identity=Identity(**identity),
        supply=Supply(**plain["supply"]),
        issuer=Issuer(**plain["issuer"]),
        circuits=tuple(Circuit(**circuit) for circuit in plain["circuits"]),
        sources=tuple(Source(**source) for source in plain["sources"]),
    )


def digest(plain: Mapping[str, Any]) -> str:
    """A fingerprint of the content: equal exactly when the content is (SHA-256, hex)."""
    text = json.dumps(plain, sort_keys=True, ensure_ascii=False, separators=(",", ":"))
    return hashlib.sha256(text.encode()).hexdigest()
