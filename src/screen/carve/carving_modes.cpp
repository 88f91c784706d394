#include "plate/shape/spots.hpp"
#include "screen/carve/carving_sheet.hpp"
#include "screen/draw/parts.hpp"
#include "screen/draw/plate_pictures.hpp"
#include "screen/fields/fields.hpp"

#include <cmath>

namespace platewright::screen {
namespace {

constexpr int k_listed = 8;
constexpr double k_period_s = 1.6; // of the motion as shown, slow enough for the eye

std::string tapped_text(const trends::PlateStudy& study, int mode) {
    for (const plate::TappedMode& tapped : study.tapped) {
        if (plate::mode_index(study.state.names, tapped.number) == mode) {
            return ", " + say("tapped {} Hz", figure(tapped.frequency_hz, 1));
        }
    }
    return {};
}

std::size_t nearest_node(const plate::PlateModel& model, plate::Point at) {
    std::size_t nearest = 0;
    double least = 1e18;
    for (std::size_t i = 0; i < model.nodes(); ++i) {
        const plate::Point p = model.points()[i];
        const double away = std::hypot(p.x_mm - at.x_mm, p.y_mm - at.y_mm);
        if (away < least) {
            least = away;
            nearest = i;
        }
    }
    return nearest;
}

/// What a stroke under the pointer does.
void stroke_at(const ViewContext& context, const trends::PlateStudy& study, const PlateSpot& spot) {
    if (!spot.at) {
        text(context, say("Point at a place on the plate: what a stroke there does stands here."));
        return;
    }
    const auto node = static_cast<Eigen::Index>(nearest_node(*study.model, *spot.at));
    heading(context, say("A stroke at {}", plate::place_text(*spot.at)));
    for (const plate::ShapeName& name : study.state.names) {
        if (name.index >= 0) {
            fact(context, modes::mode_text(name.number),
                 signed_figure(study.stroke_hz(node, name.index), 2) + " Hz");
        }
    }
    fact(context, say("thickness there"), figure(study.thickness_mm[node], 2) + " mm");
}

} // namespace

int ModesSheet::chosen(const trends::PlateStudy& study) const {
    const int modes = static_cast<int>(study.state.modes.frequency_hz.size());
    const int ring = study.state.names[2].index;
    return mode_ >= 0 && mode_ < modes ? mode_ : std::max(0, ring);
}

plot::PlatePicture ModesSheet::motion(const trends::PlateStudy& study, bool two_piece) const {
    const double phase = plays_ ? std::fmod(ImGui::GetTime(), k_period_s) / k_period_s : 0.0;
    return shape_picture(study, chosen(study), phase, two_piece);
}

plot::PlatePicture ModesSheet::strokes(const trends::PlateStudy& study, bool two_piece) const {
    return stroke_picture(study, chosen(study), two_piece);
}

void ModesSheet::list(const ViewContext& context, const trends::PlateStudy& study) {
    const int modes = static_cast<int>(study.state.modes.frequency_hz.size());
    for (int i = 0; i < std::min(k_listed, modes); ++i) {
        const std::string second =
            say("model {} Hz", figure(study.state.modes.frequency_hz[i], 1)) +
            tapped_text(study, i);
        if (row(context, i, mode_label(study, i), second, i == chosen(study))) {
            mode_ = i;
        }
    }
    for (const plate::ShapeName& name : study.state.names) {
        if (name.index == chosen(study) && !name.sure) {
            text(context, say("Doubtful: {}", name.doubt));
        }
    }
}

void ModesSheet::motion_side(const ViewContext& context, const trends::PlateStudy& study) {
    list(context, study);
    if (flow_press(context, plays_ ? say("Stand still") : say("Move"), say("Space")) ||
        context.keys.take(U' ')) {
        plays_ = !plays_;
    }
    faint_text(context, say("The bold line does not move: there a finger holds the plate. The "
                            "deeper the colour, the better a tap there wakes the mode."));
    if (plays_) {
        context.owed = std::max(context.owed, 1);
    }
}

void ModesSheet::strokes_side(const ViewContext& context, const trends::PlateStudy& study,
                              const PlateSpot& spot) {
    stroke_at(context, study, spot); // first: it is to be seen without scrolling
    list(context, study);
    faint_text(context, say("A stroke takes {} mm off 10 cm\u00b2 of the inside. Where the plate "
                            "only moves, as at its corners, thinning raises a mode.",
                            figure(0.1, 1)));
}

} // namespace platewright::screen
