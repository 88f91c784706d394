#include "trends/review/flex_review.hpp"

#include "wording/say.hpp"

#include <algorithm>
#include <cmath>
#include <fmt/format.h>

namespace platewright::trends {
namespace {

// Supports stand this far inside the edge, as a share of the width there: a plate laid on bars
// rests on its edge.
constexpr double k_inside = 0.02;
// Half the length of plate, as a share of the whole, that a bar along the plate bears.
constexpr double k_bearing = 0.07;

plate::Point flank(const plate::Outline& outline, double y_mm, bool right) {
    const auto extent = outline.extent(y_mm);
    const double inset = k_inside * (extent.right_mm - extent.left_mm);
    return {right ? extent.right_mm - inset : extent.left_mm + inset, y_mm};
}

std::string label(const ledger::FlexRecord& r) {
    return wording::say("{}, span {} mm", ledger::to_text(r.kind), wording::figure(r.span_mm, 0));
}

base::Fault no_room(const ledger::FlexRecord& r, double most_mm) {
    return {wording::say("The flex reading \"{}\": the plate has room for a span of {} mm at most. "
                         "Nothing was stored.",
                         label(r), wording::figure(most_mm, 0))};
}

} // namespace

base::Result<plate::FlexReading> flex_reading(const ledger::FlexRecord& record,
                                              const plate::Outline& outline) {
    plate::FlexReading reading;
    reading.name = label(record);
    reading.load_g = record.load_g;
    reading.deflection_mm = record.deflection_mm;
    const double length = outline.size.length_mm;
    const double half = 0.5 * record.span_mm;
    const double low = 0.5 * length - half, high = 0.5 * length + half;
    if (record.kind == ledger::FlexKind::crosswise) {
        const double y = outline.lower_y_mm, along = k_bearing * length;
        const double room =
            2.0 *
            std::min({outline.extent(y - along).right_mm, outline.extent(y + along).right_mm,
                      -outline.extent(y - along).left_mm, -outline.extent(y + along).left_mm});
        if (!(record.span_mm > 0.0) || record.span_mm > room)
            return no_room(record, room);
        for (const double x : {-half, half})
            for (const double up : {-along, along})
                reading.supports.push_back({x, y + up});
        reading.load = {0.0, y};
    } else {
        const double room = (1.0 - 2.0 * k_inside) * length;
        if (!(record.span_mm > 0.0) || record.span_mm > room)
            return no_room(record, room);
        reading.supports = {flank(outline, high, false), flank(outline, high, true),
                            flank(outline, low, false)};
        const plate::Point fourth = flank(outline, low, true);
        if (record.kind == ledger::FlexKind::twist) {
            reading.load = fourth;
        } else {
            reading.supports.push_back(fourth);
            reading.load = {0.0, 0.5 * length};
        }
    }
    if (auto fault = plate::fault_in(reading, outline))
        return *std::move(fault);
    return reading;
}

std::vector<FlexCheck> check_flexes(const ledger::SessionHistory& session,
                                    const plate::PlateModel& model, const plate::PlateFit& fit,
                                    const Eigen::VectorXd& thickness_mm) {
    const plate::FitPriors expected;
    std::vector<FlexCheck> checks;
    for (const ledger::FlexRecord& record : session.flex) {
        auto reading = flex_reading(record, model.form().outline);
        if (!reading)
            continue;
        const plate::FlexValue value =
            plate::flex_value(model, (thickness_mm.array() + fit.thickness_mm).matrix(), fit.arch,
                              fit.wood, *reading);
        const plate::FitVector slope = plate::slope_of(value);
        FlexCheck check{.record = record, .reading = *std::move(reading)};
        check.model_mm = value.deflection_mm;
        check.model_sd_mm = std::sqrt(slope.dot(fit.covariance * slope));
        const double own = std::hypot(check.reading.sd_mm, expected.flex * record.deflection_mm);
        check.deviations =
            (record.deflection_mm - check.model_mm) / std::hypot(own, check.model_sd_mm);
        checks.push_back(std::move(check));
    }
    return checks;
}

} // namespace platewright::trends
