"""What pictures are made of: two cameras, the chart, and what their matrices are fitted to.

A third camera is built for the tests alone: its published matrices hold the fit.
"""

from __future__ import annotations

from pathlib import Path

import colour
import numpy as np
from colour.characterisation import read_training_data_rawtoaces_v1
from colour.characterisation.aces_it import ROOT_RESOURCES_RAWTOACES

from builders.table import DATA, provenance, table_text, write

TESTS = DATA.parents[2] / "tests" / "published"
CAMERAS = {
    "camera_a": ("Nikon 5100 (NPL)", "of a camera with a mosaic of colour filters"),
    "camera_b": ("Sigma SDMerill (NPL)", "of a camera with a layered sensor"),
}
CHECKED = "tests/published/test_camera.py"
FROM_THE_ACADEMY = {
    "licence": "Copyright © 2017 Academy of Motion Picture Arts and Sciences (A.M.P.A.S.). All "
    "rights reserved; the terms stand below. Also BSD-3-Clause as carried by the library",
    "terms": "A worldwide, royalty-free, non-exclusive right to copy, modify, create derivatives, "
    "and use, in source and binary forms, is hereby granted, subject to acceptance of this "
    "license. Copies of source code, in whole or in part, must retain the above copyright notice, "
    "this list of conditions and the Disclaimer of Warranty. Use in binary form must retain the "
    "above copyright notice, this list of conditions and the Disclaimer of Warranty in the "
    "documentation and/or other materials provided with the distribution. Nothing in this license "
    "shall be deemed to grant any rights to trademarks, copyrights, patents, trade secrets or any "
    "other intellectual property of A.M.P.A.S. or any contributors, except as expressly stated "
    'herein. Neither the name "A.M.P.A.S." nor the name of any other contributors to this '
    "software may be used to endorse or promote products derivative of or based on this software "
    "without express prior written permission of A.M.P.A.S. or the contributors, as appropriate. "
    "This license shall be construed pursuant to the laws of the State of California, and any "
    "disputes related thereto shall be subject to the jurisdiction of the courts therein",
    "disclaimer of warranty": 'THIS SOFTWARE IS PROVIDED BY A.M.P.A.S. AND CONTRIBUTORS "AS IS" '
    "AND ANY EXPRESS OR IMPLIED WARRANTIES, INCLUDING, BUT NOT LIMITED TO, THE IMPLIED WARRANTIES "
    "OF MERCHANTABILITY, FITNESS FOR A PARTICULAR PURPOSE, AND NON-INFRINGEMENT ARE DISCLAIMED. IN "
    "NO EVENT SHALL A.M.P.A.S., OR ANY CONTRIBUTORS OR DISTRIBUTORS, BE LIABLE FOR ANY DIRECT, "
    "INDIRECT, INCIDENTAL, SPECIAL, EXEMPLARY, RESITUTIONARY, OR CONSEQUENTIAL DAMAGES (INCLUDING, "
    "BUT NOT LIMITED TO, PROCUREMENT OF SUBSTITUTE GOODS OR SERVICES; LOSS OF USE, DATA, OR "
    "PROFITS; OR BUSINESS INTERRUPTION) HOWEVER CAUSED AND ON ANY THEORY OF LIABILITY, WHETHER IN "
    "CONTRACT, STRICT LIABILITY, OR TORT (INCLUDING NEGLIGENCE OR OTHERWISE) ARISING IN ANY WAY "
    "OUT OF THE USE OF THIS SOFTWARE, EVEN IF ADVISED OF THE POSSIBILITY OF SUCH DAMAGE. WITHOUT "
    "LIMITING THE GENERALITY OF THE FOREGOING, THE ACADEMY SPECIFICALLY DISCLAIMS ANY "
    "REPRESENTATIONS OR WARRANTIES WHATSOEVER RELATED TO PATENT OR OTHER INTELLECTUAL PROPERTY "
    "RIGHTS IN THE RAW TO ACES UTILITY REFERENCE IMPLEMENTATION, OR APPLICATIONS THEREOF, HELD BY "
    "PARTIES OTHER THAN A.M.P.A.S., WHETHER DISCLOSED OR UNDISCLOSED",
}
"""The licence of RAW to ACES 1.0, as its LICENSES file gives it; the misspelt word is its own."""


