#include "plot/plate/plate_steps.hpp"

#include "plot/plate/shades.hpp"
#include "wording/say.hpp"

#include <algorithm>
#include <cmath>
#include <limits>

namespace platewright::plot {

using wording::say;

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

std::vector<Step> steps_of(const PlatePicture& picture) {
    const auto levels = levels_of(picture);
    const Ends ends = ends_of(picture);
    std::vector<Step> steps;
    for (std::size_t i = 0; i <= levels.size(); ++i) {
        const double shown_low = i == 0 ? ends.low : levels[i - 1];
        const double shown_high = i == levels.size() ? ends.high : levels[i];
        Step step{i == 0 ? std::numeric_limits<double>::lowest() : shown_low,
                  i == levels.size() ? std::numeric_limits<double>::max() : shown_high,
                  {}};
        const double middle = 0.5 * (shown_low + shown_high);
        if (picture.shading == Shading::about_zero) {
            step.colour = signed_shade(middle / ends.high);
        } else {
            // by place in the row, not by value: all steps are equally far apart in lightness
            step.colour = rising_shade(
                levels.empty() ? 0.3 : static_cast<double>(i) / static_cast<double>(levels.size()));
        }
        steps.push_back(step);
    }
    return steps;
}

int decimals_for(const std::vector<double>& levels) {
    const double step = levels.size() > 1 ? levels[1] - levels[0] : 1.0;
    return std::clamp(static_cast<int>(-std::floor(std::log10(step) + 1e-9)), 0, 4);
}

std::string value_text(double value, int decimals) {
    const double rounded = std::abs(value) < 0.5 * std::pow(10.0, -decimals) ? 0.0 : value;
    return rounded < 0.0 ? wording::signed_figure(rounded, decimals)
                         : wording::figure(rounded, decimals);
}

std::string step_text(const std::vector<double>& levels, std::size_t i, int decimals) {
    if (levels.empty()) {
        return std::string(say("all alike"));
    }
    if (i == 0) {
        return say("below {}", value_text(levels.front(), decimals));
    }
    if (i == levels.size()) {
        return say("{} and more", value_text(levels.back(), decimals));
    }
    return say("{} to {}", value_text(levels[i - 1], decimals), value_text(levels[i], decimals));
}

std::vector<double> levels_of(const PlatePicture& picture, int most) {
    if (picture.field.values.empty()) {
        return {};
    }
    const Ends ends = ends_of(picture);
    return round_levels(ends.low, ends.high, most);
}

} // namespace platewright::plot
