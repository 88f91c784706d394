#pragma once
// A plate as it is, for programs that bring plates to their goals: an arching outside the model's
// family, its own wood, an uneven scraper.
#include "odd_archings.hpp"
#include "trends/model/plan_request.hpp"

#include <memory>
#include <string_view>

namespace decides {

using namespace platewright;
using namespace platewright::plate;
using archings::Judged;

inline constexpr double k_finer = 42.0, k_grid_mm = 11.0; // of the true plate: mesh and heights
inline constexpr double k_uneven_mm = 45.0;
// Who is told "at most" weighs as he goes, and stops short; in both cases more or less.
inline constexpr double k_of_most = 0.95, k_of_usual = 1.0, k_more_or_less = 0.1;

inline double normal(std::mt19937& random) { return std::normal_distribution<double>()(random); }
inline double even(std::mt19937& random, double low, double high) {
    return std::uniform_real_distribution<double>(low, high)(random);
}

/// What sort of plate it is.
struct Sort {
    modes::InstrumentKind kind = modes::InstrumentKind::violin;
    bool is_top = false;
    modes::Stage stage = modes::Stage::graduating;
};

/// violin, holes (violin tops with f-holes and bar) or cello; backs and tops in turn.
inline Sort sort_of(std::string_view group, unsigned seed) {
    if (group == "holes")
        return {modes::InstrumentKind::violin, true, modes::Stage::bar_fitted};
    return {group == "cello" ? modes::InstrumentKind::cello : modes::InstrumentKind::violin,
            seed % 2 == 0};
}

/// A plate as it is, and as wood comes off it.
struct Truth {
    Judged judged;
    PlateWood wood;
    std::shared_ptr<const PlateModel> model;
    modes::InstrumentKind kind;
    modes::Stage stage;
    double size = 1.0;   // beside a violin's
    double uneven = 0.4; // of a scraper, in parts of what it is to take
    Eigen::VectorXd thickness;
    ShellModes first, modes;
    std::array<int, 3> index{}; // of modes 1, 2, 5 in `first`

    Truth(const archings::Shape& shape, const Sort& sort, std::mt19937& random)
        : judged(shape, sort.is_top, sort.kind), kind(sort.kind), stage(sort.stage) {
        constexpr double k_violin_mm = 355.0;
        size = judged.outline.size.length_mm / k_violin_mm;
        judged.draw(random);
        wood = judged.wood;
        const double off_upright = even(random, 0.65, 1.0);
        wood.left.e_r_gpa *= off_upright;
        wood.right.e_r_gpa *= off_upright;
        PlateForm form{judged.outline, {}, {}, {}, {}};
        form.arching.arch_mm = judged.edge_mm + judged.higher * (shape.arch_mm - 4.0);
        form.arching.edge_mm = judged.edge_mm;
        if (stage >= modes::Stage::f_holes_cut)
            form.f_holes = f_hole_loops(usual_f_hole(judged.outline.size));
        if (stage >= modes::Stage::bar_fitted)
            form.bar = usual_bar(judged.outline.size);
        for (const Point p : grid_inside(judged.outline, size * k_grid_mm))
            form.heights.push_back({p, judged.outside_mm(p)});
        model = std::make_shared<const PlateModel>(form, k_finer, air_density_kg_m3(20.0, 45.0));
        thickness = model->thickness_at([this](Point p) { return judged.thickness_mm(p); });
        first = modes = model->solve(thickness, wood, 10);
        const auto names = ShapeJudge(*model).names(first.shapes);
        for (std::size_t k = 0; k < 3; ++k)
            index[k] = names[k].sure ? names[k].index : -1;
    }
    bool is_usable() const {
        return std::ranges::all_of(index, [](int i) { return i >= 0; });
    }
    /// Modes 1, 2, 5 in Hz; not a number where one is lost.
    static std::array<double, 3> named(const Truth& t, const ShellModes& now) {
        const auto followed = follow(*t.model, t.first.shapes, now.shapes);
        std::array<double, 3> hz{};
        for (std::size_t k = 0; k < 3; ++k) {
            const int at = followed[static_cast<std::size_t>(t.index[k])];
            hz[k] = at < 0 ? std::nan("") : now.frequency_hz[at];
        }
        return hz;
    }
    std::array<double, 3> now_hz() const { return named(*this, modes); }
    std::array<double, 3> hz_without(const Eigen::VectorXd& taken_mm) const {
        return named(*this,
                     model->solve((thickness - taken_mm).cwiseMax(1.2), wood, 10, modes.shapes));
    }
    double mass_g() const { return model->mass_g(thickness, wood); }
    double grams(const Eigen::VectorXd& taken_mm) const {
        return mass_g() - model->mass_g(thickness - taken_mm, wood);
    }
    void take(const Eigen::VectorXd& mm) {
        thickness = (thickness - mm).cwiseMax(1.2);
        modes = model->solve(thickness, wood, 10, modes.shapes);
    }
    /// So many grams laid out like this, as a scraper does it: this part of them on the mean.
    Eigen::VectorXd scraped(const Eigen::VectorXd& like, double grams_meant, double part,
                            std::mt19937& random) const {
        struct Lump {
            Point at;
            double more;
        };
        std::vector<Lump> lumps;
        for (int k = 0; k < 14; ++k)
            lumps.push_back({{size * even(random, -100, 100), size * even(random, 0, 356)},
                             uneven * normal(random)});
        Eigen::VectorXd mm = like;
        for (Eigen::Index i = 0; i < mm.size(); ++i) {
            const Point p = model->points()[static_cast<std::size_t>(i)];
            double share = 1.0;
            for (const Lump& l : lumps)
                share +=
                    l.more *
                    std::exp(-0.5 *
                             (std::pow(p.x_mm - l.at.x_mm, 2) + std::pow(p.y_mm - l.at.y_mm, 2)) /
                             (size * k_uneven_mm * size * k_uneven_mm));
            mm[i] *= std::max(0.1, share);
        }
        const double meant = grams_meant * std::max(0.4, part + k_more_or_less * normal(random));
        return mm * (meant / std::max(1e-9, grams(mm)));
    }
    /// Even over the plate inside the usual platform.
    Eigen::VectorXd everywhere() const {
        const double edge_mm = trends::usual_limits(kind).field.edge_mm;
        return model->thickness_at(
            [&](Point p) { return distance_mm(judged.outline.rim, p) > edge_mm ? 1.0 : 0.0; });
    }
};

} // namespace decides
