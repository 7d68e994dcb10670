"""What other programs are given, written once, and read back by the rules of each format with readers not ours."""

import csv
import json
from dataclasses import dataclass
from pathlib import Path
from xml.etree import ElementTree as ET

import ezdxf
import numpy as np
from ezdxf.document import Drawing

from beckwright.compose import Design
from beckwright.papers.handed_over import exchange_files, hand_over, write_exchange
from beckwright.papers.handed_over.values import HandedOver
from beckwright.stages.earthworks import Groundwork, dig
from beckwright.stages.setting_out import SettingOut, set_out

EXAMPLES = Path(__file__).parents[2] / "examples"
MILLIMETRE = 1e-3
FILES = ("ground_and_course.xml", "model.dxf", "plan.geojson", "points.csv", "points_p_n_e_z_d.csv", "read_me.txt")
WORLD = {"lx": "http://www.landxml.org/schema/LandXML-1.2"}


@dataclass(frozen=True)
class Exchange:
    """One design handed over: what went in, and the folder that came out."""

    design: Design
    groundwork: Groundwork
    setting_out: SettingOut
    handed: HandedOver
    folder: Path

    def landxml(self) -> ET.Element:
        return ET.parse(self.folder / "ground_and_course.xml").getroot()  # noqa: S314 (our own writing)

    def dxf(self) -> Drawing:
        return ezdxf.readfile(self.folder / "model.dxf")

    def features(self, kind: str) -> list[dict]:
        return [each for each in self.geojson()["features"] if each["properties"]["kind"] == kind]

    def geojson(self) -> dict:
        return json.loads((self.folder / "plan.geojson").read_text(encoding="utf-8"), parse_constant=_no_constant)

    def columns(self) -> dict[str, tuple[float, float, float, str]]:
        lines = (self.folder / "points.csv").read_text(encoding="utf-8").splitlines()
        rows = csv.DictReader(line for line in lines if not line.startswith("#"))
        return {row["id"]: (float(row["x_m"]), float(row["y_m"]), float(row["z_m"]), row["code"]) for row in rows}


def _no_constant(word: str) -> float:
    raise AssertionError(word)


def exchanged(designed: Design, folder: Path) -> Exchange:
    """Write the files of a design."""
    groundwork = dig(designed.job, designed.course, designed.ground, designed.reservoir.pit, designed.surroundings)
    setting_out = set_out(designed.job, designed.course, designed.ground, designed.surroundings, groundwork)
    handed = hand_over(designed, groundwork, setting_out)
    written = write_exchange(exchange_files(handed), folder)
    assert tuple(path.name for path in written) == FILES
    return Exchange(designed, groundwork, setting_out, handed, folder / "for_other_programs")


def numbers(element: ET.Element, columns: int) -> np.ndarray:
    """A list of the standard as a table."""
    return np.array((element.text or "").split(), dtype=float).reshape(-1, columns)


def landxml_net(root: ET.Element, name: str) -> np.ndarray:
    """Corners (k, 3, 3) of a surface as easting, northing, level, by the rules of the standard."""
    surface = root.find(f".//lx:Surface[@name='{name}']", WORLD)
    assert surface is not None
    points = {p.get("id"): numbers(p, 3)[0] for p in surface.iterfind(".//lx:P", WORLD)}
    corners = [[points[number] for number in (face.text or "").split()] for face in surface.iterfind(".//lx:F", WORLD)]
    return np.array(corners)[..., [1, 0, 2]]


def dxf_net(document: Drawing, layer: str) -> np.ndarray:
    """Corners (k, 3, 3) of the faces on a layer."""
    faces = document.modelspace().query(f'3DFACE[layer=="{layer}"]')
    return np.array([[face.dxf.vtx0, face.dxf.vtx1, face.dxf.vtx2] for face in faces])


def plans(corners: np.ndarray) -> np.ndarray:
    """Plan area of every face (k,), above nought where its corners run anticlockwise."""
    return _cross(corners[:, 1] - corners[:, 0], corners[:, 2] - corners[:, 0]) / 2


def plan_and_volume(corners: np.ndarray) -> tuple[float, float]:
    """Plan area of a net and the volume between it and level 0: each face times its mean level."""
    return float(plans(corners).sum()), float((plans(corners) * corners[..., 2].mean(axis=1)).sum())


def level_in(corners: np.ndarray, place: np.ndarray) -> float:
    """Level of a net at a place (2,), by weights of the corners of the face that holds it."""
    to = corners[..., :2] - place
    weights = np.stack([_cross(to[:, one], to[:, two]) for one, two in ((1, 2), (2, 0), (0, 1))], axis=1)
    shares = weights / weights.sum(axis=1)[:, None]
    face = int(np.argmax(shares.min(axis=1)))
    assert shares[face].min() > -1e-6
    return float(shares[face] @ corners[face, :, 2])


def _cross(one: np.ndarray, two: np.ndarray) -> np.ndarray:
    return one[..., 0] * two[..., 1] - one[..., 1] * two[..., 0]
