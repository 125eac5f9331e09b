"""Ra, Rf, Rg and SSI of a stack of spectra, against colour-science one spectrum at a time.

Run:   python -m benchmarks.fidelity
Bar:   30 times faster. The work is that of a panel's band of doubt: 240 spectra. Both sides are
       warm: tables and samples are read before the clock starts.
"""

from __future__ import annotations

import sys
import warnings
from typing import cast

import numpy as np

with warnings.catch_warnings():
    warnings.simplefilter("ignore")  # it names every optional package that is not installed
    import colour

from benchmarks.cct import seconds
from evencast.colour import cct_duv, uv
from evencast.colour.fidelity import cri, ssi, ssi_reference, ssi_samples_of_grid, tm30
from evencast.filters import generic
from evencast.lights import builtin
from evencast.spectra import GRID_NM

DAYLIGHT = colour.SDS_ILLUMINANTS["D55"]
BAR = 30.0
LOOP_SPECTRA = 6


def main() -> int:
    """Measure, print, and say whether the bar is met."""
    power = builtin("LED-B3").power * generic("half CTO").members
    as_spectra = [colour.SpectralDistribution(each, GRID_NM) for each in power[:LOOP_SPECTRA]]

    def ours() -> float:
        reference = ssi_reference(cct_duv(uv(power))[0])
        similar = ssi(ssi_samples_of_grid(power, reference), reference)
        return float(np.sum(cri(power)[0]) + np.sum(tm30(power)[1]) + np.sum(similar))

    def theirs() -> float:
        each = [
            float(cast(float, colour.colour_rendering_index(spectrum)))
            + colour.quality.colour_fidelity_index_ANSIIESTM3018(spectrum, True).R_g
            + float(cast(float, colour.spectral_similarity_index(spectrum, DAYLIGHT)))
            for spectrum in as_spectra
        ]
        return float(np.sum(each))

    with warnings.catch_warnings():
        warnings.simplefilter("ignore")  # it says that it sums at 5 nm
        ours(), theirs()
        own = seconds(ours, times=5) / len(power)
        loop = seconds(theirs, times=2) / LOOP_SPECTRA
    ratio = loop / own
    print(f"colour-science  {loop * 1e3:8.2f} ms a spectrum")
    print(f"here            {own * 1e3:8.3f} ms a spectrum, {len(power)} at once")
    print(f"{ratio:,.0f} x, bar {BAR:,.0f} x: {'met' if ratio >= BAR else 'MISSED'}")
    return 0 if ratio >= BAR else 1


if __name__ == "__main__":
    sys.exit(main())
