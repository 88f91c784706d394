#pragma once
#include "plot/canvas.hpp"

#include <algorithm>
#include <string>
#include <vector>

namespace platewright::test {

/// A canvas that only notes what was drawn, so that a chart can be tested without a window.
/// Its letters are all 0.55 of their height wide.
class TextCanvas final : public plot::Canvas {
public:
    struct Line {
        std::vector<plot::Point> points;
        plot::Pen pen;
        bool clipped = false;
    };
    struct Words {
        std::string words;
        plot::Box where;
        plot::Colour colour;
    };
    struct Mark {
        plot::Point at;
        plot::Shape shape{};
        plot::Colour colour;
    };
    struct Ribbon {
        std::vector<plot::Point> upper, lower;
    };
    struct Area {
        std::vector<std::vector<plot::Point>> pieces;
        plot::Colour colour;
    };
    std::vector<Line> lines;
    std::vector<Words> texts;
    std::vector<Mark> marks;
    std::vector<Ribbon> ribbons;
    std::vector<Area> areas;
    std::vector<plot::Box> boxes;

    void polyline(std::span<const plot::Point> points, const plot::Pen& pen) override {
        lines.push_back({{points.begin(), points.end()}, pen, clipping_});
    }
    void ribbon(std::span<const plot::Point> upper, std::span<const plot::Point> lower,
                plot::Colour) override {
        ribbons.push_back({{upper.begin(), upper.end()}, {lower.begin(), lower.end()}});
    }
    void area(std::span<const std::vector<plot::Point>> pieces, plot::Colour colour) override {
        areas.push_back({{pieces.begin(), pieces.end()}, colour});
    }
    void box(const plot::Box& box, plot::Colour, double) override { boxes.push_back(box); }
    void mark(plot::Point at, plot::Shape shape, double, plot::Colour colour) override {
        marks.push_back({at, shape, colour});
    }
    void text(plot::Point at, std::string_view words, const plot::Lettering& lettering) override {
        const plot::Size size = measure(words, lettering.height, lettering.weight);
        const double across = lettering.across == plot::Across::left     ? 0.0
                              : lettering.across == plot::Across::centre ? 0.5
                                                                         : 1.0;
        const double upright = lettering.upright == plot::Upright::top      ? 0.0
                               : lettering.upright == plot::Upright::middle ? 0.5
                                                                            : 1.0;
        const plot::Point corner{at.x - across * size.width, at.y - upright * size.height};
        texts.push_back({std::string(words),
                         {corner.x, corner.y, corner.x + size.width, corner.y + size.height},
                         lettering.colour});
    }
    plot::Size measure(std::string_view words, double height, plot::Weight) const override {
        const auto letters = std::count_if(words.begin(), words.end(), [](char c) {
            return (static_cast<unsigned char>(c) & 0xC0U) != 0x80U; // counts UTF-8 letters once
        });
        return {0.55 * height * static_cast<double>(letters), height};
    }
    void keep_inside(const plot::Box&) override { clipping_ = true; }
    void keep_all() override { clipping_ = false; }

    const Words* find(std::string_view words) const {
        const auto found = std::find_if(texts.begin(), texts.end(),
                                        [words](const Words& t) { return t.words == words; });
        return found == texts.end() ? nullptr : &*found;
    }

    /// The first pair of texts that overlap, or the first text outside `area`, in words; empty when
    /// every text has a place of its own inside.
    std::string crowding(const plot::Box& area) const {
        constexpr double slack = 0.6; // surface units: rounding is no overlap
        for (std::size_t i = 0; i < texts.size(); ++i) {
            const plot::Box& a = texts[i].where;
            if (texts[i].words.empty()) {
                continue;
            }
            if (a.left < area.left - slack || a.right > area.right + slack ||
                a.top < area.top - slack || a.bottom > area.bottom + slack) {
                return texts[i].words + " stands outside";
            }
            for (std::size_t j = i + 1; j < texts.size(); ++j) {
                const plot::Box& b = texts[j].where;
                if (!texts[j].words.empty() && a.left < b.right - slack &&
                    b.left < a.right - slack && a.top < b.bottom - slack &&
                    b.top < a.bottom - slack) {
                    return texts[i].words + " overlaps " + texts[j].words;
                }
            }
        }
        return {};
    }

private:
    bool clipping_ = false;
};

} // namespace platewright::test
