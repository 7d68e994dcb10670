"""Water itself between freezing and a hot summer: its viscosity moves the hose's loss by a tenth over the year."""
# mypy: no-warn-return-any

from typing import Annotated

from beckwright.base.published import published
from beckwright.base.quantities import Density, Temperature, Viscosity

DynamicViscosity = Annotated[float, "Pa s"]


@published(source="iapws-sr6-08", place="viscosity of liquid water at 0.1 MPa", temperature=(0, 100))
def dynamic_viscosity(temperature: Temperature) -> DynamicViscosity:
    """Stickiness of water at ordinary pressure.

    ``mu = (280.68 x**-1.9 + 511.45 x**-7.7 + 61.131 x**-19.6 + 0.45903 x**-40) 1e-6, x = (t + 273.15) / 300``

    temperature  t  of the water
    """
    x = (temperature + 273.15) / 300
    return 1e-6 * (280.68 * x**-1.9 + 511.45 * x**-7.7 + 61.131 * x**-19.6 + 0.45903 * x**-40)


@published(source="kell-1975", place="density of water at 1 atm", temperature=(0, 150))
def water_density(temperature: Temperature) -> Density:
    """Density of clean water at ordinary pressure.

    ``rho = (999.83952 + 16.945176 t - 7.9870401e-3 t**2 - 46.170461e-6 t**3 + 105.56302e-9 t**4
    - 280.54253e-12 t**5) / (1 + 16.879850e-3 t)``

    temperature  t  of the water
    """
    t = temperature
    upper = 105.56302e-9 - 280.54253e-12 * t
    return (999.83952 + t * (16.945176 + t * (-7.9870401e-3 + t * (-46.170461e-6 + t * upper)))) / (
        1 + 16.879850e-3 * t
    )


@published(source="definition", place="dynamic viscosity over density", temperature=(0, 100))
def water_viscosity(temperature: Temperature) -> Viscosity:
    """Kinematic viscosity of water at ordinary pressure.

    ``nu = mu(t) / rho(t)``

    temperature  t  of the water
    """
    return dynamic_viscosity(temperature) / water_density(temperature)
