#include "trends/review/map_review.hpp"

#include "base/clock.hpp"
#include "base/interval.hpp"
#include "plate/shape/spots.hpp"
#include "trends/model/plate_form.hpp"
#include "trends/track/track.hpp" // shape_of
#include "trends/wood/wood_figures.hpp"
#include "wording/say.hpp"

#include <cmath>

namespace platewright::trends {
namespace {

using wording::say;

// Farther from a reading than this deviation of the surface, the map says little.
constexpr double k_vague_mm = 0.25;
// What caliper, arching and outline leave open in a predicted mass, in parts of it.
constexpr double k_mass_open = 0.06;

MapChange change_between(const plate::ThicknessMap& before, const plate::ThicknessMap& now,
                         const plate::Outline& outline) {
    MapChange change;
    const auto places = plate::grid_inside(outline, outline.size.length_mm / 30.0);
    double largest = -1.0;
    for (const plate::Point p : places) {
        const double taken = before.thickness_mm(p) - now.thickness_mm(p);
        change.mean_mm += taken / static_cast<double>(places.size());
        if (taken > largest) {
            largest = taken;
            change.deepest = p;
        }
    }
    change.deepest_mm = largest;
    change.deepest_sd_mm = std::hypot(before.sd_mm(change.deepest), now.sd_mm(change.deepest));
    return change;
}

void add_change(MapReview& review, const ledger::PlateHistory& history,
                const plate::PlateWood& wood) {
    if (review.session == 0)
        return;
    const auto earlier = session_with_map(history, review.session - 1);
    if (!earlier)
        return;
    const auto& before = history.sessions[*earlier];
    if (plate::fault_in(before.thickness.readings, review.model->form().outline))
        return; // the outline was corrected since; the older readings do not fit it
    const plate::PlateModel& model = *review.model;
    const plate::ThicknessMap map(before.thickness.readings, model.form().outline);
    MapChange change = change_between(map, review.map, model.form().outline);
    change.session = *earlier;
    change.map_g = model.mass_g(mm_at_nodes(model, map), wood) - review.predicted_g;
    const auto& weighed = before.session.mass_g;
    // between them f-holes may have been cut or a bar fitted, which the scales weigh too
    const auto stage = history.sessions[review.session].session.stage;
    const bool is_same =
        shape_of(history.plate.part, before.session.stage) == shape_of(history.plate.part, stage);
    if (is_same && weighed && review.weighed_g && review.implied_density_kg_m3) {
        change.scales_g = *weighed - *review.weighed_g;
        change.map_g = *change.map_g * *review.implied_density_kg_m3 / review.density_kg_m3;
    }
    review.change = change;
}

void remark(MapReview& review) {
    const plate::ThicknessFacts& f = review.facts;
    if (f.worst_sd_mm > k_vague_mm)
        review.remarks.push_back(say(
            "Where readings are sparse the surface may be {} mm off (95 %). The next reading helps "
            "most at {}: the worst falls to {} mm.",
            wording::figure(base::plus_minus(f.worst_sd_mm), 2), plate::place_text(f.next_reading),
            wording::figure(base::plus_minus(f.worst_sd_after_mm), 2)));
    if (f.thinnest_mm - base::plus_minus(f.thinnest_sd_mm) <= 0.0)
        review.remarks.emplace_back(say(
            "At the thinnest place the map is too unsure to be used: read the thickness there."));
    if (!review.weighed_g)
        return;
    const double off = review.predicted_g / *review.weighed_g - 1.0;
    if (std::abs(off) > (review.density_is_own ? k_mass_open : 0.25))
        review.remarks.push_back(
            say("The map makes the plate {} g, the scales say {} g: more than density and calipers "
                "leave open. Is the density, the outline or the unit of the readings right?",
                wording::figure(review.predicted_g, 1), wording::figure(*review.weighed_g, 1)));
}

} // namespace

Eigen::VectorXd mm_at_nodes(const plate::PlateModel& model, const plate::ThicknessMap& map) {
    return model.thickness_at([&](plate::Point p) { return map.thickness_mm(p); });
}

std::optional<std::size_t> session_with_map(const ledger::PlateHistory& history, std::size_t last) {
    for (std::size_t i = std::min(last + 1, history.sessions.size()); i-- > 0;)
        if (!history.sessions[i].thickness.readings.empty())
            return i;
    return std::nullopt;
}

base::Result<MapReview> review_map(const ledger::PlateHistory& history, std::size_t session) {
    const ledger::SessionHistory& one = history.sessions.at(session);
    if (!history.form)
        return base::Fault{
            say("The plate's shape is not known yet: say its size under Plate, Shape (F8).")};
    if (one.thickness.readings.empty())
        return base::Fault{
            say("The session of {} has no caliper readings.", base::local_date(one.session.begun))};
    auto form = plate_form(*history.form, history.plate.part, one.session.stage);
    if (!form)
        return form.fault();
    if (auto fault = plate::fault_in(one.thickness.readings, form->outline))
        return *fault;
    const auto model = std::make_shared<plate::PlateModel>(*form);
    const StartingWood wood =
        starting_wood(*history.form, history.plate, billet_of(history, one.session));
    plate::ThicknessMap map(one.thickness.readings, form->outline);
    MapReview review{.session = session, .model = model, .map = map, .facts = {}, .remarks = {}};
    review.facts = plate::describe(map, form->outline);
    review.density_kg_m3 = wood.wood.left.density_kg_m3;
    review.density_is_own = wood.density_is_own;
    review.predicted_g = model->mass_g(mm_at_nodes(*model, map), wood.wood);
    review.weighed_g = one.session.mass_g;
    if (review.weighed_g)
        review.implied_density_kg_m3 =
            review.density_kg_m3 * *review.weighed_g / review.predicted_g;
    add_change(review, history, wood.wood);
    remark(review);
    return review;
}

wording::Facts facts_of(const MapReview& review, const ledger::PlateHistory& history) {
    using wording::figure, wording::signed_figure;
    const plate::ThicknessFacts& f = review.facts;
    const std::string grams = figure(review.predicted_g, 1),
                      density = figure(review.density_kg_m3, 0);
    wording::Facts facts;
    facts.emplace_back(say("Mean"), say("{} mm", figure(f.mean_mm, 2)));
    facts.emplace_back(say("Middle, edge"), say("{} and {} mm, ratio {}", figure(f.middle_mm, 2),
                                                figure(f.edge_mm, 2), figure(f.middle_to_edge, 2)));
    facts.emplace_back(say("Left less right"),
                       say("{} mm", signed_figure(f.left_less_right_mm, 2)));
    facts.emplace_back(say("Thinnest"),
                       say("{} ± {} mm at x {}, y {}", figure(f.thinnest_mm, 2),
                           figure(base::plus_minus(f.thinnest_sd_mm), 2),
                           signed_figure(f.thinnest.x_mm, 0), figure(f.thinnest.y_mm, 0)));
    facts.emplace_back(say("Mass by the map"),
                       review.density_is_own
                           ? say("{} g with {} kg/m³ (its own)", grams, density)
                           : say("{} g with {} kg/m³ (handbook)", grams, density));
    if (review.weighed_g)
        facts.emplace_back(say("Weighed"),
                           say("{} g, which makes {} kg/m³", figure(*review.weighed_g, 1),
                               figure(*review.implied_density_kg_m3, 0)));
    if (const auto& change = review.change) {
        facts.emplace_back(
            say("Taken off"),
            say("{} mm on the mean since {}, most {} ± {} mm at x {}, y {}",
                figure(change->mean_mm, 2),
                base::local_date(history.sessions.at(change->session).session.begun),
                figure(change->deepest_mm, 2), figure(base::plus_minus(change->deepest_sd_mm), 2),
                signed_figure(change->deepest.x_mm, 0), figure(change->deepest.y_mm, 0)));
        if (change->map_g && change->scales_g)
            facts.emplace_back(
                say("Off, by maps and scales"),
                say("{} g and {} g", figure(*change->map_g, 1), figure(*change->scales_g, 1)));
    }
    return facts;
}

std::string next_reading_words(const plate::ThicknessFacts& facts) {
    const std::string place = plate::place_text(facts.next_reading),
                      now = wording::figure(base::plus_minus(facts.worst_sd_mm), 2),
                      then = wording::figure(base::plus_minus(facts.worst_sd_after_mm), 2);
    return now == then ? say("Between the readings the surface is unsure by up to {} mm. No single "
                             "reading makes that less; one at {} helps a little.",
                             now, place)
                       : say("The next reading helps most at {}: the surface is now unsure by up "
                             "to {} mm, then by {} mm.",
                             place, now, then);
}

} // namespace platewright::trends
