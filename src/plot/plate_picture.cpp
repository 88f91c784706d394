#include "plot/plate_picture.hpp"

#include "plot/palette.hpp"
#include "wording/say.hpp"

#include <algorithm>
#include <cmath>
#include <limits>
#include <span>
#include <string>
#include <vector>

namespace platewright::plot {
namespace {

using wording::say;

// How a plate's field is cut into steps of one colour each, and what each step is called.

/// The ends of the scale; about zero they lie equally far from it.
struct Ends {
    double low = 0.0, high = 1.0;
};

/// One colour between two levels.
struct Step {
    double low = 0.0, high = 0.0; // the outermost reach to the ends of all numbers
    Colour colour = {};
};

Ends ends_of(const PlatePicture& picture) {
    Ends ends{std::numeric_limits<double>::max(), std::numeric_limits<double>::lowest()};
    for (const double v : picture.field.values) {
        ends.low = std::min(ends.low, v);
        ends.high = std::max(ends.high, v);
    }
    if (picture.field.values.empty()) {
        ends = {0.0, 1.0};
    }
    ends.low = picture.low.value_or(ends.low);
    ends.high = picture.high.value_or(ends.high);
    if (picture.shading == Shading::about_zero) {
        const double most = std::max({std::abs(ends.low), std::abs(ends.high), 1e-12});
        ends = {-most, most};
    }
    return ends;
}

std::vector<Step> steps_of(const PlatePicture& picture) {
    const auto levels = levels_of(picture);
    const Ends ends = ends_of(picture);
    std::vector<Step> steps;
    for (std::size_t i = 0; i <= levels.size(); ++i) {
        const double shown_low = i == 0 ? ends.low : levels[i - 1];
        const double shown_high = i == levels.size() ? ends.high : levels[i];
        Step step{i == 0 ? std::numeric_limits<double>::lowest() : shown_low,
                  i == levels.size() ? std::numeric_limits<double>::max() : shown_high,
                  {}};
        const double middle = 0.5 * (shown_low + shown_high);
        if (picture.shading == Shading::about_zero) {
            step.colour = signed_shade(middle / ends.high);
        } else {
            // by place in the row, not by value: all steps are equally far apart in lightness
            step.colour = rising_shade(
                levels.empty() ? 0.3 : static_cast<double>(i) / static_cast<double>(levels.size()));
        }
        steps.push_back(step);
    }
    return steps;
}

/// As many as tell the levels apart.
int decimals_for(const std::vector<double>& levels) {
    const double step = levels.size() > 1 ? levels[1] - levels[0] : 1.0;
    return std::clamp(static_cast<int>(-std::floor(std::log10(step) + 1e-9)), 0, 4);
}

std::string value_text(double value, int decimals) {
    const double rounded = std::abs(value) < 0.5 * std::pow(10.0, -decimals) ? 0.0 : value;
    return rounded < 0.0 ? wording::signed_figure(rounded, decimals)
                         : wording::figure(rounded, decimals);
}

/// What the legend says of step `i`: below the first level, between two, above the last.
std::string step_text(const std::vector<double>& levels, std::size_t i, int decimals) {
    if (levels.empty()) {
        return std::string(say("all alike"));
    }
    if (i == 0) {
        return say("below {}", value_text(levels.front(), decimals));
    }
    if (i == levels.size()) {
        return say("{} and more", value_text(levels.back(), decimals));
    }
    return say("{} to {}", value_text(levels[i - 1], decimals), value_text(levels[i], decimals));
}

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

Box around(Point middle, Size size, double gap) {
    return {middle.x - 0.5 * size.width - gap, middle.y - 0.5 * size.height - gap,
            middle.x + 0.5 * size.width + gap, middle.y + 0.5 * size.height + gap};
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
          em_(style.text_height), line_(style.line_scale), levels_(levels_of(picture)),
          decimals_(decimals_for(levels_)), steps_(steps_of(picture)) {}

    PlateFrame all() {
        Box room = title();
        if (!picture_.field.values.empty() && picture_.has_legend) {
            room.right -= legend(room);
        }
        room_ = room;
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

    /// The lines of every level, where they are drawn; none where there is no field.
    void trace() {
        for (const double level : levels_) {
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
        for (std::size_t k = 0; k < levels_.size(); ++k) {
            const bool signs = picture_.shading == Shading::about_zero;
            const bool nodal = signs && std::abs(levels_[k]) < 1e-9 * ends_of(picture_).high;
            const Pen pen{Colour{0, 0, 0, 150}, line_ * (nodal ? 2.4 : 1.0),
                          signs && levels_[k] < 0.0 && !nodal ? Dash::dashed : Dash::solid};
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
            if (!mark.on_it) {
                taken_.push_back(around(frame_.place(mark.at), {size, size}, 0.0));
            }
        }
        std::vector<Point> without_words;
        for (const PlateMark& mark : picture_.marks) {
            const Point at = frame_.place(mark.at);
            const double size = size_of(mark);
            if (mark.on_it) {
                if (!words_on(at, mark.words)) {
                    without_words.push_back(at);
                }
                continue;
            }
            canvas_.mark(at, mark.shape, size + 0.26 * em_, Colour{255, 255, 255, 220});
            canvas_.mark(at, mark.shape, size,
                         mark.strong ? palette_.accent : Colour{0, 0, 0, 255});
            if (!mark.words.empty()) {
                words_beside(at, mark.words, 0.5 * size + 0.3 * em_);
            }
        }
        specks(without_words);
    }

    /// Where figures crowd, those without room leave a speck, on no figure.
    void specks(std::span<const Point> places) {
        const double size = 0.2 * em_;
        for (const Point at : places) {
            if (!is_taken(around(at, {size, size}, 0.0))) {
                canvas_.mark(at, Shape::disc, size, Colour{0, 0, 0, 255});
            }
        }
    }

    void write(Point middle, const std::string& words, const Box& box, double height,
               Weight weight) {
        canvas_.box(box, Colour{255, 255, 255, 200}, 0.2 * em_);
        canvas_.text(middle, words,
                     {.colour = Colour{0, 0, 0, 255},
                      .height = height,
                      .across = Across::centre,
                      .weight = weight});
        taken_.push_back(box);
    }

    bool is_in_room(const Box& box) const {
        return box.left >= room_.left && box.right <= room_.right && box.top >= room_.top &&
               box.bottom <= room_.bottom;
    }

    /// In place of a mark; false where something else stands there.
    bool words_on(Point at, const std::string& words) {
        const double height = 0.72 * em_;
        const Size size = canvas_.measure(words, height, Weight::regular);
        const Box box = around(at, size, 0.1 * em_);
        if (!is_in_room(box) || is_taken(box)) {
            return false;
        }
        write(at, words, box, height, Weight::regular);
        return true;
    }

    /// Right, left, above or below the mark, where nothing else stands.
    void words_beside(Point at, const std::string& words, double away) {
        const double height = 0.85 * em_;
        const Size size = canvas_.measure(words, height, Weight::bold);
        const double aside = away + 0.5 * size.width, up = away + 0.5 * size.height;
        for (const Point step :
             {Point{aside, 0.0}, Point{-aside, 0.0}, Point{0.0, -up}, Point{0.0, up}}) {
            const Point middle{at.x + step.x, at.y + step.y};
            const Box box = around(middle, size, 0.1 * em_);
            if (is_in_room(box) && !is_taken(box)) {
                write(middle, words, box, height, Weight::bold);
                return;
            }
        }
    }

    bool is_taken(const Box& box) const {
        return std::any_of(taken_.begin(), taken_.end(),
                           [&](const Box& other) { return overlap(box, other); });
    }

    /// The value of each level on its longest lines, where there is room: clear of other words and
    /// marks, of the plate's edges and seams, and of every other level's line. The legend has all.
    void contour_words() {
        const double height = 0.8 * em_;
        for (std::size_t k = 0; k < levels_.size(); ++k) {
            auto chains = chains_[k];
            std::stable_sort(chains.begin(), chains.end(),
                             [](const auto& a, const auto& b) { return a.size() > b.size(); });
            const std::string words = value_text(levels_[k], decimals_);
            const Size size = canvas_.measure(words, height, Weight::regular);
            constexpr std::size_t k_most_chains = 2, k_least_points = 8;
            for (std::size_t c = 0; c < std::min(k_most_chains, chains.size()); ++c) {
                if (chains[c].size() >= k_least_points) {
                    word_on(chains[c], k, words, size);
                }
            }
        }
    }

    void word_on(const std::vector<Point>& chain, std::size_t level, const std::string& words,
                 Size size) {
        constexpr int k_tries = 24;
        constexpr double k_golden = 0.6180339887; // spreads the tries evenly, however many
        for (int i = 0; i < k_tries; ++i) {
            const double share = std::fmod(0.5 + k_golden * i, 1.0);
            const Point at =
                chain[static_cast<std::size_t>(share * static_cast<double>(chain.size() - 1))];
            const Box box = around(at, size, 1.5);
            if (is_in_room(box) && !is_taken(around(at, size, 0.6 * em_)) && is_clear(box, level)) {
                write(at, words, box, size.height, Weight::regular);
                return;
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
    Box room_ = {}; // without title and legend
    Canvas& canvas_;
    const Palette& palette_;
    double em_, line_;
    std::vector<double> levels_;
    int decimals_;
    std::vector<Step> steps_;
    PlateFrame frame_ = {};
    std::vector<std::vector<std::vector<Point>>> chains_ = {}; // a level's lines
    std::vector<std::vector<Point>> edges_ = {}, seams_ = {};
    std::vector<Box> taken_ = {};
};

} // namespace

std::vector<double> levels_of(const PlatePicture& picture, int most) {
    if (picture.field.values.empty()) {
        return {};
    }
    const Ends ends = ends_of(picture);
    return round_levels(ends.low, ends.high, most);
}

PlateFrame draw(const PlatePicture& picture, const Box& area, Canvas& canvas,
                const Palette& palette, const DrawStyle& style) {
    return PlateDrawing(picture, area, canvas, palette, style).all();
}

} // namespace platewright::plot
