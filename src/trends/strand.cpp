#include "trends/strand.hpp"

#include <algorithm>
#include <cmath>

namespace platewright::trends {
namespace {

// Before a track shows its own: modes of a plate of even thickness move as its mass (exponent 1);
// arching, which keeps its shape, holds them back.
constexpr double k_usual_exponent = 0.8;
constexpr double k_usual_exponent_sd = 0.3;
constexpr double k_least_scatter = 0.003; // of ln f: three points may lie on a line by chance

} // namespace

int shape_of(modes::Part part, modes::Stage stage) {
    if (part == modes::Part::back)
        return 0;
    if (part == modes::Part::body)
        return stage == modes::Stage::set_up ? 4 : 3;
    switch (stage) {
    case modes::Stage::f_holes_cut:
        return 1;
    case modes::Stage::bar_fitted:
    case modes::Stage::finished:
    case modes::Stage::closed:
    case modes::Stage::varnished:
    case modes::Stage::set_up:
        return 2;
    default:
        return 0;
    }
}

Strand::Strand(const ledger::PlateHistory& history, TrackPoint first) : history_{&history} {
    track_.points.push_back(std::move(first));
}

void Strand::add(const TrackPoint& point) { track_.points.push_back(point); }

// The track's own exponent of frequency on mass in this shape, drawn towards the usual one as far
// as its points leave it uncertain.
double Strand::exponent(int shape) const {
    std::vector<Point> points;
    for (const TrackPoint& point : track_.points) {
        const ledger::SessionRecord& session = history_->sessions[point.session].session;
        if (session.mass_g && shape_of(history_->plate.part, session.stage) == shape)
            points.push_back({std::log(*session.mass_g), std::log(point.value.frequency_hz)});
    }
    const std::optional<RobustLine> line = RobustLine::fit(points, {.resolution = k_least_scatter});
    if (!line)
        return k_usual_exponent;
    const double own = 1.0 / (line->slope_sd() * line->slope_sd());
    const double usual = 1.0 / (k_usual_exponent_sd * k_usual_exponent_sd);
    return (own * line->slope() + usual * k_usual_exponent) / (own + usual);
}

modes::Mode Strand::expected_in(std::size_t session) const {
    modes::Mode mode = track_.points.back().value;
    const ledger::SessionRecord& last = history_->sessions[track_.points.back().session].session;
    const ledger::SessionRecord& next = history_->sessions[session].session;
    const int shape = shape_of(history_->plate.part, next.stage);
    if (last.mass_g && next.mass_g && shape_of(history_->plate.part, last.stage) == shape)
        mode.frequency_hz *= std::pow(*next.mass_g / *last.mass_g, exponent(shape));
    return mode;
}

std::optional<int> Strand::makers_number() const {
    for (auto point = track_.points.rbegin(); point != track_.points.rend(); ++point) {
        const auto& name = history_->sessions[point->session].modes[point->mode].name;
        if (name && name->by_maker)
            return name->number;
    }
    return std::nullopt;
}

} // namespace platewright::trends
