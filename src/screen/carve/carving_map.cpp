#include "base/clock.hpp"
#include "base/interval.hpp"
#include "base/text.hpp"
#include "plate/shape/spots.hpp"
#include "screen/carve/carving_sheet.hpp"
#include "screen/draw/plate_pictures.hpp"
#include "screen/fields/fields.hpp"
#include "trends/model/plate_form.hpp"

#include <algorithm>
#include <cmath>
#include <numeric>

namespace platewright::screen {
namespace {

constexpr double k_same_place_mm = 4.0; // a click this near a reading means that reading

std::string_view pasted_label() { return say("Or paste lines: x, y, thickness in mm"); }

} // namespace

plot::PlatePicture MapSheet::picture(const ViewContext& context) const {
    const auto& work = context.now.work;
    plot::PlatePicture picture;
    if (work && work->map && !changed_) {
        picture =
            thickness_picture(*work->map, trends::form_of(context.now.plate->history).two_piece);
    } else {
        picture = outline_shown(context);
        for (const plate::ThicknessReading& r : draft_) {
            picture.marks.push_back(
                {{r.at.x_mm, r.at.y_mm}, figure(r.thickness_mm, 2), plot::Shape::disc, false});
        }
    }
    add_pins(picture, context);
    if (at_) {
        picture.marks.push_back({{at_->x_mm, at_->y_mm}, {}, plot::Shape::cross, true});
    }
    return picture;
}

void MapSheet::follow(const ViewContext& context) {
    const ledger::SessionHistory* session = context.session();
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

void MapSheet::facts(const ViewContext& context) const {
    const auto& work = context.now.work;
    if (!work || !work->map) {
        if (work && !work->map_trouble.empty()) {
            complaint(context, work->map_trouble);
        }
        return;
    }
    const trends::MapReview& review = *work->map;
    const auto& sessions = work->of.history.sessions;
    if (review.session < sessions.size()) {
        const ledger::SessionRecord& read = sessions[review.session].session;
        if (read.id != session_) { // an older map is shown, and not of the plate as it is now
            text(context, say("This is the map of {}. Wood that came off since is not in it.",
                              base::local_date(read.begun)));
        }
    }
    told(context, trends::facts_of(review, work->of.history));
    ImGui::Spacing();
    text(context, trends::next_reading_words(review.facts));
    for (const std::string& remark : review.remarks) {
        faint_text(context, remark);
    }
}

void MapSheet::add(const ViewContext& context) {
    const auto value = number_within(typed_, {0.01, 50.0, "mm"});
    if (!at_ || !value) {
        complaint_ =
            !at_ ? Complaint{say("Click the place on the plate first.")}
                 : Complaint{say("\"{}\" is no thickness in mm.", typed_), say("Thickness, mm")};
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
    context.owed = 2;
}

void MapSheet::paste(const ViewContext& context) {
    const auto outline = trends::outline_of(trends::form_of(context.now.plate->history));
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
void MapSheet::take_out(const ViewContext& context) {
    const auto at_cross = [&](const plate::ThicknessReading& r) { return at_ && r.at == *at_; };
    if (std::any_of(draft_.begin(), draft_.end(), at_cross) &&
        flow_press(context, say("Take this reading out"))) {
        std::erase_if(draft_, at_cross);
        changed_ = true;
        typed_.clear();
        at_.reset();
    }
    if (!draft_.empty() && flow_press(context, say("Take all readings out"))) {
        draft_.clear();
        changed_ = true;
    }
}

void MapSheet::entry(const ViewContext& context, const PlateSpot& spot) {
    // The click itself takes the focus to the drawing: the field asks for it one picture later.
    const bool wants_focus = std::exchange(wants_focus_, false);
    if (spot.clicked) {
        at_ = spot.at;
        wants_focus_ = true;
        context.owed = std::max(context.owed, 2);
        for (const plate::ThicknessReading& r : draft_) { // a reading there is to be corrected
            if (std::hypot(r.at.x_mm - at_->x_mm, r.at.y_mm - at_->y_mm) < k_same_place_mm) {
                at_ = r.at;
                typed_ = figure(r.thickness_mm, 2);
            }
        }
    }
    heading(context, say("Readings of this session: {}", draft_.size()));
    faint_text(context, at_ ? say("The cross: {}.", plate::place_text(*at_))
                            : say("Click a place on the plate, then type its thickness."));
    const bool entered_value =
        field(context, say("Thickness, mm"), typed_, 130.0, wants_focus, &complaint_);
    if (flow_press(context, say("Add"), say("Enter"), false, true) || entered_value) {
        add(context);
        wants_focus_ = false;
    }
    lines_field(context, pasted_label(), pasted_, &complaint_);
    if (!pasted_.empty() && flow_press(context, say("Take these lines"))) {
        paste(context);
    }
    complaint(context, complaint_);
    if (changed_) { // first, where the pointer still is that has just taken the lines
        keep(context);
    }
    take_out(context);
}

void MapSheet::keep(const ViewContext& context) {
    if (flow_press(context, say("Keep these readings"), {}, true)) {
        const auto outline = trends::outline_of(trends::form_of(context.now.plate->history));
        const auto fault = outline ? plate::fault_in(draft_, *outline)
                                   : std::optional<base::Fault>(outline.fault());
        if (draft_.empty()) {
            std::vector<std::size_t> all(context.session()->thickness.readings.size());
            std::iota(all.begin(), all.end(), std::size_t{0});
            context.send(bench::command::TakeOutReadings{session_, all});
        } else if (fault) {
            complaint_ = {fault->what};
        } else {
            context.send(bench::command::SetThickness{session_, draft_});
        }
    }
    if (flow_press(context, say("Leave as it was"), {}, false, true)) {
        session_ = 0; // the draft begins again from what is kept
    }
}

void MapSheet::side(const ViewContext& context, const PlateSpot& spot) {
    follow(context);
    if (!changed_) {
        facts(context);
    }
    if (session_ == 0) {
        faint_text(context, say("Begin a session (N at the bench): readings are kept with it."));
        return;
    }
    entry(context, spot);
}

} // namespace platewright::screen
