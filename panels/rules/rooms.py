"""Which rooms and places can a circuit serve, as far as the code treats them differently?"""

from __future__ import annotations

import enum


class Room(enum.StrEnum):
    """A room or place of a dwelling, by the words of 210.8(A), 210.12(A) and 210.52."""

    KITCHEN = "kitchen"
    DINING = "dining"
    FAMILY = "family"
    LIVING = "living"
    LIBRARY = "library"
    BEDROOM = "bedroom"
    SUNROOM = "sunroom"
    RECREATION = "recreation"
    CLOSET = "closet"
    HALLWAY = "hallway"
    LAUNDRY = "laundry"
    BATHROOM = "bathroom"
    GARAGE = "garage"
    ACCESSORY = "accessory"
    OUTDOORS = "outdoors"
    CRAWL_SPACE = "crawl_space"
    BASEMENT = "basement"
    BASEMENT_FINISHED = "basement_finished"
    ATTIC = "attic"
    BOATHOUSE = "boathouse"
    OTHER = "other"

    @property
    def label(self) -> str:
        return LABELS[self]


LABELS = {
    Room.KITCHEN: "kitchen",
    Room.DINING: "dining room",
    Room.FAMILY: "family room",
    Room.LIVING: "living room or parlor",
    Room.LIBRARY: "library or den",
    Room.BEDROOM: "bedroom",
    Room.SUNROOM: "sunroom",
    Room.RECREATION: "recreation room",
    Room.CLOSET: "closet",
    Room.HALLWAY: "hallway or stairs",
    Room.LAUNDRY: "laundry",
    Room.BATHROOM: "bathroom",
    Room.GARAGE: "garage",
    Room.ACCESSORY: "accessory building",
    Room.OUTDOORS: "outdoors",
    Room.CRAWL_SPACE: "crawl space",
    Room.BASEMENT: "basement, unfinished",
    Room.BASEMENT_FINISHED: "basement, finished",
    Room.ATTIC: "attic",
    Room.BOATHOUSE: "boathouse",
    Room.OTHER: "another place",
}
