// Notes are broken to their field's width, and kept without those breaks.
#include "headless_window.hpp"
#include "screen/fields/notes_field.hpp"
#include "support/catch.hpp"

#include <imgui_internal.h> // what the field shows

using namespace platewright;
using namespace platewright::screen;

namespace {
const auto k_ten = [](std::string_view line) { return line.size() <= 10; };
}

TEST_CASE("lines are broken at blanks, and what is broken comes back as it was") {
    const std::string words = "one two three four\nfive sixteenletters seven  eight";
    const std::string broken = softly_broken(words, k_ten);
    CHECK(broken == "one two \nthree four\nfive \nsixteenletters \nseven  \neight");
    CHECK(without_soft_breaks(broken) == words);
    CHECK(softly_broken("short", k_ten) == "short");
    CHECK(softly_broken("", k_ten).empty());
    CHECK(without_soft_breaks(softly_broken("a blank before \nits break", k_ten)) ==
          "a blank before\nits break");
}

TEST_CASE("a place in the words is the same place in the broken text") {
    const std::string words = "one two three four";
    const std::string broken = softly_broken(words, k_ten); // "one two \nthree four"
    CHECK(place_in_broken(broken, 0) == 0);
    CHECK(place_in_broken(broken, 7) == 7);
    CHECK(place_in_broken(broken, 8) == 9); // on the new line
    CHECK(place_in_broken(broken, words.size()) == broken.size());
}

TEST_CASE("notes written beyond their field's width wrap there, and are kept in one line") {
    test::HeadlessWindow window(test::sample_snapshot(test::sample_plate(2)));
    window.strike(U'e');
    window.press("[notes]");
    std::string words;
    for (int i = 0; i < 25; ++i) {
        words += "scraped the middle a little ";
    }
    words += "end";
    window.write(words);
    // Nothing of the writing is drawn at the right of the field.
    const Seen* field = window.find("[notes]");
    REQUIRE(field != nullptr);
    const ImGuiInputTextState* state = ImGui::GetInputTextState(ImGui::GetActiveID());
    REQUIRE(state != nullptr);
    CHECK(state->ScrollX == 0.0F);
    const std::string shown(state->TextA.Data != nullptr && state->TextA.Size > 0
                                ? std::string(state->TextA.Data)
                                : std::string());
    CHECK(std::count(shown.begin(), shown.end(), '\n') >= 5);
    window.press("Save");
    const auto saved = window.last_sent<bench::command::SaveSession>();
    REQUIRE(saved);
    CHECK(saved->session.notes == words);
}
