#include "plot/axis.hpp"

#include "wording/say.hpp"

#include <algorithm>
#include <array>
#include <chrono>
#include <cmath>
#include <stdexcept>

namespace platewright::plot {
namespace {

double round_step(double rough) {
    const double decade = std::pow(10.0, std::floor(std::log10(rough)));
    const double share = rough / decade;
    for (const double nice : {1.0, 2.0, 5.0}) {
        if (share <= nice * (1.0 + 1e-9)) {
            return nice * decade;
        }
    }
    return 10.0 * decade;
}

/// With a true minus sign, as all figures on the screen.
std::string figure(double value, int decimals) {
    return value < 0.0 ? wording::signed_figure(value, decimals) : wording::figure(value, decimals);
}

int decimals_of_step(double step) {
    return std::max(0, static_cast<int>(std::ceil(-std::log10(step) - 1e-9)));
}

std::vector<Tick> linear_ticks(double low, double high, int most) {
    const double step = round_step((high - low) / std::max(1, most - 1));
    std::vector<Tick> found;
    const auto first = std::llround(std::ceil(low / step - 1e-9));
    for (auto i = first; static_cast<double>(i) * step <= high + step * 1e-9; ++i) {
        const double at = static_cast<double>(i) * step;
        found.push_back({at, figure(at, decimals_of_step(step))});
    }
    return found;
}

std::vector<Tick> logarithmic_ticks(double low, double high, int most) {
    if (high / low < 2.0) {
        return linear_ticks(low, high, most);
    }
    // From the densest set of multiples to the sparsest, the first that fits.
    const std::array<std::vector<double>, 4> sets{
        std::vector<double>{1, 1.5, 2, 3, 4, 5, 6, 8}, {1, 2, 3, 5, 7}, {1, 2, 5}, {1}};
    std::vector<Tick> found;
    for (const auto& set : sets) {
        found.clear();
        for (double decade = std::pow(10.0, std::floor(std::log10(low))); decade <= high;
             decade *= 10.0) {
            for (const double multiple : set) {
                const double at = decade * multiple;
                if (at >= low * (1.0 - 1e-9) && at <= high * (1.0 + 1e-9)) {
                    found.push_back({at, wording::figure(at, decimals_of_step(std::min(at, 1.0)))});
                }
            }
        }
        if (static_cast<int>(found.size()) <= most) {
            break;
        }
    }
    return found;
}

std::string iso_day(double day) {
    const std::chrono::sys_days date{std::chrono::days{std::lround(std::floor(day))}};
    const std::chrono::year_month_day parts{date};
    const auto two = [](unsigned value) { return (value < 10 ? "0" : "") + std::to_string(value); };
    return std::to_string(static_cast<int>(parts.year())) + "-" +
           two(static_cast<unsigned>(parts.month())) + "-" +
           two(static_cast<unsigned>(parts.day()));
}

std::vector<Tick> month_ticks(double low, double high, int step_months) {
    using namespace std::chrono;
    const year_month_day start{sys_days{days{std::lround(std::floor(low))}}};
    std::vector<Tick> found;
    const unsigned phase = (static_cast<unsigned>(start.month()) - 1) %
                           static_cast<unsigned>(std::min(step_months, 12));
    year_month month = start.year() / start.month();
    month -= months{static_cast<int>(phase)};
    const auto first_day = [&month] {
        return static_cast<double>(sys_days{month / day{1}}.time_since_epoch().count());
    };
    for (; first_day() <= high; month += months{step_months}) {
        if (first_day() >= low) {
            found.push_back({first_day(), iso_day(first_day())});
        }
    }
    return found;
}

std::vector<Tick> day_ticks(double low, double high, int most) {
    std::vector<Tick> found;
    for (const double step : {1.0, 2.0, 7.0, 14.0}) {
        if ((high - low) / step <= most - 1) {
            for (double at = std::ceil(low / step) * step; at <= high; at += step) {
                found.push_back({at, iso_day(at)});
            }
            return found;
        }
    }
    for (const int step : {1, 2, 3, 6, 12, 24, 60, 120, 600}) {
        found = month_ticks(low, high, step);
        if (static_cast<int>(found.size()) <= most) {
            break;
        }
    }
    return found;
}

std::vector<Tick> named_ticks(const Axis& axis, double low, double high, int most) {
    const auto count = static_cast<int>(axis.names.size());
    const int stride = std::max(1, (count + most - 1) / most);
    std::vector<Tick> found;
    for (int i = 0; i < count; i += stride) {
        if (i >= low && i <= high) {
            found.push_back({static_cast<double>(i), axis.names[static_cast<std::size_t>(i)]});
        }
    }
    return found;
}

} // namespace

Scale::Scale(const Axis& axis, double surface_low, double surface_high)
    : surface_low_(surface_low), surface_span_(surface_high - surface_low),
      logarithmic_(axis.spacing == Spacing::logarithmic) {
    if (!std::isfinite(axis.low) || !std::isfinite(axis.high) || axis.low == axis.high) {
        throw std::invalid_argument("Scale: the ends of an axis are finite and differ");
    }
    if (logarithmic_ && (axis.low <= 0.0 || axis.high <= 0.0)) {
        throw std::invalid_argument("Scale: a logarithmic axis has ends above zero");
    }
    low_ = logarithmic_ ? std::log(axis.low) : axis.low;
    span_ = (logarithmic_ ? std::log(axis.high) : axis.high) - low_;
}

double Scale::place(double value) const {
    if (logarithmic_) {
        value = value > 0.0 ? std::log(value) : low_;
    }
    return surface_low_ + (value - low_) / span_ * surface_span_;
}

double Scale::value(double place) const {
    const double along = low_ + (place - surface_low_) / surface_span_ * span_;
    return logarithmic_ ? std::exp(along) : along;
}

std::vector<Tick> ticks(const Axis& axis, int most) {
    const double low = std::min(axis.low, axis.high);
    const double high = std::max(axis.low, axis.high);
    most = std::max(2, most);
    switch (axis.reading) {
    case Reading::day:
        return day_ticks(low, high, most);
    case Reading::named:
        return named_ticks(axis, low, high, most);
    case Reading::number:
        break;
    }
    return axis.spacing == Spacing::logarithmic ? logarithmic_ticks(low, high, most)
                                                : linear_ticks(low, high, most);
}

void widen(Axis& axis, double share) {
    if (!std::isfinite(axis.low) || !std::isfinite(axis.high)) {
        axis.low = 1.0;
        axis.high = 10.0;
    }
    if (axis.spacing == Spacing::logarithmic) {
        const double least = 1.05; // a factor; below this the trace would fill the frame with noise
        const double factor = std::max(std::pow(axis.high / axis.low, share), least);
        axis.low /= factor;
        axis.high *= factor;
        return;
    }
    const double span = axis.high - axis.low;
    const double margin = span != 0.0 ? span * share : std::max(1.0, std::abs(axis.low) * share);
    axis.low -= margin;
    axis.high += margin;
}

namespace {

constexpr double k_closest = 1e-3; // of the whole axis

/// The stretch from one place to another of an axis that goes from 0 to 1, pushed back inside it.
Axis stretch(const Axis& all, double low, double high) {
    const Scale places(all, 0.0, 1.0);
    const double span = std::clamp(high - low, k_closest, 1.0);
    const double start = std::clamp(low, 0.0, 1.0 - span);
    Axis seen = all;
    if (span < 1.0) { // else the ends stay exactly what they were
        seen.low = places.value(start);
        seen.high = places.value(start + span);
    }
    return seen;
}

} // namespace

Axis zoomed(const Axis& all, const Axis& now, double about, double factor) {
    const Scale places(all, 0.0, 1.0);
    const double low = places.place(now.low);
    const double high = places.place(now.high);
    const double kept = places.place(about);
    const double span = std::clamp((high - low) * factor, k_closest, 1.0);
    const double share = (kept - low) / (high - low);
    return stretch(all, kept - share * span, kept - share * span + span);
}

Axis moved(const Axis& all, const Axis& now, double share) {
    const Scale places(all, 0.0, 1.0);
    const double low = places.place(now.low);
    const double span = places.place(now.high) - low;
    return stretch(all, low + share * span, low + (1.0 + share) * span);
}

} // namespace platewright::plot
