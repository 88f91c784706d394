#include "plot/plate/plate_picture.hpp"

#include "plot/palette.hpp"
#include "plot/plate/plate_scale.hpp"
#include "plot/plate/word_places.hpp"

#include <algorithm>
#include <cmath>
#include <span>
#include <string>
#include <vector>

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

/// Whether a line goes through a box; looked at in steps, finer than any words are high.
bool passes(const std::vector<Point>& line, const Box& box) {
    for (std::size_t i = 1; i < line.size(); ++i) {
        const Point a = line[i - 1], b = line[i];
        const int steps = 1 + static_cast<int>(std::hypot(b.x - a.x, b.y - a.y) / 4.0);
        for (int k = 0; k <= steps; ++k) {
            const double t = static_cast<double>(k) / steps;
            if (box.holds({std::lerp(a.x, b.x, t), std::lerp(a.y, b.y, t)})) {
                return true;
            }
        }
    }
    return false;
}

/// One drawing of one picture.
class PlateDrawing {
public:
    PlateDrawing(const PlatePicture& picture, const Box& area, Canvas& canvas,
                 const Palette& palette, const DrawStyle& style)
        : picture_(picture), area_(area), canvas_(canvas), palette_(palette),
          em_(style.text_height), line_(style.line_scale), scale_(scale_of(picture)),
          words_(canvas, style.text_height) {}

