#include "plot/plate_picture.hpp"

#include "plot/plate_steps.hpp"

#include <algorithm>
#include <cmath>

namespace platewright::plot {
namespace {

Box bounds(const std::vector<Point>& points) {
    Box box{1e9, 1e9, -1e9, -1e9};
    for (const Point p : points) {
        box = {std::min(box.left, p.x), std::min(box.top, p.y), std::max(box.right, p.x),
               std::max(box.bottom, p.y)};
    }
    return box;
}

bool overlap(const Box& a, const Box& b) {
    return a.left < b.right && b.left < a.right && a.top < b.bottom && b.top < a.bottom;
}

/// One drawing of one picture.
class Drawing {
public:
    Drawing(const PlatePicture& picture, const Box& area, Canvas& canvas, const Palette& palette,
            const DrawStyle& style)
        : picture_(picture), area_(area), canvas_(canvas), palette_(palette),
          em_(style.text_height), line_(style.line_scale), levels_(levels_of(picture)),
          decimals_(decimals_for(levels_)), steps_(steps_of(picture)) {}

    PlateFrame all() {
        Box room = title();
        if (!picture_.field.values.empty()) {
            room.right -= legend(room);
        }
        room_ = room;
        fit(room);
        canvas_.keep_inside(area_);
        fill();
        lines();
        canvas_.keep_all();
        marks();
        contour_words();
        if (picture_.field.values.empty() && !picture_.when_empty.empty()) {
            canvas_.text({0.5 * (room.left + room.right), 0.5 * (room.top + room.bottom)},
                         picture_.when_empty,
                         {.colour = palette_.faint_ink, .height = em_, .across = Across::centre});
        }
        return frame_;
    }

private:
    Box title() {
        Box room = area_;
        if (!picture_.title.empty()) {
            canvas_.text({room.left, room.top}, picture_.title,
                         {.colour = palette_.ink,
                          .height = 1.15 * em_,
                          .upright = Upright::top,
                          .weight = Weight::bold});
            room.top += 1.8 * em_;
        }
        return room;
    }

    /// Draws the legend at the right of the room and gives the width it took.
    double legend(const Box& room) {
        double words = canvas_.measure(picture_.quantity, em_, Weight::bold).width;
        for (std::size_t i = 0; i < steps_.size(); ++i) {
            words = std::max(
                words,
                canvas_.measure(step_text(levels_, i, decimals_), em_, Weight::regular).width +
                    2.3 * em_);
        }
        const double left = room.right - words;
        double y = room.top + 0.5 * em_;
        canvas_.text({left, y}, picture_.quantity,
                     {.colour = palette_.ink, .height = em_, .weight = Weight::bold});
        y += 1.6 * em_;
        for (std::size_t i = steps_.size(); i-- > 0;) { // the most on top
            canvas_.box({left, y - 0.75 * em_, left + 1.7 * em_, y + 0.75 * em_}, steps_[i].colour);
            canvas_.text({left + 2.3 * em_, y}, step_text(levels_, i, decimals_),
                         {.colour = palette_.ink, .height = em_});
            y += 1.5 * em_;
        }
        return words + 1.2 * em_;
    }

    void fit(const Box& room) {
        const Box plate =
            picture_.rims.empty() ? bounds(picture_.field.at) : bounds(picture_.rims.front());
        const double pad = 0.6 * em_;
        const double across =
            std::max(1.0, room.width() - 2.0 * pad) / std::max(1.0, plate.width());
        const double up = std::max(1.0, room.height() - 2.0 * pad) / std::max(1.0, plate.height());
        frame_.per_mm = std::min(across, up);
        frame_.origin = {
            0.5 * (room.left + room.right) - 0.5 * frame_.per_mm * (plate.left + plate.right),
            0.5 * (room.top + room.bottom) + 0.5 * frame_.per_mm * (plate.top + plate.bottom)};
    }

    std::vector<Point> placed(const std::vector<Point>& points, bool closed = false) const {
        std::vector<Point> out;
        for (const Point p : points) {
            out.push_back(frame_.place(p));
        }
        if (closed && !out.empty()) {
            out.push_back(out.front());
        }
        return out;
    }

    void fill() {
        if (picture_.field.values.empty()) {
            return;
        }
        for (const Step& step : steps_) {
            auto pieces = band(picture_.field, step.low, step.high);
            for (auto& piece : pieces) {
                piece = placed(piece);
            }
            canvas_.area(pieces, step.colour);
        }
    }

