#include "trends/model/plate_form.hpp"

#include "base/angle.hpp"
#include "ledger/limits.hpp"
#include "plate/thickness/thickness.hpp"
#include "plate/wood/wood.hpp"
#include "wording/say.hpp"

#include <algorithm>
#include <array>
#include <cmath>
#include <fmt/format.h>

namespace platewright::trends {

using wording::say;

ledger::FormRecord usual_form(const ledger::InstrumentRecord& instrument) {
    ledger::FormRecord form;
    form.size = plate::usual_size(instrument.kind);
    if (instrument.kind == modes::InstrumentKind::cello)
        form.arching = {.arch_mm = 25.0, .edge_mm = 5.0}; // common practice, no source
    else if (instrument.kind == modes::InstrumentKind::double_bass)
        form.arching = {.arch_mm = 40.0, .edge_mm = 7.0};
    if (!instrument.body_length_mm)
        return form;
    const double size = *instrument.body_length_mm / form.size.length_mm; // all in proportion
    for (double* mm : {&form.size.length_mm, &form.size.upper_mm, &form.size.waist_mm,
                       &form.size.lower_mm, &form.arching.arch_mm})
        *mm *= size;
    return form;
}

ledger::FormRecord form_of(const ledger::PlateHistory& history) {
    return history.form.value_or(usual_form(history.instrument));
}

base::Result<plate::Outline> outline_of(const ledger::FormRecord& form) {
    return form.rim.empty() ? plate::make_outline(form.size) : plate::outline_from_points(form.rim);
}

namespace {

bool is_possible_bar(const plate::BassBar& bar, const plate::Outline& outline) {
    const auto is_usual = [](double mm) { return mm >= 1.0 && mm <= 60.0; };
    return outline.holds(bar.lower) && outline.holds(bar.upper) &&
           bar.lower.y_mm < bar.upper.y_mm && is_usual(bar.width_mm) && is_usual(bar.height_mm) &&
           bar.end_height_mm > 0.0 && bar.end_height_mm <= bar.height_mm && bar.fullness >= 1.0;
}

// Less wood than this no top keeps between a hole and its edge or its middle, and no mesh follows
// (common practice, no source).
constexpr double k_wood_beside_hole_mm = 2.0;

/// The whole of both holes, with so much wood round them.
bool lie_on(const std::vector<plate::Loop>& holes, const plate::Outline& outline, double wood_mm) {
    constexpr double k_step_mm = 1.0;
    const auto is_clear = [&](plate::Point p, double side) {
        return side * p.x_mm > 0.0 && side * p.x_mm >= wood_mm && outline.holds(p) &&
               (wood_mm <= 0.0 || plate::distance_mm(outline.rim, p) >= wood_mm);
    };
    const auto lies_on = [&](const plate::Loop& hole, double side) {
        plate::Loop closed = hole;
        closed.push_back(hole.front());
        return std::ranges::all_of(plate::spaced(closed, k_step_mm),
                                   [&](plate::Point p) { return is_clear(p, side); });
    };
    return lies_on(holes.at(0), 1.0) && lies_on(holes.at(1), -1.0);
}

/// The maker's own line, else that through the eyes said, else the usual one.
std::vector<plate::Loop> holes_of(const ledger::FormRecord& form, const plate::OutlineSize& size) {
    if (!form.f_hole_rims.empty())
        return plate::f_hole_loops(form.f_hole_rims);
    return plate::f_hole_loops(form.f_holes.value_or(plate::usual_f_hole(size)));
}

/// Nothing where they lie well.
std::optional<std::string_view> wrong_with(const std::vector<plate::Loop>& holes,
                                           const ledger::FormRecord& form,
                                           const plate::Outline& outline) {
    if (!form.f_hole_rims.empty())
        return lie_on(holes, outline, k_wood_beside_hole_mm)
                   ? std::nullopt
                   : std::optional(say(
                         "The f-holes that were drawn must lie on the plate, 2 mm or more off its "
                         "edge and its middle line: x counts from the middle line, positive to the "
                         "right as seen from the outside, y from the lower end, in mm."));
    const bool is_upright = !form.f_holes || form.f_holes->upper.y_mm > form.f_holes->lower.y_mm;
    // The usual hole on an unusual outline is no slip of the maker's.
    if (is_upright && lie_on(holes, outline, 0.0) && !plate::find_crossing(holes.front()))
        return std::nullopt;
    return say("The f-hole must lie on the plate with its curls, the upper eye above the lower and "
               "clear of the middle.");
}

bool cuts(const plate::BassBar& bar, const std::vector<plate::Loop>& holes) {
    constexpr double k_step_mm = 1.0, k_clear_mm = 1.0; // its middle line; measures are no finer
    for (const plate::Point p : plate::spaced(std::array{bar.lower, bar.upper}, k_step_mm))
        for (const plate::Loop& loop : holes)
            if (plate::contains(loop, p) || plate::distance_mm(loop, p) < k_clear_mm)
                return true;
    return false;
}

} // namespace

std::optional<base::Fault> fault_in(const ledger::FormRecord& form) {
    const auto refused = [](std::string_view why) {
        return base::Fault{say("{} Nothing was stored.", why)};
    };
    const auto can_be = [](const std::optional<double>& figure, const base::Limits& limits) {
        return !figure || limits.hold(*figure);
    };
    const auto outline = outline_of(form);
    if (!outline)
        return refused(outline.fault().what);
    const plate::ArchingProfile& a = form.arching;
    if (!can_be(a.edge_mm, ledger::k_edge) || !can_be(a.arch_mm, ledger::k_arch) ||
        !(a.arch_mm > a.edge_mm))
        return refused(say("The arch must be higher than the edge: both are heights of the outside "
                           "above the edge's underside, in mm."));
    if (!can_be(a.long_fullness, ledger::k_fullness) ||
        !can_be(a.cross_fullness, ledger::k_fullness))
        return refused(
            say("Fullness goes from 1.2 (pointed) to 8 (flat on top), along and across."));
    for (const plate::HeightReading& r : form.heights)
        if (!(r.height_mm >= 0.0 && r.height_mm <= ledger::k_arch.most) || !outline->holds(r.at))
            return refused(say("The height at x {}, y {} mm is off the plate, or none a plate has.",
                               wording::figure(r.at.x_mm, 1), wording::figure(r.at.y_mm, 1)));
    const auto holes = holes_of(form, outline->size);
    if (form.f_holes || !form.f_hole_rims.empty())
        if (const auto wrong = wrong_with(holes, form, *outline))
            return refused(*wrong);
    if (form.bar) {
        if (!is_possible_bar(*form.bar, *outline))
            return refused(say("The bass bar must lie on the plate, its lower end below the upper, "
                               "1 to 60 mm wide and high, its ends no higher than its middle."));
        if (cuts(*form.bar, holes))
            return refused(say("The bass bar lies across an f-hole: check the places of both."));
    }
    if (!form.species.empty() && !plate::find_species(form.species))
        return refused(say("\"{}\" is none of the handbook's woods.", form.species));
    if (!can_be(form.rings_left_deg, ledger::k_rings) ||
        !can_be(form.rings_right_deg, ledger::k_rings))
        return refused(say(
            "The rings stand at 0° upright and lie at 90° in a slab-cut plate: give -90 to 90."));
    if (!can_be(form.run_out_deg, ledger::k_run_out))
        return refused(say("Fibres run out by 20° at most; split wood by a few: give -20 to 20."));
    for (const double share : {form.right_density, form.right_stiffness})
        if (!can_be(100.0 * share, ledger::k_right_half))
            return refused(say("The halves of one plate differ by less than half: give the right "
                               "half in per cent of the left, 50 to 200."));
    return std::nullopt;
}

base::Fault body_has_none() {
    return base::Fault{say("A closed body has no thickness to read: maps and plans are "
                           "for its plates. Nothing was stored.")};
}

std::optional<base::Fault> fault_in(const ledger::FormRecord& form,
                                    const ledger::PlateHistory& history) {
    if (history.plate.part == modes::Part::body)
        return body_has_none();
    if (auto fault = fault_in(form))
        return fault;
    const auto mapped = std::find_if(history.sessions.rbegin(), history.sessions.rend(),
                                     [](const auto& s) { return !s.thickness.readings.empty(); });
    if (mapped == history.sessions.rend())
        return std::nullopt;
    auto fault = plate::fault_in(mapped->thickness.readings, *outline_of(form));
    if (fault)
        fault->what = say("The readings that are kept don't lie on this shape. {}", fault->what);
    return fault;
}

base::Result<plate::PlateForm> plate_form(const ledger::FormRecord& form, modes::Part part,
                                          modes::Stage stage) {
    auto outline = outline_of(form);
    if (!outline)
        return outline.fault();
    plate::PlateForm shape{*std::move(outline), form.arching, form.heights, {}, {}};
    if (part == modes::Part::top && stage >= modes::Stage::f_holes_cut) {
        shape.f_holes = holes_of(form, shape.outline.size);
        if (const auto wrong = wrong_with(shape.f_holes, form, shape.outline))
            return base::Fault{std::string(*wrong)};
    }
    if (part == modes::Part::top && stage >= modes::Stage::bar_fitted)
        shape.bar = form.bar.value_or(plate::usual_bar(shape.outline.size));
    return shape;
}

namespace {

/// How the wood lies, as far as its maker looked at it.
void lay(StartingWood& start, const ledger::FormRecord& form) {
    plate::PlateWood& wood = start.wood;
    wood.is_book_matched = form.two_piece;
    if (form.has_rings()) { // of one half alone: the other's are alike
        const auto& left = form.rings_left_deg ? form.rings_left_deg : form.rings_right_deg;
        const auto& right = form.rings_right_deg ? form.rings_right_deg : form.rings_left_deg;
        wood.left.lie.ring_rad = base::in_rad(*left);
        wood.right.lie.ring_rad = base::in_rad(*right);
        wood.has_mirrored_rings = wood.left.lie.ring_rad * wood.right.lie.ring_rad < 0.0;
        start.priors.ring_rad = plate::k_read_rings_rad;
    }
    if (form.run_out_deg) {
        wood.right.lie.run_out_rad = base::in_rad(*form.run_out_deg);
        wood.left.lie.run_out_rad =
            form.two_piece ? -base::in_rad(*form.run_out_deg) : base::in_rad(*form.run_out_deg);
        start.priors.run_out_rad = plate::k_read_run_out_rad;
    }
}

} // namespace

StartingWood starting_wood(const ledger::FormRecord& form, const ledger::PlateRecord& plate,
                           const plate::MeasuredWood& billet) {
    const std::string_view usual = plate.part == modes::Part::top ? "norway_spruce" : "red_maple";
    auto species = plate::find_species(form.species.empty() ? usual : form.species);
    if (!species)
        species = plate::find_species(usual);
    const auto prior = plate::wood_prior(species->wood, billet);
    StartingWood start{{prior.wood, prior.wood},
                       prior.priors,
                       fmt::format("{}: {}", wording::say(species->name), species->source),
                       plate.density_kg_m3 || billet.density_kg_m3};
    if (!billet.empty())
        start.source = billet.source + "; what was not measured: " + start.source;
    if (plate.density_kg_m3 && !billet.density_kg_m3) {
        start.wood.left.density_kg_m3 = *plate.density_kg_m3;
        start.wood.right.density_kg_m3 = *plate.density_kg_m3;
    }
    start.wood.right =
        plate::scaled(start.wood.right, Eigen::Vector4d::Constant(std::log(form.right_stiffness)));
    start.wood.right.density_kg_m3 *= form.right_density;
    lay(start, form);
    return start;
}

} // namespace platewright::trends
