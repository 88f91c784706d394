#!/usr/bin/python3
"""The signals of speed_bound, read by two plain methods of numpy and scipy (Debian packages):
an interpolated Fourier peak with its half-power width, and a subspace fit (ESPRIT) of the
decimated band without any refinement.

    speed_bound 400 signals.f32
    peers.py signals.f32 400
"""
import sys

import numpy as np
from scipy.linalg import lstsq, svd
from scipy.signal import decimate

RATE, LENGTH_S, SKIP_S = 48000.0, 0.8, 0.005
RINGS = [(168.0, 55.0), (352.0, 62.0), (587.0, 72.0)]


def fourier_peak(ring, hz):
    """Parabola through the log-magnitude about the peak, zero-padded eight times; -3 dB width."""
    size = 8 * len(ring)
    spectrum = np.abs(np.fft.rfft(ring, size))
    step = RATE / size
    low, high = int(0.95 * hz / step), int(1.05 * hz / step)
    k = low + int(np.argmax(spectrum[low:high]))
    left, here, right = np.log(spectrum[k - 1 : k + 2])
    shift = 0.5 * (left - right) / (left - 2 * here + right)
    half = spectrum[k] / np.sqrt(2)
    above = k
    while spectrum[above] > half:
        above += 1
    below = k
    while spectrum[below] > half:
        below -= 1
    upper = above - (half - spectrum[above]) / (spectrum[above - 1] - spectrum[above])
    lower = below + (half - spectrum[below]) / (spectrum[below + 1] - spectrum[below])
    return (k + shift) * step, np.pi * (upper - lower) * step


def subspace(ring, order):
    """ESPRIT on a Hankel matrix of the band below 1.5 kHz; `order` is told, which a real tap won't."""
    low = decimate(decimate(ring, 4, ftype="fir"), 4, ftype="fir")[12:]
    rate = RATE / 16
    rows = 300
    columns = min(len(low) - rows, 900)
    hankel = np.lib.stride_tricks.sliding_window_view(low[: rows + columns], rows).T[:, :columns]
    space = svd(hankel @ hankel.T)[0][:, :order]
    shift = lstsq(space[:-1], space[1:])[0]
    poles = np.log(np.linalg.eigvals(shift)) * rate
    return [(p.imag / (2 * np.pi), -p.real) for p in poles if p.imag > 0]


def rms(values):
    return np.sqrt(np.mean(np.square(values))) if values else float("nan")


def main():
    path, trials = sys.argv[1], int(sys.argv[2])
    length = int(RATE * LENGTH_S)
    signals = np.fromfile(path, dtype=np.float32).reshape(-1, length).astype(float)
    print(f"{'SNR dB':>6} {'Hz':>6} {'peak Hz':>10} {'peak 1/s':>10} {'subsp Hz':>10} {'subsp 1/s':>10}")
    for block, snr in enumerate((10, 20, 30, 40, 50, 60)):
        errors = {(hz, method): ([], []) for hz, _ in RINGS for method in ("peak", "subspace")}
        for signal in signals[block * trials : (block + 1) * trials]:
            ring = signal[int(SKIP_S * RATE) :]
            found = subspace(ring, 2 * len(RINGS))
            for hz, q in RINGS:
                decay = np.pi * hz / q
                peak = fourier_peak(ring, hz)
                near = min(found, key=lambda p: abs(p[0] - hz), default=(np.nan, np.nan))
                for method, (f, d) in (("peak", peak), ("subspace", near)):
                    if abs(f - hz) < 0.03 * hz:
                        errors[hz, method][0].append(f - hz)
                        errors[hz, method][1].append(d - decay)
        for hz, _ in RINGS:
            peak, plain = errors[hz, "peak"], errors[hz, "subspace"]
            print(f"{snr:6} {hz:6.0f} {rms(peak[0]):10.5f} {rms(peak[1]):10.4f}"
                  f" {rms(plain[0]):10.5f} {rms(plain[1]):10.4f}")
    told = 0
    pairs = signals[6 * trials :]
    for signal in pairs:
        found = subspace(signal[int(SKIP_S * RATE) :], 4)
        near = [min((abs(f - hz) for f, _ in found), default=9) for hz in (300.0, 306.0)]
        told += max(near) < 1.5
    print(f"300 and 306 Hz at 30 dB: plain subspace, told that there are two: {told} of {len(pairs)}")


if __name__ == "__main__":
    main()
