#pragma once
#include "screen/draw/imgui_canvas.hpp"
#include "screen/view_context.hpp"

#include <array>
#include <initializer_list>
#include <string_view>
#include <utility>

namespace platewright::screen {

// Cutting an area up. Lengths in pixels; each gives the piece taken and leaves the rest.
plot::Box take_top(plot::Box& from, double height);
plot::Box take_bottom(plot::Box& from, double height);
plot::Box take_left(plot::Box& from, double width);
plot::Box take_right(plot::Box& from, double width);
plot::Box inset(const plot::Box& box, double by);

/// Whether the pointer is in the box, and the box is to be seen there: not scrolled under something
/// else.
bool points_at(const plot::Box& box);

/// How loudly a button speaks; a flat one has no edge.
enum class Stress { plain, strong, chosen, flat };

/// Whether the item just set is focused by keyboard and was pressed by Enter; Space is Dear ImGui's
/// own.
bool entered(const ViewContext& context);

/// A button of ours in `box`; `key` names the key that does the same, empty for none. True when it
/// was pressed by mouse, touch or, while focused, by Space or Enter.
bool press(const ViewContext& context, std::string_view label, const plot::Box& box,
           std::string_view key = {}, Stress stress = Stress::plain);

/// The same, tall, with the key's cap above the label: a door to a place of the window. It has no
/// edge; the place one is in has a bar at its left.
bool press_door(const ViewContext& context, std::string_view label, const plot::Box& box,
                std::string_view key, Stress stress);

/// A low, flat one with the key's cap above a small label: what a hand can do that a key does as
/// well.
bool press_tool(const ViewContext& context, std::string_view label, const plot::Box& box,
                std::string_view key);

/// A small cap with a key's name, its left at `at`, vertically centred; gives its width.
double key_cap(ImguiCanvas& canvas, const Look& look, plot::Point at, std::string_view key,
               plot::Colour colour);

/// The first of the sizes, in pixels, at which the words stand on one line so wide; else the last.
double fitting(const ImguiCanvas& canvas, std::string_view words, double width, plot::Weight weight,
               std::initializer_list<double> sizes);

/// One line of text that ends in … where it would leave `box`; vertically centred in it.
void line(ImguiCanvas& canvas, std::string_view words, const plot::Box& box,
          const plot::Lettering& lettering);

/// One line in bold, as large as there is room for up to what is read from two metres.
void large_line(const ViewContext& context, std::string_view words, const plot::Box& box);

/// Text broken at blanks to the width of `box`, from its top; gives the height used.
double paragraph(ImguiCanvas& canvas, std::string_view words, const plot::Box& box, double height,
                 plot::Colour colour, plot::Weight weight = plot::Weight::regular);

/// The height that `paragraph` will use.
double paragraph_height(const ImguiCanvas& canvas, std::string_view words, double width,
                        double height, plot::Weight weight = plot::Weight::regular);

/// The one edge around what is chosen from.
void frame_switch(const ViewContext& context, const plot::Box& box);

/// One of several, side by side in one edge, the one that is on as a solid field; gives the one
/// chosen, which may be the same as before.
template <class T, class Words, std::size_t N>
T choose_one(const ViewContext& context, plot::Box box,
             const std::array<std::pair<T, Words>, N>& all, T chosen) {
    const double width = box.width() / static_cast<double>(N);
    const plot::Box whole = box;
    for (const auto& [value, words] : all) {
        if (press(context, words, take_left(box, width), {},
                  value == chosen ? Stress::strong : Stress::flat)) {
            chosen = value;
        }
    }
    frame_switch(context, whole);
    return chosen;
}

/// An empty view's page: what there is to see here, what to do for it, and a button that does it.
/// True when the button was pressed. No button where `action` is empty.
bool invitation(const ViewContext& context, const plot::Box& area, std::string_view title,
                std::string_view text, std::string_view action, std::string_view key = {});

/// The same where there is no plate to look at: it leads to the plates.
void invite_to_plates(const ViewContext& context, const plot::Box& area, std::string_view title,
                      std::string_view text);

/// A ground for things that belong together.
void sheet(ImguiCanvas& canvas, const Look& look, const plot::Box& box);
void sheet(ImguiCanvas& canvas, const Look& look, const plot::Box& box, plot::Colour colour);

/// What is computed aside, how far it is (0..1), and a button that stops it.
void working_bar(const ViewContext& context, plot::Box box, std::string_view doing, double share);

/// Fills the box with slanted bars: what can't be told from the panel by its luminance is told by
/// them.
void slanted_bars(ImguiCanvas& canvas, const plot::Box& box, plot::Colour ink, double scale);

} // namespace platewright::screen