    void lines() {
        if (!picture_.field.values.empty()) {
            for (const double level : levels_) {
                const bool signs = picture_.shading == Shading::about_zero;
                const bool nodal = signs && std::abs(level) < 1e-9 * ends_of(picture_).high;
                const Pen pen{Colour{0, 0, 0, 150}, line_ * (nodal ? 2.4 : 1.0),
                              signs && level < 0.0 && !nodal ? Dash::dashed : Dash::solid};
                for (const auto& chain : contour(picture_.field, level)) {
                    canvas_.polyline(placed(chain), pen);
                }
            }
        }
        for (const auto& rim : picture_.rims) {
            canvas_.polyline(placed(rim, true), {palette_.ink, 1.8 * line_, Dash::solid});
        }
        for (const auto& open : picture_.lines) {
            canvas_.polyline(placed(open), {palette_.ink, 1.6 * line_, Dash::dashed});
        }
    }

    void marks() {
        for (const PlateMark& mark : picture_.marks) {
            const Point at = frame_.place(mark.at);
            const double size = (mark.strong ? 0.95 : 0.42) * em_;
            canvas_.mark(at, mark.shape, size + 0.26 * em_, Colour{255, 255, 255, 220});
            canvas_.mark(at, mark.shape, size,
                         mark.strong ? palette_.accent : Colour{0, 0, 0, 255});
            if (!mark.words.empty()) {
                words_beside(at, mark.words, 0.5 * size + 0.3 * em_);
            }
        }
    }

    void words_beside(Point at, const std::string& words, double away) {
        const double height = 0.85 * em_;
        const Size size = canvas_.measure(words, height, Weight::bold);
        for (const bool right : {true, false}) {
            const double left = right ? at.x + away : at.x - away - size.width;
            const Box box{left - 0.15 * em_, at.y - 0.55 * size.height,
                          left + size.width + 0.15 * em_, at.y + 0.55 * size.height};
            if (box.right > room_.right || box.left < room_.left || is_taken(box)) {
                continue;
            }
            canvas_.box(box, Colour{255, 255, 255, 200}, 0.2 * em_);
            canvas_.text(
                {left, at.y}, words,
                {.colour = Colour{0, 0, 0, 255}, .height = height, .weight = Weight::bold});
            taken_.push_back(box);
            return;
        }
    }

    bool is_taken(const Box& box) const {
        return std::any_of(taken_.begin(), taken_.end(),
                           [&](const Box& other) { return overlap(box, other); });
    }

    /// The value of each level on its longest line, where there is room.
    void contour_words() {
        if (picture_.field.values.empty()) {
            return;
        }
        const double height = 0.8 * em_;
        for (const double level : levels_) {
            auto chains = contour(picture_.field, level);
            std::stable_sort(chains.begin(), chains.end(),
                             [](const auto& a, const auto& b) { return a.size() > b.size(); });
            const std::string words = value_text(level, decimals_);
            const Size size = canvas_.measure(words, height, Weight::regular);
            for (std::size_t c = 0; c < std::min<std::size_t>(2, chains.size()); ++c) {
                if (chains[c].size() < 8 || word_on(placed(chains[c]), words, size, height)) {
                    break;
                }
            }
        }
    }

    bool word_on(const std::vector<Point>& chain, const std::string& words, Size size,
                 double height) {
        for (const double share : {0.5, 0.25, 0.75, 0.12, 0.88}) {
            const Point at =
                chain[static_cast<std::size_t>(share * static_cast<double>(chain.size() - 1))];
            const Box box{at.x - 0.5 * size.width - 2.0, at.y - 0.5 * size.height,
                          at.x + 0.5 * size.width + 2.0, at.y + 0.5 * size.height};
            if (is_taken(box) || box.left < room_.left || box.right > room_.right) {
                continue;
            }
            canvas_.box(box, Colour{255, 255, 255, 190}, 0.2 * em_);
            canvas_.text(
                at, words,
                {.colour = Colour{0, 0, 0, 255}, .height = height, .across = Across::centre});
            taken_.push_back(box);
            return true;
        }
        return false;
    }

    const PlatePicture& picture_;
    Box area_;
    Box room_ = {}; // without title and legend
    Canvas& canvas_;
    const Palette& palette_;
    double em_, line_;
    std::vector<double> levels_;
    int decimals_;
    std::vector<Step> steps_;
    PlateFrame frame_ = {};
    std::vector<Box> taken_ = {};
};

} // namespace

PlateFrame draw(const PlatePicture& picture, const Box& area, Canvas& canvas,
                const Palette& palette, const DrawStyle& style) {
    return Drawing(picture, area, canvas, palette, style).all();
}

} // namespace platewright::plot
