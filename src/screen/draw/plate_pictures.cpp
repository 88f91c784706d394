#include "screen/draw/plate_pictures.hpp"

#include "base/text.hpp"
#include "modes/mode.hpp"
#include "trends/model/plan_zones.hpp"
#include "wording/say.hpp"

#include <algorithm>
#include <array>
#include <cmath>
#include <numbers>

namespace platewright::screen {
namespace {

using wording::figure;
using wording::say;

plot::Point to_plot(plate::Point p) { return {p.x_mm, p.y_mm}; }

std::vector<plot::Point> to_plot(const plate::Loop& loop) {
    std::vector<plot::Point> out;
    for (const plate::Point p : loop) {
        out.push_back(to_plot(p));
    }
    return out;
}

plot::TriangleField field_on(const plate::PlateModel& model) {
    plot::TriangleField field;
    for (const plate::Point p : model.points()) {
        field.at.push_back(to_plot(p));
    }
    for (const plate::Triangle& t : model.shell().mesh().triangles) {
        field.triangles.push_back({t[0], t[1], t[2]});
    }
    return field;
}

plot::TriangleField field_on(const plate::PlateModel& model, const Eigen::VectorXd& values) {
    plot::TriangleField field = field_on(model);
    field.values.assign(values.data(), values.data() + field.at.size());
    return field;
}

/// Of those where a removal is deepest among its neighbours, what is deep enough to be scraped and
/// read (half a tenth of a millimetre), the deepest first; of two that lie close together, the
/// deeper.
std::vector<std::size_t> marked(const plot::TriangleField& field,
                                const std::vector<bool>& is_summit, double length_mm) {
    constexpr double k_worth_a_mark_mm = 0.05, k_apart = 0.11; // of the body's length
    const double apart_mm = k_apart * length_mm;
    std::vector<std::size_t> order;
    for (std::size_t i = 0; i < field.at.size(); ++i) {
        if (is_summit[i] && field.values[i] >= k_worth_a_mark_mm) {
            order.push_back(i);
        }
    }
    std::ranges::stable_sort(order, std::ranges::greater{},
                             [&](std::size_t i) { return field.values[i]; });
    std::vector<std::size_t> kept;
    for (const std::size_t i : order) {
        const bool is_near = std::ranges::any_of(kept, [&](std::size_t k) {
            return std::hypot(field.at[i].x - field.at[k].x, field.at[i].y - field.at[k].y) <
                   apart_mm;
        });
        if (!is_near) {
            kept.push_back(i);
        }
    }
    return kept;
}

plot::PlatePicture removal_picture(const plate::PlateModel& model,
                                   const Eigen::VectorXd& removal_mm, bool two_piece) {
    plot::PlatePicture picture = bare_picture(model.form(), two_piece);
    picture.quantity = say("to take off, mm");
    picture.low = 0.0;
    picture.field = field_on(model, removal_mm);
    for (const std::size_t i : marked(picture.field, trends::is_summit(model, removal_mm),
                                      model.form().outline.size.length_mm)) {
        picture.marks.push_back({picture.field.at[i], figure(picture.field.values[i], 2),
                                 plot::Shape::triangle, false});
    }
    return picture;
}

/// Between upper bout, waist and lower bout, and along the thirds of the width.
std::vector<std::vector<plot::Point>> zone_lines(const plate::Outline& outline) {
    constexpr double k_step_mm = 4.0;
    std::vector<std::vector<plot::Point>> lines;
    for (const double y : {0.5 * (outline.upper_y_mm + outline.waist_y_mm),
                           0.5 * (outline.lower_y_mm + outline.waist_y_mm)}) {
        const auto extent = outline.extent(y);
        lines.push_back({{extent.left_mm, y}, {extent.right_mm, y}});
    }
    for (const double third : {1.0 / 3.0, 2.0 / 3.0}) {
        std::vector<plot::Point> line;
        for (double y = k_step_mm; y < outline.size.length_mm; y += k_step_mm) {
            const auto extent = outline.extent(y);
            line.push_back({std::lerp(extent.left_mm, extent.right_mm, third), y});
        }
        lines.push_back(std::move(line));
    }
    return lines;
}

} // namespace

std::string sides_of(modes::Part part, const std::optional<plate::BassBar>& bar, bool from_inside) {
    const bool left_outside = bar ? bar->lower.x_mm < 0.0 : part != modes::Part::back;
    if (from_inside) {
        return left_outside ? say("seen from the inside, bass side right")
                            : say("seen from the inside, bass side left");
    }
    return left_outside ? say("seen from the outside, bass side left")
                        : say("seen from the outside, bass side right");
}

plot::PlatePicture bare_picture(const plate::PlateForm& form, bool two_piece) {
    plot::PlatePicture picture;
    picture.rims.push_back(to_plot(form.outline.rim));
    for (const plate::Loop& hole : form.f_holes) {
        picture.rims.push_back(to_plot(hole));
    }
    if (form.bar) {
        picture.lines.push_back({to_plot(form.bar->lower), to_plot(form.bar->upper)});
    }
    if (two_piece) {
        picture.lines.push_back({{0.0, 0.0}, {0.0, form.outline.size.length_mm}});
    }
    return picture;
}

plot::PlatePicture thickness_picture(const trends::MapReview& review, bool two_piece) {
    plot::PlatePicture picture = bare_picture(review.model->form(), two_piece);
    picture.quantity = say("thickness, mm");
    picture.field = field_on(*review.model);
    for (const plate::Point p : review.model->points()) {
        picture.field.values.push_back(review.map.thickness_mm(p));
    }
    const plate::ThicknessFacts& facts = review.facts;
    picture.marks.push_back({to_plot(facts.thinnest),
                             say("thinnest {}", figure(facts.thinnest_mm, 2)),
                             plot::Shape::triangle, true});
    picture.marks.push_back(
        {to_plot(facts.next_reading), say("read here next"), plot::Shape::ring, true});
    for (const plate::ThicknessReading& reading : review.map.readings()) {
        picture.marks.push_back({.at = to_plot(reading.at),
                                 .words = figure(reading.thickness_mm, 2),
                                 .shape = plot::Shape::disc,
                                 .on_it = true});
    }
    return picture;
}

plot::PlatePicture stroke_picture(const trends::PlateStudy& study, int mode, bool two_piece) {
    plot::PlatePicture picture = bare_picture(study.model->form(), two_piece);
    picture.shading = plot::Shading::about_zero;
    picture.quantity = say("Hz a stroke");
    picture.field = field_on(*study.model, study.stroke_hz.col(mode));
    return picture;
}

plot::PlatePicture shape_picture(const trends::PlateStudy& study, int mode, double phase,
                                 bool two_piece) {
    constexpr Eigen::Index z = 2; // of the six freedoms of a node
    const auto nodes = static_cast<Eigen::Index>(study.model->nodes());
    Eigen::VectorXd out(nodes);
    for (Eigen::Index i = 0; i < nodes; ++i) {
        out[i] = study.state.modes.shapes(6 * i + z, mode);
    }
    out /= out.cwiseAbs().maxCoeff();
    plot::PlatePicture picture = bare_picture(study.model->form(), two_piece);
    picture.shading = plot::Shading::about_zero;
    picture.quantity = say("motion");
    picture.low = -1.0;
    picture.high = 1.0;
    picture.field = field_on(*study.model, std::cos(2.0 * std::numbers::pi * phase) * out);
    return picture;
}

plot::PlatePicture plan_picture(const trends::PlateStudy& study, const Eigen::VectorXd& removal_mm,
                                bool two_piece) {
    return removal_picture(*study.model, removal_mm, two_piece);
}

plot::PlatePicture pass_from_inside(const plate::PlateModel& model, const Eigen::VectorXd& pass_mm,
                                    bool two_piece) {
    plot::PlatePicture picture = removal_picture(model, pass_mm, two_piece);
    for (std::vector<plot::Point>& line : zone_lines(model.form().outline)) {
        picture.lines.push_back(std::move(line));
    }
    picture.title = say("seen from the inside");
    const auto mirror = [](std::vector<plot::Point>& points) {
        for (plot::Point& p : points) {
            p.x = -p.x;
        }
    };
    std::ranges::for_each(picture.rims, mirror);
    std::ranges::for_each(picture.lines, mirror);
    mirror(picture.field.at);
    for (plot::PlateMark& mark : picture.marks) {
        mark.at.x = -mark.at.x;
    }
    return picture;
}

std::string mode_label(const trends::PlateStudy& study, int mode) {
    for (const plate::ShapeName& name : study.state.names) {
        if (name.index == mode) {
            return modes::mode_text(name.number);
        }
    }
    return say("no. {} of the model", mode + 1);
}

} // namespace platewright::screen
