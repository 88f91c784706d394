#include "trends/wood/wood_choice.hpp"

#include <algorithm>
#include <cmath>
#include <stdexcept>

namespace platewright::trends {
namespace {

using Member = std::optional<Figure> WoodFigures::*;

double log_sd(const Figure& f) { return f.sd / f.value; }

/// ln of a ratio of figures, with its deviation.
struct LogRatio {
    double value = 0, variance = 0;
};

std::optional<LogRatio> log_ratio(const WoodFigures& a, const WoodFigures& b, Member member) {
    const auto &x = a.*member, &y = b.*member;
    if (!x || !y)
        return std::nullopt;
    return LogRatio{std::log(x->value / y->value),
                    log_sd(*x) * log_sd(*x) + log_sd(*y) * log_sd(*y)};
}

std::optional<LogRatio> mean(const std::optional<LogRatio>& a, const std::optional<LogRatio>& b) {
    if (!a || !b)
        return std::nullopt;
    return LogRatio{0.5 * (a->value + b->value), 0.25 * (a->variance + b->variance)};
}

} // namespace

std::vector<Likeness> nearest(std::span<const WoodFigures> stock, const WoodFigures& good) {
    std::vector<Likeness> all;
    for (std::size_t i = 0; i < stock.size(); ++i) {
        if (!log_ratio(stock[i], good, &WoodFigures::density_kg_m3) ||
            !log_ratio(stock[i], good, &WoodFigures::e_l_gpa))
            continue;
        Likeness one{.index = i, .figures = {}};
        double sum = 0.0;
        for (const WoodConstant& c : k_wood_constants) {
            const auto ratio = log_ratio(stock[i], good, c.of);
            if (!ratio || c.compared.empty())
                continue;
            const double z = ratio->value / std::sqrt(c.spread * c.spread + ratio->variance);
            one.figures.push_back(
                {c.compared, wording::say(c.compared_text), std::exp(ratio->value), z});
            sum += z * z;
        }
        one.distance = std::sqrt(sum / static_cast<double>(one.figures.size()));
        all.push_back(std::move(one));
    }
    std::ranges::stable_sort(all, {}, &Likeness::distance);
    return all;
}

ThicknessChoice thickness_for(const WoodFigures& wood, const WoodFigures& good, double good_mm) {
    if (!(good_mm > 0.0))
        throw std::invalid_argument{"a plate's thickness is above 0"};
    const auto thickness = [good_mm](const std::optional<LogRatio>& ratio,
                                     double exponent) -> std::optional<Figure> {
        if (!ratio)
            return std::nullopt;
        const double mm = good_mm * std::exp(exponent * ratio->value);
        return Figure{mm, mm * std::abs(exponent) * std::sqrt(ratio->variance)};
    };
    const auto along = log_ratio(wood, good, &WoodFigures::e_l_gpa);
    const auto across = log_ratio(wood, good, &WoodFigures::e_r_gpa);
    const auto both = mean(along, across);
    const auto density = log_ratio(wood, good, &WoodFigures::density_kg_m3);
    ThicknessChoice choice;
    choice.stiff_along_mm = thickness(along, -1.0 / 3.0);
    choice.stiff_across_mm = thickness(across, -1.0 / 3.0);
    choice.stiff_mm = thickness(both ? both : along, -1.0 / 3.0);
    choice.heavy_mm = thickness(density, -1.0);
    if (const auto& e = both ? both : along; e && density)
        choice.tuned_mm = thickness(
            LogRatio{0.5 * (e->value - density->value), 0.25 * (e->variance + density->variance)},
            -1.0);
    if (choice.stiff_mm && density)
        choice.mass_share_when_stiff = std::exp(density->value) * choice.stiff_mm->value / good_mm;
    return choice;
}

} // namespace platewright::trends
