"""How the pedal tilts over the turn: a Fourier series, so that it can be read at any angle and derived exactly."""

from dataclasses import dataclass

import numpy as np

from pedalwright._typing import Floats, Numbers
from pedalwright.errors import OutOfRangeError, checked


@dataclass(frozen=True)
class PeriodicCurve:
    """A curve over the crank turn as a Fourier series."""

    mean: Floats
    cosine: Floats
    sine: Floats

    def at(self, crank_angle_deg: Numbers, derivative: int = 0) -> Floats:
        """Value of the curve, or of a derivative per radian of crank angle."""
        crank = np.radians(checked("crank_angle_deg", crank_angle_deg))
        harmonic = np.arange(1, self.cosine.shape[-1] + 1)
        size = harmonic.astype(float) ** derivative
        phase = np.atleast_1d(crank)[..., None] * harmonic + derivative * np.pi / 2
        wave = np.cos(phase) @ (self.cosine * size)[..., None] + np.sin(phase) @ (self.sine * size)[..., None]
        level = self.mean[..., None] if derivative == 0 else np.zeros_like(self.mean)[..., None]
        curve = level + wave[..., 0]
        return np.asarray(curve[..., 0] if crank.ndim == 0 else curve)


def constant_curve(value: Numbers) -> PeriodicCurve:
    """A curve that does not change over the turn."""
    mean = checked("value", value)
    return PeriodicCurve(mean, np.zeros((*mean.shape, 1)), np.zeros((*mean.shape, 1)))


def sinusoid_curve(mean: Numbers, amplitude: Numbers, phase_deg: Numbers) -> PeriodicCurve:
    """One wave a turn: mean + amplitude·sin(crank angle + phase)."""
    middle, size, phase = np.broadcast_arrays(
        checked("mean", mean), checked("amplitude", amplitude), np.radians(checked("phase_deg", phase_deg))
    )
    return PeriodicCurve(middle, (size * np.sin(phase))[..., None], (size * np.cos(phase))[..., None])


def fourier_curve(samples: Numbers) -> PeriodicCurve:
    """The smooth curve through uniform samples of one turn."""
    values = checked("samples", samples)
    if values.ndim == 0 or values.shape[-1] < 3:
        raise OutOfRangeError(
            f"samples: received {values.size}; allowed: at least 3 on the last axis; give a whole turn of samples"
        )
    count = values.shape[-1]
    spectrum = np.fft.rfft(values, axis=-1) / count
    weight = np.full(spectrum.shape[-1], 2.0)
    weight[0] = 1.0
    if count % 2 == 0:
        weight[-1] = 1.0
    spectrum = spectrum * weight
    return PeriodicCurve(spectrum[..., 0].real, spectrum[..., 1:].real, -spectrum[..., 1:].imag)
