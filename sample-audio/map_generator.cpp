// Makes thickness maps for the demo workshop's plates. The backs' tables came first and know
// nothing of the model: their maps are caliper readings with which the model has the mass and the
// modes 1, 2 and 5 of each session. The top was made the other way round: its graduation, arching
// and wood are chosen here, and its table has the modes and the mass that the model gives it, as
// printed.
#include "plate/fit/fit.hpp"
#include "plate/plan/sensitivity.hpp"
#include "plate/shell/shape_names.hpp"
#include "plate/thickness/thickness.hpp"
#include "plate/wood/wood.hpp"
#include "random.hpp"
#include "tables.hpp"

#include <Eigen/Dense>

#include <algorithm>
#include <cmath>
#include <fmt/format.h>
#include <fmt/ranges.h>
#include <fstream>
#include <iostream>

namespace fs = std::filesystem;
using namespace platewright::plate;

namespace {

// Unknowns: ln factors on E_L, E_R, G; density, kg/m^3; then of the thickness: at the edge and in
// the middle, mm, and how fast it falls along and across.
constexpr int k_unknowns = 8;
constexpr int k_wood_unknowns = 4;
constexpr double k_still = 1e-4; // deviation of an unknown that stays what it is
using Unknowns = Eigen::Matrix<double, k_unknowns, 1>;
using Values = Eigen::Vector4d; // modes 1, 2, 5, Hz; mass, g

constexpr double k_reading_sd_mm = 0.03;
constexpr double k_grid_mm = 26.0;
constexpr double k_from_edge_mm = 9.0; // a caliper's jaw wants that much wood

PlateForm violin(const ArchingProfile& arching) {
    return {
        *make_outline(usual_size(platewright::modes::InstrumentKind::violin)), arching, {}, {}, {}};
}

struct Story {
    const demo::Session* session = nullptr;
    Wood wood; // the handbook's
    PlateForm form;
};

struct Heard {
    std::array<ShapeName, 3> names;
    Eigen::VectorXd hz;
    double mass_g = 0.0;
};

double thickness_mm(Point p, const Outline& o, const Unknowns& x) {
    const double across = 2.0 * p.x_mm / o.size.lower_mm;
    const double along = 2.0 * p.y_mm / o.size.length_mm - 1.0;
    return x[4] + (x[5] - x[4]) * std::exp(-x[6] * along * along - x[7] * across * across);
}

Heard hear(const Story& story, const Unknowns& x) {
    Wood wood = scaled(story.wood, {x[0], x[1], x[2], 0.0});
    wood.density_kg_m3 = x[3];
    const PlateModel model(story.form);
    const auto thickness =
        model.thickness_at([&](Point p) { return thickness_mm(p, model.form().outline, x); });
    const auto modes = model.solve(thickness, {wood, wood}, 10);
    return {ShapeJudge(model).names(modes.shapes), modes.frequency_hz,
            model.mass_g(thickness, {wood, wood})};
}

Values values_of(const Story& story, const Unknowns& x) {
    const Heard heard = hear(story, x);
    Values values = Values::Zero();
    const std::array<int, 3> numbers{1, 2, 5};
    for (std::size_t k = 0; k < numbers.size(); ++k)
        if (const int index = mode_index(heard.names, numbers[k]); index >= 0)
            values[static_cast<Eigen::Index>(k)] = heard.hz[index];
    values[3] = heard.mass_g;
    return values;
}

Values wanted(const demo::Session& session) {
    Values values = Values::Zero();
    for (const demo::Mode& mode : session.modes)
        if (mode.number == 1 || mode.number == 2 || mode.number == 5)
            values[mode.number == 5 ? 2 : mode.number - 1] = mode.hz;
    values[3] = session.described.at("mass_g").get<double>();
    return values;
}

/// Damped Gauss-Newton with a prior: the nearest to `start`, in its deviations, that fits.
Unknowns fit(const Story& story, const Unknowns& start, const Unknowns& sd, double tolerance) {
    const Values want = wanted(*story.session);
    Values weight = (tolerance * want).cwiseAbs2().cwiseInverse();
    weight[3] = 1.0 / std::pow(0.002 * want[3], 2);
    Unknowns x = start;
    for (int round = 0; round < 12; ++round) {
        const Values now = values_of(story, x);
        Eigen::Matrix<double, 4, k_unknowns> slope;
        for (int i = 0; i < k_unknowns; ++i) {
            Unknowns near = x;
            near[i] += 0.1 * sd[i];
            slope.col(i) = (values_of(story, near) - now) / (0.1 * sd[i]);
        }
        const Unknowns prior = sd.cwiseAbs2().cwiseInverse();
        Eigen::Matrix<double, k_unknowns, k_unknowns> h =
            slope.transpose() * weight.asDiagonal() * slope;
        h.diagonal() += prior;
        const Unknowns pull =
            slope.transpose() * weight.cwiseProduct(want - now) - prior.cwiseProduct(x - start);
        Unknowns step = h.ldlt().solve(pull);
        const double longest = step.cwiseQuotient(sd).cwiseAbs().maxCoeff();
        x += step * std::min(1.0, 1.0 / longest);
        if (longest < 0.01)
            break;
    }
    return x;
}

void write_readings(const Story& story, const Unknowns& x, const fs::path& file) {
    const PlateForm& form = story.form;
    demo::Random random(story.session->seed + 77);
    std::ofstream out(file);
    out << "# invented: made by map_generator for the demo workshop\nx; y; mm\n";
    for (const Point p : grid_inside(form.outline, k_grid_mm)) {
        const double read = thickness_mm(p, form.outline, x) + k_reading_sd_mm * random.normal();
        if (distance_mm(form.outline.rim, p) > k_from_edge_mm) {
            std::string line = fmt::format("{:.0f}; {:.0f}; {:.2f}\n", p.x_mm, p.y_mm, read);
            std::replace(line.begin(), line.end(), '.', ',');
            out << line;
        }
    }
}

/// The wood is settled on the last session; the earlier ones keep it, and are thicker.
void write_back(const demo::Plate& plate, const fs::path& out) {
    const PlateForm form = violin({15.0, 4.0, 2.6, 2.0});
    const Wood wood = find_species("red_maple")->wood;
    Unknowns x, sd;
    x << 0, 0, 0, 595.0, 2.9, 3.9, 2.2, 2.5;
    sd << 0.15, 0.15, 0.15, 25.0, 0.3, 0.5, 0.6, 0.6;
    for (std::size_t i = plate.sessions.size(); i-- > 0;) {
        const demo::Session& session = plate.sessions[i];
        if (i + 1 < plate.sessions.size()) {
            const double grams = session.described.at("mass_g").get<double>() -
                                 plate.sessions[i + 1].described.at("mass_g").get<double>();
            const double thicker = std::max(0.0, 0.03 * grams);
            x[4] += thicker;
            x[5] += thicker;
            sd.head<k_wood_unknowns>().setConstant(k_still);
            sd.tail<4>() << 0.12, 0.2, 0.25, 0.25;
        }
        const Story story{&session, wood, form};
        // a wet or a dry day moves modes, not wood: 0.8 % leave room for it
        x = fit(story, x, sd, i + 1 == plate.sessions.size() ? 0.003 : 0.008);
        const Values now = values_of(story, x), want = wanted(session);
        std::cout << fmt::format("{}: mode 1 {:.1f} ({:.1f}), 2 {:.1f} ({:.1f}), 5 {:.1f} ({:.1f}) "
                                 "Hz, {:.1f} ({:.1f}) g; edge {:.2f}, middle {:.2f} mm; "
                                 "wood {:.2f} {:.2f} {:.2f}, {:.0f}\n",
                                 session.id, now[0], want[0], now[1], want[1], now[2], want[2],
                                 now[3], want[3], x[4], x[5], x[0], x[1], x[2], x[3]);
        write_readings(story, x, out / (session.id + ".csv"));
    }
}

/// The wood is Spruce 12 of wood_stock.py; a fifth of a millimetre came off everywhere between
/// graduating and the bar. Prints what the table is to hold.
void write_top(const demo::Plate& plate, const fs::path& out) {
    Wood wood = find_species("norway_spruce")->wood;
    Unknowns x;
    x << std::log(12.9 / wood.e_l_gpa), std::log(0.88 / wood.e_r_gpa),
        std::log(0.72 / wood.g_lr_gpa), 408.0, 2.85, 3.05, 2.2, 2.5;
    for (const demo::Session& session : plate.sessions) {
        Story story{&session, wood, violin({15.0, 4.0, 3.0, 1.8})};
        if (session.described.at("stage") == "bar_fitted") {
            story.form.f_holes = f_hole_loops(usual_f_hole(story.form.outline.size));
            story.form.bar = usual_bar(story.form.outline.size);
            x[4] -= 0.2;
            x[5] -= 0.2;
        }
        const Heard heard = hear(story, x);
        std::cout << fmt::format("{}: {:.2f} g; modes of the model {:.2f} Hz; 1, 2 and 5 are its "
                                 "number {}, {} and {}\n",
                                 session.id, heard.mass_g, fmt::join(heard.hz, " "),
                                 heard.names[0].index + 1, heard.names[1].index + 1,
                                 heard.names[2].index + 1);
        write_readings(story, x, out / (session.id + ".csv"));
    }
}

void write_plate(const demo::Plate& plate, const fs::path& out) {
    if (plate.described.at("part") == "back")
        write_back(plate, out);
    else if (plate.described.at("part") == "top")
        write_top(plate, out);
}

} // namespace

int main(int count, char** words) {
    if (count < 3) {
        std::cerr << "usage: map_generator TABLES_FOLDER OUT_FOLDER\n";
        return 2;
    }
    try {
        for (const auto& entry : fs::directory_iterator(words[1]))
            write_plate(demo::read_table(entry.path()), words[2]);
        return 0;
    } catch (const std::exception& wrong) {
        std::cerr << "map_generator: " << wrong.what() << '\n';
        return 1;
    }
}