def build() -> dict[str, str]:
    """Table name to text."""
    cameras = {name: _camera(*each) for name, each in CAMERAS.items()}
    return cameras | {"chart": _chart(), "training_reflectances": _training()}


def build_for_tests() -> dict[str, str]:
    """Name of a table in tests/published to its text."""
    return {"camera_third": _third()}


def _camera(key: str, kind: str) -> str:
    measured = colour.MSDS_CAMERA_SENSITIVITIES[key]
    values = np.column_stack([measured.wavelengths, measured.values])
    header = provenance(
        title=f"Spectral sensitivities {kind}",
        source=f'National Physical Laboratory (NPL), "{key}"; measured by Darrodi, Finlayson, '
        "Goodman and Mackiewicz, J. Opt. Soc. Am. A 32 (2015) 381 (paper named by the "
        "library's documentation, not read)",
        builder="cameras",
        quantity="relative response, the largest of each channel 1",
        values=values,
        checked=CHECKED,
    )
    return table_text(header, ["wavelength_nm", "r", "g", "b"], values)


def _chart() -> str:
    """The set on the summing grid itself. The library's other set of this chart, a mean of 30
    charts at 10 nm to 730 nm, is carried there by a permission that is the library's own."""
    patches = colour.SDS_COLOURCHECKERS["ISO 17321-1"]
    spectra = list(patches.values())
    values = np.column_stack([spectra[0].wavelengths, *(each.values for each in spectra)])
    header = provenance(
        title="Spectral reflectances of the 24 patches of the classic colour chart",
        source="N. Ohta (1997), The basis of color reproduction engineering, and ISO 17321-1:2012, "
        "which print the same values for the Macbeth ColorChecker; 380-780 nm at 5 nm",
        builder="cameras",
        quantity="spectral reflectance factor, unit 1",
        values=values,
        checked="tests/published/test_pictures_against_colour_science.py",
    )
    names = [name.partition(" (")[0] for name in patches]
    return table_text(header, ["wavelength_nm", *names], values)


def _training() -> str:
    patches = read_training_data_rawtoaces_v1()
    values = np.column_stack([patches.wavelengths, patches.values])
    header = provenance(
        title="Spectral reflectances of 190 patches that a camera's matrix is fitted to",
        source="Academy of Motion Picture Arts and Sciences, RAW to ACES 1.0 (2017), "
        "data/training; 380-780 nm at 5 nm",
        builder="cameras",
        quantity="spectral reflectance factor, unit 1",
        values=values,
        checked=CHECKED,
    )
    columns = ["wavelength_nm", *(f"patch{number}" for number in range(1, 191))]
    return table_text(header | FROM_THE_ACADEMY, columns, values)


def _third() -> str:
    path = Path(ROOT_RESOURCES_RAWTOACES) / "CANON_EOS_5DMark_II_RGB_Sensitivities.csv"
    values = np.loadtxt(path, delimiter=",", skiprows=1)
    header = provenance(
        title="Spectral sensitivities of a third camera, for the tests alone",
        source="Academy of Motion Picture Arts and Sciences, RAW to ACES 1.0 (2017), "
        "Canon EOS 5D Mark II; 380-780 nm at 5 nm",
        builder="cameras",
        quantity="relative response",
        values=values,
        checked=CHECKED,
    )
    return table_text(header | FROM_THE_ACADEMY, ["wavelength_nm", "r", "g", "b"], values)


if __name__ == "__main__":
    write(build())
    write(build_for_tests(), folder=TESTS)
