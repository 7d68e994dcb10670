"""IAPWS SR6-08 (2011). Supplementary Release on Properties of Liquid Water at 0.1 MPa.

Provenance: computed by the reference library ``chemicals``, which has the full formulations of IAPWS (2008 for
viscosity, IF97 for density) and not this short one; and two values from memory, to the digits quoted.
"""

import pytest
from chemicals.iapws import iapws97_rho
from chemicals.viscosity import mu_IAPWS

from beckwright.equations.water import dynamic_viscosity, water_viscosity


@pytest.mark.parametrize("temperature", [0.01, 5, 10, 15, 20, 25, 30, 40])
def test_full_formulation(temperature: float) -> None:
    kelvin = temperature + 273.15
    density = iapws97_rho(kelvin, 101_325.0)
    viscosity = mu_IAPWS(kelvin, density)
    assert dynamic_viscosity(temperature) == pytest.approx(viscosity, rel=2e-4)
    assert water_viscosity(temperature) == pytest.approx(viscosity / density, rel=2e-4)


@pytest.mark.parametrize(("temperature", "quoted"), [(10, 1.307e-6), (20, 1.004e-6)])
def test_values_of_the_trade(temperature: float, quoted: float) -> None:
    assert water_viscosity(temperature) == pytest.approx(quoted, abs=1e-9)
