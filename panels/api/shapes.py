"""What panels, circuits, sources and readings look like over the API."""

from __future__ import annotations

from typing import Any

from drf_spectacular.utils import extend_schema_field
from rest_framework import serializers

from contractor.api.moments import MomentField
from panels.models import Circuit, Panel, Reading, Source
from panels.models.choices import Celsius, Position, Raceway, Serves, Tap, Transfer
from panels.queries import records
from panels.queries.glance import second_look
from panels.queries.readings import judged
from panels.rules.layout import System
from panels.rules.rooms import Room

MADE_BY_DEVICE = "Made by the device; repeats are safe."


class NoticeOutput(serializers.Serializer[Any]):
    """Worth a second look; nothing was refused."""

    code = serializers.CharField(source="key")
    sentence = serializers.CharField()
    cite = serializers.CharField()


class PanelFields(serializers.Serializer[Any]):
    """What may be written of a panel. `fed_from` is a circuit, `fed_through` a panel with
    feed-through lugs; both null: fed by the service."""

    name = serializers.CharField(max_length=60)
    location = serializers.CharField(max_length=120, required=False, allow_blank=True)
    mounting = serializers.ChoiceField(Panel.Mounting.choices, required=False)
    outdoors = serializers.BooleanField(required=False)
    system = serializers.ChoiceField([one.value for one in System], required=False)
    rating_a = serializers.IntegerField(min_value=1, max_value=6000)
    bus_a = serializers.IntegerField(min_value=1, max_value=6000, required=False)
    main_a = serializers.IntegerField(min_value=1, max_value=6000, required=False, allow_null=True)
    interrupting_ka = serializers.FloatField(required=False, allow_null=True)
    spaces = serializers.IntegerField(min_value=1, max_value=84)
    numbering = serializers.ChoiceField(["across", "down", "single"], required=False)
    tandem_spaces = serializers.CharField(max_length=120, required=False, allow_blank=True)
    feed_through_lugs = serializers.BooleanField(required=False)
    fed_from = serializers.UUIDField(required=False, allow_null=True, source="fed_from_id")
    fed_through = serializers.UUIDField(required=False, allow_null=True, source="fed_through_id")
    directory_at = serializers.CharField(max_length=120, required=False, allow_blank=True)
    supply_marked = serializers.BooleanField(required=False, allow_null=True)
    fault_marked_ka = serializers.FloatField(required=False, allow_null=True)
    fault_marked_on = serializers.DateField(required=False, allow_null=True)
    transformer_kva = serializers.FloatField(required=False, allow_null=True)
    transformer_z_percent = serializers.FloatField(required=False, allow_null=True)
    transformer_xr = serializers.FloatField(required=False, allow_null=True)
    secondary_protected_a = serializers.IntegerField(
        min_value=1, max_value=6000, required=False, allow_null=True
    )
    notes = serializers.CharField(max_length=4000, required=False, allow_blank=True)


class PanelInput(PanelFields):
    id = serializers.UUIDField(required=False, help_text=MADE_BY_DEVICE)
    site = serializers.UUIDField()


class PanelOutput(PanelFields):
    id = serializers.UUIDField()
    site = serializers.UUIDField(source="site_id")
    rev = serializers.IntegerField()
    changed_at = serializers.DateTimeField()
    retired_at = serializers.DateTimeField(allow_null=True)
    notices = serializers.SerializerMethodField()

    def get_notices(self, panel: Panel) -> list[dict[str, str]]:
        told = second_look(panel, [])
        return [NoticeOutput(notice).data for _circuit, notice in told]


