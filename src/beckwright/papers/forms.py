"""What the papers can be had as."""

from enum import StrEnum


class Form(StrEnum):
    """A kind of file, or of files, of a set."""

    PDF = "pdf"
    SVG = "svg"
    DXF = "dxf"
    PNG = "png"
    XLSX = "xlsx"
    ICS = "ics"
    OTHER = "other"


EVERY_FORM = tuple(Form)
USUAL_FORMS = tuple(form for form in Form if form is not Form.PNG)
"""What is written where nobody asks for less or more: pictures take half a second each, and few want them."""
