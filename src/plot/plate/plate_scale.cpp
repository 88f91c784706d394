#include "plot/plate/plate_scale.hpp"

#include "plot/palette.hpp"
#include "wording/say.hpp"

#include <algorithm>
#include <cmath>
#include <limits>
#include <utility>

namespace platewright::plot {
namespace {

using wording::say;

/// The ends of the scale; about zero they lie equally far from it.
struct Ends {
    double low = 0.0, high = 1.0;
};

Ends ends_of(const PlatePicture& picture) {
    Ends ends{std::numeric_limits<double>::max(), std::numeric_limits<double>::lowest()};
    for (const double v : picture.field.values) {
        ends.low = std::min(ends.low, v);
        ends.high = std::max(ends.high, v);
    }
    if (picture.field.values.empty()) {
        ends = {0.0, 1.0};
    }
    ends.low = picture.low.value_or(ends.low);
    ends.high = picture.high.value_or(ends.high);
    if (picture.shading == Shading::about_zero) {
        const double most = std::max({std::abs(ends.low), std::abs(ends.high), 1e-12});
        ends = {-most, most};
    }
    return ends;
}

/// As many as tell the levels apart.
int decimals_for(const std::vector<double>& levels) {
    const double step = levels.size() > 1 ? levels[1] - levels[0] : 1.0;
    return std::clamp(static_cast<int>(-std::floor(std::log10(step) + 1e-9)), 0, 4);
}

std::string level_text(double value, int decimals) {
    const double rounded = std::abs(value) < 0.5 * std::pow(10.0, -decimals) ? 0.0 : value;
    return rounded < 0.0 ? wording::signed_figure(rounded, decimals)
                         : wording::figure(rounded, decimals);
}

/// What the legend says of step `i`.
std::string step_text(const std::vector<double>& levels, std::size_t i, int decimals) {
    if (levels.empty()) {
        return say("all alike");
    }
    if (i == 0) {
        return say("below {}", level_text(levels.front(), decimals));
    }
    if (i == levels.size()) {
        return say("{} and more", level_text(levels.back(), decimals));
    }
    return say("{} to {}", level_text(levels[i - 1], decimals), level_text(levels[i], decimals));
}

} // namespace

std::vector<double> levels_of(const PlatePicture& picture, int most) {
    if (picture.field.values.empty()) {
        return {};
    }
    const Ends ends = ends_of(picture);
    return round_levels(ends.low, ends.high, most);
}

std::string PlateScale::words_of(double level) const { return level_text(level, decimals); }

PlateScale scale_of(const PlatePicture& picture) {
    const Ends ends = ends_of(picture);
    const auto levels = levels_of(picture);
    PlateScale scale{ends.low, ends.high, levels, {}, decimals_for(levels)};
    for (std::size_t i = 0; i <= levels.size(); ++i) {
        const double shown_low = i == 0 ? ends.low : levels[i - 1];
        const double shown_high = i == levels.size() ? ends.high : levels[i];
        PlateScale::Step step{i == 0 ? std::numeric_limits<double>::lowest() : shown_low,
                              i == levels.size() ? std::numeric_limits<double>::max() : shown_high,
                              {},
                              step_text(levels, i, scale.decimals)};
        const double middle = 0.5 * (shown_low + shown_high);
        if (picture.shading == Shading::about_zero) {
            step.colour = signed_shade(middle / ends.high);
        } else {
            // by place in the row, not by value: all steps are equally far apart in lightness
            step.colour = rising_shade(
                levels.empty() ? 0.3 : static_cast<double>(i) / static_cast<double>(levels.size()));
        }
        scale.steps.push_back(std::move(step));
    }
    return scale;
}

} // namespace platewright::plot
