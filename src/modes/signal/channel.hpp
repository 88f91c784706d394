#pragma once
#include <complex>
#include <span>
#include <vector>

namespace platewright::modes {

/// A part of the band, to be taken to a low sample rate: modes are narrow, so a fit needs few
/// samples once the rest of the spectrum is filtered away.
struct ChannelPlan {
    double low_hz = 0.0;    ///< modes from here …
    double high_hz = 0.0;   ///< … to here are this channel's to report
    double offset_hz = 0.0; ///< a component at f stands at f - offset_hz in the channel
    long decimation = 1;    ///< samples of the recording per sample of the channel
    std::vector<std::complex<double>> taps; ///< filter at the recording's rate; empty: none needed
};

/// Cuts [low_hz, high_hz] into channels of at most about 2.5 kHz (one, up to 3 kHz).
/// The filters' stop bands lie 80 dB down (Kaiser's design, 1974, docs/sources.md#kaiser).
/// In:   rate_hz > 0, 0 < low_hz < high_hz; high_hz is brought below 0.47 of the rate.
std::vector<ChannelPlan> plan_channels(double rate_hz, double low_hz, double high_hz);

/// A channel's samples. samples[i] stands at recording sample origin + (first + i)·decimation.
struct Channel {
    std::vector<double> samples;
    long first = 0;
};

/// Filters, shifts and decimates. A damped sinusoid stays one where the filter lies wholly in its
/// ring: a channel sample at recording index n draws on n - taps.size() + 1 … n only.
/// Cost: taps/decimation multiplications a recording sample.  Threads: any.
Channel take_channel(const ChannelPlan& plan, std::span<const float> recording, long origin,
                     double rate_hz);

/// What the channel's filter does to a component e^{s n} of the recording (s per sample).
std::complex<double> response(const ChannelPlan& plan, std::complex<double> s);

} // namespace platewright::modes
