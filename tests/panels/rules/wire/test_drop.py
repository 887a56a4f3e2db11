"""Is the complex solution exact, and do the shorter forms stand beside it as they are used?

Published exercises are files under ``tests/worked_examples/``.
"""

from __future__ import annotations

import cmath
import math
from typing import Any

import pytest

from panels.rules.errors import BadDescription, NotCovered
from panels.rules.wire.fall import Path, effective, exact, worst_power_factor
from tests.panels.rules.wire.asked import ask, number


def path(**given: Any) -> Path:
    usual = {"amperes": 100.0, "power_factor": 0.85, "r": 0.054, "x": 0.052, "feet": 400.0}
    return Path(**{**usual, **given})


@pytest.mark.parametrize("phases", [1, 3])
@pytest.mark.parametrize("power_factor", [0.5, 0.85, 1.0])
def test_the_exact_solution_fits_back_into_the_circuit(phases: int, power_factor: float) -> None:
    """Put the voltage at the load back: load voltage plus drop of the phasors is the source."""
    run = path(phases=phases, power_factor=power_factor)
    sending = 208.0
    dropped, left = exact(run, sending)
    assert dropped == pytest.approx(sending - left)
    to_neutral = left / math.sqrt(3) if phases == 3 else left
    ways = 1 if phases == 3 else 2
    impedance = ways * complex(run.r, run.x) * run.feet / 1000
    source = to_neutral + impedance * cmath.rect(run.amperes, -math.acos(power_factor))
    whole = abs(source) * (math.sqrt(3) if phases == 3 else 1)
    assert whole == pytest.approx(sending, rel=1e-12)


def test_the_effective_impedance_is_close_and_not_the_same() -> None:
    run = path()
    volts = effective(run)[1]
    true = exact(run, 240.0)[0]
    assert volts == pytest.approx(true, rel=0.01)
    assert volts != true


def test_the_worst_power_factor_drops_most() -> None:
    r, x = 0.054, 0.052
    worst = effective(path(power_factor=worst_power_factor(r, x)))[0]
    assert worst == pytest.approx(math.hypot(r, x))
    others = [effective(path(power_factor=percent / 100))[0] for percent in range(1, 101)]
    assert max(others) <= worst + 1e-12


def test_three_phases_drop_less_by_the_root_of_three_over_two() -> None:
    assert effective(path(phases=3))[1] == pytest.approx(effective(path())[1] * math.sqrt(3) / 2)


def test_a_voltage_lost_on_the_way_is_refused() -> None:
    with pytest.raises(NotCovered, match="12 V cannot drive 100 A"):
        exact(path(feet=4000.0), 12.0)


def test_a_published_wrong_answer_for_aluminum_is_not_ours() -> None:
    """A published exam bank takes K 12.9 or 0.393 ohm for 6 AWG aluminum; both are wrong."""
    result = ask(
        "voltage_drop", current="40 A", size="6", metal="al", length="100 ft", volts="240 V"
    )
    wrong_k, wrong_ohms = 2 * 12.9 * 40 * 100 / 26240, 2 * 0.393 * 40 * 100 / 1000
    for key in ("drop", "drop_k", "drop_dc", "drop_effective"):
        assert number(result, key) > 1.5 * max(wrong_k, wrong_ohms)


def test_the_forms_agree_within_a_few_percent_at_unity_power_factor() -> None:
    result = ask(
        "voltage_drop", current="40 A", size="2", metal="cu", length="200 ft", volts="240 V",
        power_factor=1, solid=False,
    )  # fmt: skip
    for key in ("drop_effective", "drop_k", "drop_dc"):
        assert number(result, key) == pytest.approx(number(result, "drop"), rel=0.03)


def test_a_cold_conductor_drops_less() -> None:
    plain = {"current": "40 A", "size": "6", "metal": "cu", "length": "100 ft"}
    cold = ask("voltage_drop", conductor_temperature="77 F", **plain)
    assert number(cold, "resistance_dc") == pytest.approx(0.491 * (1 - 0.00323 * 50))
    assert number(cold, "drop_dc") < number(ask("voltage_drop", **plain), "drop_dc")


def test_no_solid_conductor_is_made_up() -> None:
    result = ask("voltage_drop", current="40 A", size="6", metal="cu", length="9 ft", solid=True)
    assert "drop_dc" not in {line.key for line in result.lines}


def test_metres_are_metres() -> None:
    plain = {"current": "16 A", "size": "10", "metal": "cu", "volts": "120 V"}
    feet = number(ask("voltage_drop", length="100 ft", **plain), "drop")
    metres = number(ask("voltage_drop", length="30.48 m", **plain), "drop")
    assert metres == pytest.approx(feet)


def test_the_percentages_are_called_advice() -> None:
    result = ask(
        "voltage_drop", current="16 A", size="12", metal="cu", length="100 ft", volts="120 V"
    )
    advice = result.line("advice")
    assert advice.value == "above"
    assert "Advice, not a rule" in advice.note
    assert any("advice in the code, not a rule" in caution for caution in result.cautions)


@pytest.mark.parametrize(
    ("plain", "says"),
    [
        ({"length": 100}, "length: 100 needs a number and its unit"),
        ({"length": "100"}, "needs a number and its unit"),
        ({"length": "100 ft2"}, "length: 100 ft² is not a length"),
        ({"current": "1.9 kW"}, "current: 1.9 kW is not a current"),
        ({"size": ""}, "size: is missing"),
        ({"size": "", "reactance": "0.05 ohm/kft"}, "ohms: is missing beside"),
        ({"ohms": "1.2 ohm"}, "ohms: 1.2 Ω is not a resistance per length"),
        ({"ohms": "0 ohm/kft"}, "ohms: must be above zero"),
        ({"metal": "fe"}, "metal: 'fe' is not a metal"),
        ({"raceway": "wood"}, "raceway: 'wood' is not a raceway"),
    ],
)
def test_a_mistake_names_its_field(plain: dict[str, Any], says: str) -> None:
    usual = {"current": "16 A", "size": "12", "metal": "cu", "length": "100 ft"}
    with pytest.raises(BadDescription) as fault:
        ask("voltage_drop", **{**usual, **plain})
    assert says in fault.value.sentence
