#include "screen/carving_map.hpp"

#include "base/interval.hpp"
#include "base/text.hpp"
#include "plate/spots.hpp"
#include "screen/fields.hpp"
#include "screen/plate_pictures.hpp"
#include "trends/plate_form.hpp"

#include <algorithm>
#include <cmath>
#include <numeric>

namespace platewright::screen {
namespace {

constexpr double k_same_place_mm = 4.0; // a click this near a reading means that reading

std::string_view pasted_label() { return say("Or paste lines: x, y, thickness in mm"); }

std::string with_range(double value, double sd) {
    return figure(value, 2) + " \u00b1 " + figure(base::plus_minus(sd), 2) + " mm";
}

} // namespace

plot::PlatePicture MapSheet::picture(const Sight& sight) const {
    const auto& work = sight.now.work;
    plot::PlatePicture picture;
    if (work && work->map && !changed_) {
        picture = thickness_picture(*work->map, form_shown(sight.now.plate->history).two_piece);
    } else {
        picture = outline_shown(sight);
        for (const plate::ThicknessReading& r : draft_) {
            picture.marks.push_back(
                {{r.at.x_mm, r.at.y_mm}, figure(r.thickness_mm, 2), plot::Shape::disc, false});
        }
    }
    add_pins(picture, sight);
    if (at_) {
        picture.marks.push_back({{at_->x_mm, at_->y_mm}, {}, plot::Shape::cross, true});
    }
    return picture;
}

void MapSheet::follow(const Sight& sight) {
    const ledger::SessionHistory* session = sight.session();
    const ledger::Id id = session != nullptr ? session->session.id : 0;
    const std::int64_t map = session != nullptr ? session->thickness.id : 0;
    if (id == session_ && map == map_) {
        return;
    }
    session_ = id;
    map_ = map;
    draft_ =
        session != nullptr ? session->thickness.readings : std::vector<plate::ThicknessReading>{};
    changed_ = false;
    at_.reset();
    complaint_.clear();
}

void MapSheet::facts(const Sight& sight) const {
    const auto& work = sight.now.work;
    if (!work || !work->map) {
        if (work && !work->map_trouble.empty()) {
            complaint(sight, work->map_trouble);
        }
        return;
    }
    const trends::MapReview& review = *work->map;
    const plate::ThicknessFacts& f = review.facts;
    fact(sight, say("middle, edge"), figure(f.middle_mm, 2) + ", " + figure(f.edge_mm, 2) + " mm");
    fact(sight, say("middle to edge"), figure(f.middle_to_edge, 2));
    fact(sight, say("left less right"), signed_figure(f.left_less_right_mm, 2) + " mm");
    fact(sight, say("thinnest"), with_range(f.thinnest_mm, f.thinnest_sd_mm));
    fact(sight, say("mass by the map"), figure(review.predicted_g, 1) + " g");
    if (review.weighed_g && review.implied_density_kg_m3) {
        fact(sight, say("by the scales"),
             figure(*review.weighed_g, 1) + " g: " + figure(*review.implied_density_kg_m3, 0) +
                 " kg/m\u00b3");
    }
    if (const auto& change = review.change) {
        fact(sight, say("off since the last map"),
             say("{} mm on the mean", figure(change->mean_mm, 2)));
        fact(sight, say("most, {}", plate::place_text(change->deepest)),
             with_range(change->deepest_mm, change->deepest_sd_mm));
        if (change->map_g && change->scales_g) {
            fact(sight, say("maps say, scales say"),
                 figure(*change->map_g, 1) + " g, " + figure(*change->scales_g, 1) + " g");
        }
    }
    ImGui::Spacing();
    text(sight, say("The next reading helps most at {}: the surface is now unsure by up to {} mm, "
                    "then by {} mm.",
                    plate::place_text(f.next_reading), figure(base::plus_minus(f.worst_sd_mm), 2),
                    figure(base::plus_minus(f.worst_sd_after_mm), 2)));
    for (const std::string& remark : review.remarks) {
        faint_text(sight, remark);
    }
}

void MapSheet::add(const Sight& sight) {
    const auto value = number_within(typed_, 0.01, 50.0, "mm");
    if (!at_ || !value) {
        complaint_ = !at_ ? Complaint{std::string(say("Click the place on the plate first."))}
                          : Complaint{say("\"{}\" is no thickness in mm.", typed_),
                                      std::string(say("Thickness, mm"))};
        return;
    }
    const auto near = [&](const plate::ThicknessReading& r) {
        return std::hypot(r.at.x_mm - at_->x_mm, r.at.y_mm - at_->y_mm) < k_same_place_mm;
    };
    std::erase_if(draft_, near);
    draft_.push_back({*at_, *value, {}});
    changed_ = true;
    complaint_.clear();
    typed_.clear();
    at_.reset();
    sight.owed = 2;
}

void MapSheet::paste(const Sight& sight) {
    const auto outline = trends::outline_of(form_shown(sight.now.plate->history));
    if (!outline) {
        complaint_ = {outline.fault().what};
        return;
    }
    const auto readings = plate::thickness_from_csv(pasted_, *outline);
    if (!readings) {
        complaint_ = {readings.fault().what, std::string(pasted_label())};
        return;
    }
    draft_ = *readings;
    changed_ = true;
    complaint_.clear();
    pasted_.clear();
}

/// A reading at the cross, or all.
void MapSheet::take_out(const Sight& sight) {
    const auto at_cross = [&](const plate::ThicknessReading& r) { return at_ && r.at == *at_; };
    if (std::any_of(draft_.begin(), draft_.end(), at_cross) &&
        flow_press(sight, say("Take this reading out"))) {
        std::erase_if(draft_, at_cross);
        changed_ = true;
        typed_.clear();
        at_.reset();
    }
    if (!draft_.empty() && flow_press(sight, say("Take all readings out"))) {
        draft_.clear();
        changed_ = true;
    }
}

void MapSheet::entry(const Sight& sight, const PlateSpot& spot) {
    // The click itself takes the focus to the drawing: the field asks for it one picture later.
    const bool wants_focus = std::exchange(wants_focus_, false);
    if (spot.clicked) {
        at_ = spot.at;
        wants_focus_ = true;
        sight.owed = std::max(sight.owed, 2);
        for (const plate::ThicknessReading& r : draft_) { // a reading there is to be corrected
            if (std::hypot(r.at.x_mm - at_->x_mm, r.at.y_mm - at_->y_mm) < k_same_place_mm) {
                at_ = r.at;
                typed_ = figure(r.thickness_mm, 2);
            }
        }
    }
    heading(sight, say("Readings: {}", draft_.size()));
    faint_text(sight,
               at_ ? say("The cross: {}.", plate::place_text(*at_))
                   : std::string(say("Click a place on the plate, then type its thickness.")));
    const bool entered_value =
        field(sight, say("Thickness, mm"), typed_, 130.0, wants_focus, &complaint_);
    if (flow_press(sight, say("Add"), say("Enter"), false, true) || entered_value) {
        add(sight);
        wants_focus_ = false;
    }
    lines_field(sight, pasted_label(), pasted_, &complaint_);
    if (!pasted_.empty() && flow_press(sight, say("Take these lines"))) {
        paste(sight);
    }
    complaint(sight, complaint_);
    take_out(sight);
    if (!changed_) {
        return;
    }
    if (flow_press(sight, say("Keep these readings"), {}, true)) {
        const auto outline = trends::outline_of(form_shown(sight.now.plate->history));
        const auto fault = outline ? plate::fault_in(draft_, *outline)
                                   : std::optional<base::Fault>(outline.fault());
        if (draft_.empty()) {
            std::vector<std::size_t> all(sight.session()->thickness.readings.size());
            std::iota(all.begin(), all.end(), std::size_t{0});
            sight.send(bench::command::TakeOutReadings{session_, all});
        } else if (fault) {
            complaint_ = {fault->what};
        } else {
            sight.send(bench::command::SetThickness{session_, draft_});
        }
    }
    if (flow_press(sight, say("Leave as it was"), {}, false, true)) {
        session_ = 0; // the draft begins again from what is kept
    }
}

void MapSheet::side(const Sight& sight, const PlateSpot& spot) {
    follow(sight);
    if (!changed_) {
        facts(sight);
    }
    if (session_ == 0) {
        faint_text(sight, say("Begin a session (N at the bench): readings are kept with it."));
        return;
    }
    entry(sight, spot);
}

} // namespace platewright::screen
