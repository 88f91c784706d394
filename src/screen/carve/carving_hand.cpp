#include "plate/shape/spots.hpp"
#include "screen/carve/carving_sheet.hpp"
#include "screen/fields/fields.hpp"
#include "trends/model/plate_form.hpp"
#include "trends/review/flex_review.hpp"

#include <algorithm>
#include <vector>

namespace platewright::screen {
namespace {

std::vector<std::string> kinds() {
    return {say("lengthwise, on two bars"), say("crosswise, on two bars under the lower bout"),
            say("twist, held at three corners")};
}

const trends::FlexCheck* check_of(const ViewContext& context, ledger::Id flex) {
    if (context.now.work && context.now.work->study) {
        for (const trends::FlexCheck& check : context.now.work->study->flexes) {
            if (check.record.id == flex) {
                return &check;
            }
        }
    }
    return nullptr;
}

} // namespace

plot::PlatePicture HandSheet::picture(const ViewContext& context) const {
    plot::PlatePicture picture = outline_shown(context);
    add_pins(picture, context);
    const auto outline = trends::outline_of(trends::form_of(context.now.plate->history));
    auto meant = flex_; // the places are those of its span, however far it gave
    meant.figure("deflection_mm").text = "1";
    const auto flex = meant.typed();
    if (outline && flex) {
        if (const auto reading = trends::flex_reading(*flex, *outline)) {
            for (const plate::Point p : reading->supports) {
                picture.marks.push_back({{p.x_mm, p.y_mm}, {}, plot::Shape::triangle, false});
            }
            picture.marks.push_back(
                {{reading->load.x_mm, reading->load.y_mm}, say("load"), plot::Shape::disc, true});
        }
    }
    if (at_) {
        picture.marks.push_back({{at_->x_mm, at_->y_mm}, {}, plot::Shape::cross, true});
    }
    return picture;
}

void HandSheet::pins(const ViewContext& context, const ledger::SessionHistory& session) {
    heading(context, say("Pins"));
    for (const ledger::PinRecord& pin : session.pins) {
        text(context, pin.text + " (" + plate::place_text(pin.at) + ")");
        ImGui::PushID(static_cast<int>(pin.id));
        if (flow_press(context, say("Take the pin out"))) {
            away_.put(context, "pin", pin.id, pin.text);
        }
        ImGui::PopID();
    }
    faint_text(context,
               at_ ? say("The cross: {}.", plate::place_text(*at_))
                   : say("Click a place on the plate, then say what the hand finds there."));
    const bool entered_words = field(context, say("Stiff here, moves well there"), words_, 0.0,
                                     std::exchange(wants_focus_, false));
    if (flow_press(context, say("Pin it"), say("Enter")) || entered_words) {
        if (!at_) {
            complaint_ = {say("Click the place on the plate first.")};
        } else {
            complaint_.clear();
            context.send(bench::command::AddPin{{0, 0, *at_, words_}});
            words_.clear();
            at_.reset();
        }
    }
}

void HandSheet::flexes(const ViewContext& context, const ledger::SessionHistory& session) {
    heading(context, say("How far it gives"));
    for (const ledger::FlexRecord& flex : session.flex) {
        fact(context,
             std::string(ledger::to_text(flex.kind)) + ", " + figure(flex.span_mm, 0) + " mm, " +
                 figure(flex.load_g, 0) + " g",
             figure(flex.deflection_mm, 2) + " mm");
        if (const trends::FlexCheck* check = check_of(context, flex.id)) {
            fact(context, say("by the model"),
                 with_range(check->model_mm, check->model_sd_mm, 2) + " mm");
        }
        ImGui::PushID(static_cast<int>(flex.id));
        if (flow_press(context, say("Take this reading out"))) {
            away_.put(context, "flex", flex.id, std::string(ledger::to_text(flex.kind)));
        }
        ImGui::PopID();
    }
    const bool entered_value =
        flex_.draw_fields(context, complaint_, false, [&](std::string_view column) {
            if (column != "kind") {
                return false;
            }
            const std::vector<std::string> all = kinds(); // what it stands on, not its kind's name
            auto chosen = static_cast<std::size_t>(flex_.record.kind);
            drop_down(context, say("Bent how"), all, chosen);
            flex_.record.kind = ledger::k_flex_kinds.at(chosen);
            return true;
        });
    if (flow_press(context, say("Keep this reading")) || entered_value) {
        const auto flex = flex_.typed();
        complaint_ = flex ? Complaint{} : Complaint{flex.fault().what, flex.at};
        if (flex) {
            context.send(bench::command::AddFlex{*flex});
            flex_.figure("deflection_mm") = {};
        }
    }
    faint_text(context, say("Triangles: where it is borne, or in twist held. With a thickness map "
                            "of the same session the readings count in the fit."));
}

void HandSheet::fill_in(const ViewContext& context) {
    const ledger::PlateHistory& history = context.now.plate->history;
    if (plate_ != history.plate.id) {
        plate_ = history.plate.id;
        flex_ = RecordFields<ledger::FlexRecord>(
            {.span_mm = in_proportion(history, 300.0, 10.0), .load_g = 500.0});
        context.owed =
            std::max(context.owed, 1); // where it is borne is drawn from what stands here
    }
}

void HandSheet::side(const ViewContext& context, const PlateSpot& spot) {
    fill_in(context);
    const ledger::SessionHistory* session = context.session();
    if (session == nullptr) {
        text(context,
             say("Begin a session (N at the bench): pins and flex readings are kept with it."));
        return;
    }
    complaint(context, complaint_);
    away_.draw_back(context);
    pins(context, *session);
    flexes(context, *session);
    if (spot.clicked) { // last: the click itself takes the focus to the drawing
        at_ = spot.at;
        wants_focus_ = true;
        context.owed = std::max(context.owed, 2);
    }
}

} // namespace platewright::screen
