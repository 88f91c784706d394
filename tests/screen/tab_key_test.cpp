// What a maker without a mouse stops at, and sees that he stopped there.
#include "headless_window.hpp"
#include "support/catch.hpp"

using namespace platewright;
using screen::Key;
using test::HeadlessWindow;
using test::sample_plate;
using test::sample_snapshot;
namespace command = bench::command;

namespace {

/// Whether a frame in the focus's colour was drawn about this: at all four of its sides.
bool is_framed(const plot::Box& about) {
    constexpr float k_near = 6.0F; // Dear ImGui leaves some pixels between
    const ImU32 colour = ImGui::GetColorU32(ImGuiCol_NavHighlight);
    bool left = false, right = false, top = false, bottom = false;
    const ImDrawData* drawn = ImGui::GetDrawData();
    for (int i = 0; i < drawn->CmdListsCount; ++i)
        for (const ImDrawVert& corner : drawn->CmdLists[i]->VtxBuffer) {
            const auto is_at = [](float value, double side) {
                return std::abs(value - static_cast<float>(side)) < k_near;
            };
            const bool along = corner.pos.x > static_cast<float>(about.left) - k_near &&
                               corner.pos.x < static_cast<float>(about.right) + k_near &&
                               corner.pos.y > static_cast<float>(about.top) - k_near &&
                               corner.pos.y < static_cast<float>(about.bottom) + k_near;
            if (corner.col != colour || !along)
                continue;
            left = left || is_at(corner.pos.x, about.left);
            right = right || is_at(corner.pos.x, about.right);
            top = top || is_at(corner.pos.y, about.top);
            bottom = bottom || is_at(corner.pos.y, about.bottom);
        }
    return left && right && top && bottom;
}

/// The drawing of a plate's part in the form at the right, by the word at its foot.
plot::Box drawing(const HeadlessWindow& window, std::string_view part) {
    const double scale = window.scale();
    for (const screen::Seen& seen : window.seen) {
        if (seen.words == part && seen.where.left > 740.0) {
            const double middle = 0.5 * (seen.where.left + seen.where.right);
            const double foot = 0.5 * (seen.where.top + seen.where.bottom) + 13.0 * scale;
            return {middle - 56.0 * scale, foot - 148.0 * scale, middle + 56.0 * scale, foot};
        }
    }
    FAIL("no drawing says " << part);
    return {};
}

} // namespace

TEST_CASE("the Tab key stops at a list, a frame says so, and one of it is chosen by keys alone") {
    HeadlessWindow window(sample_snapshot(sample_plate(1)));
    window.strike(Key::f4);
    window.strike(U'i');
    window.write("lower"); // the label has the writing mark
    const auto list = [&] {
        const screen::Seen* seen = window.find("[kind]");
        REQUIRE(seen != nullptr);
        return seen->where;
    };
    CHECK_FALSE(is_framed(list()));
    window.move_focus(ImGuiKey_Tab);
    CHECK_FALSE(ImGui::GetIO().WantTextInput); // neither the label nor the length below
    CHECK(is_framed(list()));
    window.move_focus(ImGuiKey_Space);
    REQUIRE(window.reads("cello"));
    window.move_focus(ImGuiKey_DownArrow);
    window.move_focus(ImGuiKey_Space);
    CHECK_FALSE(window.reads("cello"));
    CHECK(is_framed(list())); // the focus is where it was
    window.move_focus(ImGuiKey_Tab);
    CHECK_FALSE(is_framed(list()));
    window.write("402"); // the next stop
    window.press("Save");
    const auto saved = window.last_sent<command::SaveInstrument>();
    REQUIRE(saved);
    CHECK(saved->instrument.label == "lower");
    CHECK(saved->instrument.kind == modes::InstrumentKind::viola); // the one below the usual
    CHECK(saved->instrument.body_length_mm == Approx(402));
}

