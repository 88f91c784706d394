#pragma once
#include "plot/palette.hpp"

#include <imgui.h>

#include <string>
#include <vector>

namespace platewright::screen {

/// Lettering in the sizes the window uses, drawn into one atlas at the present scale.
struct Fonts {
    std::vector<ImFont*> regular; // ascending size
    std::vector<ImFont*> bold;    // ascending size; the last has figures and plain letters only
    /// The smallest cut that is not smaller than `height`, else the largest.
    ImFont* at_least(double height, plot::Weight weight) const;
};

/// Draws the letters for a scale (1 for a window of 1280 × 800) into Dear ImGui's atlas, in place
/// of what was there. Lato where it is installed, else DejaVu Sans, else the library's own. The
/// texture has to be sent to the graphics card afterwards. Cost: some 0.1 s; only when the scale
/// changes.
Fonts cut_fonts(double scale);

/// Text that was drawn, and where. Noted for the tests, which read the window as a maker does.
struct Seen {
    std::string words;
    plot::Box where;
    double height = 0.0; // of the lettering; 0 for a widget, which bears none of its own
    bool cut_aside =
        false; // its left or right end lies outside what is seen of the window it is in
};

/// All that settles how the window looks; views read it, nobody keeps it.
struct Look {
    const plot::Palette* palette = &plot::light_palette();
    Fonts fonts = {};
    double scale = 1.0;
    std::vector<Seen>* witness = nullptr; // where drawn text is noted; null outside tests
    /// Fills the clipping rectangle with one solid colour, which its command's data are, as
    /// `packed` gives it. Null where nothing but triangles is drawn.
    ImDrawCallback fill = nullptr;

    /// Lengths are given for a window of 1280 × 800 and grow with it.
    float px(double length) const { return static_cast<float>(length * scale); }
    /// What was written within the box is covered by something else.
    void cover(const plot::Box& box) const {
        if (witness != nullptr) {
            std::erase_if(*witness, [&box](const Seen& seen) {
                return seen.where.left < box.right && seen.where.right > box.left &&
                       seen.where.top < box.bottom && seen.where.bottom > box.top;
            });
        }
    }
    void note(std::string_view words, const plot::Box& where, double height = 0.0,
              bool cut_aside = false) const {
        if (witness != nullptr) {
            witness->push_back({std::string(words), where, height, cut_aside});
        }
    }
};

// Sizes of lettering, for a window of 1280 × 800.
inline constexpr double k_small = 14.0;
inline constexpr double k_body = 17.0;
inline constexpr double k_lead = 22.0;
inline constexpr double k_delta = 34.0;
inline constexpr double k_word = 64.0; // the answer to a strike
inline constexpr double k_figure = 92.0;

/// The scale for a window of this many pixels, in steps, so that letters are cut anew only
/// now and then while a window is being drawn larger. `text_size` is the maker's wish, 1 as made:
/// it is heeded whatever room the window has. A larger window makes letters larger by a third at
/// most, on a monitor of `density` pixels where others have one by that much more; the rest of its
/// room goes to showing more.
double scale_for(double width_px, double height_px, double text_size, double density = 1.0);

/// Whether the window, which is so many pixels large, has room for the parts of a view beside each
/// other: 1024 × 640 at scale 1. Else they stand one under another.
bool has_room(double width_px, double height_px, double scale);

/// Gives Dear ImGui's own widgets our colours, lengths and corners.
void dress(const Look& look);

inline ImVec2 vec(plot::Point p) { return {static_cast<float>(p.x), static_cast<float>(p.y)}; }
inline plot::Point point(ImVec2 v) { return {static_cast<double>(v.x), static_cast<double>(v.y)}; }
ImU32 packed(plot::Colour colour);

} // namespace platewright::screen