class CircuitFields(serializers.Serializer[Any]):
    """What may be written of a circuit. `spaces` names every space a full-size breaker takes and
    wins over `space` and `poles`; `half` is a or b of a tandem (of a two-pole in a quad: a the
    outer pair, b the inner)."""

    spaces = serializers.ListField(
        child=serializers.IntegerField(min_value=1, max_value=84), min_length=1, required=False
    )
    space = serializers.IntegerField(min_value=1, max_value=84, required=False)
    poles = serializers.IntegerField(min_value=1, max_value=3, required=False)
    half = serializers.ChoiceField(["", "a", "b"], required=False)
    rating_a = serializers.IntegerField(min_value=1, max_value=6000)
    kind = serializers.ChoiceField(Circuit.Kind.choices, required=False)
    name = serializers.CharField(max_length=80, required=False, allow_blank=True)
    protection = serializers.ChoiceField(Circuit.Protection.choices, required=False)
    wire_size = serializers.CharField(max_length=6, required=False, allow_blank=True)
    wire_material = serializers.ChoiceField(Circuit.Material.choices, required=False)
    length_ft = serializers.FloatField(min_value=0, required=False, allow_null=True)
    wire_sets = serializers.IntegerField(min_value=1, max_value=12, required=False)
    insulation_c = serializers.ChoiceField(Celsius.choices, required=False, allow_null=True)
    terminal_c = serializers.ChoiceField(Celsius.choices, required=False, allow_null=True)
    raceway = serializers.ChoiceField(Raceway.choices, required=False)
    bundled = serializers.IntegerField(min_value=1, max_value=100, required=False, allow_null=True)
    ambient_c = serializers.FloatField(min_value=-40, max_value=85, required=False, allow_null=True)
    neutral_size = serializers.CharField(max_length=6, required=False, allow_blank=True)
    ground_size = serializers.CharField(max_length=6, required=False, allow_blank=True)
    interrupting_ka = serializers.FloatField(required=False, allow_null=True)
    full_rated = serializers.BooleanField(required=False)
    tied = serializers.BooleanField(required=False, allow_null=True)
    grouped = serializers.BooleanField(required=False, allow_null=True)
    locked = serializers.BooleanField(required=False)
    tap_rule = serializers.ChoiceField(Tap.choices, required=False)
    serves = serializers.ChoiceField(Serves.choices, required=False)
    areas = serializers.ListField(
        child=serializers.ChoiceField([room.value for room in Room]), required=False
    )
    multiwire = serializers.CharField(max_length=8, required=False, allow_blank=True)
    backed_up = serializers.BooleanField(required=False)
    shed_order = serializers.IntegerField(
        min_value=1, max_value=99, required=False, allow_null=True
    )
    notes = serializers.CharField(max_length=200, required=False, allow_blank=True)


class CircuitInput(CircuitFields):
    id = serializers.UUIDField(required=False, help_text=MADE_BY_DEVICE)
    feeds = serializers.UUIDField(required=False, help_text="The panel this feeder goes to.")


class CircuitOutput(CircuitFields):
    id = serializers.UUIDField()
    panel = serializers.UUIDField(source="panel_id")
    place = serializers.SerializerMethodField(help_text="As a schedule has it: 1,3 or 5a.")
    spaces = serializers.SerializerMethodField()  # type: ignore[assignment]
    legs = serializers.SerializerMethodField()
    feeds = serializers.SerializerMethodField()
    rev = serializers.IntegerField()
    changed_at = serializers.DateTimeField()
    notices = serializers.SerializerMethodField()

    def get_place(self, circuit: Circuit) -> str:
        return circuit.seat_in(circuit.panel.frame).text

    def get_spaces(self, circuit: Circuit) -> list[int]:
        return list(circuit.seat_in(circuit.panel.frame).spaces)

    def get_legs(self, circuit: Circuit) -> list[str]:
        return list(circuit.seat_in(circuit.panel.frame).legs)

    def get_feeds(self, circuit: Circuit) -> str | None:
        fed = records.fed_by(circuit)
        return str(fed.pk) if fed else None

    def get_notices(self, circuit: Circuit) -> list[dict[str, str]]:
        told = second_look(circuit.panel, [circuit])
        return [NoticeOutput(notice).data for about, notice in told if about]


