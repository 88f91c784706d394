#pragma once
#include "plot/chart.hpp"

namespace platewright::plot {

/// A level spectrum: x in Hz ascending, y in dB.
struct SpectrumLine {
    std::vector<Point> points = {};
    std::string name = {};
};

/// Where a mode stands on the frequency axis.
struct ModePost {
    double frequency_hz = 0.0;
    int name = 0; // 1, 2, 5; 0: a mode without a name
    std::string words = {};
};

struct SpectrumPicture {
    SpectrumLine last_tap = {};
    SpectrumLine mean = {};
    std::vector<SpectrumLine> ghosts = {}; // earlier sessions, oldest first
    std::vector<ModePost> modes = {};
    double low_hz = 40.0;
    double high_hz = 1000.0;
    Spacing spacing = Spacing::logarithmic;
};

/// The last tap over the session's mean, with earlier sessions as ghosts and the modes as
/// signposts. The picture spans at most `k_shown_range_db` below its highest point.
Chart spectrum_chart(const SpectrumPicture& picture, const Palette& palette);
inline constexpr double k_shown_range_db = 70.0;

/// Two plates over one another.
struct BesidePicture {
    SpectrumLine plate = {};
    SpectrumLine reference = {};
    std::vector<ModePost> plate_modes = {};
    std::vector<ModePost> reference_modes = {};
    double low_hz = 40.0;
    double high_hz = 1000.0;
    Spacing spacing = Spacing::logarithmic;
};

/// The plate's mean spectrum over the reference's, each with its modes: the plate's as solid
/// signposts with words, the reference's as dashed ones without.
Chart beside_chart(const BesidePicture& picture, const Palette& palette);

} // namespace platewright::plot
