"""Survey files written by other libraries, or by hand as the open standard has it: what readers are held against."""

from pathlib import Path
from typing import Any

import ezdxf
import laspy
import numpy as np
import rasterio
from rasterio.crs import CRS
from rasterio.transform import Affine

from beckwright.base.quantities import FloatArray


def bank(count: int, *, seed: int = 7, size: float = 40.0) -> FloatArray:
    """Places (n, 3) on a slope of 1 in 20 with a bank 1.2 m high, 3 m wide, across it."""
    plan = np.random.default_rng(seed).uniform(0.0, size, (count, 2))
    return np.column_stack([plan, height(plan)])


def height(plan: FloatArray) -> FloatArray:
    x, y = plan.T
    return np.asarray(100.0 + x / 20.0 + np.clip((y - size_of_flat(x)) / 3.0, 0.0, 1.0) * 1.2)


def size_of_flat(x: FloatArray) -> FloatArray:
    return np.asarray(18.0 + 0.05 * x)


def write_las(
    path: Path,
    places: FloatArray,
    classes: "np.ndarray[Any, Any] | int" = 2,
    *,
    scale: float = 0.001,
    point_format: int = 6,
    wkt: str = "",
) -> Path:
    header = laspy.LasHeader(point_format=point_format, version="1.4" if point_format >= 6 else "1.2")
    header.offsets, header.scales = np.floor(places.min(axis=0)), np.full(3, scale)
    if wkt:
        header.vlrs.append(laspy.vlrs.known.WktCoordinateSystemVlr(wkt))
    scan = laspy.LasData(header)
    scan.x, scan.y, scan.z = places.T
    scan.classification = np.broadcast_to(np.asarray(classes, dtype=np.uint8), len(places)).copy()
    scan.write(path)
    return path


def from_origin(west: float, north: float, wide: float, tall: float) -> Affine:
    """Pixels from the north-west corner of the first."""
    return Affine(wide, 0.0, west, 0.0, -tall, north)


def write_tiff(path: Path, levels: FloatArray, *, transform: Affine | None = None, **more: Any) -> Path:
    given: dict[str, Any] = {"nodata": -9999.0, "crs": CRS.from_epsg(27700), "dtype": "float32"} | more
    place = transform or from_origin(451_000.0, 207_030.0, 0.5, 0.5)
    rows, columns = levels.shape
    with rasterio.open(
        path, "w", driver="GTiff", height=rows, width=columns, count=1, transform=place, **given
    ) as file:
        file.write(levels.astype(given["dtype"]), 1)
    return path


def drawing(units: int = 6) -> Any:
    made = ezdxf.new()
    made.header["$INSUNITS"] = units
    return made


LANDXML = """<?xml version="1.0" encoding="UTF-8"?>
<LandXML xmlns="http://www.landxml.org/schema/LandXML-1.2" version="1.2" date="2026-09-01" time="12:00:00">
<Units>{units}</Units>
{more}
<Surfaces>{surfaces}</Surfaces>
</LandXML>
"""
METRIC = '<Metric linearUnit="meter" areaUnit="squareMeter" volumeUnit="cubicMeter" temperatureUnit="celsius"/>'
IMPERIAL = '<Imperial linearUnit="{}" areaUnit="squareFoot" volumeUnit="cubicYard" temperatureUnit="fahrenheit"/>'


def surface(points: dict[str, tuple[float, float, float]], faces: str, *, name: str = "ground", more: str = "") -> str:
    """A surface as the standard has it: northing first. ``points``: easting, northing, level."""
    listed = "".join(f'<P id="{key}">{north} {east} {level}</P>' for key, (east, north, level) in points.items())
    definition = f'<Definition surfType="TIN"><Pnts>{listed}</Pnts><Faces>{faces}</Faces></Definition>'
    return f'<Surface name="{name}">{more}{definition}</Surface>'


def write_landxml(path: Path, surfaces: str, *, units: str = METRIC, more: str = "") -> Path:
    path.write_text(LANDXML.format(units=units, surfaces=surfaces, more=more), encoding="utf-8")
    return path
