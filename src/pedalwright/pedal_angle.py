"""Smooth curves over the crank turn as Fourier series, above all the tilt of the pedal.

A Fourier series can be read at any crank angle and derived exactly, so velocities and accelerations that follow from
it carry no error of finite differences.
"""

from dataclasses import dataclass

import numpy as np

from pedalwright._typing import Floats, Numbers
from pedalwright.errors import checked
from pedalwright.turn import checked_curve


@dataclass(frozen=True)
class PeriodicCurve:
    """A curve over the crank turn: mean + Σ cosine_k·cos kθ + sine_k·sin kθ.

    Parameters
    ----------
    mean : numpy.ndarray, shape (...)
        Mean over the turn. [any unit]
    cosine, sine : numpy.ndarray, shape (..., harmonics)
        Amplitudes of the harmonics, from one wave a turn on. [same unit]

    Examples
    --------
    >>> sinusoid_curve(10, 20, 0).at([0, 90]).round(6).tolist()
    [10.0, 30.0]
    """

    mean: Floats
    cosine: Floats
    sine: Floats

    def at(self, crank_angle_deg: Numbers, derivative: int = 0) -> Floats:
        """Read the curve, or one of its derivatives, at any crank angle.

        Parameters
        ----------
        crank_angle_deg : array_like, shape (angles,) or one number
            Crank angles, any finite values. [°]
        derivative : int
            0 for the curve, 1 or 2 for its first or second derivative by the crank angle in radians.

        Returns
        -------
        numpy.ndarray, shape (..., angles)
            Values there; without the last axis for one number. [same unit, per rad, per rad²]

        Raises
        ------
        OutOfRangeError
            If an angle is not a finite number.

        Examples
        --------
        >>> sinusoid_curve(10, 20, 0).at(0, derivative=1).round(6).item()
        20.0
        """
        crank = np.radians(checked("crank_angle_deg", crank_angle_deg))
        harmonic = np.arange(1, self.cosine.shape[-1] + 1)
        size = harmonic.astype(np.float64) ** derivative
        phase = np.atleast_1d(crank)[..., None] * harmonic + derivative * np.pi / 2
        wave = np.cos(phase) @ (self.cosine * size)[..., None] + np.sin(phase) @ (self.sine * size)[..., None]
        curve = wave[..., 0] + (self.mean[..., None] if derivative == 0 else 0.0)
        return np.asarray(curve[..., 0] if crank.ndim == 0 else curve)


def constant_curve(value: Numbers) -> PeriodicCurve:
    """Make a curve that does not change over the turn, such as an ankle held still against the ground.

    Parameters
    ----------
    value : array_like, shape (...)
        The value, one a rider. [any unit]

    Returns
    -------
    PeriodicCurve
        The curve. [same unit]

    Raises
    ------
    OutOfRangeError
        If the value is not finite.

    Examples
    --------
    >>> constant_curve(5).at([0, 120]).tolist()
    [5.0, 5.0]
    """
    mean = checked("value", value)
    none = np.zeros((*mean.shape, 1))
    return PeriodicCurve(mean, none, none)


def sinusoid_curve(mean: Numbers, amplitude: Numbers, phase_deg: Numbers) -> PeriodicCurve:
    """Make a curve of one wave a turn: mean + amplitude·sin(θ + phase).

    Parameters
    ----------
    mean : array_like, shape (...)
        Mean over the turn. [any unit]
    amplitude : array_like, shape (...)
        Half the excursion. [same unit]
    phase_deg : array_like, shape (...)
        Lead of the wave. [°]

    Returns
    -------
    PeriodicCurve
        The curve. [same unit]

    Raises
    ------
    OutOfRangeError
        If a value is not finite.

    Notes
    -----
    *Teaching model* of the pedal angle, usual in studies that vary bicycle dimensions.

    References
    ----------
    redfield_hull_1986

    Examples
    --------
    >>> sinusoid_curve(8, 21, 180).at([0, 90, 270]).round(6).tolist()
    [8.0, -13.0, 29.0]
    """
    middle, size, lead = np.broadcast_arrays(
        checked("mean", mean), checked("amplitude", amplitude), np.radians(checked("phase_deg", phase_deg))
    )
    return PeriodicCurve(middle, (size * np.sin(lead))[..., None], (size * np.cos(lead))[..., None])


def fourier_curve(samples: Numbers) -> PeriodicCurve:
    """Make the smoothest curve through uniform samples of one turn.

    Parameters
    ----------
    samples : array_like, shape (..., count)
        Values from the top on, without a repeated end point, at least 3. [any unit]

    Returns
    -------
    PeriodicCurve
        The curve; it passes through every sample. [same unit]

    Raises
    ------
    OutOfRangeError
        If there are fewer than 3 samples or a value is not finite.

    Examples
    --------
    >>> curve = fourier_curve([0, 1, 0, -1])
    >>> curve.at([90, 45]).round(4).tolist()
    [1.0, 0.7071]
    """
    values = checked_curve("samples", samples)
    spectrum = np.fft.rfft(values, axis=-1) * (2 / values.shape[-1])
    if values.shape[-1] % 2 == 0:
        spectrum[..., -1] /= 2
    return PeriodicCurve(spectrum[..., 0].real / 2, spectrum[..., 1:].real, -spectrum[..., 1:].imag)
