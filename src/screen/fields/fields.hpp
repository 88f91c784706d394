#pragma once
#include "screen/draw/parts.hpp"
#include "screen/fields/stack.hpp"

#include <algorithm>
#include <optional>
#include <span>
#include <string>
#include <string_view>
#include <vector>

namespace platewright::screen {

// Widgets that flow down a page, one under another; each bears its label above itself.

/// A page of widgets inside `box`, which scrolls when it is too long; where parts are stacked it is
/// as high as what stands on it, and scrolls with the view. Ends with its scope.
class Page {
public:
    Page(const ViewContext& context, const char* id, const plot::Box& box);
    ~Page();
    Page(const Page&) = delete;
    Page& operator=(const Page&) = delete;

private:
    const ViewContext& context_;
    std::optional<Growing> ground_; // where parts are stacked
};

void heading(const ViewContext& context, std::string_view words);
void text(const ViewContext& context, std::string_view words); // wrapped to the page
void faint_text(const ViewContext& context, std::string_view words);
/// What is wrong with what was typed: in its own colour with a cross before it.
void complaint(const ViewContext& context, std::string_view words);

/// What is wrong with a form. `at` is the label of the field it is about: there it stands, the
/// field is framed, and the writing mark goes there once; without one it stands above the buttons.
struct Complaint {
    std::string words, at = {};
    bool calls = true; ///< for the writing mark
    int brings = 0;    ///< itself into sight, for so many pictures more
    bool empty() const { return words.empty(); }
    void clear() { words.clear(); }
};
/// Where it is about no field; else the field draws it.
void complaint(const ViewContext& context, const Complaint& of_form);

/// One line of writing; true when Enter was pressed in it. `width` in px at 1280 × 800, 0: all.
/// `of_form`: drawn here where it is about this field.
bool field(const ViewContext& context, std::string_view label, std::string& value,
           double width = 0.0, bool wants_focus = false, Complaint* of_form = nullptr);
/// Notes: broken at blanks to the field's width.
void notes_field(const ViewContext& context, std::string_view label, std::string& value);
/// Lines of figures, each as it was typed or pasted.
void lines_field(const ViewContext& context, std::string_view label, std::string& value,
                 Complaint* of_form = nullptr);
/// One of a list; true when another was chosen.
bool drop_down(const ViewContext& context, std::string_view label, std::span<const std::string> all,
               std::size_t& chosen, double width = 0.0);

/// One of a list as buttons beside each other; true when another was chosen. Nothing is chosen
/// while `chosen` is none of them.
bool flow_choice(const ViewContext& context, std::string_view label,
                 std::span<const std::string> all, std::size_t& chosen);

/// The same of values.
template <class T>
struct Option {
    T value;
    std::string words;
};

template <class T>
std::vector<std::string> words_in(const std::vector<Option<T>>& all) {
    std::vector<std::string> words;
    for (const Option<T>& one : all) {
        words.push_back(one.words);
    }
    return words;
}
template <class T>
std::size_t place_in(const std::vector<Option<T>>& all, const T& value) {
    const auto found = std::ranges::find(all, value, &Option<T>::value);
    return static_cast<std::size_t>(found - all.begin());
}

template <class T>
void choose(const ViewContext& context, std::string_view label, const std::vector<Option<T>>& all,
            T& chosen) {
    std::size_t place = place_in(all, chosen);
    if (flow_choice(context, label, words_in(all), place)) {
        chosen = all[place].value;
    }
}
template <class T>
bool drop_down(const ViewContext& context, std::string_view label,
               const std::vector<Option<T>>& all, T& chosen, double width = 0.0) {
    std::size_t place = place_in(all, chosen);
    const bool changed = drop_down(context, label, words_in(all), place, width);
    if (changed) {
        chosen = all[place].value;
    }
    return changed;
}

/// A button in the flow; `same_line` sets it beside the one before where there is room.
bool flow_press(const ViewContext& context, std::string_view label, std::string_view key = {},
                bool strong = false, bool same_line = false);
bool flow_press(const ViewContext& context, std::string_view label, std::string_view key,
                Stress stress, bool same_line);

/// A row of a list with a second, fainter line; true when pressed.
bool row(const ViewContext& context, int id, std::string_view main, std::string_view second,
         bool chosen, double indent = 0.0);

/// The same without words: its ground, `height` in px at 1280 × 800, for a row with cells of its
/// own.
struct RowGround {
    bool pressed = false;
    plot::Box box;
};
RowGround row_ground(const ViewContext& context, int id, double height, bool chosen,
                     double indent = 0.0);

// What fields of all kinds are made of.

/// The label above a field.
void label_line(const ViewContext& context, std::string_view words);

/// The item just drawn is noted for the tests, as far as it is to be seen.
void note_item(const ViewContext& context, std::string_view words);

/// What is drawn between is stopped at by Tab, though it is no field.
void begin_tab_stop();
void end_tab_stop();
/// From what was just drawn to what comes next.
void go_on_by_tab(const ViewContext& context, bool is_focused);
/// What was just drawn has the focus: that is shown as it is of a field, and Space opens it; else
/// both would take an arrow key before.
void show_focus(const ViewContext& context);
/// Another view was called by its key: the frame that stood on something of the last one goes,
/// until a key moves it again.
void hide_focus();

/// In pixels; `width` in px at 1280 × 800, 0: all that the page has.
float item_width(const ViewContext& context, double width);

} // namespace platewright::screen
