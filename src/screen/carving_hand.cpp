#include "screen/carving_hand.hpp"

#include "base/interval.hpp"
#include "plate/spots.hpp"
#include "screen/fields.hpp"
#include "trends/flex_review.hpp"
#include "trends/plate_form.hpp"

#include <algorithm>
#include <vector>

namespace platewright::screen {
namespace {

constexpr double k_least_span_mm = 1.0, k_most_span_mm = plate::k_longest_mm;
constexpr double k_least_load_g = 0.1, k_most_load_g = 1e5;

std::vector<std::string> kinds() {
    return {std::string(say("lengthwise, on two bars")),
            std::string(say("crosswise, on two bars under the lower bout")),
            std::string(say("twist, held at three corners"))};
}

const trends::FlexCheck* check_of(const Sight& sight, ledger::Id flex) {
    if (sight.now.work && sight.now.work->study) {
        for (const trends::FlexCheck& check : sight.now.work->study->flexes) {
            if (check.record.id == flex) {
                return &check;
            }
        }
    }
    return nullptr;
}

} // namespace

std::optional<ledger::FlexRecord> HandSheet::typed_flex() const {
    const auto span = number_within(span_, k_least_span_mm, k_most_span_mm, "mm"),
               load = number_within(load_, k_least_load_g, k_most_load_g, "g");
    if (!span || !load) {
        return std::nullopt;
    }
    ledger::FlexRecord flex;
    flex.kind = ledger::k_flex_kinds.at(kind_);
    flex.span_mm = *span;
    flex.load_g = *load;
    flex.deflection_mm = number_within(deflection_, 0.001, 100.0, "mm").value_or(1.0);
    return flex;
}

plot::PlatePicture HandSheet::picture(const Sight& sight) const {
    plot::PlatePicture picture = outline_shown(sight);
    add_pins(picture, sight);
    const auto outline = trends::outline_of(form_shown(sight.now.plate->history));
    const auto flex = typed_flex();
    if (outline && flex) {
        if (const auto reading = trends::flex_reading(*flex, *outline)) {
            for (const plate::Point p : reading->supports) {
                picture.marks.push_back({{p.x_mm, p.y_mm}, {}, plot::Shape::triangle, false});
            }
            picture.marks.push_back({{reading->load.x_mm, reading->load.y_mm},
                                     std::string(say("load")),
                                     plot::Shape::disc,
                                     true});
        }
    }
    if (at_) {
        picture.marks.push_back({{at_->x_mm, at_->y_mm}, {}, plot::Shape::cross, true});
    }
    return picture;
}

void HandSheet::pins(const Sight& sight, const ledger::SessionHistory& session) {
    heading(sight, say("Pins"));
    for (const ledger::PinRecord& pin : session.pins) {
        text(sight, pin.text + " (" + plate::place_text(pin.at) + ")");
        ImGui::PushID(static_cast<int>(pin.id));
        if (flow_press(sight, say("Take the pin out"))) {
            away_.put(sight, "pin", pin.id, pin.text);
        }
        ImGui::PopID();
    }
    faint_text(sight, at_ ? say("The cross: {}.", plate::place_text(*at_))
                          : std::string(say("Click a place on the plate, then say what the hand "
                                            "finds there.")));
    const bool entered_words = field(sight, say("Stiff here, moves well there"), words_, 0.0,
                                     std::exchange(wants_focus_, false));
    if (flow_press(sight, say("Pin it"), say("Enter")) || entered_words) {
        if (!at_) {
            complaint_ = {std::string(say("Click the place on the plate first."))};
        } else {
            complaint_.clear();
            sight.send(bench::command::AddPin{{0, 0, *at_, words_}});
            words_.clear();
            at_.reset();
        }
    }
}

void HandSheet::flexes(const Sight& sight, const ledger::SessionHistory& session) {
    heading(sight, say("How far it gives"));
    for (const ledger::FlexRecord& flex : session.flex) {
        fact(sight,
             std::string(ledger::to_text(flex.kind)) + ", " + figure(flex.span_mm, 0) + " mm, " +
                 figure(flex.load_g, 0) + " g",
             figure(flex.deflection_mm, 2) + " mm");
        if (const trends::FlexCheck* check = check_of(sight, flex.id)) {
            fact(sight, say("by the model"),
                 figure(check->model_mm, 2) + " \u00b1 " +
                     figure(base::plus_minus(check->model_sd_mm), 2) + " mm");
        }
        ImGui::PushID(static_cast<int>(flex.id));
        if (flow_press(sight, say("Take this reading out"))) {
            away_.put(sight, "flex", flex.id, std::string(ledger::to_text(flex.kind)));
        }
        ImGui::PopID();
    }
    const std::vector<std::string> all = kinds();
    drop_down(sight, say("Bent how"), all, kind_);
    const std::string_view span = say("Span between the supports, mm"), load = say("Load, g"),
                           deflection = say("It went down by, mm");
    field(sight, span, span_, 130.0, false, &complaint_);
    field(sight, load, load_, 130.0, false, &complaint_);
    const bool entered_value = field(sight, deflection, deflection_, 130.0, false, &complaint_);
    if (flow_press(sight, say("Keep this reading")) || entered_value) {
        const auto flex = typed_flex();
        if (!flex || !number_within(deflection_, 0.001, 100.0, "mm")) {
            const std::string_view at =
                !number_within(span_, k_least_span_mm, k_most_span_mm, "mm") ? span
                : !number_within(load_, k_least_load_g, k_most_load_g, "g")  ? load
                                                                             : deflection;
            complaint_ = {std::string(say("Give span in mm, load in g and deflection in mm.")),
                          std::string(at)};
        } else {
            complaint_.clear();
            sight.send(bench::command::AddFlex{*flex});
            deflection_.clear();
        }
    }
    faint_text(sight,
               say("Triangles: where it is borne, or in twist held. With a thickness map of the "
                   "same session the readings count in the fit."));
}

void HandSheet::side(const Sight& sight, const PlateSpot& spot) {
    const ledger::SessionHistory* session = sight.session();
    if (session == nullptr) {
        text(sight,
             say("Begin a session (N at the bench): pins and flex readings are kept with it."));
        return;
    }
    complaint(sight, complaint_);
    away_.draw_back(sight);
    pins(sight, *session);
    flexes(sight, *session);
    if (spot.clicked) { // last: the click itself takes the focus to the drawing
        at_ = spot.at;
        wants_focus_ = true;
        sight.owed = std::max(sight.owed, 2);
    }
}

} // namespace platewright::screen
