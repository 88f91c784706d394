#include "screen/carve/carving_form.hpp"

#include "base/text.hpp"
#include "plate/shape/height_text.hpp"
#include "plate/shape/hole_text.hpp"
#include "plate/thickness/table_text.hpp"
#include "screen/carve/end_grain.hpp"
#include "screen/draw/parts.hpp"
#include "trends/model/plate_form.hpp"

namespace platewright::screen {
namespace {

std::string numbers(std::initializer_list<double> values) {
    std::string out;
    for (const double value : values) {
        out += (out.empty() ? "" : "; ") + shown(value, 1);
    }
    return out;
}

std::string f_hole_text(const ledger::FormRecord& form) {
    if (!form.f_hole_rims.empty()) {
        return say("as drawn");
    }
    const auto& hole = form.f_holes;
    return hole ? numbers({hole->upper.x_mm, hole->upper.y_mm, hole->lower.x_mm, hole->lower.y_mm})
                : std::string();
}

std::string bar_text(const ledger::FormRecord& form) {
    return form.bar ? numbers({form.bar->width_mm, form.bar->height_mm}) : std::string();
}

Complaint not_understood(std::string_view field, std::string_view what, const std::string& typed) {
    return {say("{}: \"{}\" is not understood. Nothing was stored.", what, typed),
            std::string(field)};
}
Complaint about(std::string_view field, const base::Fault& fault) {
    return {fault.what, std::string(field)};
}

std::string_view f_hole_label() { return say("Right f-hole: x; y of the upper eye; of the lower"); }
std::string_view bar_label() { return say("Bass bar: width; height, mm"); }
std::string_view rim_label() { return say("Or measured points: x, y a line, or an SVG path"); }
std::string_view f_hole_rim_label() {
    return say("Or its line as cut: x, y a line, or an SVG path");
}
std::string_view heights_label() { return say("Measured heights: x, y, height a line"); }

/// Pasted lines that begin like one of an SVG path, which begins with M.
bool is_svg_path(const std::string& pasted) {
    const auto text = base::trimmed(pasted);
    return text.starts_with('M') || text.starts_with('m');
}

/// Left as they were, they are what they were; emptied, they are in the usual place again.
std::optional<Complaint> take_fittings(const FormDraft& draft, ledger::FormRecord& out) {
    const bool is_emptied = base::trimmed(draft.f_hole).empty();
    if (draft.f_hole != draft.f_hole_shown) {
        const auto v = typed_numbers(draft.f_hole, 4);
        if (v.empty() && !is_emptied) {
            return not_understood(f_hole_label(), say("The f-hole's eyes"), draft.f_hole);
        }
        plate::FHole hole = out.f_holes.value_or(plate::usual_f_hole(out.size));
        if (!is_emptied) {
            hole.upper = {v[0], v[1]};
            hole.lower = {v[2], v[3]};
        }
        out.f_holes = is_emptied ? std::nullopt : std::optional(hole);
        out.f_hole_rims.clear();
    }
    if (!base::trimmed(draft.f_hole_rim).empty()) {
        const auto holes = is_svg_path(draft.f_hole_rim)
                               ? plate::holes_from_svg_path(draft.f_hole_rim)
                               : plate::holes_from_csv(draft.f_hole_rim);
        if (!holes) {
            return about(f_hole_rim_label(), holes.fault());
        }
        out.f_hole_rims = *holes;
        out.f_holes.reset();
    }
    if (draft.bar != bar_text(draft.record)) {
        const bool is_usual = base::trimmed(draft.bar).empty();
        const auto v = typed_numbers(draft.bar, 2);
        if (v.empty() && !is_usual) {
            return not_understood(bar_label(), say("The bass bar's width and height"), draft.bar);
        }
        plate::BassBar bar = out.bar.value_or(plate::usual_bar(out.size));
        if (!is_usual) {
            bar.width_mm = v[0];
            bar.height_mm = v[1];
        }
        out.bar = is_usual ? std::nullopt : std::optional(bar);
    }
    return std::nullopt;
}

std::optional<Complaint> take_pasted(const FormDraft& draft, ledger::FormRecord& out) {
    if (!base::trimmed(draft.rim).empty()) {
        const auto outline = is_svg_path(draft.rim) ? plate::outline_from_svg_path(draft.rim)
                                                    : plate::outline_from_csv(draft.rim);
        if (!outline) {
            return about(rim_label(), outline.fault());
        }
        out.rim = outline->rim;
        out.size = outline->size;
    }
    if (!base::trimmed(draft.heights).empty()) {
        const auto outline = trends::outline_of(out);
        if (!outline) {
            return about({}, outline.fault());
        }
        const auto heights = plate::heights_from_csv(draft.heights, *outline);
        if (!heights) {
            return about(heights_label(), heights.fault());
        }
        out.heights = *heights;
    }
    return std::nullopt;
}

/// What is typed so far, where it is a number.
std::optional<double> typed_deg(const TypedFigure& typed) {
    return typed.is_touched() ? base::parse_measure(typed.text, "°") : typed.filled();
}

} // namespace

FormDraft::FormDraft(const ledger::FormRecord& from)
    : RecordFields(from), f_hole(f_hole_text(from)), f_hole_shown(f_hole), bar(bar_text(from)) {}

Filled<ledger::FormRecord> FormDraft::finished() const {
    auto out = typed();
    if (!out) {
        return out;
    }
    for (const std::string_view measure : {"length_mm", "upper_mm", "waist_mm", "lower_mm"}) {
        if (figure(measure).is_touched()) {
            out->rim.clear(); // the outline is drawn through what was said now
        }
    }
    for (const auto& take : {take_pasted, take_fittings}) {
        if (const auto wrong = take(*this, *out)) {
            return {base::Fault{wrong->words}, wrong->at};
        }
    }
    if (auto fault = trends::fault_in(*out)) {
        return *fault;
    }
    return out;
}

void FormSheet::follow(const ViewContext& context) {
    if (draft_ &&
        (drafted_from_ == context.now.plate || plate_ == context.now.plate->history.plate.id)) {
        drafted_from_ = context.now.plate;
        return;
    }
    drafted_from_ = context.now.plate;
    plate_ = context.now.plate->history.plate.id;
    draft_.emplace(trends::form_of(context.now.plate->history));
    complaint_.clear();
}

plot::PlatePicture FormSheet::picture(const ViewContext& context) const {
    plot::PlatePicture picture = outline_shown(context);
    for (const plate::HeightReading& r : trends::form_of(context.now.plate->history).heights) {
        picture.marks.push_back(
            {{r.at.x_mm, r.at.y_mm}, figure(r.height_mm, 1), plot::Shape::diamond, false});
    }
    return picture;
}

void FormSheet::fields_of(const ViewContext& context, bool is_top) {
    FormDraft& d = *draft_;
    d.draw_fields(context, complaint_, false, [&](std::string_view column) {
        if (column == "length_mm") {
            heading(context, say("Outline, mm"));
        } else if (column == "arch_mm") {
            lines_field(context, rim_label(), d.rim, &complaint_);
            heading(context, say("Arching, heights of the outside in mm"));
        } else if (column == "species") {
            lines_field(context, heights_label(), d.heights, &complaint_);
        } else if (column == "rings_left_deg") {
            end_grain(context, typed_deg(d.figure(column)), typed_deg(d.figure("rings_right_deg")));
        }
        return false;
    });
    faint_text(context, say("Above 0 the rings lean to the right as drawn; 90 is slab-cut. Fibres "
                            "above 0 rise to the outside going to the upper end. Left empty: not "
                            "looked at."));
    if (is_top) {
        heading(context, say("Fittings of the top"));
        field(context, f_hole_label(), d.f_hole, 0.0, false, &complaint_);
        lines_field(context, f_hole_rim_label(), d.f_hole_rim, &complaint_);
        field(context, bar_label(), d.bar, 200.0, false, &complaint_);
        faint_text(context,
                   say("Left empty: in the usual place. They count from the stage at which "
                       "they are cut or fitted."));
    }
}

void FormSheet::side(const ViewContext& context) {
    follow(context);
    if (!context.now.plate->history.form) {
        text(context, say("The usual size of its kind, until you say what this plate measures."));
    }
    complaint(context, complaint_);
    if (flow_press(context, say("Keep this shape"), {}, true)) {
        const auto form = draft_->finished();
        complaint_ = form ? Complaint{} : Complaint{form.fault().what, form.at};
        if (form) {
            context.send(bench::command::SetForm{*form});
            draft_.reset();
            plate_ = 0;
            return;
        }
    }
    if (flow_press(context, say("Leave as it was"), {}, false, true)) {
        draft_.emplace(trends::form_of(context.now.plate->history));
        complaint_.clear();
    }
    fields_of(context, context.now.plate->history.plate.part == modes::Part::top);
}

} // namespace platewright::screen
