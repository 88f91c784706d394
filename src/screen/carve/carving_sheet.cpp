#include "screen/carve/carving_sheet.hpp"

#include "base/text.hpp"
#include "screen/draw/parts.hpp"
#include "screen/draw/plate_pictures.hpp"
#include "screen/fields/fields.hpp"
#include "trends/model/plate_form.hpp"

#include <algorithm>
#include <cmath>

namespace platewright::screen {
namespace {
constexpr double k_heights_of_letters = 56.0; // of a drawing, where its letters grow with it
} // namespace

PlateSpot draw_plate_sheet(const ViewContext& context, const plot::PlatePicture& picture,
                           const plot::Box& box) {
    const double scale = context.look.scale;
    ImguiCanvas canvas = context.canvas();
    sheet(canvas, context.look, box);
    const plot::PlateFrame frame =
        plot::draw(picture, inset(box, 14.0 * scale), canvas, context.palette(),
                   {.text_height = std::max(k_body * scale, box.height() / k_heights_of_letters),
                    .line_scale = scale});
    PlateSpot spot;
    const plot::Point mouse = point(ImGui::GetIO().MousePos);
    if (picture.rims.empty() || !points_at(box)) {
        return spot;
    }
    const plot::Point mm = frame.mm(mouse);
    plate::Loop rim;
    for (const plot::Point p : picture.rims.front()) {
        rim.push_back({p.x, p.y});
    }
    if (plate::contains(rim, {mm.x, mm.y})) {
        spot.at = plate::Point{mm.x, mm.y};
        spot.clicked = ImGui::IsMouseClicked(ImGuiMouseButton_Left);
    }
    return spot;
}

namespace {

base::Result<plate::PlateForm> shape_shown(const ViewContext& context) {
    const ledger::PlateHistory& history = context.now.plate->history;
    const ledger::SessionHistory* session = context.session();
    return trends::plate_form(trends::form_of(history), history.plate.part,
                              session != nullptr ? session->session.stage
                                                 : modes::Stage::graduating);
}

} // namespace

double in_proportion(const ledger::PlateHistory& history, double of_violin_mm, double step_mm) {
    constexpr double k_violin_mm = 355.0;
    const double length_mm = trends::form_of(history).size.length_mm;
    return step_mm * std::max(1.0, std::round(of_violin_mm * length_mm / k_violin_mm / step_mm));
}

plot::PlatePicture outline_shown(const ViewContext& context) {
    const auto shape = shape_shown(context);
    return shape ? bare_picture(*shape, trends::form_of(context.now.plate->history).two_piece)
                 : plot::PlatePicture{};
}

std::string sides_shown(const ViewContext& context, bool from_inside) {
    const auto shape = shape_shown(context);
    return sides_of(context.now.plate->history.plate.part,
                    shape ? shape->bar : std::optional<plate::BassBar>(), from_inside);
}

void add_pins(plot::PlatePicture& picture, const ViewContext& context) {
    if (const ledger::SessionHistory* session = context.session()) {
        for (const ledger::PinRecord& pin : session->pins) {
            picture.marks.push_back(
                {{pin.at.x_mm, pin.at.y_mm}, pin.text, plot::Shape::square, false});
        }
    }
}

void before_it(const ViewContext& context, const std::vector<std::string>& words) {
    heading(context, say("Before it, best first"));
    if (words.empty()) {
        text(context, say("Enough: nothing is worth its minutes before the cut."));
    }
    for (std::size_t k = 0; k < std::min(k_most_next, words.size()); ++k) {
        text(context, std::to_string(k + 1) + ". " + words[k]);
    }
}

void fact(const ViewContext& context, std::string_view what, std::string_view value) {
    const double scale = context.look.scale, height = k_body * scale, row_height = 24.0 * scale;
    const plot::Point at = point(ImGui::GetCursorScreenPos());
    const double width = static_cast<double>(ImGui::GetContentRegionAvail().x);
    const plot::Palette& p = context.palette();
    ImguiCanvas canvas = context.canvas();
    const double value_width = canvas.measure(value, height, plot::Weight::regular).width;
    const double what_width = canvas.measure(what, height, plot::Weight::regular).width;
    const double column = std::max(0.48 * width, what_width + 10.0 * scale);
    plot::Box box{at.x, at.y, at.x + width, at.y + row_height};
    double used = row_height;
    if (column + value_width <= width) {
        line(canvas, what, take_left(box, column), {.colour = p.faint_ink, .height = height});
        line(canvas, value, box, {.colour = p.ink, .height = height});
    } else { // no room side by side: the value below, set in
        used = paragraph(canvas, what, box, height, p.faint_ink);
        const double left = at.x + 18.0 * scale;
        used +=
            paragraph(canvas, value, {left, at.y + used, at.x + width, at.y + used}, height, p.ink);
    }
    ImGui::Dummy({static_cast<float>(width),
                  static_cast<float>(used) - ImGui::GetStyle().ItemSpacing.y * 0.5F});
}

void told(const ViewContext& context, const wording::Facts& facts) {
    for (const auto& [what, value] : facts) {
        what.empty() ? text(context, value) : fact(context, what, value);
    }
}

std::optional<double> number_within(const std::string& typed, const base::Limits& limits) {
    const auto value = base::parse_measure(typed, limits.unit);
    return value && limits.hold(*value) ? value : std::nullopt;
}

void StudyAsked::keep(const ViewContext& context) {
    const ledger::PlateHistory& history = context.now.plate->history;
    if (asked_for_ == context.now.plate || history.sessions.empty()) {
        return;
    }
    asked_for_ = context.now.plate;
    bench::StudyInputs inputs =
        bench::inputs_of(history, index_of(history.sessions, context.now.plate->session)
                                      .value_or(history.sessions.size() - 1));
    const bool is_there = context.now.work && context.now.work->of == inputs;
    if (is_there &&
        (inputs == inputs_ || context.now.work->study || !context.now.work->doing.empty())) {
        inputs_ = std::move(inputs);
        return;
    }
    inputs_ = std::move(inputs);
    context.send(bench::command::StudyPlate{});
}

void StudyAsked::again() {
    asked_for_.reset();
    inputs_.reset();
}

} // namespace platewright::screen