TEST_CASE("in an open list Enter chooses, Escape shuts the list alone, and letters stay in it") {
    HeadlessWindow window(sample_snapshot(sample_plate(1)));
    window.strike(Key::f4);
    window.strike(U'i');
    window.write("lower");
    window.move_focus(ImGuiKey_Tab);
    window.move_focus(ImGuiKey_Space);
    REQUIRE(window.reads("cello"));
    window.strike(U'p'); // elsewhere: a new plate
    CHECK(window.reads("A new instrument"));
    window.strike(Key::escape);
    CHECK_FALSE(window.reads("cello"));
    CHECK(window.reads("A new instrument")); // nothing typed is lost
    window.move_focus(ImGuiKey_Space);
    window.move_focus(ImGuiKey_DownArrow);
    window.strike(Key::enter);
    CHECK_FALSE(window.reads("cello"));
    CHECK_FALSE(window.last_sent<command::SaveInstrument>()); // that Enter was the list's
    window.strike(Key::enter);                                // this one is the form's
    const auto saved = window.last_sent<command::SaveInstrument>();
    REQUIRE(saved);
    CHECK(saved->instrument.label == "lower");
    CHECK(saved->instrument.kind == modes::InstrumentKind::viola);
}

TEST_CASE("a plate's part is one stop of the Tab key: the arrow keys choose, and Tab goes on") {
    HeadlessWindow window(sample_snapshot(sample_plate(1)));
    window.strike(Key::f4);
    window.strike(U'p');
    window.write("upper");
    window.move_focus(ImGuiKey_Tab);
    CHECK(is_framed(drawing(window, "back"))); // a new plate's, until it is chosen
    window.move_focus(ImGuiKey_RightArrow);
    CHECK(is_framed(drawing(window, "body")));
    CHECK_FALSE(is_framed(drawing(window, "back")));
    window.move_focus(ImGuiKey_LeftArrow);
    window.move_focus(ImGuiKey_LeftArrow);
    CHECK(is_framed(drawing(window, "top")));
    window.move_focus(ImGuiKey_Tab);
    window.write("Val di Fiemme"); // the next field
    window.press("Save");
    const auto saved = window.last_sent<command::SavePlate>();
    REQUIRE(saved);
    CHECK(saved->plate.label == "upper");
    CHECK(saved->plate.part == modes::Part::top);
    CHECK(saved->plate.wood == "Val di Fiemme");
}

TEST_CASE("who chooses a plate's part by mouse goes on from it by the Tab key") {
    HeadlessWindow window(sample_snapshot(sample_plate(1)));
    window.strike(Key::f4);
    window.strike(U'p');
    window.write("upper");
    const plot::Box top = drawing(window, "top");
    window.press(plot::Point{0.5 * (top.left + top.right), 0.5 * (top.top + top.bottom)});
    window.move_focus(ImGuiKey_Tab);
    window.write("Val di Fiemme");
    window.press("Save");
    const auto saved = window.last_sent<command::SavePlate>();
    REQUIRE(saved);
    CHECK(saved->plate.part == modes::Part::top);
    CHECK(saved->plate.wood == "Val di Fiemme");
}

TEST_CASE("the Tab key goes through a session's form, stage and all") {
    HeadlessWindow window(sample_snapshot(sample_plate(3)));
    window.strike(U'e');
    const auto at = [&](const char* field) {
        const screen::Seen* seen = window.find(field);
        REQUIRE(seen != nullptr);
        return seen->where;
    };
    window.write("101.5");
    window.move_focus(ImGuiKey_Tab);
    CHECK(is_framed(at("[stage of the work]")));
    window.move_focus(ImGuiKey_Tab);
    window.write("21");
    window.move_focus(ImGuiKey_Tab);
    window.write("47");
    window.press("Save");
    const auto saved = window.last_sent<command::SaveSession>();
    REQUIRE(saved);
    CHECK(saved->session.mass_g == Approx(101.5));
    CHECK(saved->session.temperature_c == Approx(21));
    CHECK(saved->session.humidity_pct == Approx(47));
}

TEST_CASE("of several instruments the newest stands first in the list of plates") {
    HeadlessWindow window(sample_snapshot(sample_plate(2)));
    window.strike(Key::f4);
    const auto& instruments = *window.now().instruments; // the ledger's order: the oldest first
    REQUIRE(instruments.size() == 2);
    const auto top_of = [&](const ledger::InstrumentSummary& one) {
        const screen::Seen* seen = window.find(one.instrument.label + ", violin");
        REQUIRE(seen != nullptr);
        return seen->where.top;
    };
    CHECK(top_of(instruments.back()) < top_of(instruments.front()));
}