class SourceFields(serializers.Serializer[Any]):
    kind = serializers.ChoiceField(Source.Kind.choices)
    name = serializers.CharField(max_length=80)
    circuit = serializers.UUIDField(required=False, allow_null=True, source="circuit_id")
    location = serializers.CharField(max_length=120, required=False, allow_blank=True)
    disconnect_at = serializers.CharField(max_length=120, required=False, allow_blank=True)
    rated_a = serializers.FloatField(required=False, allow_null=True)
    rated_kva = serializers.FloatField(required=False, allow_null=True)
    surge_kva = serializers.FloatField(required=False, allow_null=True)
    usable_kwh = serializers.FloatField(required=False, allow_null=True)
    peak_kw = serializers.FloatField(required=False, allow_null=True)
    hourly = serializers.ListField(
        child=serializers.FloatField(min_value=0, max_value=1), min_length=24, max_length=24,
        required=False, allow_null=True,
    )  # fmt: skip
    position = serializers.ChoiceField(Position.choices, required=False)
    labelled = serializers.BooleanField(required=False, allow_null=True)
    transfer = serializers.ChoiceField(Transfer.choices, required=False)
    altitude_ft = serializers.FloatField(required=False, allow_null=True)
    fuel_unit = serializers.CharField(max_length=12, required=False, allow_blank=True)
    fuel_full_per_h = serializers.FloatField(required=False, allow_null=True)
    fuel_half_per_h = serializers.FloatField(required=False, allow_null=True)
    fuel_on_hand = serializers.FloatField(required=False, allow_null=True)
    fuel = serializers.CharField(max_length=20, required=False, allow_blank=True)
    notes = serializers.CharField(max_length=4000, required=False, allow_blank=True)


class SourceInput(SourceFields):
    id = serializers.UUIDField(required=False, help_text=MADE_BY_DEVICE)


class SourceOutput(SourceFields):
    id = serializers.UUIDField()
    site = serializers.UUIDField(source="site_id")
    rev = serializers.IntegerField()
    changed_at = serializers.DateTimeField()


class ReadingFields(serializers.Serializer[Any]):
    """One reading. The unit belongs to the kind: V, MΩ, lb-in."""

    kind = serializers.ChoiceField(Reading.Kind.choices)
    value = serializers.FloatField()
    between = serializers.CharField(max_length=20, required=False, allow_blank=True)
    circuit = serializers.UUIDField(required=False, allow_null=True, source="circuit_id")
    test_v = serializers.IntegerField(min_value=0, max_value=32000, required=False, allow_null=True)
    temperature_c = serializers.FloatField(required=False, allow_null=True)
    marked_value = serializers.FloatField(required=False, allow_null=True)
    instrument = serializers.CharField(max_length=80, required=False, allow_blank=True)
    taken_at = MomentField(required=False)
    visit = serializers.UUIDField(required=False, allow_null=True)


class ReadingInput(ReadingFields):
    id = serializers.UUIDField(required=False, help_text=MADE_BY_DEVICE)


class CriterionOutput(serializers.Serializer[Any]):
    """How a reading stands against one named criterion."""

    criterion = serializers.CharField()
    title = serializers.CharField()
    finding = serializers.CharField(help_text="within, outside or unjudged.")
    sentence = serializers.CharField()
    source = serializers.CharField()  # type: ignore[assignment]
    confirm = serializers.CharField(help_text="Not empty: check it in print.")


class ReadingOutput(ReadingFields):
    id = serializers.UUIDField()
    panel = serializers.UUIDField(source="panel_id")
    taken_by = serializers.UUIDField(source="taken_by_id")
    rev = serializers.IntegerField()
    finding = serializers.SerializerMethodField(help_text="within, outside or unjudged.")
    finding_says = serializers.SerializerMethodField()
    finding_source = serializers.SerializerMethodField()
    criteria = serializers.SerializerMethodField(help_text="By every criterion that covers it.")

    @extend_schema_field(CriterionOutput(many=True))
    def get_criteria(self, reading: Reading) -> list[dict[str, Any]]:
        found = judged(reading)
        every = (found.judgement, *found.others)
        return [CriterionOutput(one).data for one in every if one.criterion]

    def get_finding(self, reading: Reading) -> str:
        return judged(reading).judgement.finding.value

    def get_finding_says(self, reading: Reading) -> str:
        return judged(reading).judgement.sentence

    def get_finding_source(self, reading: Reading) -> str:
        return judged(reading).judgement.source