    PlateFrame all() {
        Box room = title();
        if (!picture_.field.values.empty() && picture_.has_legend) {
            room.right -= legend(room);
        }
        words_.stay_within(room);
        fit(room);
        trace();
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
        for (const PlateScale::Step& step : scale_.steps) {
            words = std::max(words,
                             canvas_.measure(step.words, em_, Weight::regular).width + 2.3 * em_);
        }
        const double left = room.right - words;
        double y = room.top + 0.5 * em_;
        canvas_.text({left, y}, picture_.quantity,
                     {.colour = palette_.ink, .height = em_, .weight = Weight::bold});
        y += 1.6 * em_;
        for (auto step = scale_.steps.rbegin(); step != scale_.steps.rend(); ++step) {
            canvas_.box({left, y - 0.75 * em_, left + 1.7 * em_, y + 0.75 * em_}, step->colour);
            canvas_.text({left + 2.3 * em_, y}, step->words,
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
        for (const PlateScale::Step& step : scale_.steps) {
            auto pieces = band(picture_.field, step.low, step.high);
            for (auto& piece : pieces) {
                piece = placed(piece);
            }
            canvas_.area(pieces, step.colour);
        }
    }

    /// The lines of every level, where they are drawn; none where there is no field.
    void trace() {
        for (const double level : scale_.levels) {
            auto& chains = chains_.emplace_back();
            for (const auto& chain : contour(picture_.field, level)) {
                chains.push_back(placed(chain));
            }
        }
        for (const auto& rim : picture_.rims) {
            edges_.push_back(placed(rim, true));
        }
        for (const auto& open : picture_.lines) {
            seams_.push_back(placed(open));
        }
    }

    void lines() {
        for (std::size_t k = 0; k < scale_.levels.size(); ++k) {
            const bool signs = picture_.shading == Shading::about_zero;
            const bool nodal = signs && std::abs(scale_.levels[k]) < 1e-9 * scale_.high;
            const Pen pen{Colour{0, 0, 0, 150}, line_ * (nodal ? 2.4 : 1.0),
                          signs && scale_.levels[k] < 0.0 && !nodal ? Dash::dashed : Dash::solid};
            for (const auto& chain : chains_[k]) {
                if (!is_speck(chain)) {
                    canvas_.polyline(chain, pen);
                }
            }
        }
        for (const auto& rim : edges_) {
            canvas_.polyline(rim, {palette_.ink, 1.8 * line_, Dash::solid});
        }
        // On the field, which is light in the dark, too: ink of the palette would not be seen
        // there.
        const Colour seam = picture_.field.values.empty() ? palette_.ink : Colour{0, 0, 0, 255};
        for (const auto& open : seams_) {
            canvas_.polyline(open, {seam, 1.6 * line_, Dash::dashed});
        }
    }

    /// A ring that is smaller than a letter tells nothing of the field, and looks like dirt.
    bool is_speck(const std::vector<Point>& chain) const {
        const Box box = bounds(chain);
        return std::max(box.width(), box.height()) < em_;
    }

    double size_of(const PlateMark& mark) const { return (mark.strong ? 0.95 : 0.42) * em_; }

    void marks() {
        for (const PlateMark& mark : picture_.marks) {
            const double size = size_of(mark);
            if (mark.on_it) {
                words_.will_stand(frame_.place(mark.at), mark.words);
            } else {
                words_.take(around(frame_.place(mark.at), {size, size}, 0.0));
            }
        }
        std::vector<Point> without_words;
        for (const PlateMark& mark : picture_.marks) {
            const Point at = frame_.place(mark.at);
            const double size = size_of(mark);
            if (mark.on_it) {
                if (!words_.put_on(at, mark.words)) {
                    without_words.push_back(at);
                }
                continue;
            }
            canvas_.mark(at, mark.shape, size + 0.26 * em_, Colour{255, 255, 255, 220});
            canvas_.mark(at, mark.shape, size,
                         mark.strong ? palette_.accent : Colour{0, 0, 0, 255});
            if (!mark.words.empty()) {
                words_.put_beside(at, mark.words, 0.5 * size + 0.3 * em_);
            }
        }
        specks(without_words);
    }

    /// Where figures crowd, those without room leave a speck, on no figure.
    void specks(std::span<const Point> places) {
        const double size = 0.2 * em_;
        for (const Point at : places) {
            if (!words_.is_taken(around(at, {size, size}, 0.0))) {
                canvas_.mark(at, Shape::disc, size, Colour{0, 0, 0, 255});
            }
        }
    }

    /// The value of each level on its longest lines, where there is room: clear of other words and
    /// marks, of the plate's edges and seams, and of every other level's line. The legend has all.
    void contour_words() {
        const double height = 0.8 * em_;
        for (std::size_t k = 0; k < scale_.levels.size(); ++k) {
            auto chains = chains_[k];
            std::stable_sort(chains.begin(), chains.end(),
                             [](const auto& a, const auto& b) { return a.size() > b.size(); });
            const std::string words = scale_.words_of(scale_.levels[k]);
            constexpr std::size_t k_most_chains = 2, k_least_points = 8;
            for (std::size_t c = 0; c < std::min(k_most_chains, chains.size()); ++c) {
                if (chains[c].size() >= k_least_points) {
                    words_.put_along(chains[c], words, height,
                                     [&](const Box& box) { return is_clear(box, k); });
                }
            }
        }
    }

    bool is_clear(const Box& box, std::size_t level) const {
        const auto through = [&](const std::vector<Point>& line) { return passes(line, box); };
        for (std::size_t k = 0; k < chains_.size(); ++k) {
            if (k != level && std::any_of(chains_[k].begin(), chains_[k].end(), through)) {
                return false;
            }
        }
        return std::none_of(edges_.begin(), edges_.end(), through) &&
               std::none_of(seams_.begin(), seams_.end(), through);
    }

    const PlatePicture& picture_;
    Box area_;
    Canvas& canvas_;
    const Palette& palette_;
    double em_, line_;
    PlateScale scale_;
    WordPlaces words_;
    PlateFrame frame_ = {};
    std::vector<std::vector<std::vector<Point>>> chains_ = {}; // a level's lines
    std::vector<std::vector<Point>> edges_ = {}, seams_ = {};
};

} // namespace

PlateFrame draw(const PlatePicture& picture, const Box& area, Canvas& canvas,
                const Palette& palette, const DrawStyle& style) {
    return PlateDrawing(picture, area, canvas, palette, style).all();
}

} // namespace platewright::plot
